"""What the project's settings file says about outputs.

`oaktag.toml` marks the project. In it, `[build]` is what `build` does where the call says nothing,
and each `[outputs.NAME]` a set of outputs asked for with `--as NAME`.
"""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, Any, NoReturn

from oaktag.compiler.cli.wishes import WISHES, Unfit, together
from oaktag.lang.diagnostics import Diagnostic, Mistake, error
from oaktag.lang.project.files import PROJECT_MARKS, DiskFiles, Refused, project_root
from oaktag.lang.source import Span
from oaktag.lang.syntax.decode import decode
from oaktag.lang.words import nearest

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

SETTINGS = PROJECT_MARKS[0]
_KNOWN = ("language", "build", "outputs")


def presets(pattern_path: str, name: str | None) -> list[Mapping[str, Any]]:
    """The levels of wishes for a pattern, the weakest first; raises Mistake with all that is wrong.

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
        self.wrong: list[Diagnostic] = []
        try:
            self.tables: dict[str, Any] = tomllib.loads(self.source.text)
        except tomllib.TOMLDecodeError as problem:
            raise Mistake(self._unreadable(str(problem))) from None
        except RecursionError:
            raise Mistake(self._unreadable("")) from None

    def levels(self, name: str | None) -> list[Mapping[str, Any]]:
        """What `[build]` wishes, and what the outputs of that name do."""
        for key in self.tables:
            if key not in _KNOWN:
                self._unknown_key(key, (), _KNOWN)
        found = [self._wishes(("build",), self.tables.get("build", {}))]
        outputs = self.tables.get("outputs", {})
        if not isinstance(outputs, dict):
            self._error(
                ("outputs",),
                "`outputs` is no table",
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

    def _wishes(self, place: tuple[str, ...], table: object) -> Mapping[str, Any]:
        """The wishes of one table, as far as they can be read."""
        if not isinstance(table, dict):
            head = ".".join(place)
            self._error(place, f"`{head}` is no table", f"begin it with a line `[{head}]`")
            return {}
        values: dict[str, Any] = {}
        for key, written in table.items():
            if key not in WISHES:
                self._unknown_key(key, place, WISHES)
                continue
            try:
                value = self._value(key, written)
            except ValueError as why:
                self._error((*place, key), str(why))
                continue
            if value is not False:
                values[key] = value
        if "to" in values:
            try:
                together(values)
            except Unfit as why:
                self._error((*place, why.name), str(why))
        return values

    def _value(self, key: str, written: object) -> Any:
        wish = WISHES[key]
        if wish.flag:
            if isinstance(written, bool):
                return written
            raise ValueError(f"`{key}` is `true` or `false`, without quotes")
        if key == "to" and isinstance(written, list):
            written = ",".join(map(str, written))
        if isinstance(written, bool) or not isinstance(written, str | int | float):
            raise ValueError(f'what `{key}` is stands between quotes, like `{key} = "…"`')
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
        return error(
            "settings",
            "this line of the settings cannot be read",
            Span(self.source, start, start + len(line)),
            help='a line is `[build]`, `[outputs.copyshop]`, or like `to = "svg"` with straight '
            "quotes; no key stands twice in one table",
        )


def _word(key: str) -> str:
    """A key as it may be written."""
    return rf"[\"']?{re.escape(key)}[\"']?"


def _dotted(place: tuple[str, ...]) -> str:
    return r"[ \t]*\.[ \t]*".join(map(_word, place))
