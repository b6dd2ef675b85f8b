"""Darts and pleats that are to be folded when sewn need their shape at the edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.opening import DART, PLEAT
from oaktag.lang.diagnostics import Diagnostic

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span


MAKERS = frozenset({"dart", "spread", "close", "redraw", "divide", "join"})


def untrimmed(pattern: Pattern) -> Iterator[Diagnostic]:
    """A warning for darts and pleats on a piece that is cut, if they were not trimmed to shape.

    Members of one row are told of together.
    """
    for piece in pattern.made:
        rows: dict[tuple[str, Label], list[Opening]] = {}
        for opening in piece.openings:
            if opening.kind in (DART, PLEAT) and not opening.trimmed:
                alike = (opening.kind, opening.label.changed(index=None))
                rows.setdefault(alike, []).append(opening)
        for (kind, _), row in rows.items():
            first, last = row[0].label, row[-1].label
            whole = len(row) > 1
            names = f"`{first}` to `{last}`" if whole else f"`{first}`"
            asked = f"{str(first)[:-1]}..{last.index}]" if whole else str(first)
            side = "" if row[0].style in ("box", "inverted") else " toward EDGE"
            yield Diagnostic(
                "warning",
                "untrimmed",
                f"the {kind}s {names} of `{piece.name}` are not trimmed: folded, their paper will "
                "not reach the seam line"
                if whole
                else f"the {kind} {names} of `{piece.name}` is not trimmed: folded, its paper will "
                "not reach the seam line",
                made_by(piece, row[0]),
                file=pattern.file,
                help=f"add `fold-trim {asked}{side}`"
                + (
                    f", the edge to which {'they are' if whole else 'it is'} pressed"
                    if side
                    else ""
                ),
            )


def made_by(piece: Piece, opening: Opening) -> Span | None:
    """The line of the file that made an opening: the last of those that make one and names it."""
    steps = [step for step in reversed(piece.steps) if step.span is not None]
    for step in steps:
        named = step.span is not None and opening.label.name in step.span.text
        if named and step.verb in MAKERS:
            return step.span
    return steps[0].span if steps else None
