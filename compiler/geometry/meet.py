"""Where paths meet each other, a straight line, or a circle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry.crossing import circle_hits, line_hits, pair_hits
from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.vectors import apart, dot

if TYPE_CHECKING:
    from collections.abc import Iterable
    from typing import Final

    from oaktag.compiler.geometry.path import Path

# Two contacts nearer than this (mm) may be one, seen twice.
_SAME = 0.05


class Meeting:
    """A point two paths share, with its place in mm along each."""

    __slots__ = ("first_at", "point", "second_at")

    first_at: Final[float]
    second_at: Final[float]
    point: Final[complex]

    def __init__(self, first_at: float, second_at: float, point: complex) -> None:
        self.first_at = first_at
        self.second_at = second_at
        self.point = point

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Meeting):
            return NotImplemented
        return (
            self.first_at == other.first_at
            and self.second_at == other.second_at
            and self.point == other.point
        )

    def __hash__(self) -> int:
        return hash((Meeting, self.first_at, self.second_at, self.point))

    def __repr__(self) -> str:
        return (
            f"Meeting(first_at={self.first_at!r}, second_at={self.second_at!r}, "
            f"point={self.point!r})"
        )


def meetings(first: Path, second: Path, tolerance: float = 1e-7) -> list[Meeting]:
    """Where two paths cross or touch, in order along the first.

    Paths nearer than tolerance (mm) touch. A stretch they share is given by its two ends. A
    meeting at the joint of a closed path is given once, at its start.
    """
    if apart(first.box(), second.box(), tolerance):
        return []
    found: list[Meeting] = []
    for i, one in enumerate(first.segments):
        box = one.box()
        if apart(box, second.box(), tolerance):
            continue
        for j, other in enumerate(second.segments):
            if apart(box, other.box(), tolerance):
                continue
            for t, u, point in pair_hits(one, other, tolerance):
                found.append(Meeting(first.place(i, t), second.place(j, u), point))
    return _thinned(found, first, second, tolerance)


def _thinned(found: list[Meeting], first: Path, second: Path, tolerance: float) -> list[Meeting]:
    """The meetings in order, each once."""
    if len(found) < 2:
        return [_at_start(meeting, first, second) for meeting in found]
    found = [_at_start(meeting, first, second) for meeting in found]
    found.sort(key=lambda meeting: (meeting.first_at, meeting.second_at))
    kept: list[Meeting] = []
    for meeting in found:
        for at in range(len(kept) - 1, -1, -1):
            other = kept[at]
            if meeting.first_at - other.first_at > _SAME:
                meeting_is_new = True
                break
            if _same(other, meeting, first, second, tolerance):
                meeting_is_new = False
                break
        else:
            meeting_is_new = True
        if meeting_is_new:
            kept.append(meeting)
    return kept


def _same(one: Meeting, other: Meeting, first: Path, second: Path, tolerance: float) -> bool:
    """Whether two near meetings are one contact: between them the paths never part."""
    if abs(one.second_at - other.second_at) > _SAME:
        return False
    ahead = other.first_at - one.first_at
    if ahead <= 1e-6:
        return True
    middle = first.point_at(one.first_at + ahead / 2)
    low, high = sorted((one.second_at, other.second_at))
    return second.part(low, high).nearest(middle)[1] <= 2 * tolerance


def _at_start(meeting: Meeting, first: Path, second: Path) -> Meeting:
    """The meeting, at 0 instead of at the whole length of a closed path."""
    first_at, second_at = meeting.first_at, meeting.second_at
    if first.closed and first.length - first_at <= 1e-6:
        first_at = 0.0
    if second.closed and second.length - second_at <= 1e-6:
        second_at = 0.0
    return Meeting(first_at, second_at, meeting.point)


def line_meetings(
    origin: complex, direction: complex, path: Path
) -> list[tuple[float, float, complex]]:
    """Where the endless straight line through origin meets a path.

    Gives (signed distance from origin along the direction, place on the path, point), sorted by
    distance; a straight stretch along the line is given by its ends.
    """
    size = abs(direction)
    if size == 0:
        raise GeometryError("a line needs a direction")
    unit = direction / size
    found = []
    for at, segment in enumerate(path.segments):
        for t in line_hits(segment, origin, unit, 1e-7):
            point = segment.point(t)
            found.append((dot(unit, point - origin), path.place(at, t), point))
    found.sort(key=lambda hit: (hit[1], hit[0]))
    return sorted(_once(found, path), key=lambda hit: (hit[0], hit[1]))


def ray_meetings(
    origin: complex, direction: complex, path: Path
) -> list[tuple[float, float, complex]]:
    """Like line_meetings, only forwards from the origin: distances from -1e-9 mm on."""
    return [hit for hit in line_meetings(origin, direction, path) if hit[0] >= -1e-9]


def circle_meetings(centre: complex, radius: float, path: Path) -> list[tuple[float, complex]]:
    """Where a circle meets a path: (place on the path, point), in order along the path.

    A stretch of the path along the circle is given by its ends.
    """
    found = []
    for at, segment in enumerate(path.segments):
        for t in circle_hits(segment, centre, radius, 1e-7):
            found.append((0.0, path.place(at, t), segment.point(t)))
    found.sort(key=lambda hit: hit[1])
    return [(s, point) for _, s, point in _once(found, path)]


def _once(
    found: Iterable[tuple[float, float, complex]], path: Path
) -> list[tuple[float, float, complex]]:
    """Hits in order along the path, without those at a joint seen from both sides."""
    kept: list[tuple[float, float, complex]] = []
    for hit in found:
        if kept and hit[1] - kept[-1][1] <= 1e-6:
            continue
        kept.append(hit)
    if len(kept) > 1 and path.closed and path.length - kept[-1][1] + kept[0][1] <= 1e-6:
        kept.pop()
    return kept
