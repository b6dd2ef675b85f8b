"""The measures of a piece, in words: its size, its edges, its darts and openings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import find
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import PLEAT
from oaktag.lang.units import show_area, show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.paper.piece import Piece

SAME = 0.005  # mm: lengths nearer than this are told once


def size(piece: Piece, unit: str) -> str:
    """Width, height and area, without allowances."""
    left, bottom, right, top = piece.outline.box()
    return (
        f"{show_length(right - left, unit)} wide, {show_length(top - bottom, unit)} high, "
        f"{show_area(piece.area, unit)}"
    )


def edge_measures(piece: Piece, unit: str) -> Iterator[str]:
    """Each edge as cut and, where that differs, as sewn: `side  102 cm, 67.6 cm sewn`."""
    edges = list(whole_edges(piece))
    width = max((len(str(edge.label)) for edge in edges), default=0)
    for edge in edges:
        text = f"{edge.label!s:<{width}}  {show_length(edge.length, unit)}"
        if abs(edge.length - edge.sewn) > SAME:
            text += f", {show_length(edge.sewn, unit)} sewn"
        yield text


def fold_measures(piece: Piece, unit: str) -> Iterator[str]:
    """Each dart and opening: `waist_dart: dart, 2.2 cm wide, 10 cm deep`."""
    for opening in piece.openings:
        kind = f"{opening.style} {opening.kind}" if opening.kind == PLEAT else opening.kind
        wide, deep = (show_length(one, unit) for one in (opening.intake, opening.first.length))
        yield f"{opening.label}: {kind}, {wide} wide, {deep} deep"


def whole_edges(piece: Piece) -> Iterator[Edge]:
    """The edges in order; halves that became one when the piece was unfolded are one."""
    told = set()
    for edge in piece.edges:
        name = Label(edge.label.name, edge.label.index)
        if name in told:
            continue
        try:
            whole = find(piece, name)
        except PaperError:  # both halves have one of their own
            whole = edge
        if isinstance(whole, Edge) and whole.label == name:
            told.add(name)
            yield whole
        else:
            yield edge
