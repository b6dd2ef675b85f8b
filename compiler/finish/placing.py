"""The calmest place on a piece: where a label of given shape has most room."""

from __future__ import annotations

import heapq
import itertools
import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    Step = tuple[float, float, float, float]
    """A straight step from x, y to x, y."""

_NEAR_ENOUGH = 0.03  # of the room found
_CENTRAL = 0.1  # of the room, that the middle of the piece is worth over its rim
_MOST = 200  # squares that are halved


def calmest_place(
    outline: Sequence[complex],
    obstacles: Iterable[Sequence[complex]],
    half_width: float,
    half_height: float,
    enough: float,
) -> tuple[complex, float]:
    """The middle of the largest label inside a ring that touches no obstacle, and its scale.

    outline and obstacles: rings and lines as points, the ring's last point being its first. The
    label measures twice half_width by twice half_height at scale 1; beyond the scale `enough` more
    room is no gain. Of places with about as much room the one nearer to the middle is taken. A
    scale of 0 means that there is no room. Squares are halved where they may still hold a better
    place.
    """
    # Stretched so that the label is a square, its room is the Chebyshev distance.
    ring = list(_steps(outline, half_width, half_height))
    everything = ring + [
        step for line in obstacles for step in _steps(line, half_width, half_height)
    ]
    left, right = min(step[0] for step in ring), max(step[0] for step in ring)
    bottom, top = min(step[1] for step in ring), max(step[1] for step in ring)
    width, height = right - left, top - bottom
    middle = complex(left + width / 2, bottom + height / 2)

    def value(room: float, off: float) -> float:
        """What a place is worth that lies so far from the middle."""
        return min(room, enough) * (1 + _CENTRAL * (1 - off / across))

    across = abs(complex(width, height))
    best, best_worth, place = 0.0, 0.0, middle
    size = max(min(width, height), max(width, height) / 32)
    half = size / 2
    cells = [
        (left + (2 * i + 1) * half, bottom + (2 * j + 1) * half, half, everything)
        for i in range(max(1, math.ceil(width / size)))
        for j in range(max(1, math.ceil(height / size)))
    ]
    queue: list[tuple[float, float, float, float, list[Step]]] = []
    for _ in range(_MOST):
        for x, y, half, near in cells:
            away = [_away(step, x, y) for step in near]
            room = min(away, default=math.inf)
            inside = _inside(ring, x, y)
            off = abs(complex(x, y) - middle)
            worth = value(room, off)
            if inside and worth > best_worth:
                best, best_worth, place = room, worth, complex(x, y)
            most = half + room if inside else half - room
            bound = value(most, max(off - half * math.sqrt(2), 0.0))
            # A step further away than this is nobody's nearest in the square.
            still = [s for s, d in zip(near, away, strict=True) if d <= room + 2 * half]
            heapq.heappush(queue, (-bound, x, y, half, still))
        bound, x, y, half, near = heapq.heappop(queue)
        near_enough = _NEAR_ENOUGH * best if best < enough else _CENTRAL * enough / 10
        if -bound <= best_worth + near_enough:
            break
        half /= 2
        cells = [(x + dx, y + dy, half, near) for dx in (-half, half) for dy in (-half, half)]
    return complex(place.real * half_width, place.imag * half_height), best


def _steps(points: Sequence[complex], width: float, height: float) -> Iterable[Step]:
    for a, b in itertools.pairwise(points):
        yield a.real / width, a.imag / height, b.real / width, b.imag / height


def _away(step: Step, x: float, y: float) -> float:
    """The Chebyshev distance of a point from a straight step: least at an end or a diagonal."""
    ax, ay, bx, by = step[0] - x, step[1] - y, step[2] - x, step[3] - y
    # Asked some thousand times a piece: comparing is quicker than `min` and `max`.
    across, up = abs(ax), abs(ay)
    nearest = across if across > up else up
    across, up = abs(bx), abs(by)
    if across < nearest and up < nearest:
        nearest = across if across > up else up
    dx, dy = bx - ax, by - ay
    for along, off in ((dx - dy, ay - ax), (dx + dy, -ax - ay)):
        if along:
            t = off / along
            if 0 < t < 1:
                across, up = abs(ax + t * dx), abs(ay + t * dy)
                if across < nearest and up < nearest:
                    nearest = across if across > up else up
    return nearest


def _inside(ring: Sequence[Step], x: float, y: float) -> bool:
    inside = False
    for ax, ay, bx, by in ring:
        if (ay > y) != (by > y) and ax + (y - ay) / (by - ay) * (bx - ax) > x:
            inside = not inside
    return inside
