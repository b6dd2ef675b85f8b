"""Turning words so that they can be read, and setting them beside a line where they fit."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import polyline, rotation
from oaktag.compiler.sheet.drawing import Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Path

    Points = Sequence[complex]

LINE = 1.4  # from line to line of running words, of the size
_OFF = 0.85  # of the type size: from a line to the middle of the words beside it
_AIR = 0.3  # of the type size, that is kept free around words
_BENT = 0.03  # of half their width: how far a line may leave the straight beside words
_STATIONS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
_SMALLER = (1.0, 0.8, 0.6)


def broken(sentence: str, size: float, wide: float) -> list[str]:
    """Words in lines no wider than that, as long as a single word is not; sizes in mm."""
    lines = [""]
    for word in sentence.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and Text(longer, 0j, size).width > wide:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def fitted(
    sentences: Sequence[str], wide: float, high: float, largest: float, least: float
) -> tuple[list[list[str]], float]:
    """Sentences broken into lines, and the size at which they fill a room, as large as it allows.

    Between them half a line is free. At the least size they may need more room than there is.
    """
    size = largest
    while True:
        lines = [broken(sentence, size, wide) for sentence in sentences]
        count = sum(map(len, lines)) + 0.5 * (len(lines) - 1)
        if count * size * LINE <= high or size <= least:
            return lines, size
        size = max(least, 0.95 * size)


def along(way: complex) -> tuple[float, complex]:
    """The angle in degrees at which words follow a direction without standing on their head."""
    if way.real < -1e-9 or (abs(way.real) <= 1e-9 and way.imag < 0):
        way = -way
    return math.degrees(math.atan2(way.imag, way.real)), way


def frame(text: Text) -> Path:
    """The rectangle a line of words takes at most, as a closed path."""
    wide, high = text.width / 2, text.size / 2
    corners = [
        complex(x, y) for x, y in ((-wide, -high), (wide, -high), (wide, high), (-wide, high))
    ]
    turned = rotation(0j, math.radians(text.angle))
    return polyline([text.at + turned(corner) for corner in (*corners, corners[0])])


def beside(text: Text, path: Path, outline: Points, obstacles: Sequence[Points]) -> Text | None:
    """The words beside a line, above it where that is free, else below; none if nowhere is room.

    outline: of the paper they stay on; obstacles: what they keep clear of, among it the line
    itself. First near the middle of the line, then toward its ends, then smaller.
    """
    for share in _SMALLER:
        fitted = text.changed(size=text.size * share)
        half = fitted.width / 2
        if 2.2 * half > path.length:
            continue
        for station in _STATIONS:
            middle = min(max(station * path.length, 1.1 * half), path.length - 1.1 * half)
            first, last = path.point_at(middle - half), path.point_at(middle + half)
            spot = path.point_at(middle)
            if abs(last - first) < 1.9 * half or abs(spot - (first + last) / 2) > _BENT * half:
                continue
            angle, way = along(last - first)
            up = way / abs(way) * 1j * _OFF * fitted.size
            for off in (up, -up):
                placed = fitted.changed(at=spot + off, angle=angle)
                if lies_free(placed, outline, obstacles):
                    return placed
    return None


def lies_free(text: Text, outline: Points, obstacles: Sequence[Points]) -> bool:
    """Whether words lie inside a ring and touch nothing, with a little air around them."""
    air = _AIR * text.size
    wide, high = text.width / 2 + air, text.size / 2 + air
    turn = complex(math.cos(math.radians(text.angle)), -math.sin(math.radians(text.angle)))

    def laid(points: Points) -> list[complex]:
        return [(place - text.at) * turn for place in points]

    ring = laid(outline)
    inside = sum(
        (a.imag > 0) != (b.imag > 0) and a.real - a.imag / (b.imag - a.imag) * (b.real - a.real) > 0
        for a, b in itertools.pairwise(ring)
    )
    return inside % 2 == 1 and not any(
        _enters(a, b, wide, high)
        for points in (ring, *map(laid, obstacles))
        for a, b in itertools.pairwise(points)
    )


def _enters(a: complex, b: complex, wide: float, high: float) -> bool:
    """Whether a straight step has a part inside the rectangle about 0 of these half sides."""
    if max(a.real, b.real) < -wide or min(a.real, b.real) > wide:
        return False
    if max(a.imag, b.imag) < -high or min(a.imag, b.imag) > high:
        return False
    way = b - a
    first, last = 0.0, 1.0
    for at, step, most in ((a.real, way.real, wide), (a.imag, way.imag, high)):
        if abs(step) < 1e-12:
            continue  # it lies between the two sides: looked at above
        ends = sorted(((-most - at) / step, (most - at) / step))
        first, last = max(first, ends[0]), min(last, ends[1])
    return first < last
