"""The sign for an edge that is placed on the fold of the cloth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import polyline, ray_meetings
from oaktag.compiler.sheet.drawing import FOLD, Stroke, Text
from oaktag.compiler.sheet.lettering import along, lies_free
from oaktag.compiler.sheet.line_words import words_of
from oaktag.compiler.sheet.symbols import arrow_head

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece

    Points = Sequence[complex]

WORDS = "place on fold"
DEEP = 10.0  # mm, from the edge to the bracket
SIZE = 5.0  # mm, of the words
_STATIONS = (0.0, 0.25, -0.25, 0.5, -0.5)  # of half the bracket


def fold_sign(
    piece: Piece, edge: Edge, outline: Points, obstacles: Sequence[Points]
) -> tuple[list[Stroke], Text]:
    """A bracket with an arrow head at each end, pointing at the edge, and the words beside it.

    It shrinks with the edge and with the paper behind it. The words stand at its middle, or
    further along where something that is drawn would run through them.
    """
    way = (edge.end - edge.start) / abs(edge.end - edge.start)
    inward = way * piece.inward
    middle = (edge.start + edge.end) / 2
    behind = [far for far, _, _ in ray_meetings(middle, inward, piece.outline) if far > 1e-3]
    deep = min(DEEP, min(behind, default=DEEP) / 5, abs(edge.end - edge.start) / 5)
    reach = way * 0.4 * abs(edge.end - edge.start)
    corners = [
        middle - reach,
        middle - reach + inward * deep,
        middle + reach + inward * deep,
        middle + reach,
    ]
    size = min(SIZE, deep * SIZE / DEEP)
    said = words_of(piece, edge)
    named = said if edge.words is not None or " " in said else ""  # no more than `centre` tells
    text = Text(f"{named}, {WORDS}" if named else WORDS, middle, size, kind="fold")
    if text.width > 1.8 * abs(reach):
        size *= 1.8 * abs(reach) / text.width
    paths = [
        polyline(corners),
        *(arrow_head(tip, -inward, deep / 3) for tip in (corners[0], corners[3])),
    ]
    angle, _ = along(way)
    place = middle + inward * (deep + 0.8 * size)
    strokes = [Stroke(FOLD, "fold bracket", path) for path in paths]
    text = text.changed(at=place, size=size, angle=angle)
    spots = [text.changed(at=place + reach * share) for share in _STATIONS]
    return strokes, next((one for one in spots if lies_free(one, outline, obstacles)), text)
