"""A pattern with all the patterns it uses, read and checked.

    program = load("ferry.oak", DiskFiles("ferry.oak"))

Each file is read and checked once, also if several use it. Nothing here fails: what is wrong, with
any of the files, is in `diagnostics`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.checking.check import UNUSED, check
from oaktag.lang.checking.names import Names
from oaktag.lang.diagnostics import Diagnostic, Mistake, error, in_order
from oaktag.lang.project.body import check_body, is_body
from oaktag.lang.project.files import Refused
from oaktag.lang.source import Source, Span
from oaktag.lang.syntax.decode import decode
from oaktag.lang.syntax.parse import parse
from oaktag.lang.syntax.wording import gathered
from oaktag.lang.words import nearest
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.lang.project.files import Files, Place

DEEPEST = 20  # patterns that use patterns
MOST_FILES = 500


class Program(Record):
    """A checked file.

    path: where it lies; name: how it is shown. uses: the patterns it uses, by alias; one that could
    not be had is left out. symbols: what the file has under which name. diagnostics: everything
    wrong with it and with what it uses, its own first; it can be drawn if none is an error.
    traced: what the drawings hold that it traces, by the path written.
    """

    file: ast.File
    path: str
    name: str
    uses: dict[str, Program]
    symbols: Names
    diagnostics: tuple[Diagnostic, ...]
    traced: dict[str, bytes] = {}  # noqa: RUF012  (a field of a frozen value)

    @property
    def sound(self) -> bool:
        """Whether nothing stands in the way of drawing it."""
        return all(one.severity != "error" for one in self.diagnostics)


Known = dict["Place", tuple[bytes, Program]]
"""Programs that rest on nothing but their own text, with that text, by where it lies."""


def load(path: str, files: Files, known: Known | None = None) -> Program:
    """Reads and checks a file and all it uses.

    known: kept by whoever loads again and again; what is in it is not checked anew as long as its
    text stays the same. It is added to.
    """
    place = files.start(path)
    try:
        return _Loader(files, {} if known is None else known).load(place, files.read(place))
    except Refused as why:
        wrong = Diagnostic("error", why.code, why.message, file=place.name, help=why.help)
        return _unread(place, wrong)


class _Loader:
    def __init__(self, files: Files, known: Known) -> None:
        self.files = files
        self.known = known
        self.loaded: dict[str, Program] = {}
        self.chain: list[Place] = []

    def load(self, place: Place, data: bytes) -> Program:
        text, program = self.known.get(place, (b"", None))
        if program is None or text != data:
            self.chain.append(place)
            program = self._load(place, data)
            self.chain.pop()
            if _stands_alone(program.file):
                self.known[place] = (data, program)
        self.loaded[place.path] = program
        return program

    def _load(self, place: Place, data: bytes) -> Program:
        try:
            source = decode(place.name, data)
        except Mistake as wrong:
            return _unread(place, *wrong.diagnostics)
        file, unread = parse(source)
        broken = [one.span for one in unread if one.span is not None]
        if is_body(file):
            return Program(
                file, place.path, place.name, {}, Names(loose=True), (*unread, *check_body(file))
            )
        uses: dict[str, Program] = {}
        unused: list[Diagnostic] = []
        for node in file.statements:
            if isinstance(node, ast.Use) and node.alias.name not in uses:
                try:
                    uses[node.alias.name] = self._used(node, place)
                except Refused as why:
                    unused.append(error(why.code, why.message, node.path_span, help=why.help))
        traced: dict[str, bytes] = {}
        for drawing in _traces(file.statements):
            try:
                traced[drawing.path] = self.files.read(self.files.beside(place, drawing.path))
            except Refused as why:
                unused.append(error(why.code, why.message, drawing.path_span, help=why.help))
        symbols, wrong_names = check(
            file, {alias: program.symbols for alias, program in uses.items()}, broken
        )
        symbols.loose |= bool(unread)
        own = in_order((*gathered(unread), *unused, *wrong_names))
        every = dict.fromkeys(own)
        for program in uses.values():
            told = (one for one in program.diagnostics if one.code != UNUSED)
            every.update(dict.fromkeys(told))
        return Program(file, place.path, place.name, uses, symbols, tuple(every), traced)

    def _used(self, node: ast.Use, user: Place) -> Program:
        """The pattern that a `use` line names; or Refused."""
        place = self._place(node, user)
        circle = [one.path for one in self.chain]
        if place.path in circle:
            names = [one.name for one in self.chain[circle.index(place.path) :]]
            raise Refused(
                "circular-use",
                f"`{place.name}` uses itself"
                if len(names) == 1
                else f"these patterns use each other in a circle: {', '.join(names)}, and again "
                f"{names[0]}",
                "put what both need into a pattern of its own, which uses neither",
            )
        if len(self.chain) > DEEPEST:
            raise Refused(
                "too-deep", f"patterns use patterns more than {DEEPEST} deep", "use fewer at a time"
            )
        if len(self.loaded) > MOST_FILES:
            raise Refused("too-many", f"more than {MOST_FILES} patterns are used together")
        program = self.loaded.get(place.path)
        if program is None:
            try:
                data = self.files.read(place)
            except Refused as why:
                raise self._not_there(why, place, user) from None
            program = self.load(place, data)
        if is_body(program.file):
            raise Refused(
                "no-pattern",
                f"{place.name} is a body, not a pattern",
                f"a body is given when the pattern is drawn: `oaktag build … --body {place.name}`",
            )
        return program

    def _place(self, node: ast.Use, user: Place) -> Place:
        if isinstance(node.path, str):
            return self.files.beside(user, node.path)
        name = ".".join(part.name for part in node.path.parts)
        place = self.files.stdlib(name)
        if place is not None and all(part.index is None for part in node.path.parts):
            return place
        here = f"{name}.oak"
        near = nearest(name, self.files.stdlib_names())
        ending = [known for known in self.files.stdlib_names() if known.endswith(f".{name}")]
        if here in self.files.neighbours(user):
            help = f'write `use "{here}" as {node.alias.name}` for the file beside this one'
        elif near or ending:
            help = f"write `use {near or ' or '.join(ending)} as {node.alias.name}`"
        else:
            help = f"there are {', '.join(self.files.stdlib_names())}"
        raise Refused("unknown-pattern", f"no pattern `{name}` comes with oaktag", help)

    def _not_there(self, why: Refused, place: Place, user: Place) -> Refused:
        """With the file in the same folder that was probably meant."""
        if why.code != "no-file" or why.help:
            return why
        near = nearest(place.name.rpartition("/")[2], self.files.neighbours(user))
        help = f'write `"{near}"`' if near else "paths go from the file they stand in"
        return Refused(why.code, why.message, help)


def _traces(statements: Sequence[ast.Statement]) -> Iterator[ast.Trace]:
    """Every `trace` instruction, also inside pieces and blocks."""
    for node in statements:
        if isinstance(node, ast.Trace):
            yield node
        elif isinstance(node, ast.PieceDef | ast.Repeat):
            yield from _traces(node.body)
        elif isinstance(node, ast.If):
            yield from _traces((*node.body, *node.otherwise))


def _stands_alone(file: ast.File) -> bool:
    """Whether it reads no other file."""
    uses = any(isinstance(node, ast.Use) for node in file.statements)
    return not uses and next(_traces(file.statements), None) is None


def _unread(place: Place, *wrong: Diagnostic) -> Program:
    """Stands for a file that could not be read at all."""
    source = Source(place.name, "")
    file = ast.File(Span(source, 0, 0), source, None, (), "cm")
    return Program(file, place.path, place.name, {}, Names(loose=True), wrong)
