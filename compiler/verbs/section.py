"""`section`: a name for a part of an edge."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import whole_edge
from oaktag.compiler.paper.intake import check_edge
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import Section
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change


def section(piece: Piece, target: Label, edge: Edge, start: complex, end: complex) -> Change:
    """Names the part of an edge between two points on it."""
    check_edge(edge, "edge")
    edge, _ = whole_edge(piece, edge)
    for place, about in ((start, "start"), (end, "end")):
        away = edge.path.nearest(place)[1]
        if away > ON:
            raise PaperError(
                f"this point lies {{0}} away from `{edge.label}`",
                away,
                help=f"name a point on it: `on {edge.label} 4 cm from …`",
                about=about,
                code="off-edge",
            )
    if abs(start - end) < ON:
        raise PaperError(
            f"this part of `{edge.label}` has no length: its two ends are one point",
            help="name two points on the edge",
            about="end",
            code="no-length",
        )
    return Change(
        piece.changed(sections=(*piece.sections, Section(target, edge.label, start, end)))
    )
