"""`lengthen`: cut across a line and let paper in."""

from __future__ import annotations

from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change
from oaktag.compiler.verbs.arguments import Amount
from oaktag.compiler.verbs.spread import spread


def lengthen(piece: Piece, at: object, by: Quantity, holding: object = None) -> Change:
    """Opens a line by the same amount at both ends."""
    return spread(piece, (at,), (Amount(by),), holding=holding)
