"""`button`: where a button is sewn on."""

from __future__ import annotations

from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.placing import with_mark
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change


def button(piece: Piece, point: complex, size: Quantity) -> Change:
    """Marks a button of a diameter."""
    if size.amount <= 0:
        raise PaperError(
            "a button has a size above nothing: this is {0}",
            size.amount,
            help="give its diameter",
            about="size",
            code="no-size",
        )
    return with_mark(piece, Mark("button", point, size=size.amount))
