"""Chains of segments: what an edge, a drawn line or an outline is made of."""

from __future__ import annotations

import itertools
from bisect import bisect_right
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.segment import Arc, Cubic, Line
from oaktag.compiler.geometry.vectors import distance_to_box, turning, united

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from typing import Final

    from oaktag.compiler.geometry.motion import Motion
    from oaktag.compiler.geometry.segment import Segment
    from oaktag.compiler.geometry.vectors import Box

JOINT = 1e-6
"""How far (mm) the end of a segment may lie from the start of the next."""
SNAP = 1e-9
"""How near (mm along the path) a place counts as the joint or end itself."""
BEYOND = 1e-6
"""How far (mm) outside a path a place is still taken for its end."""


class Path:
    """A chain of segments, each beginning where the one before ends.

    Places on it are given in mm along it from its start. Segments without length are left out,
    unless there is nothing else. Raises GeometryError for no segments, or a gap above 1e-6 mm.
    """

    __slots__ = ("_box", "_marks", "segments")

    segments: Final[tuple[Segment, ...]]

    def __init__(self, segments: Iterable[Segment]) -> None:
        given = tuple(segments)
        if not given:
            raise GeometryError("a path needs at least one segment")
        kept: list[Segment] = []
        for segment in given:
            if segment.start == segment.end and segment.length <= SNAP:
                continue
            if kept and segment.start != kept[-1].end:
                segment = _snapped(segment, kept[-1].end)
            kept.append(segment)
        self.segments = tuple(kept) or given[:1]
        self._marks: tuple[float, ...] | None = None
        self._box: Box | None = None

    @property
    def start(self) -> complex:
        """The first point."""
        return self.segments[0].start

    @property
    def end(self) -> complex:
        """The last point."""
        return self.segments[-1].end

    @property
    def marks(self) -> tuple[float, ...]:
        """The mm up to each joint: 0 first, the whole length last."""
        if self._marks is None:
            total = 0.0
            marks = [0.0]
            for segment in self.segments:
                total += segment.length
                marks.append(total)
            self._marks = tuple(marks)
        return self._marks

    @property
    def length(self) -> float:
        """Length in mm."""
        return self.marks[-1]

    @property
    def start_direction(self) -> complex:
        """Direction of travel at the start, of size 1."""
        return self.segments[0].tangent(0)

    @property
    def end_direction(self) -> complex:
        """Direction of travel at the end, of size 1."""
        return self.segments[-1].tangent(1)

    @property
    def closed(self) -> bool:
        """Whether the path ends where it starts."""
        if abs(self.end - self.start) > JOINT:
            return False
        left, bottom, right, top = self.box()  # quicker known than the length
        return right - left > JOINT or top - bottom > JOINT or self.length > JOINT

    def located(self, s: float, before: bool = False) -> tuple[int, float]:
        """The segment and its t at a place; at a joint the one after it, unless before is said.

        Raises GeometryError for a place off the path.
        """
        marks = self.marks
        whole = marks[-1]
        if not -BEYOND <= s <= whole + BEYOND:
            raise GeometryError(f"{s:.6g} mm is not on a path of {whole:.6g} mm")
        last = len(self.segments) - 1
        at = min(max(bisect_right(marks, s) - 1, 0), last)
        if abs(marks[at + 1] - s) <= SNAP and at < last:
            at += 1
        if abs(s - marks[at]) <= SNAP:
            return (at - 1, 1.0) if before and at else (at, 0.0)
        if marks[at + 1] - s <= SNAP:
            return at, 1.0
        return at, self.segments[at].parameter_at(s - marks[at])

    def place(self, at: int, t: float) -> float:
        """The mm along the path of the value t on one of its segments."""
        marks = self.marks
        if t <= 0:
            return marks[at]
        if t >= 1:
            return marks[at + 1]
        return marks[at] + self.segments[at].length_to(t)

    def point_at(self, s: float) -> complex:
        """The point s mm along the path."""
        at, t = self.located(s)
        return self.segments[at].point(t)

    def tangent_at(self, s: float, before: bool = False) -> complex:
        """Direction of travel s mm along; at a joint after it, unless before is said."""
        at, t = self.located(s, before)
        return self.segments[at].tangent(t)

    def split_at(self, s: float) -> tuple[Path, Path]:
        """The paths up to s mm and from there on; at an end one of them has no length."""
        at, t = self.located(s)
        segments = self.segments
        if t == 0:
            before, after = segments[:at], segments[at:]
        elif t == 1:
            before, after = segments[: at + 1], segments[at + 1 :]
        else:
            left, right = segments[at].split(t)
            before, after = (*segments[:at], left), (right, *segments[at + 1 :])
        return (
            _made(before or (Line(self.start, self.start),)),
            _made(after or (Line(self.end, self.end),)),
        )

    def part(self, s0: float, s1: float) -> Path:
        """The path from s0 to s1 mm along (s0 <= s1)."""
        first, t0 = self.located(s0)
        last, t1 = self.located(s1, before=True)
        if s1 < s0 - SNAP:
            raise GeometryError(f"a part runs forwards: not from {s0:.6g} to {s1:.6g} mm")
        if s1 - s0 <= SNAP or (last, t1) <= (first, t0):
            point = self.segments[first].point(t0)
            return _made((Line(point, point),))
        if first == last:
            segment = self.segments[first]
            return (
                self
                if (t0, t1, len(self.segments)) == (0, 1, 1)
                else _made((segment.part(t0, t1),))
            )
        head, tail = self.segments[first], self.segments[last]
        return _made(
            (
                head if t0 == 0 else head.split(t0)[1],
                *self.segments[first + 1 : last],
                tail if t1 == 1 else tail.split(t1)[0],
            )
        )

    def reversed(self) -> Path:
        """The same path travelled the other way."""
        return _made(tuple(segment.reversed() for segment in reversed(self.segments)))

    def moved(self, motion: Motion) -> Path:
        """The path after a rigid motion, which keeps its lengths."""
        there = _made(tuple(segment.moved(motion) for segment in self.segments))
        there._marks = self._marks
        return there

    def joined(self, other: Path) -> Path:
        """This path and then the other, which begins where this one ends."""
        return Path((*self.segments, *other.segments))

    def area(self) -> float:
        """Half the integral of x dy - y dx in mm²: what a closed ring encloses, anticlockwise +."""
        origin = self.start
        total = 0.0
        for segment in self.segments:
            a, b = segment.start - origin, segment.end - origin
            total += (a.real * b.imag - a.imag * b.real) / 2 + segment.bulge()
        across = self.end - origin
        return total + (origin.real * across.imag - origin.imag * across.real) / 2

    def box(self) -> Box:
        """Left, bottom, right and top in mm."""
        if self._box is None:
            self._box = united(segment.box() for segment in self.segments)
        return self._box

    def nearest(self, p: complex) -> tuple[float, float]:
        """The place (mm along) nearest to p, and its distance in mm."""
        at, t, distance = self._nearest(p)
        return self.place(at, t), distance

    def distance(self, p: complex) -> float:
        """The distance of p in mm: quicker than to ask where it is nearest."""
        return self._nearest(p)[2]

    def _nearest(self, p: complex) -> tuple[int, float, float]:
        """The segment nearest to p, the t there, and its distance in mm."""
        away = [distance_to_box(segment.box(), p) for segment in self.segments]
        first = away.index(min(away))
        t, closest = self.segments[first].nearest(p)
        place = (first, t)
        for at, segment in enumerate(self.segments):
            if away[at] < closest and at != first:
                t, distance = segment.nearest(p)
                # Of places equally near, the first.
                if distance < closest or (distance == closest and at < place[0]):
                    place, closest = (at, t), distance
        return (*place, closest)

    def flattened(self, tolerance: float) -> tuple[complex, ...]:
        """The points of a chain of straight steps within tolerance (mm), both ends included."""
        points = [self.start]
        for segment in self.segments:
            points.extend(segment.flattened(tolerance))
        return tuple(points)

    def corners(self, angle_radians: float = 1e-3) -> tuple[float, ...]:
        """The places of the joints at which travel turns by more than the angle."""
        segments = self.segments
        return tuple(
            self.marks[at]
            for at in range(1, len(segments))
            if abs(turning(segments[at - 1].tangent(1), segments[at].tangent(0))) > angle_radians
        )

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Path):
            return NotImplemented
        return self.segments == other.segments

    def __hash__(self) -> int:
        return hash((Path, self.segments))

    def __repr__(self) -> str:
        return f"Path({list(self.segments)!r})"


