"""A line as the interchange form holds it: points, each a corner (turn) or on a curve.

The form gives no angle that separates the two. Here a point is a turn point if the line turns
there by more than 30 degrees (common practice, no source), or if a smooth curve through it would
leave the line by more than a hundredth of a millimetre: whoever draws the curve points smooth gets
the line that was meant.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.emit.astm.tags import INCH
from oaktag.compiler.geometry import chain, turning
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.geometry import Path

FLAT = 0.005  # mm: half of the last figure of the form, in millimetres
SHARP = math.radians(30)
ROUNDED = 0.01  # mm
_JOINT = 0.02  # mm: a place so near to a joint of the line is the joint
_GRIDS = (100.0, 1e4 / INCH)  # figures per mm that the form keeps, in its two units


class Points(Record):
    """at: without the repeated point, if closed. turns: for each, whether it is a turn point."""

    at: tuple[complex, ...]
    turns: tuple[bool, ...]
    closed: bool


def points_of(path: Path, through: Sequence[complex] = ()) -> Points:
    """The points of a line. through: points on it that must be among them, like notches."""
    points: list[complex] = []
    for point in _split(path, through).flattened(FLAT):
        if not points or not _same(points[-1], point):
            points.append(point)
    closed = path.closed
    if closed:
        while len(points) > 1 and _same(points[-1], points[0]):
            points.pop()
    return Points(tuple(points), tuple(_turns(points, closed)), closed)


def _split(path: Path, through: Sequence[complex]) -> Path:
    """The same path with joints at some points of it."""
    marks = list(path.marks)
    for point in through:
        place, _ = path.nearest(point)
        if all(abs(place - mark) > _JOINT for mark in marks):
            marks.append(place)
    marks.sort()
    if len(marks) == len(path.marks):
        return path
    return chain(path.part(a, b) for a, b in itertools.pairwise(marks))


def _same(a: complex, b: complex) -> bool:
    """Whether two points are one in the figures of the form, in either unit."""
    return any(
        round(a.real * grid) == round(b.real * grid)
        and round(a.imag * grid) == round(b.imag * grid)
        for grid in _GRIDS
    )


def _turns(points: Sequence[complex], closed: bool) -> Iterator[bool]:
    last = len(points) - 1
    for number, point in enumerate(points):
        if not closed and number in (0, last):
            yield True
            continue
        before = point - points[number - 1]
        after = points[(number + 1) % len(points)] - point
        angle = abs(turning(before / abs(before), after / abs(after)))
        # The middle of a shallow arc is so far from its chord: length by turn, by eight.
        yield angle > SHARP or angle * min(abs(before), abs(after)) / 8 > ROUNDED
