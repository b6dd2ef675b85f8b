"""The square that shows whether a sheet was printed at its true size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import polyline
from oaktag.compiler.sheet.drawing import MARKS, Group, Stroke, Text
from oaktag.compiler.sheet.identity import set_words
from oaktag.compiler.sheet.lettering import LINE, fitted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

SIDE = 100.0  # mm
NAME = "test square"
WORDS = "measure this square before cutting: 10 cm"
_WITHIN = 0.92  # of its side, that words may take
_LARGE, _PLAIN, _LEAST = 7.0, 4.0, 1.5  # mm: sizes of words


def scale_square(title: str, made_for: str, state: str = "", settings: Sequence[str] = ()) -> Group:
    """A square of 10 cm with the words to it, and what the sheet shows."""
    corners = [0j, SIDE + 0j, SIDE + SIDE * 1j, SIDE * 1j, 0j]
    texts = [_fitting(WORDS, SIDE / 2, _PLAIN)]
    if title:
        texts.append(_fitting(title, SIDE * 0.75, _LARGE))
    if made_for:
        texts.append(_fitting(made_for, SIDE * 0.62, _PLAIN))
    texts += below(state, settings, complex(SIDE / 2, 0.42 * SIDE), SIDE, 0.36 * SIDE)
    square = Stroke(MARKS, NAME, polyline(corners))
    return Group(NAME, WORDS, (square,), tuple(texts))


def below(
    state: str, settings: Sequence[str], at: complex, side: float, high: float
) -> Iterator[Text]:
    """Revision and settings from a place downward, as large as the room in the square allows."""
    sentences = [state] if state else []
    if settings:
        sentences.append(set_words(settings))
    lines, size = fitted(sentences, _WITHIN * side, high, _PLAIN, _LEAST)
    down = size / 2
    for sentence in lines:
        for line in sentence:
            yield Text(line, at - down * 1j, size)
            down += size * LINE
        down += size * LINE / 2


def _fitting(content: str, height: float, size: float) -> Text:
    text = Text(content, complex(SIDE / 2, height), size)
    return text.changed(size=min(size, size * _WITHIN * SIDE / text.width))
