"""Parallel curves."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.fit import fitted
from oaktag.compiler.geometry.meet import meetings
from oaktag.compiler.geometry.path import JOINT, Path
from oaktag.compiler.geometry.region import self_crossings
from oaktag.compiler.geometry.segment import Arc, Cubic, Line
from oaktag.compiler.geometry.vectors import cross, turning

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.geometry.segment import Segment

_MITRE = 4.0
_LOOKED_AT = tuple(k / 10 for k in range(1, 10))


def parallel(segment: Segment, distance: float, tolerance: float = 0.01) -> Path:
    """One segment at a distance (mm): to the left of travel if positive, without corners.

    As `offset`, but quick for a curve that bends little: cubics that leave and arrive as the true
    parallel does, if a few of them come within half the tolerance.
    """
    if isinstance(segment, Cubic):
        quick = _few_cubics(segment, distance, tolerance / 2, 8)
        if quick:
            return Path(quick)
    elif isinstance(segment, Line) and segment.length:
        return Path(_beside(segment, distance, tolerance))
    return offset(Path((segment,)), distance, tolerance)


def _few_cubics(cubic: Cubic, distance: float, tolerance: float, most: int) -> list[Cubic]:
    """At most so many cubics beside one, halved as often as it needs; none if they do not serve."""
    one = _one_cubic(cubic, distance, tolerance)
    if one is not None:
        return [one]
    if most < 2:
        return []
    halves = [_few_cubics(half, distance, tolerance, most // 2) for half in cubic.split(0.5)]
    return halves[0] + halves[1] if all(halves) else []


def _one_cubic(cubic: Cubic, distance: float, tolerance: float) -> Cubic | None:
    """The cubic whose ends have the place, direction and speed of the parallel's, if it serves."""
    at_start, at_end = (1 - distance * cubic.curvature(t) for t in (0.0, 1.0))
    along = cubic.first - cubic.start, cubic.end - cubic.second
    if min(at_start, at_end) <= 0.2 or not (along[0] and along[1]):
        return None
    start = cubic.start + 1j * cubic.tangent(0.0) * distance
    end = cubic.end + 1j * cubic.tangent(1.0) * distance
    found = Cubic(start, start + along[0] * at_start, end - along[1] * at_end, end)
    for t in _LOOKED_AT:
        way = cubic.derivative(t)
        speed = abs(way)
        bend = cross(way, cubic.second_derivative(t)) / speed**3 if speed else 0.0
        if not speed or 1 - distance * bend <= 0.2:
            return None
        # Off by how much, square to the curve: along it the two may run at different speeds.
        out = 1j * way / speed
        off = found.point(t) - cubic.point(t)
        if abs((off * out.conjugate()).real - distance) > tolerance / 2:
            return None
    return found


def offset(path: Path, distance: float, tolerance: float = 0.01) -> Path:
    """The path at a distance (mm) from another: to the left of travel if positive.

    Lines and arcs stay lines and arcs, other curves come within tolerance. Corners are mitred on
    their outer side (beyond four times the distance, cut off) and trimmed at the meeting on the
    inner. A closed path gives a closed one. Raises GeometryError if nothing is left.
    """
    if distance == 0:
        return path
    pieces: list[Path] = []
    originals: list[Segment] = []
    for segment in path.segments:
        piece = _beside(segment, distance, tolerance)
        if piece:
            pieces.append(Path(piece))
            originals.append(segment)
    if not pieces:
        raise GeometryError(f"nothing of the line is left at {abs(distance):.6g} mm from it")
    last = len(pieces) - 1
    joints: list[list[Segment]] = [[] for _ in pieces]
    for at in range(last + 1 if path.closed else last):
        following = (at + 1) % len(pieces)
        arriving, leaving = originals[at].tangent(1), originals[following].tangent(0)
        angle = turning(arriving, leaving)
        if angle * distance > 0 and at != following:
            pieces[at], pieces[following] = _trimmed(pieces[at], pieces[following])
        end, start = pieces[at].end, pieces[following].start
        if abs(end - start) > JOINT:
            joints[at] = _corner(end, arriving, start, angle, distance)
    raw = [
        segment
        for piece, joint in zip(pieces, joints, strict=True)
        for segment in (*piece.segments, *joint)
    ]
    return _without_loops(_linked(raw, path.closed), path, abs(distance), tolerance)


def _trimmed(before: Path, after: Path) -> tuple[Path, Path]:
    """Two parallels cut off where they meet nearest to their inner corner, if they do."""
    found = meetings(before, after)
    if not found:
        return before, after
    meeting = min(found, key=lambda hit: before.length - hit.first_at + hit.second_at)
    kept, rest = before.split_at(meeting.first_at)[0], after.split_at(meeting.second_at)[1]
    return (kept, rest) if kept.length > JOINT and rest.length > JOINT else (before, after)


