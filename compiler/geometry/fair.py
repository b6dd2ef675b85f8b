"""Fair curves through given points, bowed curves, and arcs.

The splines are those of J. D. Hobby, "Smooth, easy to compute interpolating splines", Discrete &
Computational Geometry 1 (1986), with tension 1 and, at free ends, curl 1.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.cubic import extent
from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.path import Path, line
from oaktag.compiler.geometry.segment import Arc, Cubic, Line
from oaktag.compiler.geometry.vectors import cross, dot, turning

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from oaktag.compiler.geometry.segment import Segment

_ROOT_2, _ROOT_5 = math.sqrt(2), math.sqrt(5)
_STRAIGHT = 1e-12
_SAME_POINT = 1e-9
_RADIUS_MISMATCH = 0.01


def fair_curve(
    points: Sequence[complex],
    leaving: complex | None = None,
    arriving: complex | None = None,
    directions: Mapping[int, complex] | None = None,
) -> Path:
    """The smooth curve through all the points.

    `leaving`, `arriving` and `directions` (by number of the point, from 0) are directions of
    travel of any length; ends without one are free. Two points with free ends give a straight
    line. Raises GeometryError for fewer than two points or two neighbours in one place.
    """
    if len(points) < 2:
        raise GeometryError("a curve needs at least two points")
    last = len(points) - 1
    given = dict(directions or {})
    if leaving is not None:
        given[0] = leaving
    if arriving is not None:
        given[last] = arriving
    for before, after in itertools.pairwise(points):
        if abs(after - before) <= _SAME_POINT:
            raise GeometryError("two points of a curve lie in the same place")
    if any(direction == 0 for direction in given.values()):
        raise GeometryError("a direction of travel needs a length")
    stops = sorted({0, last, *given})
    segments: list[Segment] = []
    for low, high in itertools.pairwise(stops):
        segments += _section(points[low : high + 1], given.get(low), given.get(high))
    return Path(segments)


def _section(
    points: Sequence[complex], leaving: complex | None, arriving: complex | None
) -> list[Segment]:
    """Hobby's spline through points between two ends, each with a direction or free."""
    steps = [after - before for before, after in itertools.pairwise(points)]
    if len(steps) == 1 and leaving is None and arriving is None:
        return [Line(points[0], points[1])]
    angles = _departures(steps, leaving, arriving)
    bends = [turning(a, b) for a, b in itertools.pairwise(steps)] + [0.0]
    return [
        hobby_segment(points[k], points[k + 1], angles[k], -bends[k] - angles[k + 1])
        for k in range(len(steps))
    ]


def _departures(
    steps: list[complex], leaving: complex | None, arriving: complex | None
) -> list[float]:
    """At each point the angle from the chord ahead to the direction of travel.

    They make the mock curvature the same on both sides of every inner point; the equations are
    tridiagonal. At the last point the angle counts from the chord behind.
    """
    count = len(steps)
    bends = [0.0] + [turning(a, b) for a, b in itertools.pairwise(steps)] + [0.0]
    sizes = [abs(step) for step in steps]
    # Going down, each angle becomes offset[k] - factor[k] * (the next angle).
    factor, offset = [0.0] * (count + 1), [0.0] * (count + 1)
    if leaving is None:
        factor[0], offset[0] = 1.0, -bends[1]
    else:
        offset[0] = turning(steps[0], leaving)
    for k in range(1, count):
        near, far = 1 / sizes[k - 1], 1 / sizes[k]
        diagonal = 2 * near + 2 * far - near * factor[k - 1]
        right = -2 * near * bends[k] - far * bends[k + 1] - near * offset[k - 1]
        factor[k], offset[k] = far / diagonal, right / diagonal
    angles = [0.0] * (count + 1)
    if arriving is not None:
        angles[count] = turning(steps[-1], arriving)
    else:
        angles[count] = -offset[count - 1] / (1 - factor[count - 1])
    for k in range(count - 1, -1, -1):
        angles[k] = offset[k] - factor[k] * angles[k + 1]
    return angles


