"""Seam and hem allowances: the line along which a piece is cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import backwards
from oaktag.compiler.finish.sides import sides_of, stretches
from oaktag.compiler.finish.surround import surround
from oaktag.compiler.paper.errors import PaperError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Allowance
    from oaktag.compiler.finish.beside import Side
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece

Width = tuple[float, float, float]
"""A part of an edge and its allowance: from, to and width in mm."""

_FIGURE = 0.1  # mm: how exactly the widest possible allowance is told


def cut_line(piece: Piece, allowances: Sequence[Allowance]) -> Path | None:
    """The closed line on which the piece is cut, or none if it is cut on its outline.

    Every edge is set outward by its own width, the later allowance winning; corners are mitred.
    There is no allowance on the fold. Raises PaperError if an edge cannot take its allowance.
    """
    sides = [side for side, _ in sides_of(piece, allowances)]
    if not any(side.width for side in sides):
        return None
    clockwise = piece.signed_area < 0
    if clockwise:
        sides = backwards(sides)
    line, lost = surround(sides)
    if line is None or lost:
        raise _too_wide(piece, sides, lost)
    return line.reversed() if clockwise else line


def widths(piece: Piece, edge: Edge, allowances: Sequence[Allowance]) -> list[Width]:
    """The allowances along one edge of the outline, in order and without gaps."""
    return [(item.start, item.end, item.width) for item in stretches(piece, edge, allowances)]


def _too_wide(piece: Piece, sides: Sequence[Side], lost: Sequence[int]) -> PaperError:
    """Says which edge cannot take its allowance, and the width that fits everywhere."""
    low, high = 0.0, max(side.width for side in sides)
    while high - low > _FIGURE:
        middle = (low + high) / 2
        line, gone = surround([s.changed(width=min(s.width, middle)) for s in sides])
        if line is None or gone:
            high = middle
        else:
            low = middle
    most = round(low - _FIGURE / 2, 1)
    way_out = "allow at most {1} there" if most > 0 else "redraw the outline there"
    if lost:
        edge = piece.edges[lost[0]]
        width = max(side.width for side in sides if side.edge == lost[0])
        return PaperError(
            f"`{piece.name}.{edge.label}` cannot take an allowance of {{0}}: the outline bends too "
            "sharply there, or the allowance opposite is in its way",
            width,
            most,
            help=way_out,
            code="allowance-too-wide",
        )
    return PaperError(
        f"the allowances of `{piece.name}`, up to {{0}} wide, close over a gap in its outline",
        max(side.width for side in sides),
        most,
        help=way_out,
        code="allowance-too-wide",
    )
