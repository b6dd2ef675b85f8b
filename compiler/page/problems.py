"""What is wrong in a file, as the page shows it: the words, the place, the lines, the way out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang.diagnostics import render

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.lang.diagnostics import Diagnostic

    Object = dict[str, Any]


def problems(diagnostics: Iterable[Diagnostic]) -> list[Object]:
    """Errors first, then warnings, then notes, each in order."""
    order = ("error", "warning", "note")
    ranked = sorted(diagnostics, key=lambda one: order.index(one.severity))
    return [_problem(one) for one in ranked]


def _problem(one: Diagnostic) -> Object:
    _, *lines = render(one).split("\n")
    if one.help:
        lines.pop()
    return {
        "severity": one.severity,
        "message": one.message,
        "file": one.span.source.name if one.span else one.file,
        "line": one.span.line if one.span else 0,
        "lines": [line for line in lines if "|" in line or set(line.strip()) == {"."}],
        "help": one.help,
    }
