"""Turning words so that they can be read."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import polyline, rotation

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.sheet.drawing import Text


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
