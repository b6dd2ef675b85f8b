"""Where paths meet each other, a straight line, or a circle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry.crossing import circle_hits, line_hits, pair_hits
from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.vectors import apart, cross, dot

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from typing import Final

    from oaktag.compiler.geometry.path import Path

# A stretch that two paths share up to this long (mm) is given as one point.
_SHORT = 0.05
_LOOK_BACK = 5
# How near (mm) a path must come to a line or circle to touch it.
_TOUCH = 1e-7


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
    """The meetings in order, each once.

    Meetings between which the paths never part are one contact: a short one is given by its most
    exact point, a long one by its two ends.
    """
    found = [_at_start(meeting, first, second, 2 * tolerance) for meeting in found]
    if len(found) > 1:
        found.sort(key=lambda meeting: (meeting.first_at, meeting.second_at))
        contacts: list[list[Meeting]] = []
        for meeting in found:
            for contact in contacts[:-_LOOK_BACK:-1]:
                if _same(contact[-1], meeting, first, second, tolerance):
                    contact.append(meeting)
                    break
            else:
                contacts.append([meeting])
        found = []
        for contact in contacts:
            if contact[-1].first_at - contact[0].first_at > _SHORT:
                found += [contact[0], contact[-1]]
            else:
                found.append(min(contact, key=lambda meeting: _gap(meeting, second)))
        found.sort(key=lambda meeting: (meeting.first_at, meeting.second_at))
    return found


def _gap(meeting: Meeting, second: Path) -> float:
    return abs(second.point_at(meeting.second_at) - meeting.point)


def _same(one: Meeting, other: Meeting, first: Path, second: Path, tolerance: float) -> bool:
    """Whether two meetings are one contact: between them the paths never part."""
    ahead = other.first_at - one.first_at
    across = abs(one.second_at - other.second_at)
    if ahead <= 1e-6 and across <= 1e-6:
        return True
    if abs(ahead - across) > _SHORT + 0.01 * ahead:
        return False
    if ahead > _SHORT and not (
        _grazes(one, first, second, False) and _grazes(other, first, second, True)
    ):
        return False
    low, high = sorted((one.second_at, other.second_at))
    between = second.part(low, high)
    return all(
        between.distance(first.point_at(one.first_at + share * ahead)) <= 2 * tolerance
        for share in (0.25, 0.55, 0.8)
    )


def _grazes(meeting: Meeting, first: Path, second: Path, before: bool) -> bool:
    """Whether the paths run nearly alongside each other there."""
    one = first.tangent_at(meeting.first_at, before)
    backward = second.tangent_at(meeting.second_at, True)
    forward = second.tangent_at(meeting.second_at)
    return min(abs(cross(one, backward)), abs(cross(one, forward))) < 1e-2


def _at_start(meeting: Meeting, first: Path, second: Path, snap: float) -> Meeting:
    """The meeting, at 0 instead of at the whole length of a closed path."""
    first_at, second_at = meeting.first_at, meeting.second_at
    if first.closed and first.length - first_at <= snap:
        first_at = 0.0
    if second.closed and second.length - second_at <= snap:
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
        for t in line_hits(segment, origin, unit, _TOUCH):
            point = segment.point(t)
            found.append((dot(unit, point - origin), path.place(at, t), point))
    found.sort(key=lambda hit: (hit[1], hit[0]))
    kept = _once(found, path, lambda point: abs(cross(unit, point - origin)))
    return sorted(kept, key=lambda hit: (hit[0], hit[1]))


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
        for t in circle_hits(segment, centre, radius, _TOUCH):
            found.append((0.0, path.place(at, t), segment.point(t)))
    found.sort(key=lambda hit: hit[1])
    kept = _once(found, path, lambda point: abs(abs(point - centre) - radius))
    return [(s, point) for _, s, point in kept]


def _once(
    found: Iterable[tuple[float, float, complex]],
    path: Path,
    off: Callable[[complex], float],
) -> list[tuple[float, float, complex]]:
    """Hits in order along the path, each once: at a joint both its segments are hit.

    Of two hits on the same side of a crossing the one farther off the line or circle goes.
    """
    kept: list[tuple[float, float, complex]] = []
    for hit in found:
        if kept and hit[1] - kept[-1][1] <= _SHORT:
            between = path.point_at((kept[-1][1] + hit[1]) / 2)
            if hit[1] - kept[-1][1] <= 1e-6 or off(between) <= _TOUCH:
                if off(hit[2]) < off(kept[-1][2]):
                    kept[-1] = hit
                continue
        kept.append(hit)
    if len(kept) > 1 and path.closed and path.length - kept[-1][1] + kept[0][1] <= 1e-6:
        kept.pop()
    return kept
