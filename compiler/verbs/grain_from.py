"""`grain from … to …`: the warp runs from one point to another."""

from __future__ import annotations

from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.mark import Grain
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change


def grain_from(piece: Piece, start: complex, end: complex) -> Change:
    """Lays the grain from one point to another."""
    if abs(end - start) < 1.0:
        raise PaperError(
            "the grain needs two points: these two are {0} apart",
            abs(end - start),
            help="name two points some way apart on the sheet",
            about="end",
            code="no-length",
        )
    return Change(piece.changed(grain=Grain(start, end)))
