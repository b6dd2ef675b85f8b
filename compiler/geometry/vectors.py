"""Dot and cross products of complex numbers taken as vectors."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

Box = tuple[float, float, float, float]


def dot(a: complex, b: complex) -> float:
    """How far b reaches along a, times the length of a."""
    return a.real * b.real + a.imag * b.imag


def cross(a: complex, b: complex) -> float:
    """Positive when b points to the left of a; the area of the parallelogram they span."""
    return a.real * b.imag - a.imag * b.real


def turning(a: complex, b: complex) -> float:
    """The angle in radians from a to b, in (-pi, pi], positive anticlockwise."""
    return math.atan2(cross(a, b), dot(a, b))


def apart(first: Box, second: Box, gap: float) -> bool:
    """Whether two boxes lie more than gap from each other along an axis."""
    return (
        first[0] > second[2] + gap
        or second[0] > first[2] + gap
        or first[1] > second[3] + gap
        or second[1] > first[3] + gap
    )


def distance_to_box(box: Box, p: complex) -> float:
    """The distance from p to the box; 0 inside it."""
    left, bottom, right, top = box
    px, py = p.real, p.imag
    x = left - px if px < left else px - right if px > right else 0.0
    y = bottom - py if py < bottom else py - top if py > top else 0.0
    return math.hypot(x, y) if x and y else x or y


def united(boxes: Iterable[Box]) -> Box:
    """The box around all the boxes."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return (min(lefts), min(bottoms), max(rights), max(tops))