def hobby_segment(a: complex, b: complex, theta: float, phi: float) -> Line | Cubic:
    """The segment from a to b that leaves at theta left of the chord, arrives at phi right of it.

    Angles in radians.
    """
    if abs(theta) <= _STRAIGHT and abs(phi) <= _STRAIGHT:
        return Line(a, b)
    chord = b - a
    out = chord * complex(math.cos(theta), math.sin(theta))
    home = chord * complex(math.cos(phi), -math.sin(phi))
    return Cubic(a, a + out * _reach(theta, phi), b - home * _reach(phi, theta), b)


def hobby_between(a: complex, b: complex, leaving: complex, arriving: complex) -> Line | Cubic:
    """The segment from a to b with these directions of travel at its ends."""
    return hobby_segment(a, b, turning(b - a, leaving), turning(arriving, b - a))


def _reach(theta: float, phi: float) -> float:
    """Length of a handle as a share of the chord (Hobby's velocity function over three)."""
    sin_t, cos_t, sin_p, cos_p = math.sin(theta), math.cos(theta), math.sin(phi), math.cos(phi)
    above = 2 + _ROOT_2 * (sin_t - sin_p / 16) * (sin_p - sin_t / 16) * (cos_t - cos_p)
    below = 3 * (1 + (_ROOT_5 - 1) / 2 * cos_t + (3 - _ROOT_5) / 2 * cos_p)
    # The same bound as in the published program: wild angles must not throw handles far off.
    return min(4 / 3, above / below) if below > 0 else 4 / 3


def bowed_curve(
    a: complex,
    b: complex,
    side: complex,
    depth: float,
    leaving: complex | None = None,
    arriving: complex | None = None,
) -> Path:
    """The curve from a to b whose greatest distance from the chord is depth (mm).

    It lies on the side of the chord that `side` points to. With free ends it is the circular
    arc of that rise; with one direction given, the other is chosen to suit; with both, the
    handles are scaled. Raises GeometryError if the depth cannot be had.
    """
    chord = b - a
    size = abs(chord)
    if size <= _SAME_POINT:
        raise GeometryError("a bowed curve needs two points that lie apart")
    if depth < 0:
        raise GeometryError("the depth of a curve cannot be less than nothing")
    across = cross(chord, side)
    if abs(across) <= 1e-9 * size * abs(side):
        raise GeometryError("the side a curve bows to runs along the curve's own chord")
    left = 1.0 if across > 0 else -1.0
    if leaving is None and arriving is None:
        if depth <= _STRAIGHT:
            return line(a, b)
        # The chord sees a quarter of the sweep as the angle whose tangent is depth over its half.
        sweep = -left * 4 * math.atan2(2 * depth, size)
        centre = (a + b) / 2 + 1j * chord / size * left * (depth - _radius(size, depth))
        return Path([Arc(centre, a, sweep, b)])
    # Angles towards the wanted side are positive from here on.
    theta = None if leaving is None else left * turning(chord, leaving)
    phi = None if arriving is None else left * turning(arriving, chord)
    if theta is None or phi is None:
        known = theta if theta is not None else phi
        assert known is not None
        free = _free_angle(known, depth / size)
        theta, phi = (known, free) if theta is not None else (free, known)
    segment = _scaled(a, b, left, theta, phi, depth)
    return Path([segment])


def _radius(chord: float, depth: float) -> float:
    return (chord * chord / 4 + depth * depth) / (2 * depth)


def _heights(theta: float, phi: float) -> tuple[float, float]:
    """How far the two handles rise from the chord, as shares of it."""
    return math.sin(theta) * _reach(theta, phi), math.sin(phi) * _reach(phi, theta)


def _summits(first: float, second: float) -> tuple[float, float]:
    """Lowest and highest rise of a cubic whose handles rise so far from its chord."""
    return extent(0.0, first, second, 0.0)


