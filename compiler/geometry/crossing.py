"""Where two segments meet: the closed forms, and subdivision for two cubics."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.cubic import Cubic, stationary
from oaktag.compiler.geometry.line import Line
from oaktag.compiler.geometry.roots import bernstein_roots, bernstein_slope, bernstein_value
from oaktag.compiler.geometry.tangle import cubic_hits
from oaktag.compiler.geometry.vectors import cross, dot

if TYPE_CHECKING:
    from oaktag.compiler.geometry.arc import Arc
    from oaktag.compiler.geometry.segment import Segment


def pair_hits(one: Segment, other: Segment, tolerance: float) -> list[tuple[float, float, complex]]:
    """The shared points of two segments as (t on one, t on the other, point).

    May hold one point twice, as a crossing and as an end that lies on the other segment.
    """
    found: list[tuple[float, float, complex]] = []
    straight = _straightened(one)
    if straight:
        hits = pair_hits(straight, other, tolerance)
        return [(one.nearest(point)[0], u, point) for _, u, point in hits]
    straight = _straightened(other)
    if straight:
        hits = pair_hits(one, straight, tolerance)
        return [(t, other.nearest(point)[0], point) for t, _, point in hits]
    if isinstance(one, Cubic) and isinstance(other, Cubic):
        ends = _end_hits(one, other, tolerance)
        found = cubic_hits(one, other, tolerance, [(t, u) for t, u, _ in ends])
        return found + ends
    if isinstance(other, Cubic) or (isinstance(one, Line) and not isinstance(other, Line)):
        # The carrier, a straight line or a circle, comes second.
        return [(t, u, point) for u, t, point in pair_hits(other, one, tolerance)]
    if isinstance(other, Line):
        if not other.length:
            return _end_hits(one, other, tolerance)
        places = line_hits(one, other.start, (other.end - other.start) / other.length, tolerance)
    else:
        places = circle_hits(one, other.centre, other.radius, tolerance)
    for t in places:
        point = one.point(t)
        u, distance = other.nearest(point)
        if distance <= tolerance:
            found.append((t, u, point))
    return found + _end_hits(one, other, tolerance)


def _straightened(segment: Segment) -> Line | None:
    """The straight line a cubic runs along without turning back, if it does."""
    if not isinstance(segment, Cubic):
        return None
    a, b, c, chord = segment.start, segment.first, segment.second, segment.end - segment.start
    size = abs(chord)
    if size == 0 or max(abs(cross(b - a, chord)), abs(cross(c - a, chord))) > 1e-9 * size:
        return None
    steps = (dot(b - a, chord), dot(c - b, chord), dot(segment.end - c, chord))
    return Line(a, segment.end) if min(steps) >= 0 else None


def _end_hits(one: Segment, other: Segment, tolerance: float) -> list[tuple[float, float, complex]]:
    """The ends of either segment that lie on the other."""
    found = []
    for t, point in ((0.0, one.start), (1.0, one.end)):
        if _near_box(other, point, tolerance):
            u, distance = other.nearest(point)
            if distance <= tolerance:
                found.append((t, u, point))
    for u, point in ((0.0, other.start), (1.0, other.end)):
        if _near_box(one, point, tolerance):
            t, distance = one.nearest(point)
            if distance <= tolerance:
                found.append((t, u, point))
    return found


def _near_box(segment: Segment, p: complex, gap: float) -> bool:
    left, bottom, right, top = segment.box()
    return left - gap <= p.real <= right + gap and bottom - gap <= p.imag <= top + gap


def line_hits(segment: Segment, origin: complex, unit: complex, tolerance: float) -> list[float]:
    """The values of t at which a segment meets the endless line through origin along unit."""
    if isinstance(segment, Line):
        a, b = cross(unit, segment.start - origin), cross(unit, segment.end - origin)
        found = []
        if abs(a) <= tolerance:
            found.append(0.0)
        if abs(b) <= tolerance:
            found.append(1.0)
        if not found and (a > 0) != (b > 0):
            found.append(a / (a - b))
        elif len(found) == 1 and a != b and 0 < a / (a - b) < 1:
            # The line crosses right beside an end: the crossing is the truer point.
            found = [a / (a - b)]
        return found
    if isinstance(segment, Cubic):
        offsets = [
            cross(unit, point - origin)
            for point in (segment.start, segment.first, segment.second, segment.end)
        ]
        if min(offsets) > tolerance or max(offsets) < -tolerance:
            return []  # it lies on one side, as its handles do
        return _polynomial_hits(
            offsets, stationary(*bernstein_slope(offsets)), tolerance, tolerance
        )
    return _arc_hits(segment, origin, unit, tolerance)


def _arc_hits(arc: Arc, origin: complex, unit: complex, tolerance: float) -> list[float]:
    radius = arc.radius
    foot = origin + unit * dot(unit, arc.centre - origin)
    off = abs(foot - arc.centre)
    if off > radius + tolerance:
        return []
    if off >= radius - tolerance:
        points = [foot]
    else:
        reach = math.sqrt((radius - off) * (radius + off))
        points = [foot - unit * reach, foot + unit * reach]
    return _on_arc(arc, points, 2 * tolerance)


def _on_arc(arc: Arc, points: list[complex], tolerance: float) -> list[float]:
    found = []
    for point in points:
        t, distance = arc.nearest(point)
        if distance <= tolerance:
            found.append(t)
    return sorted(found)


def circle_hits(segment: Segment, centre: complex, radius: float, tolerance: float) -> list[float]:
    """The values of t at which a segment meets a circle."""
    if isinstance(segment, Line):
        if not segment.length:
            return [0.0] if abs(abs(segment.start - centre) - radius) <= tolerance else []
        unit = (segment.end - segment.start) / segment.length
        along = dot(unit, centre - segment.start)
        foot = segment.start + unit * along
        off = abs(foot - centre)
        if off > radius + tolerance:
            return []
        half = 0.0
        if off < radius - tolerance:
            half = math.sqrt((radius - off) * (radius + off))
        found = []
        for place in {along - half, along + half}:
            if -tolerance <= place <= segment.length + tolerance:
                found.append(min(1.0, max(0.0, place / segment.length)))
        return sorted(found)
    if isinstance(segment, Cubic):
        return _cubic_circle_hits(segment, centre, radius, tolerance)
    between = segment.centre - centre
    apart, own = abs(between), segment.radius
    if apart <= tolerance and abs(own - radius) <= tolerance:
        return [0.0, 1.0]
    if apart > own + radius + tolerance or apart < abs(own - radius) - tolerance or apart == 0:
        return []
    unit = between / apart
    along = ((apart * apart - own * own) + radius * radius) / (2 * apart)
    if apart >= own + radius - tolerance or apart <= abs(own - radius) + tolerance:
        return _on_arc(segment, [centre + unit * math.copysign(radius, along)], 2 * tolerance)
    aside = 1j * unit * math.sqrt(max(0.0, (radius - along) * (radius + along)))
    foot = centre + unit * along
    return _on_arc(segment, [foot - aside, foot + aside], 2 * tolerance)


def _cubic_circle_hits(
    segment: Cubic, centre: complex, radius: float, tolerance: float
) -> list[float]:
    a, b, c, d = (
        segment.start - centre,
        segment.first - centre,
        segment.second - centre,
        segment.end - centre,
    )
    square = radius * radius
    # |B - centre|² - r² in Bernstein form of degree six.
    values = [
        dot(a, a) - square,
        dot(a, b) - square,
        (2 * dot(a, c) + 3 * dot(b, b)) / 5 - square,
        (dot(a, d) + 9 * dot(b, c)) / 10 - square,
        (2 * dot(b, d) + 3 * dot(c, c)) / 5 - square,
        dot(c, d) - square,
        dot(d, d) - square,
    ]
    slack = 2 * radius * tolerance + tolerance * tolerance
    return _polynomial_hits(values, bernstein_roots(bernstein_slope(values)), slack, slack)


def _polynomial_hits(
    values: list[float], turns: list[float], slack: float, end_slack: float
) -> list[float]:
    """Roots in [0, 1], and where the values come within the slack of zero and turn or end."""
    if all(abs(value) <= slack for value in values):
        return [0.0, 1.0]
    found = bernstein_roots(values)
    touches = [t for t in turns if abs(bernstein_value(values, t)) <= slack]
    for t in touches:
        # A touch that dips just through is one contact, not two.
        near = 1e-3
        found = [
            root
            for root in found
            if abs(root - t) > near or abs(bernstein_value(values, (root + t) / 2)) > slack
        ]
        found.append(t)
    if abs(values[0]) <= end_slack and not any(t <= 1e-9 for t in found):
        found.append(0.0)
    if abs(values[-1]) <= end_slack and not any(t >= 1 - 1e-9 for t in found):
        found.append(1.0)
    return sorted(found)
