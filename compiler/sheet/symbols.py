"""Shapes that signs are made of: arrows, circles, crosses, brackets."""

from __future__ import annotations

import cmath
import math

from oaktag.compiler.geometry import Arc, Path, line, polyline

_BARB = math.radians(20)


def arrow_head(tip: complex, way: complex, size: float) -> Path:
    """An open arrow head that points along `way`."""
    back = -way / abs(way) * size
    return polyline([tip + back * cmath.rect(1, _BARB), tip, tip + back * cmath.rect(1, -_BARB)])


def arrow(start: complex, end: complex, size: float, both: bool = False) -> list[Path]:
    """A straight arrow, with heads at both ends if asked."""
    paths = [line(start, end), arrow_head(end, end - start, size)]
    return [*paths, arrow_head(start, start - end, size)] if both else paths


def circle(centre: complex, radius: float) -> Path:
    """Two half circles, since whole ones have no start that every reader agrees on."""
    east, west = centre + radius, centre - radius
    return Path((Arc(centre, east, math.pi, west), Arc(centre, west, math.pi, east)))


def cross(centre: complex, size: float) -> list[Path]:
    """An upright cross, `size` from tip to tip."""
    half = size / 2
    return [
        line(centre - half, centre + half),
        line(centre - half * 1j, centre + half * 1j),
    ]


def bar(centre: complex, way: complex, length: float) -> Path:
    """A straight stroke with its middle on a point."""
    half = way / abs(way) * length / 2
    return line(centre - half, centre + half)
