"""Where a piece lies: which rectangles hold a part of its paper or of what is drawn on it."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import contains
from oaktag.compiler.sheet.drawing import CUT, extent
from oaktag.compiler.sheet.lettering import frame

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Box
    from oaktag.compiler.sheet.drawing import Group

FLAT = 0.1  # mm
REACH = 0.5  # mm around a stroke on paper: more than half its width, and what flattening takes


class Ink:
    """A group of strokes, looked at in its own coordinates. box: all that its ink takes.

    reach: how far ink goes beside a stroke, in mm.
    """

    def __init__(self, group: Group, reach: float = REACH) -> None:
        self.box = grown(extent(group), reach)
        self.reach = reach
        self.lines = [(stroke.path.box(), stroke.path.flattened(FLAT)) for stroke in group.strokes]
        self.words = [frame(text).box() for text in group.texts]
        self.paper = [
            stroke.path for stroke in group.strokes if stroke.layer == CUT and stroke.path.closed
        ]

    def crowding(self, window: Box, at: complex) -> int:
        """How many strokes and lines of words reach into a window."""
        here = _back(window, at)
        lines = sum(_overlap(box, here) and _crosses(points, here) for box, points in self.lines)
        return lines + sum(_overlap(room, here) for room in self.words)

    def within(self, window: Box, at: complex) -> bool:
        """Whether a part lies in a window, when the group is moved by `at`."""
        here = _back(window, at)
        if not _overlap(self.box, here):
            return False
        near = grown(here, self.reach)
        for box, points in self.lines:
            if _overlap(box, near) and _crosses(points, near):
                return True
        middle = complex((here[0] + here[2]) / 2, (here[1] + here[3]) / 2)
        return any(contains(ring, middle) for ring in self.paper)


def _back(window: Box, at: complex) -> Box:
    left, bottom, right, top = window
    return left - at.real, bottom - at.imag, right - at.real, top - at.imag


def grown(box: Box, by: float) -> Box:
    """A box with so much more on each side."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _crosses(points: Sequence[complex], window: Box) -> bool:
    return any(_clipped(a, b, window) for a, b in itertools.pairwise(points))


def _clipped(a: complex, b: complex, window: Box) -> bool:
    """Whether a straight step has a part in a window: its share of both strips (Liang-Barsky)."""
    first, last = 0.0, 1.0
    for start, way, low, high in (
        (a.real, b.real - a.real, window[0], window[2]),
        (a.imag, b.imag - a.imag, window[1], window[3]),
    ):
        if way == 0:
            if not low <= start <= high:
                return False
            continue
        near, far = sorted(((low - start) / way, (high - start) / way))
        first, last = max(first, near), min(last, far)
        if first > last:
            return False
    return True
