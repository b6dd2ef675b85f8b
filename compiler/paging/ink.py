"""Where a piece lies: which rectangles hold a part of its paper or of what is drawn on it."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import contains
from oaktag.compiler.sheet.drawing import CUT, extent
from oaktag.compiler.sheet.lettering import frame

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from oaktag.compiler.geometry import Box
    from oaktag.compiler.sheet.drawing import Group

FLAT = 0.1  # mm
_AIR = 4.0  # mm between words of a piece and those of a sheet
REACH = 0.5  # mm around a stroke on paper: more than half its width, and what flattening takes


class Crowd:
    """What is drawn and written of some groups on one sheet, in the drawing's coordinates.

    boxes: what is printed there besides.
    """

    def __init__(
        self, inks: Iterable[tuple[Ink, complex]], window: Box, boxes: Iterable[Box] = ()
    ) -> None:
        self.boxes = list(boxes)
        self.steps: list[tuple[complex, complex]] = []
        for ink, at in inks:
            here = shifted(window, -at)
            for box, points in ink.lines:
                if overlap(box, here):
                    steps = itertools.pairwise(points)
                    self.steps += [(a + at, b + at) for a, b in steps if _clipped(a, b, here)]
            self.boxes += [
                grown(shifted(room, at), _AIR) for room in ink.words if overlap(room, here)
            ]

    def within(self, box: Box, most: int = -1) -> int:
        """How many steps of lines, and how many lines of words, reach into a box; counted no
        further than most, if that is given.
        """
        found = sum(overlap(room, box) for room in self.boxes)
        for a, b in self.steps:
            if found == most:
                break
            found += _clipped(a, b, box)
        return found


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

    def within(self, window: Box, at: complex) -> bool:
        """Whether a part lies in a window, when the group is moved by `at`."""
        here = shifted(window, -at)
        if not overlap(self.box, here):
            return False
        near = grown(here, self.reach)
        for box, points in self.lines:
            if overlap(box, near) and crosses(points, near):
                return True
        middle = complex((here[0] + here[2]) / 2, (here[1] + here[3]) / 2)
        return any(contains(ring, middle) for ring in self.paper)


def shifted(box: Box, by: complex) -> Box:
    """A box that is moved."""
    return box[0] + by.real, box[1] + by.imag, box[2] + by.real, box[3] + by.imag


def grown(box: Box, by: float) -> Box:
    """A box with so much more on each side."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share more than a side."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def crosses(points: Sequence[complex], window: Box) -> bool:
    """Whether a line through points reaches into a window."""
    return any(_clipped(a, b, window) for a, b in itertools.pairwise(points))


def _clipped(a: complex, b: complex, window: Box) -> bool:
    """Whether a straight step has a part in a window: its share of both strips (Liang-Barsky)."""
    left, bottom, right, top = window
    if (a.real < left and b.real < left) or (a.real > right and b.real > right):
        return False  # as most do: they lie to one side
    if (a.imag < bottom and b.imag < bottom) or (a.imag > top and b.imag > top):
        return False
    first, last = 0.0, 1.0
    for start, way, low, high in (
        (a.real, b.real - a.real, left, right),
        (a.imag, b.imag - a.imag, bottom, top),
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