def _made(segments: tuple[Segment, ...]) -> Path:
    """A path of segments known to be joined and not without length."""
    path = Path.__new__(Path)
    path.segments = segments  # type: ignore[misc]
    path._marks = None
    path._box = None
    return path


def _snapped(segment: Segment, start: complex) -> Segment:
    """The segment begun exactly at start, its end kept."""
    gap = abs(segment.start - start)
    if gap > JOINT:
        raise GeometryError(f"a path has a gap of {gap:.6g} mm")
    if isinstance(segment, Line):
        return Line(start, segment.end)
    if isinstance(segment, Cubic):
        shift = start - segment.start
        return Cubic(start, segment.first + shift, segment.second, segment.end)
    chord = segment.end - segment.start
    if abs(chord) <= JOINT:
        shift = start - segment.start
        return Arc(segment.centre + shift, start, segment.sweep, segment.end + shift)
    # The arc of the same sweep over the slightly changed chord.
    scale = (segment.end - start) / chord
    return Arc(start + (segment.centre - segment.start) * scale, start, segment.sweep, segment.end)


def pinned(path: Path, start: complex, end: complex) -> Path:
    """The path with its ends put exactly on two places that rounding alone keeps it from.

    Raises GeometryError where an end lies farther away than 1e-6 mm.
    """
    segments = list(path.segments)
    if segments[0].start != start:
        segments[0] = _snapped(segments[0], start)
    if segments[-1].end != end:
        segments[-1] = _snapped(segments[-1].reversed(), end).reversed()
    return _made(tuple(segments))


def line(a: complex, b: complex) -> Path:
    """The straight path from a to b."""
    return _made((Line(a, b),))


def polyline(points: Sequence[complex]) -> Path:
    """Straight steps from point to point. Raises GeometryError for fewer than two points."""
    if len(points) < 2:
        raise GeometryError("a line needs at least two points")
    return Path(Line(a, b) for a, b in itertools.pairwise(points))


def chain(paths: Iterable[Path]) -> Path:
    """One path of several, each beginning where the one before ends."""
    return Path(segment for path in paths for segment in path.segments)
