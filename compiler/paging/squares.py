"""The two squares that show whether a print has its true size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import polyline
from oaktag.compiler.sheet.drawing import MARKS, Group, Stroke, Text
from oaktag.compiler.sheet.scale import NAME, below

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.sheet.drawing import Sheet

TEN, FOUR = 100.0, 101.6
"""mm: 10 cm and 4 in."""
APART = 6.0
_SIZE = 4.0
_BOTH = ((TEN, "10 cm"), (FOUR, "4 in"))


def squares(
    first: int = 0,
    last: int = 1,
    beside: bool = True,
    sheet: Sheet | None = None,
    advice: Sequence[str] = (),
) -> Group:
    """The squares with the words to them, beside or above each other, from the lower left.

    first, last: 0 is the one of 10 cm, 1 that of 4 in. sheet: what is printed, as the first says.
    advice: what stands in the second.
    """
    strokes, texts = [], []
    corner = 0j
    for side, words in _BOTH[first : last + 1]:
        ring = [corner + side * way for way in (0j, 1 + 0j, 1 + 1j, 1j, 0j)]
        strokes.append(Stroke(MARKS, f"{NAME} {words}", polyline(ring)))
        middle = corner + complex(side / 2, side / 2)
        texts += [
            _fitting(f"this square is {words} by {words}", middle, _SIZE, side),
            _fitting("measure it before cutting", middle - 1.5j * _SIZE, _SIZE, side),
        ]
        above = [(line, 0.3 - 0.06 * number, _SIZE) for number, line in enumerate(advice)]
        if not corner:
            above = [(sheet.title, 0.3, 6.0), (sheet.made_for, 0.2, _SIZE)] if sheet else []
            room = middle - 0.12 * side * 1j
            texts += below(sheet.state, sheet.settings, room, side, 0.34 * side) if sheet else []
        texts += [
            _fitting(line, middle + share * side * 1j, size, side)
            for line, share, size in above
            if line
        ]
        corner += (side + APART) * (1 if beside else 1j)
    return Group(NAME, "measure both squares before cutting", tuple(strokes), tuple(texts))


def _fitting(content: str, at: complex, size: float, side: float) -> Text:
    text = Text(content, at, size)
    return text.changed(size=min(size, size * 0.92 * side / text.width))
