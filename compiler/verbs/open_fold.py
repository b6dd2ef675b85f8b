"""`open`: an edge is taken off the fold of the cloth."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import check_edge
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change


def open_fold(piece: Piece, edge: Edge) -> Change:
    """Makes an edge on the fold an edge that is cut; the paper stays as it is."""
    check_edge(edge, "edge")
    places = [i for i, item in enumerate(piece.edges) if item.label.answers(edge.label)]
    if not any(piece.edges[i].on_fold for i in places):
        folds = [f"`{item.label}`" for item in piece.edges if item.on_fold]
        raise PaperError(
            f"`{edge.label}` does not lie on the fold, so it is cut already",
            help=f"{' and '.join(folds)} lies on the fold" if folds else "take this line out",
            about="edge",
            code="not-on-fold",
        )
    return Change(
        piece.changed(
            edges=tuple(
                item.changed(on_fold=False) if i in places else item
                for i, item in enumerate(piece.edges)
            )
        )
    )
