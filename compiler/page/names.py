"""How large the name of a piece may be written on the page before it reaches a line.

Seen from afar, a name is written larger than on paper. It grows from the middle of its foot, so
that the label below it stays free; where the label can no longer be read, from the label's middle.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import rotation
from oaktag.compiler.sheet.drawing import CUT, FOLD, SEAM, Text
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from oaktag.compiler.sheet import Group

_FLAT = 0.5  # mm
_AIR = 0.15  # of the size of the type, as the ones below: at both ends of a line
_UP, _DOWN = 1.0, 0.3  # from the foot of a line to above its tallest letter, and below its lowest
_LINE = 1.1  # from a line to the next
_FOOT = 0.35  # of the size on paper: from a text's middle down to its foot
_PIECE = (CUT, SEAM, FOLD)  # where a piece ends
_MOST = 10_000.0  # mm: of a name that meets no line


class Way(Record):
    """A way to write a name: its lines, and how large it may become, in mm.

    width: of the longest line, of its size. free: so that it meets no line at all; middle: the
    same, if it stands in the middle of its label; within: so that it stays on the piece, though it
    may lie over pleats, darts or marks.
    """

    lines: tuple[str, ...]
    width: float
    free: float
    middle: float
    within: float


def down_to_middle(text: Text, group: Group) -> float:
    """How far, in mm, the middle of a label lies below the name at its head."""
    turned = rotation(0j, -math.radians(text.angle))
    below = [
        -turned(one.at - text.at).imag
        for one in group.texts
        if one.kind == "label" and one.angle == text.angle
    ]
    return max([0.0, *below]) / 2


def ways(text: Text, group: Group) -> list[Way]:
    """In one line, and, where there is a blank, in two."""
    edges = [one.path.flattened(_FLAT) for one in group.strokes if one.layer in _PIECE]
    inner = [one.path.flattened(_FLAT) for one in group.strokes if one.layer not in _PIECE]
    foot, middle = _FOOT * text.size, down_to_middle(text, group)
    found = []
    for lines in _broken(text.content):
        width = max(Text(line, 0j, 1.0).width for line in lines)
        half, more = width / 2 + _AIR, (len(lines) - 1) * _LINE
        sides = (half, _UP + more, _DOWN)
        within = _largest(text, foot, edges, sides, _MOST)
        free = _largest(text, foot, inner, sides, within)
        high = (_UP + more + _DOWN) / 2
        central = _largest(text, middle, [*edges, *inner], (half, high, high), _MOST)
        found.append(Way(lines, width, free, central, within))
    return found


def _broken(name: str) -> list[tuple[str, ...]]:
    """The whole; then both parts of it, at the blank where the longer one is shortest."""
    words = name.split()
    halves = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    best = min(halves, key=lambda both: max(map(len, both)), default=None)
    return [(name,), best] if best else [(name,)]


def _largest(
    text: Text,
    drop: float,
    lines: Iterable[Sequence[complex]],
    sides: tuple[float, float, float],
    most: float,
) -> float:
    """The size at which the first of these lines is met by words that grow from a point.

    drop: how far below the middle of the text that is; sides: half the width, up, down, of its size
    if that is 1.
    """
    half, up, down = sides
    turned = rotation(0j, -math.radians(text.angle))

    def size(at: complex) -> tuple[float, float, float, float]:
        return at.real / half, -at.real / half, at.imag / up, -at.imag / down

    for points in lines:
        laid = [size(turned(point - text.at) + drop * 1j) for point in points]
        for a, b in itertools.pairwise(laid):
            if max(map(min, a, b)) < most:
                most = min(most, _first(a, b))
    return most


def _first(a: tuple[float, ...], b: tuple[float, ...]) -> float:
    """The least, along a straight step, of the largest of some amounts that change evenly.

    The largest is convex, so its least is at an end or where two of the amounts are equal.
    """
    least = min(max(a), max(b))
    for i, j in itertools.combinations(range(len(a)), 2):
        before, after = a[i] - a[j], b[i] - b[j]
        if before * after < 0:
            share = before / (before - after)
            least = min(least, max(x + (y - x) * share for x, y in zip(a, b, strict=True)))
    return least
