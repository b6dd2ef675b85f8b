"""Notches, drill holes, buttons, buttonholes and words, as they are drawn on a piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import widths
from oaktag.compiler.geometry import line, line_meetings
from oaktag.compiler.sheet.drawing import MARKS, Stroke, Text
from oaktag.compiler.sheet.symbols import bar, circle, cross

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Allowance
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.piece import Piece

NOTCH = 5.0  # mm deep; common practice, no source
CLEAR = 3.2  # mm (1/8 in) between a notch and the seam. Source: maeviary.com, on notches
BETWEEN = 6.0  # mm between the two strokes of a double notch
WORDS = 5.0  # mm


def mark_strokes(piece: Piece, mark: Mark, allowances: Sequence[Allowance]) -> list[Stroke]:
    """The strokes of one mark; words have none."""
    if mark.kind == "notch":
        return _notch(piece, mark, allowances)
    if mark.kind == "drill":
        paths = [circle(mark.at, 1.5), *cross(mark.at, 6.0)]
    elif mark.kind == "button":
        paths = [circle(mark.at, mark.size / 2), *cross(mark.at, mark.size / 2)]
    elif mark.kind == "buttonhole":
        ends = [mark.at + mark.direction * mark.size / 2 * side for side in (-1, 1)]
        paths = [line(*ends), *(bar(end, mark.direction * 1j, 4.0) for end in ends)]
    else:
        paths = []
    return [Stroke(MARKS, mark.kind, path) for path in paths]


def words(piece: Piece, mark: Mark) -> Text | None:
    """The words of a `text` mark, moved sideways or made smaller so that they stay on the piece."""
    if mark.kind != "text" or not mark.text.strip():
        return None
    text = Text(mark.text, mark.at, WORDS, kind="words")
    hits = [away for away, _, _ in line_meetings(mark.at, 1 + 0j, piece.outline)]
    left = max((-away for away in hits if away < 0), default=0.0, key=lambda away: -away)
    right = min((away for away in hits if away > 0), default=0.0)
    room = 0.9 * (left + right)
    if room <= 0:
        return text
    if text.width > room:
        text = text.changed(size=text.size * room / text.width)
    half = text.width / 2
    shift = max(half - 0.95 * left, 0.0) - max(half - 0.95 * right, 0.0)
    return text.changed(at=mark.at + shift)


def _notch(piece: Piece, mark: Mark, allowances: Sequence[Allowance]) -> list[Stroke]:
    """Strokes from the cut edge inward, clear of the seam; without allowance, into the paper."""
    edge = _edge_of(piece, mark)
    middle = edge.path.nearest(mark.at)[0]
    width = _width_at(piece, edge, middle, allowances)
    deep = min(max(width - CLEAR, width / 2), NOTCH) if width else NOTCH
    from_seam = -mark.direction * width
    strokes = []
    for off in (-BETWEEN / 2, BETWEEN / 2) if mark.double else (0.0,):
        place = mark.at
        if off:
            place = edge.path.point_at(min(max(middle + off, 0.0), edge.path.length))
        edge_of_cloth = place + from_seam
        reach = mark.direction * deep
        strokes.append(Stroke(MARKS, "notch", line(edge_of_cloth, edge_of_cloth + reach)))
    return strokes


def _edge_of(piece: Piece, mark: Mark) -> Edge:
    """The edge of the outline on which a notch lies."""
    named = [edge for edge in piece.edges if mark.edge and edge.label.answers(mark.edge)]
    return min(named or piece.edges, key=lambda edge: edge.path.nearest(mark.at)[1])


def _width_at(piece: Piece, edge: Edge, place: float, allowances: Sequence[Allowance]) -> float:
    return next(
        (
            width
            for start, end, width in widths(piece, edge, allowances)
            if start - 1e-6 <= place <= end + 1e-6
        ),
        0.0,
    )
