"""How commands talk: what is wrong, in colour on a terminal that wants it, and counts of it."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from oaktag.lang.diagnostics import Diagnostic


def tell(diagnostics: Iterable[Diagnostic], *, err: bool = False) -> None:
    """Prints each with its place and an empty line after it."""
    from oaktag.lang.diagnostics import render

    stream = sys.stderr if err else sys.stdout  # none if the caller has closed it
    wanted = not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    colour = wanted and stream is not None and stream.isatty()
    for diagnostic in diagnostics:
        click.echo(render(diagnostic, colour) + "\n", err=err, color=colour)


def pressing(diagnostics: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Without notes of common practice, which `check` and `build` tell."""
    return [item for item in diagnostics if item.severity != "note"]


def counts(diagnostics: Sequence[Diagnostic]) -> str:
    """`3 errors, 1 warning`; empty if there are neither."""
    found = []
    for severity in ("error", "warning"):
        count = sum(item.severity == severity for item in diagnostics)
        if count:
            found.append(plural(count, severity))
    return ", ".join(found)


def plural(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
