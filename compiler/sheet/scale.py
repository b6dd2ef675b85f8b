"""The square that shows whether a sheet was printed at its true size."""

from __future__ import annotations

from oaktag.compiler.geometry import polyline
from oaktag.compiler.sheet.drawing import MARKS, Group, Stroke, Text

SIDE = 100.0  # mm
NAME = "test square"
WORDS = "measure this square before cutting: 10 cm"


def scale_square(title: str, made_for: str) -> Group:
    """A square of 10 cm with the words to it, and what the sheet shows."""
    corners = [0j, SIDE + 0j, SIDE + SIDE * 1j, SIDE * 1j, 0j]
    texts = [_fitting(WORDS, SIDE / 2, 4.0)]
    if title:
        texts.append(_fitting(title, SIDE * 0.75, 7.0))
    if made_for:
        texts.append(_fitting(made_for, SIDE * 0.62, 4.0))
    square = Stroke(MARKS, NAME, polyline(corners))
    return Group(NAME, WORDS, (square,), tuple(texts))


def _fitting(content: str, height: float, size: float) -> Text:
    text = Text(content, complex(SIDE / 2, height), size)
    return text.changed(size=min(size, size * 0.92 * SIDE / text.width))
