"""A line around a ring, at a distance of its own from each side of it.

Each segment is set off by its side's width, and neighbours are led to their meeting: mitred at
corners that point outward, trimmed at those that point inward. Where that leaves loops (a sharp
bend, a deep notch) the line is what bounds the region it winds around, a rule that needs no case
for each shape: whatever turns back on itself winds the other way and falls out.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.finish.winding import bounding
from oaktag.compiler.geometry import (
    Cubic,
    GeometryError,
    Line,
    Path,
    dot,
    line,
    meetings,
    offset,
    self_crossings,
    turning,
)
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Segment

    Tagged = tuple[Segment, int]
    """A segment with the number of the edge it runs beside, or NOWHERE."""

MITRE = 3.0  # widths: a corner that would reach further is cut off square at this distance
NOWHERE = -1
_JOINED = 1e-6  # mm
_TOLERANCE = 0.005  # mm: how far a curve's parallel may be off
_STRAIGHT_ON = 1e-8  # radians


class Side(Record):
    """A stretch of the ring, its width in mm, and the number of the edge it belongs to.

    on_fold: nothing may reach beyond the line of this side, whatever its neighbours' widths.
    """

    path: Path
    width: float
    edge: int
    on_fold: bool = False


class _Beside:
    """A segment set off by its width; its line is shortened while corners are made."""

    __slots__ = ("arriving", "edge", "end", "leaving", "line", "on_fold", "width")

    def __init__(self, segment: Segment, side: Side) -> None:
        self.end = segment.end
        self.leaving = segment.tangent(0)
        self.arriving = segment.tangent(1)
        self.on_fold = side.on_fold
        self.width = side.width
        self.edge = side.edge if side.width else NOWHERE
        own = Path((segment,))
        try:
            self.line = offset(own, -side.width, _TOLERANCE)
        except GeometryError:
            # Bent tighter than its width: its neighbours must cover it, or it is lost.
            self.line, self.width, self.edge = own, 0.0, NOWHERE


def _parts(segment: Segment) -> tuple[Segment, ...]:
    """The segment, an S in halves: as a whole its parallel is fitted less surely."""
    if isinstance(segment, Cubic) and segment.curvature(0) * segment.curvature(1) < 0:
        return segment.split(0.5)
    return (segment,)


def surround(sides: Sequence[Side]) -> tuple[Path | None, list[int]]:
    """The closed line at the right of an anticlockwise ring, and the edges nothing is left of.

    None if no single line does it: opposite sides run into each other.
    """
    asked = {side.edge for side in sides if side.width}
    pieces = [
        _Beside(part, side)
        for side in sides
        for segment in side.path.segments
        for part in _parts(segment)
    ]
    corners = [
        _corner(piece, following)
        for piece, following in zip(pieces, pieces[1:] + pieces[:1], strict=True)
    ]
    raw: list[Tagged] = []
    for piece, corner in zip(pieces, corners, strict=True):
        raw += [(segment, piece.edge) for segment in piece.line.segments]
        raw += corner
    raw = [item for item in raw if item[0].length > _JOINED / 10]
    whole = Path(segment for segment, _ in raw)
    crossings = self_crossings(whole, closed=True)
    kept = [(0.0, whole.length)]
    found: Path | None = whole
    if crossings:
        found, kept = bounding(whole, crossings)
    lost = sorted(asked - _present(whole, [edge for _, edge in raw], kept))
    return _without_seams(found) if found else None, lost


def _without_seams(ring: Path) -> Path:
    """The ring with straight steps that go on straight made one."""
    segments: list[Segment] = []
    for segment in ring.segments:
        if segments and _straight_on(segments[-1], segment):
            segments[-1] = Line(segments[-1].start, segment.end)
        else:
            segments.append(segment)
    if len(segments) > 2 and _straight_on(segments[-1], segments[0]):
        segments[0] = Line(segments.pop().start, segments[0].end)
    return Path(segments)


def _straight_on(before: Segment, after: Segment) -> bool:
    if not (isinstance(before, Line) and isinstance(after, Line)):
        return False
    return abs(turning(before.tangent(1), after.tangent(0))) < _STRAIGHT_ON


def _present(whole: Path, edges: Sequence[int], kept: Sequence[tuple[float, float]]) -> set[int]:
    """The edges beside which some of the line is kept."""
    present = set()
    for (low, high), edge in zip(itertools.pairwise(whole.marks), edges, strict=True):
        if any(min(high, end) - max(low, start) > 1e-3 for start, end in kept):
            present.add(edge)
    return present


def _corner(before: _Beside, after: _Beside) -> list[Tagged]:
    """What joins two neighbours; shortens them where they meet before their corner.

    With widths a and b and a turn by the angle, the two straight lines meet (b - a cos) / sin
    beyond the end of the one and (a - b cos) / sin before the start of the other.
    """
    if abs(before.line.end - after.line.start) <= _JOINED:
        return []
    a, b = before.width, after.width
    angle = turning(before.arriving, after.leaving)
    if abs(angle) < _STRAIGHT_ON:
        return _across(before, after)
    if a == b:
        beyond = ahead = a * math.tan(angle / 2)
    else:
        beyond = (b - a * math.cos(angle)) / math.sin(angle)
        ahead = (a - b * math.cos(angle)) / math.sin(angle)
    if beyond >= 0 and ahead >= 0:
        return _mitred(before, after, beyond)
    # Of two unequal widths one may have to give way; more than their difference looks wrong.
    given = max(-beyond, -ahead) if angle > 0 else max(beyond, ahead)
    if given <= abs(a - b) or (angle > 0 and (before.on_fold or after.on_fold)):
        met = _met(before, after, max(beyond, 0.0), max(ahead, 0.0))
        if met is not None:
            return met
    if a != b:
        return _stepped(before, after)
    return _across(before, after) if angle > 0 else _through(before, after)


def _mitred(before: _Beside, after: _Beside, beyond: float) -> list[Tagged]:
    """The two lines led to their meeting outside, or cut off where that is too far."""
    end, start, corner = before.line.end, after.line.start, before.end
    limit = MITRE * max(before.width, after.width)
    tip = end + before.arriving * beyond
    if abs(tip - corner) <= limit:
        return [(Line(end, tip), before.edge), (Line(tip, start), after.edge)]
    way = before.arriving - after.leaving
    way /= abs(way)
    first = _until(end, before.arriving, corner, way, limit)
    second = _until(start, -after.leaving, corner, way, limit)
    return [
        (Line(end, first), before.edge),
        (Line(first, second), NOWHERE),
        (Line(second, start), after.edge),
    ]


def _until(place: complex, way: complex, corner: complex, out: complex, limit: float) -> complex:
    """The point where a ray is so far out from the corner; at least its start."""
    gone = (limit - dot(out, place - corner)) / dot(out, way)
    return place + way * max(gone, 0.0)


def _met(before: _Beside, after: _Beside, beyond: float, ahead: float) -> list[Tagged] | None:
    """Both lines cut off at their meeting, one of them led there; none if they do not meet."""
    reach = 2 * max(before.width, after.width)
    first, second = before.line, after.line
    if beyond:
        first = first.joined(line(first.end, first.end + before.arriving * (beyond + reach)))
    if ahead:
        start = second.start - after.leaving * (ahead + reach)
        second = line(start, second.start).joined(second)
    hits = meetings(first, second)
    if not hits:
        return None
    own, led = before.line.length, second.length - after.line.length
    hit = min(hits, key=lambda hit: abs(own - hit.first_at) + abs(hit.second_at - led))
    joint: list[Tagged] = []
    if hit.first_at > own:
        joint.append((Line(before.line.end, hit.point), before.edge))
    elif hit.first_at > _JOINED:
        before.line = before.line.part(0.0, hit.first_at)
    else:
        return None
    if hit.second_at < led:
        joint.append((Line(hit.point, after.line.start), after.edge))
    elif second.length - hit.second_at > _JOINED:
        after.line = second.part(hit.second_at, second.length)
    else:
        return None
    return joint


def _stepped(before: _Beside, after: _Beside) -> list[Tagged]:
    """The narrower line led to the square end of the wider one, and along that."""
    forwards = before.width < after.width
    narrow = before.line if forwards else after.line.reversed()
    square = after.line.start if forwards else before.line.end
    reach = max(before.width, after.width)
    led = narrow.joined(line(narrow.end, narrow.end + narrow.end_direction * reach))
    hits = meetings(led, line(before.end, square))
    hit = max(hits, key=lambda hit: hit.first_at, default=None)
    if hit is None:
        return _across(before, after)
    if hit.first_at <= _JOINED:
        return _through(before, after)
    joint = [Line(hit.point, square)]
    if hit.first_at > narrow.length:
        joint.insert(0, Line(narrow.end, hit.point))
    elif forwards:
        before.line = narrow.part(0.0, hit.first_at)
    else:
        after.line = narrow.part(0.0, hit.first_at).reversed()
    if not forwards:
        joint = [step.reversed() for step in reversed(joint)]
    return [(step, NOWHERE) for step in joint]


def _across(before: _Beside, after: _Beside) -> list[Tagged]:
    return [(Line(before.line.end, after.line.start), NOWHERE)]


def _through(before: _Beside, after: _Beside) -> list[Tagged]:
    """Over the corner itself, inside the ring's allowance: the loop falls out later."""
    return [
        (Line(before.line.end, before.end), NOWHERE),
        (Line(before.end, after.line.start), NOWHERE),
    ]
