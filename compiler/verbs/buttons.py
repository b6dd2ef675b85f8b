"""`buttons`: several in a row."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.placing import checked
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.row import spaced
from oaktag.compiler.paper.step import Change


def buttons(
    piece: Piece,
    count: Quantity,
    along: Chain,
    start: complex,
    end: complex,
    size: Quantity,
) -> Change:
    """Marks buttons of a diameter along a line or an edge, evenly, the first and the last at the
    two points; one alone lies at the first.
    """
    places = spaced(along, count, start, end, size)
    marks = [checked(piece, Mark("button", place, size=size.amount)) for place, _ in places]
    return Change(piece.changed(marks=(*piece.marks, *marks)))
