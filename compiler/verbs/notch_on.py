"""`notch on`: notches at the same place on edges."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import whole_edge
from oaktag.compiler.paper.intake import check_edge
from oaktag.compiler.paper.mark import Mark, depth
from oaktag.compiler.paper.origin import walked_backwards
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change


def notch_on(
    piece: Piece,
    edges: tuple[Edge, ...],
    at: Quantity,
    origin: object = None,
    double: bool = False,
    shape: str = "",
    deep: Quantity | None = None,
    written: str = "",
) -> Change:
    """Marks a notch on each edge, at a distance as sewn.

    written: what the file calls the edge, if not by its name on the paper.
    """
    marks, mark = [], Mark("notch", 0j, double=double, shape=shape, deep=depth(deep))
    for edge in edges:
        check_edge(edge, "edges")
        backwards = walked_backwards(edge, origin)
        wanted = at.along(edge.sewn)
        if not -1e-6 <= wanted <= edge.sewn + 1e-6:
            raise PaperError(
                f"`{written or edge.label}` is {{0}} long as sewn, so a notch at {{1}} "
                "falls off it",
                edge.sewn,
                wanted,
                help="put it nearer, or give a share of the edge, like `1/2`",
                about="at",
                code="off-edge",
            )
        chain = edge.reversed() if backwards else edge
        where = chain.cut_distance(wanted)
        if backwards:
            where = edge.length - where
        inward = edge.path.tangent_at(where) * piece.inward
        place = edge.path.point_at(where)
        owner = whole_edge(piece, edge)[0].label
        marks.append(mark.changed(at=place, direction=inward, edge=owner))
    return Change(piece.changed(marks=(*piece.marks, *marks)))
