"""`fold on`: the edge is placed on the fold of the cloth."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.intake import check_edge
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.straight import check_one_side, check_straight


def fold_on(piece: Piece, edge: Edge) -> Change:
    """Places an edge on the fold; it must be straight."""
    check_edge(edge, "edge")
    check_straight(edge, "edge")
    check_one_side(piece, edge, "edge")
    edges = tuple(
        item.changed(on_fold=True) if item.label.answers(edge.label) else item
        for item in piece.edges
    )
    return Change(piece.changed(edges=edges))
