"""Buttons and buttonholes that lie partly over the edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import contains
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span

BEYOND = 25.4 / 4  # mm beyond half a button. Source: ASDP standards copy, on the overlap
_SMALL = 0.05  # mm


def misplaced(pattern: Pattern) -> Iterator[Diagnostic]:
    """A warning for each line of the file whose marks do not fit where they lie."""
    for piece in pattern.made:
        told: set[tuple[str, Span | None]] = set()
        for mark in piece.marks:
            found = _hanging(pattern, piece, mark)
            if found is not None and (found.code, found.span) not in told:
                told.add((found.code, found.span))
                yield found


def _hanging(pattern: Pattern, piece: Piece, mark: Mark) -> Diagnostic | None:
    """A button whose rim, or a buttonhole whose end, lies beyond the edge of the piece."""
    if mark.kind == "button":
        room = min(
            (edge.path.nearest(mark.at)[1] for edge in piece.edges if not edge.on_fold),
            default=mark.size,
        )
        if room >= mark.size / 2 - _SMALL:
            return None
        over, most = mark.size / 2 - room, mark.size / 2 + BEYOND
        return _warning(
            pattern,
            piece,
            mark,
            "button-over-edge",
            f"a button {_length(pattern, mark.size)} wide hangs "
            f"{_length(pattern, over)} over the edge of `{piece.name}`",
            f"bring the edge forward to {_length(pattern, most)} beyond the buttons: half a "
            f"button and {'1/4 in' if pattern.unit in ('in', 'ft', 'yd') else 'about 6 mm'}",
        )
    if mark.kind == "buttonhole":
        ends = [mark.at + mark.direction * mark.size / 2 * side for side in (-1, 1)]
        outside = [end for end in ends if not contains(piece.outline, end)]
        over = max((piece.outline.nearest(end)[1] for end in outside), default=0.0)
        if over > _SMALL:
            return _warning(
                pattern,
                piece,
                mark,
                "buttonhole-over-edge",
                f"a buttonhole {_length(pattern, mark.size)} long runs "
                f"{_length(pattern, over)} over the edge of `{piece.name}`",
                "move it into the piece, or bring the edge forward",
            )
    return None


def _warning(
    pattern: Pattern, piece: Piece, mark: Mark, code: str, message: str, way_out: str
) -> Diagnostic:
    place = piece.maker(mark)
    return Diagnostic("warning", code, message, place, file=pattern.file, help=way_out)


def _length(pattern: Pattern, amount: float) -> str:
    return show_length(amount, pattern.unit)
