"""What the project's settings file says about outputs.

`oaktag.toml` marks the project. In it, `[build]` is what `build` does where the call says nothing,
and each `[outputs.NAME]` a set of outputs asked for with `--as NAME`. Both may also say where the
files go and for whom, in which size and with which choices they are made.
"""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, Any, NoReturn

import click

from oaktag.compiler.cli.guard import CALL_WRONG
from oaktag.compiler.cli.output import tell
from oaktag.compiler.cli.persons import GIVEN, Inside
from oaktag.compiler.cli.unreadable import way_out
from oaktag.compiler.cli.wishes import WISHES, Unfit, together
from oaktag.lang.diagnostics import Diagnostic, Mistake, error
from oaktag.lang.project.files import PROJECT_MARKS, DiskFiles, Refused, project_root
from oaktag.lang.source import Span
from oaktag.lang.syntax.decode import decode
from oaktag.lang.syntax.parse import VERSION
from oaktag.lang.words import nearest
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

SETTINGS = PROJECT_MARKS[0]
EXAMPLES = {"to": "svg", "paper": "a4", "roll": "914mm", "margin": "10mm", "overlap": "10mm"}
_KNOWN = ("language", "build", "outputs")


class Level(Record):
    """What one group of settings says. wishes: of outputs. given: body, chart, size, set and out,
    paths as they are seen from where the command is run.
    """

    wishes: Mapping[str, Any]
    given: Mapping[str, Any]


def levels_of(pattern_path: str, name: str | None) -> list[Level]:
    """The levels of settings for a pattern; what is wrong with them is told, and ends the call."""
    try:
        return presets(pattern_path, name)
    except Mistake as wrong:
        tell(wrong.diagnostics, err=True)
        click.get_current_context().exit(CALL_WRONG)


def presets(pattern_path: str, name: str | None) -> list[Level]:
    """The levels of settings for a pattern, the weakest first; raises Mistake with what is wrong.

    name: the outputs that were asked for, or none.
    """
    root = project_root(pattern_path)
    path = os.path.join(root, SETTINGS)
    if not os.path.lexists(path):
        if name is not None:
            _unknown(name, (), _shown(path))
        return []
    return _Settings(path, _shown(path)).levels(name)


def _shown(path: str) -> str:
    """As seen from where the command is run, if it lies near."""
    seen = os.path.relpath(path)
    return path if seen.count(os.pardir) > 3 else seen


def _unknown(name: str, known: Iterable[str], file: str) -> NoReturn:
    names = list(known)
    near = nearest(name, names)
    if near:
        way_out = f"did you mean `{near}`?"
    elif names:
        way_out = f"there are {', '.join(f'`{word}`' for word in names)}"
    else:
        way_out = f'write `[outputs.{name}]` into it, and below it lines like `to = "svg"`'
    raise Mistake(
        Diagnostic(
            "error", "no-outputs", f"no outputs are called `{name}` here", file=file, help=way_out
        )
    )


