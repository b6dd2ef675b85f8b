"""Where a piece lies: which rectangles hold a part of its paper or of what is drawn on it."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import contains
from oaktag.compiler.sheet.drawing import CUT, extent

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Box
    from oaktag.compiler.sheet.drawing import Group

FLAT = 0.1  # mm
REACH = 0.5  # mm around a stroke: as wide as its ink, and what curves are flattened by


class Ink:
    """A group of strokes, looked at in its own coordinates."""

    def __init__(self, group: Group) -> None:
        self.box = grown(extent(group), REACH)
        self.lines = [(stroke.path.box(), stroke.path.flattened(FLAT)) for stroke in group.strokes]
        self.paper = [
            stroke.path for stroke in group.strokes if stroke.layer == CUT and stroke.path.closed
        ]

    def within(self, window: Box, at: complex) -> bool:
        """Whether a part lies in a window, when the group is moved by `at`."""
        left, bottom, right, top = window
        here = (left - at.real, bottom - at.imag, right - at.real, top - at.imag)
        if not _overlap(self.box, here):
            return False
        near = grown(here, REACH)
        for box, points in self.lines:
            if _overlap(box, near) and _crosses(points, near):
                return True
        middle = complex((here[0] + here[2]) / 2, (here[1] + here[3]) / 2)
        return any(contains(ring, middle) for ring in self.paper)


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
