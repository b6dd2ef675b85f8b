"""`grain along`: the warp runs along an edge or a line."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.mark import Grain
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change


def grain_along(piece: Piece, edge: Chain) -> Change:
    """Lays the grain along the straight between the ends of an edge or line."""
    return Change(piece.changed(grain=Grain(edge.start, edge.end)))
