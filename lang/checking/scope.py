"""Which names a line of a file can see, how new ones are given, and what was found wrong so far."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.checking import missing
from oaktag.lang.checking.dimensions import (
    EDGE,
    FOLDS,
    LINE,
    NUMBER,
    PIECE,
    POINT,
    UNKNOWN,
    with_article,
)
from oaktag.lang.checking.names import FOLD_PARTS, MISTAKEN, Names, Symbol, either_symbol
from oaktag.lang.diagnostics import Label, error

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from oaktag.lang import ast
    from oaktag.lang.checking.dimensions import Kind
    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.source import Span

# Names that are there without being given.
GIVEN = {"origin": Symbol(POINT), "pi": Symbol(NUMBER)}

SUGGESTIONS = 30  # looking for the nearest name takes time; a file of nothing but mistakes has more
REPEATS_SHOWN = 3


class Found:
    """Where a dotted name leads: its symbol, or the part (`at`) at which it leads nowhere.

    holder: what the failing part was looked for in, none for this place itself. names, since: the
    names that the holder is one of, and the part at which it begins there.
    ends: the parts that carry an index or ought to, each with its symbol.
    """

    __slots__ = ("at", "ends", "holder", "names", "since", "symbol")

    def __init__(self) -> None:
        self.symbol: Symbol | None = None
        self.at = 0
        self.holder: Symbol | None = None
        self.names: Names | None = None
        self.since = 0
        self.ends: list[tuple[ast.Part, Symbol]] = []


class Scope:
    """The place a statement stands at.

    names: the file's. sheet: the paper of the piece being drawn (`drawing`). finished: the file's
    names at its end, for what sees finished pieces; `before` is where that statement stands.
    uses: the names of used patterns. asked: names of the file that something asked for. nested: how
    many `repeat` and `if` stand around. turns: names without index given in each `repeat` around.
    lost: words of lines that could not be read; a name among them may well have been given there.
    spoilt: whether such a line belongs to this piece.
    """

    def __init__(
        self,
        statements: Sequence[ast.Statement] = (),
        lost: frozenset[str] = frozenset(),
        uses: Mapping[str, Names] | None = None,
    ) -> None:
        self.names = Names()
        self.sheet: Names | None = None
        self.drawing: ast.PieceDef | None = None
        self.finished: Names | None = None
        self.before: int | None = None
        self.uses = uses or {}
        self.asked: set[str] = set()
        self.nested = 0
        self.spoilt = False
        self.turns: list[list[str]] = []
        self.found: list[Diagnostic] = []
        self.ended: dict[str, str] = {}
        self.statements = statements
        self.lost = lost
        self._reported: dict[tuple[int, str], int] = {}
        self._given: dict[int, dict[str, list[Span]]] = {}

    # ---------------------------------------------------------------- what is wrong

    def wrong(
        self,
        code: str,
        message: str,
        span: Span | None,
        *,
        label: str = "",
        help: str = "",
        labels: tuple[Label, ...] = (),
    ) -> None:
        self.found.append(error(code, message, span, label=label, help=help, labels=labels))

    # ---------------------------------------------------------------- giving names

    @property
    def current(self) -> Names:
        """Where a new name goes: on the paper of the piece, else to the file."""
        return self.names if self.sheet is None else self.sheet

    @current.setter
    def current(self, names: Names) -> None:
        if self.sheet is None:
            self.names = names
        else:
            self.sheet = names

    def give(
        self, target: ast.Target, kind: Kind, role: str = "", inside: Names | None = None
    ) -> None:
        """A name is given; if it is sure to be there that is a mistake, unless both have an
        index.
        """
        row = target.index is not None
        symbol = Symbol(kind, target.span, role, row, inside)
        names, name = self.current, target.name
        old = names.symbols.get(name)
        if old is None or old.perhaps:
            # Whether one that may be there is there, drawing tells.
            if self.sheet is not None:
                self._refuse_name_of_file(target)
            if self.turns and not row:
                self.turns[-1].append(name)
            names.symbols[name] = symbol
            return
        names.symbols[name] = either_symbol(old, symbol)
        if row and old.row is not False:
            return
        if row:
            self.wrong(
                "named-twice",
                f"`{name}` is already the name of one {old.kind}, not of a row",
                target.span,
                label="numbered here",
                labels=_here(old.span, target.span, "named here"),
                help="choose another name for the row",
            )
        elif old.kind != UNKNOWN or old.twice or old.span is not None:
            self.wrong(
                "named-twice",
                f"`{name}` is already there",
                target.span,
                label="named again here",
                labels=_here(old.span, target.span, "named here"),
                help="choose another name; a name is given once",
            )

    def _refuse_name_of_file(self, target: ast.Target) -> None:
        old = self.names.symbols.get(target.name)
        if self.drawing is not None and self.drawing.target.name == target.name:
            old = Symbol(PIECE, self.drawing.target.span)
        if old is None or old.perhaps or (old.kind == UNKNOWN and old.span is None):
            return
        what = old.role if old.role in ("measure", "choice", "value") else old.kind
        what = "name with a mistake in it" if what == UNKNOWN else what
        self.wrong(
            "named-in-file",
            f"the file already has {with_article(what)} `{target.name}`",
            target.span,
            label="drawn under the same name",
            labels=_here(old.span, target.span, "named here"),
            help="choose another name for what you draw",
        )

    def end_turn(self, names: list[str]) -> None:
        """Names without index given inside a `repeat` last one turn."""
        for name in names:
            symbol = self.current.symbols.pop(name, None)
            self.ended[name] = symbol.role if symbol is not None else ""

    # ---------------------------------------------------------------- finding names

    def of_file(self, name: str) -> Symbol | None:
        """A name of the file, if it stands above; finished pieces may stand anywhere."""
        symbol = self.names.symbols.get(name)
        if self.before is None:
            return symbol
        if symbol is not None and (
            symbol.kind == PIECE or symbol.span is None or symbol.span.start < self.before
        ):
            return symbol
        later = self.finished.symbols.get(name) if self.finished else None
        return later if later is not None and later.kind == PIECE else None

    def follow(self, parts: Sequence[ast.Part]) -> Found:
        """Follows a dotted name as far as it leads."""
        found = Found()
        first = _longest(self.sheet, parts, 0) if self.sheet is not None else None
        if first is None:
            self.asked.add(parts[0].name)
            plain = self.of_file(parts[0].name) or GIVEN.get(parts[0].name)
            first = None if plain is None else (plain, 1)
        if first is None:
            loose = self.sheet is not None and self.sheet.loose
            if loose or parts[0].name in self.lost:
                found.symbol = MISTAKEN
            return found
        symbol, at = first
        found.names = self.sheet
        found.ends.append((parts[at - 1], symbol))
        while at < len(parts) and symbol.kind != UNKNOWN:
            following: tuple[Symbol, int] | None = None
            if symbol.inside is not None:
                found.names, found.since = symbol.inside, at
                following = _longest(symbol.inside, parts, at)
                if following is None and symbol.inside.loose:
                    following = (MISTAKEN, at + 1)
            elif symbol.kind in FOLDS and parts[at].name in FOLD_PARTS:
                following = (FOLD_PARTS[parts[at].name], at + 1)
            if following is None and parts[at].name in self.lost:
                following = (MISTAKEN, at + 1)
            if following is None:
                found.at, found.holder = at, symbol
                return found
            symbol, at = following
            found.ends.append((parts[at - 1], symbol))
        slashed = symbol.kind in (EDGE, LINE) and parts[-1].name in self.lost
        found.symbol = MISTAKEN if slashed else symbol  # its name may mean an opening now
        return found

    def unknown(self, parts: Sequence[ast.Part], found: Found, wanted: Sequence[Kind]) -> None:
        """Reports a name that leads nowhere; the same one again becomes a further place of it."""
        holder = found.holder
        place = id(self.drawing) if holder is None else id(holder.inside or holder)
        key = (place, ".".join(part.name for part in parts[: found.at + 1]))
        at = self._reported.setdefault(key, len(self.found))
        if at < len(self.found):
            first = self.found[at]
            span = parts[found.at].span
            said = [first.span, *(label.span for label in first.labels)]
            new = all(one is None or one.start != span.start for one in said)
            if new and len(first.labels) < REPEATS_SHOWN:
                labels = (*first.labels, Label(span, "again here"))
                self.found[at] = first.changed(labels=labels)
            return
        search = len(self._reported) <= SUGGESTIONS
        if holder is None:
            self.found.append(missing.here(self, parts, wanted, search=search))
        else:
            self.found.append(missing.within(holder, parts, found, wanted, search=search))

    def below(self, name: str, use: Span) -> Span | None:
        """Where a name that is used too early is given."""
        later = [
            span
            for places in (self._places(self.statements), self._places(self._lines()))
            for span in places.get(name, ())
            if span.start > use.start
        ]
        return min(later, key=lambda span: span.start, default=None)

    def _lines(self) -> Sequence[ast.Statement]:
        return self.drawing.body if self.drawing is not None else ()

    def _places(self, statements: Sequence[ast.Statement]) -> dict[str, list[Span]]:
        """Where names are given, looked through once for a file and once for a piece."""
        key = id(statements)
        if key not in self._given:
            self._given[key] = missing.places(statements)
        return self._given[key]

    def visible(self) -> dict[str, Symbol]:
        """Every name that can be said here."""
        names: dict[str, Symbol] = dict(GIVEN)
        names.update(
            (given, symbol) for given in self.names.symbols if (symbol := self.of_file(given))
        )
        if self.finished is not None:
            names.update(self.finished.pieces())
        if self.sheet is not None:
            names.update(self.sheet.symbols)
        return names


def _longest(names: Names, parts: Sequence[ast.Part], at: int) -> tuple[Symbol, int] | None:
    """The longest name that the parts from a place on spell, and the place behind it."""
    name = parts[at].name
    symbol = names.symbols.get(name)
    best = None if symbol is None else (symbol, at + 1)
    while at + 1 < len(parts) and parts[at].index is None:
        at += 1
        name = f"{name}.{parts[at].name}"
        symbol = names.symbols.get(name)
        if symbol is not None:
            best = (symbol, at + 1)
    return best


def _here(old: Span | None, new: Span, text: str) -> tuple[Label, ...]:
    """A label where a name was given, if that is in the same file."""
    return (Label(old, text),) if old is not None and old.source is new.source else ()
