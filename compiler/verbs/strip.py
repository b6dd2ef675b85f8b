"""`strip`: a rectangle, as bands and bindings are cut."""

from __future__ import annotations

from oaktag.compiler.geometry import line
from oaktag.compiler.paper.chain import Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import Grain
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change


def strip(piece: Piece, length: Quantity, width: Quantity) -> Change:
    """Draws a rectangle with edges `base`, `end`, `top` and `start`, grain lengthwise.

    The base runs to the right from the origin, the top lies above it.
    """
    for amount, about in ((length, "length"), (width, "width")):
        if amount.amount <= 0:
            raise PaperError(
                f"a strip has a {about} above nothing: this is {{0}}",
                amount.amount,
                help="write it as `strip LENGTH by WIDTH`",
                about=about,
                code="no-length",
            )
    if piece.edges:
        raise PaperError(
            "this piece has its outline already",
            help="begin another piece for the strip",
            code="outline-twice",
        )
    right, up = complex(length.amount), complex(0, width.amount)
    corners = [0j, right, right + up, up]
    edges = tuple(
        Edge(Label(name), (Run(line(start, end)),))
        for name, start, end in zip(
            ("base", "end", "top", "start"), corners, [*corners[1:], corners[0]], strict=True
        )
    )
    drawn = piece.changed(edges=edges, grain=Grain(0j, right))
    return Change(drawn, let_in=(drawn.outline,))
