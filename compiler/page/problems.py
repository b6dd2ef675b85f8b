"""What is wrong in a file, as the page shows it: the words, the place, the lines, the way out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang.diagnostics import render
from oaktag.lang.source import seen_from

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.lang.diagnostics import Diagnostic

    Object = dict[str, Any]


def problems(diagnostics: Iterable[Diagnostic], main: str) -> list[Object]:
    """Errors first, then warnings, then notes, each in order.

    main: the name of the file that is shown; others are named as they lie from there.
    """
    order = ("error", "warning", "note")
    ranked = sorted(diagnostics, key=lambda one: order.index(one.severity))
    return [_problem(one, main) for one in ranked]


def _problem(one: Diagnostic, main: str) -> Object:
    _, *lines = render(one).split("\n")
    if one.help:
        lines.pop()
    file = one.span.source.name if one.span else one.file
    return {
        "severity": one.severity,
        "message": one.message,
        "file": seen_from(main, file) if file else "",
        "line": one.span.line if one.span else 0,
        "lines": [line for line in lines if "|" in line or set(line.strip()) == {"."}],
        "help": one.help,
    }
