"""`buttonhole`: a slit with its direction."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.placing import with_mark
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change


def buttonhole(piece: Piece, point: complex, size: Quantity, along: Chain | None = None) -> Change:
    """Marks a buttonhole of a length, centred on the point; across the sheet unless `along`
    an edge.
    """
    if size.amount <= 0:
        raise PaperError(
            "a buttonhole has a length above nothing: this is {0}",
            size.amount,
            help="give its length",
            about="size",
            code="no-size",
        )
    direction: complex = 1 + 0j
    if along is not None:
        direction = along.path.tangent_at(along.path.nearest(point)[0])
    mark = Mark("buttonhole", point, direction, size.amount)
    return with_mark(piece, mark)
