"""Marks lie on the paper."""

from __future__ import annotations

from oaktag.compiler.geometry import contains
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change

ON = 0.05  # mm: a mark this far over the outline still lies on it


def with_mark(piece: Piece, mark: Mark) -> Change:
    """The piece with a mark on it; one that lies off the paper is refused."""
    return Change(piece.changed(marks=(*piece.marks, checked(piece, mark))))


def checked(piece: Piece, mark: Mark) -> Mark:
    """The mark, if it lies on the paper."""
    if piece.edges and not contains(piece.outline, mark.at):
        away = piece.outline.nearest(mark.at)[1]
        if away > ON:
            raise PaperError(
                f"this {mark.kind} lies {{0}} off the paper",
                away,
                help="give a point on the piece",
                about="point",
                code="off-paper",
            )
    return mark
