"""The cut list: what is cut in which cloth, how often, and how much cloth that is.

It is no layout: pieces turned into each other's hollows, nap, shrinkage and the width of the cloth
are not considered.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.geometry import Motion, ring_area
from oaktag.compiler.making.counts import cloths, on_fold
from oaktag.compiler.making.facing_up import faces_of
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import CutOrder, Pattern
    from oaktag.compiler.paper.piece import Piece


class CutRow(Record):
    """A piece in a cloth. Sizes in mm, with allowances, as it lies on the paper.

    along, across: of the box around it, along the grain and across it; without grain (`grained`)
    along the height of the sheet. area: of all that is cut of it, in mm²; on the fold of the whole.
    face: of the paper that lies up, if that makes a difference.
    """

    piece: str
    count: int
    pair: bool
    fold: bool
    along: float
    across: float
    grained: bool
    area: float
    face: str = ""


class ClothCut(Record):
    """All that is cut in one cloth. widest: across the grain, opened if it is cut on the fold."""

    cloth: str
    rows: tuple[CutRow, ...]
    area: float
    widest: CutRow


def cut_list(pattern: Pattern) -> tuple[ClothCut, ...]:
    """By cloth, in the order of the file. Raises PaperError as `cut_line` does.

    A piece that is cut by several lines of the file in one cloth stands there once for each.
    """
    names = _ordered(pattern)
    sizes = {name: _size(pattern, pattern.pieces[name]) for name in names}
    faces = [pair for name in names for pair in faces_of(pattern, pattern.pieces[name])]
    found = []
    for cloth in cloths(pattern):
        orders = [order for order in pattern.cuts if order.cloth == cloth]
        rows = tuple(
            _row(pattern, order, *sizes[order.piece]).changed(
                face=next(face for cut, face in faces if cut is order)
            )
            for order in orders
        )
        widest = max(rows, key=lambda row: _opened(row))
        found.append(ClothCut(cloth, rows, sum(row.area for row in rows), widest))
    return tuple(found)


def opened_width(row: CutRow) -> float:
    """Across the grain with the fold opened, in mm."""
    return _opened(row)


def _opened(row: CutRow) -> float:
    return row.across * (2 if row.fold else 1)


def _ordered(pattern: Pattern) -> list[str]:
    return list(dict.fromkeys(order.piece for order in pattern.cuts))


def _row(pattern: Pattern, order: CutOrder, along: float, across: float, area: float) -> CutRow:
    piece = pattern.pieces[order.piece]
    fold, grained = on_fold(piece), piece.grain is not None
    total = area * order.count * (2 if fold else 1)
    return CutRow(piece.name, order.count, order.pair, fold, along, across, grained, total)


def _size(pattern: Pattern, piece: Piece) -> tuple[float, float, float]:
    """Along the grain, across it, and the area, of the piece as it is cut out of paper."""
    path = cut_line(piece, pattern.allowances) or piece.outline
    turn = 1 + 0j
    if piece.grain is not None and abs(piece.grain.end - piece.grain.start) > 1e-6:
        way = piece.grain.end - piece.grain.start
        turn = 1j / (way / abs(way))  # the grain comes to run upward
    left, bottom, right, top = path.moved(Motion(turn)).box()
    return top - bottom, right - left, abs(ring_area(path))
