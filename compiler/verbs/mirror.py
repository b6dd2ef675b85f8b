"""`mirror`: turn the piece over."""

from __future__ import annotations

from oaktag.compiler.geometry import reflection
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change


def mirror(piece: Piece) -> Change:
    """Turns the piece over about the upright through its middle, so that it stays where it is."""
    left, _, right, _ = piece.outline.box()
    middle = complex((left + right) / 2, 0)
    return Change(piece.moved(reflection(middle, middle + 1j)))
