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

_KEPT = "cut_line"  # among what a piece remembers, beside its outline
_FIGURE = 0.1  # mm: how exactly the widest possible allowance is told


class AllowanceError(PaperError):
    """An allowance that cannot be drawn, with the one of the file that it is."""

    def __init__(self, said: Allowance | None, message: str, *lengths: float, help: str) -> None:
        super().__init__(message, *lengths, help=help, code="allowance-too-wide")
        self.said = said


def cut_line(piece: Piece, allowances: Sequence[Allowance]) -> Path | None:
    """The closed line on which the piece is cut, or none if it is cut on its outline.

    Every edge is set outward by its own width, the later allowance winning. There is none on the
    fold. Raises AllowanceError if an edge cannot take its allowance. Asked again about the same
    piece and allowances, it remembers: the line follows from them as the outline from the edges.
    """
    kept = piece.__dict__.get(_KEPT)
    if kept is not None and kept[0] is allowances:
        line: Path | None = kept[1]
        return line
    line = _cut_line(piece, allowances)
    if isinstance(allowances, tuple):
        piece.__dict__[_KEPT] = (allowances, line)
    return line


def _cut_line(piece: Piece, allowances: Sequence[Allowance]) -> Path | None:
    known = sides_of(piece, allowances)
    if not any(side.width for side, _ in known):
        return None
    sides = [side for side, _ in known]
    clockwise = piece.signed_area < 0
    if clockwise:
        sides = backwards(sides)
    line, lost = surround(sides)
    if line is None or lost:
        raise _too_wide(piece, sides, known, lost)
    return line.reversed() if clockwise else line


def widths(piece: Piece, edge: Edge, allowances: Sequence[Allowance]) -> list[Width]:
    """The allowances along one edge of the outline, in order and without gaps."""
    return [(item.start, item.end, item.width) for item in stretches(piece, edge, allowances)]


def _too_wide(
    piece: Piece,
    sides: Sequence[Side],
    known: Sequence[tuple[Side, Allowance | None]],
    lost: Sequence[int],
) -> AllowanceError:
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
    asked = [(side, said) for side, said in known if not lost or side.edge == lost[0]]
    side, said = max(asked, key=lambda item: item[0].width)
    if lost:
        message = (
            f"`{piece.name}.{piece.edges[lost[0]].label}` cannot take an allowance of {{0}}: the "
            "outline bends too sharply there, or the allowance opposite is in its way"
        )
    else:
        message = (
            f"the allowances of `{piece.name}`, up to {{0}} wide, close over a gap in its outline"
        )
    return AllowanceError(said, message, side.width, most, help=way_out)
