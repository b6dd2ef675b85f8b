"""`text`: words on the piece."""

from __future__ import annotations

from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.placing import with_mark
from oaktag.compiler.paper.step import Change


def text(piece: Piece, text: str, point: complex) -> Change:
    """Writes a text at a point."""
    return with_mark(piece, Mark("text", point, text=text))
