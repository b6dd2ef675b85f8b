"""Words that find no room on their piece: on a tag beside it, with a line that leads to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import line, line_meetings, polyline
from oaktag.compiler.sheet.drawing import MARKS, Stroke, Text
from oaktag.compiler.sheet.symbols import arrow_head

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Box, Path

KIND = "label tag"
SIZE = 3.0  # mm
_APART = 5.0  # mm from the piece
_LINE = 1.5  # from line to line, of the size
_INTO = 3.0  # mm that the arrow reaches into the piece, at most
_BARB = 1.5  # mm


def tag(box: Box, outline: Path, lines: Sequence[str]) -> tuple[list[Stroke], list[Text]]:
    """A frame with the words, to the right of the piece. box: of all that is cut of the piece."""
    texts = [Text(words, 0j, SIZE, kind="tag") for words in lines]
    wide = max(text.width for text in texts) + SIZE
    high = (len(lines) * _LINE + 0.5) * SIZE
    left, middle = box[2] + _APART, (box[1] + box[3]) / 2
    start = complex(left, middle)
    corners = [start + way for way in (high / 2 * 1j, wide + high / 2 * 1j)]
    corners += [corner - high * 1j for corner in reversed(corners)]
    paths = [polyline([*corners, corners[0]])]
    # The outermost stretch of paper at that height, seen from the tag.
    hits = sorted(-away for away, _, _ in line_meetings(start, 1 + 0j, outline) if away < 0)
    if hits:
        deep = min(_INTO, (hits[1] - hits[0]) / 2) if hits[1:] else 0.0
        tip = start - hits[0] - deep
        paths += [line(start, tip), arrow_head(tip, -1 + 0j, _BARB)]
    at = start + wide / 2 + (high / 2 - SIZE) * 1j
    placed = [text.changed(at=at - number * SIZE * _LINE * 1j) for number, text in enumerate(texts)]
    return [Stroke(MARKS, KIND, path) for path in paths], placed
