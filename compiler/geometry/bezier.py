"""Arcs as cubics, for formats that know no circles."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.segment import Cubic

if TYPE_CHECKING:
    from oaktag.compiler.geometry.segment import Arc

_WIDEST = math.pi / 2


def cubics(arc: Arc, tolerance: float) -> list[Cubic]:
    """The arc as a chain of cubics, nowhere farther from it than tolerance (mm).

    Each has its handles along the tangents, 4/3 tan(angle/4) of the radius long, so that its middle
    lies on the circle; it leaves that outward by 2/27 sin(angle/4)^6 / cos(angle/4)^2 of the radius
    at most (from memory; a test measures it).
    """
    count = max(1, math.ceil(abs(arc.sweep) / _WIDEST))
    while _error(abs(arc.sweep) / count) * arc.radius > tolerance:
        count += 1
    handle = 4 / 3 * math.tan(arc.sweep / count / 4)
    made = []
    for number in range(count):
        start, end = arc.point(number / count), arc.point((number + 1) / count)
        first = start + (start - arc.centre) * 1j * handle
        second = end - (end - arc.centre) * 1j * handle
        made.append(Cubic(start, first, second, end))
    return made


def _error(angle: float) -> float:
    quarter = angle / 4
    return 2 / 27 * math.sin(quarter) ** 6 / math.cos(quarter) ** 2
