"""Words as strokes of a pen, in the single-stroke Roman letters of Dr. A. V. Hershey."""

from __future__ import annotations

import functools
import math
import unicodedata
from typing import TYPE_CHECKING, Any

from oaktag.compiler.geometry import rotation

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.sheet.drawing import Text

    Stroke = tuple[complex, ...]

_FONT = "rowmans"
_CAPITAL = 0.7  # of the size of the type
# Written with other letters where no plain one is in their place.
_WRITTEN = {
    "ß": "ss", "ẞ": "SS", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ø": "o", "Ø": "O",
    "đ": "d", "Đ": "D", "ł": "l", "Ł": "L", "ı": "i", "þ": "th", "Þ": "Th", "ð": "d", "Ð": "D",
    "×": "x", "–": "-", "—": "-", "−": "-", "‘": "'", "’": "'", "‚": ",", "“": '"', "”": '"',
    "„": '"', "«": '"', "»": '"', "′": "'", "″": '"', "°": "\x7f", "·": ".", "•": "*", "⁄": "/",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ",
}  # fmt: skip
# Accents in the font's units, from the middle of a letter upward from the top of it.
_ACCENTS = {
    "\u0300": ((-3 + 5j, 2 + 2j),),
    "\u0301": ((3 + 5j, -2 + 2j),),
    "\u0302": ((-4 + 2j, 0 + 5j, 4 + 2j),),
    "\u0303": ((-5 + 2j, -2 + 4j, 2 + 2j, 5 + 4j),),
    "\u0304": ((-4 + 3j, 4 + 3j),),
    "\u0306": ((-4 + 5j, -2 + 2j, 2 + 2j, 4 + 5j),),
    "\u0307": ((-0.5 + 3j, 0.5 + 3j),),
    "\u0308": ((-3.5 + 3j, -2.5 + 3j), (2.5 + 3j, 3.5 + 3j)),
    "\u030a": ((2j, 2 + 4j, 6j, -2 + 4j, 2j),),
    "\u030b": ((5 + 5j, 2 + 2j), (0 + 5j, -3 + 2j)),
    "\u030c": ((-4 + 5j, 0 + 2j, 4 + 5j),),
}
_TAILS = {  # below the foot of a letter
    "\u0327": ((0j, 2 - 2j, 0 - 4j, -2 - 4j),),
    "\u0328": ((1 + 0j, 0 - 2j, 1 - 4j, 3 - 4j),),
    "\u0323": ((-0.5 - 3j, 0.5 - 3j),),
}
_BOX = 16.0  # as wide as a middling letter


def lettered(text: Text) -> tuple[list[Stroke], str]:
    """The strokes of a line of words, where the sheet has it, and the letters that are missing.

    Never wider than the sheet reckons. A letter the font lacks is written with other letters or
    without its accent where that is usual; else a box stands for it.
    """
    glyphs: list[tuple[str, str] | None] = []
    missing = ""
    for sign in unicodedata.normalize("NFC", text.content):
        found = list(_signs(sign))
        if not found:
            missing += sign
        glyphs.extend(found or [None])
    font = _font()
    wide = sum(_width(font, glyph) for glyph in glyphs)
    if not wide:
        return [], missing
    scale = text.size * _CAPITAL / font.capital
    across = min(scale, text.width / wide)
    turned = rotation(0j, math.radians(text.angle))
    strokes = []
    at = -wide / 2
    for glyph in glyphs:
        for stroke in _strokes(font, glyph):
            strokes.append(
                tuple(
                    text.at
                    + turned(complex((at + p.real) * across, (p.imag - font.capital / 2) * scale))
                    for p in stroke
                )
            )
        at += _width(font, glyph)
    return strokes, missing


class _Font:
    """The letters by their signs; y up from the foot. capital: how high they are."""

    def __init__(self) -> None:
        from HersheyFonts import HersheyFonts

        font = HersheyFonts()
        font.load_default_font(_FONT)
        self.letters: dict[str, Any] = font.all_glyphs
        plain = self.letters["H"]
        self.foot = float(plain.base_line)
        self.capital = float(plain.base_line - plain.cap_line)


@functools.cache
def _font() -> _Font:
    return _Font()


def _signs(sign: str) -> Iterator[tuple[str, str]]:
    """The font's letters that stand for a sign, each with its accents; none if there are none."""
    letters = _font().letters
    written = _WRITTEN.get(sign, sign)
    if all(letter in letters for letter in written):
        for letter in written:
            yield letter, ""
        return
    apart = unicodedata.normalize("NFD", sign)
    letter, accents = apart[0], apart[1:]
    known = [accent for accent in accents if accent in _ACCENTS or accent in _TAILS]
    if accents and len(known) == len(accents):
        letter = _WRITTEN.get(letter, letter)
        if letter in letters:
            yield letter, accents
            return
    apart = unicodedata.normalize("NFKC", sign)
    if apart != sign:  # like ½, ², ﬁ
        parts = [list(_signs(part)) for part in apart]
        if all(parts):
            for part in parts:
                yield from part


def _width(font: _Font, glyph: tuple[str, str] | None) -> float:
    return _BOX if glyph is None else float(font.letters[glyph[0]].char_width)


def _strokes(font: _Font, glyph: tuple[str, str] | None) -> Iterator[Stroke]:
    """From the left end of the letter's foot, in the font's units."""
    if glyph is None:
        left, right = 2.0, _BOX - 2
        top = font.capital * 1j
        yield (left + 0j, right + 0j, right + top, left + top, left + 0j)
        return
    sign, accents = glyph
    letter = font.letters[sign]
    strokes = [
        tuple(complex(x - letter.left_offset, font.foot - y) for x, y in stroke)
        for stroke in letter.strokes
        if len(stroke) > 1
    ]
    if sign in "ij" and any(accent in _ACCENTS for accent in accents):
        strokes = [stroke for stroke in strokes if min(p.imag for p in stroke) < font.capital * 0.8]
    yield from strokes
    places = [p for stroke in strokes for p in stroke]
    for accent in accents:
        middle = (min(p.real for p in places) + max(p.real for p in places)) / 2
        top = max(p.imag for p in places)
        where = complex(middle, top if accent in _ACCENTS else 0.0)
        for stroke in _ACCENTS.get(accent) or _TAILS[accent]:
            yield tuple(where + p for p in stroke)
