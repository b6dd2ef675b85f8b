"""Darts and pleats that are to be folded when sewn need their shape at the edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.opening import DART, PLEAT
from oaktag.lang.diagnostics import Diagnostic

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span


def untrimmed(pattern: Pattern) -> Iterator[Diagnostic]:
    """A warning for each dart and pleat on a piece that is cut, if it was not trimmed to shape."""
    for piece in pattern.made:
        for opening in piece.openings:
            if opening.kind not in (DART, PLEAT) or opening.trimmed:
                continue
            side = "" if opening.style in ("box", "inverted") else " toward centre"
            yield Diagnostic(
                "warning",
                "untrimmed",
                f"the {opening.kind} `{opening.label}` of `{piece.name}` is not trimmed: folded, "
                "its paper will not reach the seam line",
                _maker(piece, opening),
                file=pattern.file,
                help=f"add `fold-trim {opening.label}{side}`, naming the side it is pressed to",
            )


def _maker(piece: Piece, opening: Opening) -> Span | None:
    """The line of the file that made an opening: the last step that names it."""
    steps = [step for step in reversed(piece.steps) if step.span is not None]
    for step in steps:
        if step.span is not None and opening.label.name in step.span.text:
            return step.span
    return steps[0].span if steps else None
