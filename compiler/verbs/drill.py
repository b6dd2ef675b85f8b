"""`drill`: a hole drilled through all layers."""

from __future__ import annotations

from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.placing import with_mark
from oaktag.compiler.paper.step import Change


def drill(piece: Piece, point: complex) -> Change:
    """Marks a drill hole."""
    return with_mark(piece, Mark("drill", point))
