"""`shorten`: take paper out along a line."""

from __future__ import annotations

from oaktag.compiler.paper.arguments import Amount
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change
from oaktag.compiler.verbs.overlap import overlap


def shorten(piece: Piece, at: object, by: Quantity, holding: object = None) -> Change:
    """Overlaps a line by the same amount at both ends."""
    return overlap(piece, (at,), (Amount(by),), holding=holding)