def _free_angle(known: float, share: float) -> float:
    """The angle at the free end for a rise of that share of the chord, or for the highest rise.

    Where the given end already leads to the wanted side, the free end must not make an S of it.
    """

    def rise(angle: float) -> float:
        return _summits(*_heights(known, angle))[1]

    step = math.pi / 36
    tried = [k * step for k in range(0 if known > 0 else -24, 25)]
    rises = [rise(angle) for angle in tried]
    found = []
    for at in range(1, len(tried)):
        if (rises[at - 1] < share) != (rises[at] < share):
            low, high = tried[at - 1], tried[at]
            for _ in range(60):
                middle = (low + high) / 2
                if (rise(middle) < share) == (rises[at - 1] < share):
                    low = middle
                else:
                    high = middle
            found.append((low + high) / 2)
    if found:
        # The most even curve of those that reach it.
        return min(found, key=lambda angle: abs(angle - known))
    if rises[0] >= share:
        return tried[0]
    return tried[rises.index(max(rises))]


def _scaled(
    a: complex, b: complex, left: float, theta: float, phi: float, depth: float
) -> Line | Cubic:
    chord = b - a
    size = abs(chord)
    first, second = _heights(theta, phi)
    low, high = _summits(first, second)
    if depth <= _STRAIGHT and -low <= _STRAIGHT and high <= _STRAIGHT:
        return Line(a, b)
    if high <= 1e-9 or -low > high or depth <= _STRAIGHT:
        raise GeometryError(
            f"a curve with these directions at its ends cannot bow {depth:.6g} mm to that side"
        )
    scale = depth / (high * size)
    reach_out, reach_home = _reach(theta, phi) * scale, _reach(phi, theta) * scale
    out = chord * complex(math.cos(theta), left * math.sin(theta)) * reach_out
    home = chord * complex(math.cos(phi), -left * math.sin(phi)) * reach_home
    if max(dot(out, chord), dot(home, chord)) > 1.5 * size * size:
        raise GeometryError(
            f"with these directions at its ends a curve of {size:.6g} mm would overshoot them "
            f"to bow {depth:.6g} mm"
        )
    return Cubic(a, a + out, b - home, b)


def arc_through(a: complex, via: complex, b: complex) -> Path:
    """The arc from a over via to b; straight if via lies on the line between them.

    Raises GeometryError if the points lie on a line and via not between, or two are in one place.
    """
    u, v = via - a, b - a
    size = max(abs(u), abs(v), abs(b - via))
    if min(abs(u), abs(v), abs(b - via)) <= _SAME_POINT:
        raise GeometryError("an arc needs three points that lie apart")
    twice = 2 * cross(u, v)
    if abs(twice) <= 1e-12 * size * size:
        if dot(u, b - via) > 0:
            return line(a, b)
        raise GeometryError("no arc goes through three points on a line in that order")
    centre = a + 1j * (u * dot(v, v) - v * dot(u, u)) / twice
    # The turn from a over via to b is twice the angle at via, away from a straight one.
    sweep = 2 * turning(u, b - via)
    return Path([Arc(centre, a, sweep, b)])


def arc_around(a: complex, b: complex, centre: complex) -> Path:
    """The arc from a to b around a centre, the shorter way round; a half turn anticlockwise.

    Raises GeometryError if a and b lie at different distances from the centre (over 0.01 mm).
    """
    near, far = abs(a - centre), abs(b - centre)
    if abs(near - far) > _RADIUS_MISMATCH:
        raise GeometryError(
            f"the ends of an arc lie {near:.6g} mm and {far:.6g} mm from its centre; "
            "they must be equally far"
        )
    if min(near, far, abs(b - a)) <= _SAME_POINT:
        raise GeometryError("an arc needs two ends that lie apart, and a centre away from them")
    # A small mismatch is shared out: the centre is moved to be exactly as far from both.
    chord = b - a
    middle = (a + b) / 2
    unit = chord / abs(chord)
    centre = middle + 1j * unit * cross(unit, centre - middle)
    sweep = turning(a - centre, b - centre)
    if math.pi - abs(sweep) < 1e-9:
        sweep = abs(sweep)
    return Path([Arc(centre, a, sweep, b)])
