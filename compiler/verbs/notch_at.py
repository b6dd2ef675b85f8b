"""`notch at`: a notch at a point of the outline."""

from __future__ import annotations

from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.mark import Mark, depth
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.ring import Ring
from oaktag.compiler.paper.step import Change


def notch_at(
    piece: Piece,
    point: complex,
    double: bool = False,
    shape: str = "",
    deep: Quantity | None = None,
) -> Change:
    """Marks a notch where a point lies on the outline; at a corner it halves the corner."""
    where, away = piece.outline.nearest(point)
    if away > ON:
        raise PaperError(
            "a notch lies on the outline: this point is {0} away from it",
            away,
            help="use a point on an edge, or `notch on EDGE at …`",
            about="point",
            code="off-edge",
        )
    ring = Ring(piece)
    at = where % ring.total
    before = piece.outline.tangent_at(at if at > 1e-6 else ring.total, before=True)
    after = piece.outline.tangent_at(at)
    both = before + after
    inward = (both / abs(both) if abs(both) > 1e-6 else after) * piece.inward
    edge = piece.edges[ring.edge_at(at)].label
    mark = Mark("notch", point, inward, double=double, edge=edge, shape=shape, deep=depth(deep))
    return Change(piece.changed(marks=(*piece.marks, mark)))