class _Settings:
    def __init__(self, path: str, shown: str) -> None:
        import tomllib

        files = DiskFiles(path)
        try:
            data = files.read(files.start(path))
        except Refused as why:
            message = why.message.replace(path, shown)
            raise Mistake(
                Diagnostic("error", why.code, message, file=shown, help=why.help)
            ) from None
        self.source = decode(shown, data)
        self.inside = Inside(os.path.dirname(path))
        self.wrong: list[Diagnostic] = []
        try:
            self.tables: dict[str, Any] = tomllib.loads(self.source.text)
        except tomllib.TOMLDecodeError as problem:
            raise Mistake(self._unreadable(str(problem))) from None
        except RecursionError:
            raise Mistake(self._unreadable("")) from None

    def levels(self, name: str | None) -> list[Level]:
        """What `[build]` says, and what the outputs of that name do."""
        for key in self.tables:
            if key not in _KNOWN:
                self._unknown_key(key, (), _KNOWN)
        version = self.tables.get("language", VERSION)
        if version != VERSION or isinstance(version, bool):
            self._error(
                ("language",),
                f"this Oaktag reads version {VERSION} of the language",
                f"write `language = {VERSION}`, or use a newer Oaktag",
            )
        found = [self._wishes(("build",), self.tables.get("build", {}))]
        outputs = self.tables.get("outputs", {})
        if not isinstance(outputs, dict):
            self._error(
                ("outputs",),
                "`outputs` has no name here",
                'begin it with a line like `[outputs.copyshop]`, and below it `to = "svg"`',
            )
            outputs = {}
        named = {key: self._wishes(("outputs", key), table) for key, table in outputs.items()}
        if self.wrong:
            raise Mistake(*self.wrong)
        if name is None:
            return found
        if name not in named:
            _unknown(name, named, self.source.name)
        return [*found, named[name]]

    def _wishes(self, place: tuple[str, ...], table: object) -> Level:
        """What one table says, as far as it can be read."""
        if not isinstance(table, dict):
            head = ".".join(place)
            self._error(
                place,
                f"`{head}` is the head of a group of lines",
                f'write a line `[{head}]`, and below it lines like `to = "svg"`',
            )
            return Level({}, {})
        values: dict[str, Any] = {}
        given: dict[str, Any] = {}
        for key, written in table.items():
            if key not in WISHES and key not in GIVEN:
                self._unknown_key(key, place, (*WISHES, *GIVEN))
                continue
            try:
                if key in GIVEN:
                    given[key] = self.inside.read(key, written)
                    continue
                value = self._value(key, written)
            except ValueError as why:
                self._error((*place, key), str(why), getattr(why, "way_out", ""))
                continue
            if value is not False:
                values[key] = value
        if "to" in values:
            try:
                together(values)
            except Unfit as why:
                self._error((*place, why.name), str(why))
        if "body" in given and ("chart" in given or "size" in given):
            self._error(
                (*place, "body"), "a body and a size of a chart cannot both be meant", "keep one"
            )
        return Level(values, given)

    def _value(self, key: str, written: object) -> Any:
        wish = WISHES[key]
        if wish.flag:
            if isinstance(written, bool):
                return written
            word = "false" if str(written).lower() in ("no", "off", "false", "0") else "true"
            raise ValueError(
                f"`{key}` is `true` or `false`, without quotes: write `{key} = {word}`"
            )
        if key == "to" and isinstance(written, list):
            written = ",".join(map(str, written))
        if isinstance(written, bool) or not isinstance(written, str | int | float):
            example = EXAMPLES.get(key, "…")
            raise ValueError(f'what `{key}` is stands between quotes, like `{key} = "{example}"`')
        return wish.read(str(written))

    def _unknown_key(self, key: str, place: tuple[str, ...], known: Iterable[str]) -> None:
        near = nearest(key, known)
        listed = ", ".join(f"`{word}`" for word in known)
        self._error(
            (*place, key),
            f"`{key}` means nothing here",
            f"did you mean `{near}`?" if near else f"what can stand here is {listed}",
        )

    def _error(self, place: tuple[str, ...], message: str, help: str = "") -> None:
        self.wrong.append(error("settings", message, self._span(place), help=help))

    def _span(self, place: tuple[str, ...]) -> Span:
        """Where a key or table stands; tomllib does not tell, so its line is looked for."""
        text = self.source.text
        start = 0
        if place[:-1]:
            start = self._line(text, 0, rf"\[[ \t]*{_dotted(place[:-1])}[ \t]*\]")[1]
        found = self._line(text, start, rf"(?=({_word(place[-1])})[ \t]*[=.])")
        if found == (0, 0):
            found = self._line(text, 0, rf"\[[ \t]*{_dotted(place)}[ \t]*[.\]]")
        if found == (0, 0):  # written in another of the ways a table can be written
            found = self._line(text, 0, rf"[^#\n]*{_word(place[-1])}")
        return Span(self.source, *found)

    @staticmethod
    def _line(text: str, start: int, pattern: str) -> tuple[int, int]:
        """The first line at or after `start` that begins like this, without what precedes it."""
        found = re.compile(rf"^[ \t]*({pattern})[^\n]*", re.MULTILINE).search(text, start)
        return (found.start(1), found.end()) if found else (0, 0)

    def _unreadable(self, problem: str) -> Diagnostic:
        place = re.search(r"\(at line (\d+), column (\d+)\)", problem)
        text = self.source.text
        number = int(place[1]) if place else text.count("\n") + 1
        start = sum(len(line) for line in text.splitlines(keepends=True)[: number - 1])
        line = self.source.line(number) if number <= text.count("\n") + 1 else ""
        flags = [wish.name for wish in WISHES.values() if wish.flag]
        return error(
            "settings",
            "this line of the settings cannot be read",
            Span(self.source, start, start + len(line)),
            help=way_out(line, problem, flags),
        )


def _word(key: str) -> str:
    """A key as it may be written."""
    return rf"[\"']?{re.escape(key)}[\"']?"


def _dotted(place: tuple[str, ...]) -> str:
    return r"[ \t]*\.[ \t]*".join(map(_word, place))
