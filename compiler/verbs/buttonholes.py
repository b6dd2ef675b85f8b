"""`buttonholes`: several in a row, for buttons of a size."""

from __future__ import annotations

from oaktag.compiler.geometry import ray_meetings
from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.placing import checked
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.row import spaced
from oaktag.compiler.paper.step import Change

LONGER = 25.4 / 8  # mm: than a flat button is wide. Source: learnsomethingnew365, on buttonholes
PAST = 25.4 / 8  # mm past the line, toward the edge. Source: trantor.is, IASRI e-course


def buttonholes(
    piece: Piece,
    count: Quantity,
    along: Chain,
    start: complex,
    end: complex,
    size: Quantity,
    across: bool = False,
) -> Change:
    """Marks buttonholes for buttons of a diameter, spaced as `buttons` are.

    They lie on the line or edge, their middles where the buttons come to lie. With `across` they
    are square to it: they begin 1/8 in past it, on the side of the nearer edge of the piece, since
    there the shank pulls to.
    """
    length = size.amount + LONGER
    marks = []
    for place, way in spaced(along, count, start, end, size):
        mark = Mark("buttonhole", place, way, length)
        if across:
            out = _outward(piece, place, way)
            mark = mark.changed(at=place + out * (PAST - length / 2), direction=-out)
        marks.append(checked(piece, mark))
    return Change(piece.changed(marks=(*piece.marks, *marks)))


def _outward(piece: Piece, place: complex, way: complex) -> complex:
    """Square to a line, to the side on which the edge of the piece is nearer."""
    return min(
        (way * 1j, way * -1j),
        key=lambda side: min(
            (far for far, _, _ in ray_meetings(place, side, piece.outline) if far > ON),
            default=0.0,
        ),
    )