def _linked(raw: list[Segment], closed: bool) -> Path:
    linked: list[Segment] = []
    for segment in raw:
        if linked and abs(linked[-1].end - segment.start) > JOINT:
            linked.append(Line(linked[-1].end, segment.start))
        linked.append(segment)
    if closed and abs(linked[-1].end - linked[0].start) > JOINT:
        linked.append(Line(linked[-1].end, linked[0].start))
    return Path(linked)


def _beside(segment: Segment, distance: float, tolerance: float) -> list[Segment]:
    """The parallel of one segment."""
    if isinstance(segment, Line):
        if not segment.length:
            return []
        shift = 1j * segment.tangent(0) * distance
        return [Line(segment.start + shift, segment.end + shift)]
    if isinstance(segment, Arc):
        radius = segment.radius
        if not radius or not segment.sweep:
            return []
        scale = (radius - math.copysign(distance, distance * segment.sweep)) / radius
        if scale <= 1e-9:
            return []
        centre = segment.centre
        return [
            Arc(
                centre,
                centre + (segment.start - centre) * scale,
                segment.sweep,
                centre + (segment.end - centre) * scale,
            )
        ]
    found: list[Segment] = []
    stops = _turning_back(segment, distance)
    for low, high in itertools.pairwise(stops):
        found.extend(_beside_cubic(segment, low, high, distance, tolerance))
    return found


def _turning_back(cubic: Cubic, distance: float) -> list[float]:
    """0, 1, and between them where the parallel has a cusp: radius of bending = distance."""

    def excess(t: float) -> float:
        along = cubic.derivative(t)
        return abs(along) ** 3 - distance * cross(along, cubic.second_derivative(t))

    stops = [0.0]
    count = 32
    before = excess(0.0)
    for k in range(1, count + 1):
        t = k / count
        after = excess(t)
        if (before > 0) != (after > 0) and before and after:
            low, high = (k - 1) / count, t
            for _ in range(50):
                middle = (low + high) / 2
                if (excess(middle) > 0) == (before > 0):
                    low = middle
                else:
                    high = middle
            stops.append((low + high) / 2)
        before = after
    return [*stops, 1.0]


def _beside_cubic(
    cubic: Cubic, low: float, high: float, distance: float, tolerance: float
) -> list[Segment]:
    def at(t: float) -> complex:
        return cubic.point(t) + 1j * cubic.tangent(t) * distance

    middle = (low + high) / 2
    along = cubic.derivative(middle)
    ahead = abs(along) ** 3 - distance * cross(along, cubic.second_derivative(middle)) >= 0
    count = 36  # with 24, a strong bend came out three times as far off as it may
    points = [at(low + (high - low) * k / count) for k in range(count + 1)]
    if max(abs(p - points[0]) for p in points) <= 1e-9:
        return []
    leaving, arriving = cubic.tangent(low), cubic.tangent(high)
    if not ahead:
        leaving, arriving = -leaving, -arriving
    return list(fitted(points, tolerance / 2, leaving, arriving).segments)


def _corner(
    end: complex, arriving: complex, start: complex, angle: float, distance: float
) -> list[Segment]:
    """What joins two parallels at a corner that turns by the angle: a mitre, or a straight step."""
    outer = angle * distance < 0
    if outer and math.cos(angle / 2) * _MITRE >= 1:
        tip = end + arriving * abs(distance) * math.tan(abs(angle) / 2)
        return [Line(end, tip), Line(tip, start)]
    return [Line(end, start)]


def _without_loops(raw: Path, path: Path, distance: float, tolerance: float) -> Path:
    """The raw parallel without the loops that come nearer to the path than the distance."""
    enough = distance - max(2 * tolerance, 1e-3 * distance)
    for _ in range(200):
        loops = self_crossings(raw, path.closed)
        whole = raw.length
        spans = [(s1 - s0, s0, s1) for s0, s1, _ in loops if s1 - s0 > 1e-6]
        if path.closed:
            spans += [(whole - (s1 - s0), s1, s0) for s0, s1, _ in loops]
        for _, s0, s1 in sorted(spans):
            if not any(_near(raw, s0, s1, path, enough)):
                continue
            if s0 < s1:
                kept = [p for p in (raw.part(0, s0), raw.part(s1, whole)) if p.length > 1e-7]
            else:
                kept = [raw.part(s1, s0)]
            if not kept:
                raise GeometryError(f"nothing of the line is left at {distance:.6g} mm from it")
            raw = _linked([s for p in kept for s in p.segments], path.closed)
            break
        else:
            break
    # Where everything was swallowed, what remains runs the wrong way, too near all along.
    if all(_near(raw, 0, raw.length, path, enough)):
        raise GeometryError(f"nothing of the line is left at {distance:.6g} mm from it")
    return raw


def _near(raw: Path, s0: float, s1: float, path: Path, enough: float) -> Iterator[bool]:
    """At some places from s0 to s1, or over the closing joint: is the path too near?"""
    whole = raw.length
    span = s1 - s0 if s0 < s1 else whole - s0 + s1
    for share in (0.5, 0.25, 0.75, 0.1, 0.9):
        yield path.distance(raw.point_at((s0 + span * share) % whole)) < enough
