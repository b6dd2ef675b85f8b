"""What a ring encloses: area, inside and outside, crossings, and what lies between two paths."""

from __future__ import annotations

import heapq
import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.crossing import line_hits, pair_hits
from oaktag.compiler.geometry.cubic import stationary
from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.meet import meetings
from oaktag.compiler.geometry.path import JOINT, Path
from oaktag.compiler.geometry.segment import Arc, Cubic, Line
from oaktag.compiler.geometry.vectors import cross, distance_to_box, dot

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.geometry.segment import Segment
    from oaktag.compiler.geometry.vectors import Box

_ON_LINE = 1e-6
_NO_AREA = 1e-9


def ring_area(path: Path) -> float:
    """The area a closed path encloses in mm², positive if it runs anticlockwise."""
    return path.area()


def contains(ring: Path, p: complex) -> bool:
    """Whether a point lies inside a closed path or on it (within 1e-6 mm).

    A point is inside if the path winds around it. Raises GeometryError for an open path.
    """
    if not ring.closed:
        raise GeometryError("only a closed line has an inside")
    if distance_to_box(ring.box(), p) > _ON_LINE:
        return False
    for segment in ring.segments:
        if distance_to_box(segment.box(), p) <= _ON_LINE and segment.nearest(p)[1] <= _ON_LINE:
            return True
    return sum(_winding(segment, p) for segment in ring.segments) != 0


def _winding(segment: Segment, p: complex) -> int:
    """Crossings of the segment with the level ray to the right of p: upward +1, downward -1."""
    left, bottom, right, top = segment.box()
    y = p.imag
    if right < p.real or y < bottom or y > top:
        return 0
    total = 0
    for low, high in _level_parts(segment):
        from_y, to_y = segment.point(low).imag, segment.point(high).imag
        # Half-open, so that a level through a joint counts it for one of the neighbours only.
        if (from_y <= y) == (to_y <= y):
            continue
        upward = 1 if from_y <= y else -1
        if left > p.real or _at_level(segment, low, high, y) > p.real:
            total += upward
    return total


def _level_parts(segment: Segment) -> Iterator[tuple[float, float]]:
    """Stretches of t on which the segment only rises or only falls."""
    stops = [0.0, 1.0]
    if isinstance(segment, Cubic):
        a, b, c, d = (
            segment.start.imag,
            segment.first.imag,
            segment.second.imag,
            segment.end.imag,
        )
        stops[1:1] = stationary(b - a, c - b, d - c)
    elif isinstance(segment, Arc):
        spoke = segment.start - segment.centre
        begin = math.atan2(spoke.imag, spoke.real)
        quarter = math.pi / 2
        turns = sorted(
            (k * quarter - begin) / segment.sweep for k in range(-9, 10, 2) if segment.sweep
        )
        stops[1:1] = [t for t in turns if 0 < t < 1]
    return itertools.pairwise(stops)


def _at_level(segment: Segment, low: float, high: float, y: float) -> float:
    """The x at which a rising or falling stretch passes the level y."""
    if isinstance(segment, Line):
        a, b = segment.start, segment.end
        return a.real + (y - a.imag) / (b.imag - a.imag) * (b.real - a.real)
    rising = segment.point(low).imag <= y
    for t in line_hits(segment, complex(0, y), 1 + 0j, 0.0):
        if low <= t <= high:
            return segment.point(t).real
    # Rounding hid the root: halve the stretch instead.
    for _ in range(60):
        middle = (low + high) / 2
        if (segment.point(middle).imag <= y) == rising:
            low = middle
        else:
            high = middle
    return segment.point(low).real


def self_crossings(
    path: Path, closed: bool, since: Path | None = None
) -> list[tuple[float, float, complex]]:
    """Where a path meets itself: (earlier place, later place, point), in order.

    The joints of neighbouring segments do not count, and with `closed` neither does the joint
    of the end with the start. since: a path known not to cross itself, from which this one was
    made: segments that it shares with that one are not looked at again.
    """
    known = {id(segment) for segment in since.segments} if since is not None else set()
    found: list[tuple[float, float, complex]] = []
    segments = path.segments
    last = len(segments) - 1
    for i, one in enumerate(segments):
        if isinstance(one, Cubic) and id(one) not in known:
            loop = _own_loop(one)
            if loop:
                found.append((path.place(i, loop[0]), path.place(i, loop[1]), one.point(loop[0])))
    for i, j in _near_pairs([segment.box() for segment in segments], 1e-7):
        if id(segments[i]) in known and id(segments[j]) in known:
            continue
        if j == i + 1 and _part_at_joint(segments[i], segments[j]):
            continue
        if closed and i == 0 and j == last and _part_at_joint(segments[j], segments[i]):
            continue
        for t, u, point in pair_hits(segments[i], segments[j], 1e-7):
            a, b = path.place(i, t), path.place(j, u)
            if b - a <= 2 * JOINT and j == i + 1:
                continue
            if closed and i == 0 and j == last and path.length - b + a <= 2 * JOINT:
                continue
            found.append((a, b, point))
    found.sort(key=lambda hit: (hit[0], hit[1]))
    kept: list[tuple[float, float, complex]] = []
    for hit in found:
        for other in reversed(kept):
            if hit[0] - other[0] > 1e-5:
                kept.append(hit)
                break
            if abs(hit[1] - other[1]) <= 1e-5:
                break
        else:
            kept.append(hit)
    return kept


def _part_at_joint(one: Segment, following: Segment) -> bool:
    """Whether two joined segments lie on two sides of a line through their joint."""
    if isinstance(one, Arc) or isinstance(following, Arc):
        return False
    joint = one.end
    ahead = one.tangent(1) + following.tangent(0)
    behind = (one.start, one.first, one.second) if isinstance(one, Cubic) else (one.start,)
    beyond = (
        (following.first, following.second, following.end)
        if isinstance(following, Cubic)
        else (following.end,)
    )
    return all(dot(ahead, p - joint) < 0 for p in behind) and all(
        dot(ahead, p - joint) > 0 for p in beyond
    )


def _near_pairs(boxes: Sequence[Box], gap: float) -> Iterator[tuple[int, int]]:
    """The pairs (lower number first) of boxes with no more than a gap between them, by a sweep."""
    open_boxes: list[int] = []
    for number in sorted(range(len(boxes)), key=lambda i: boxes[i][0]):
        left, bottom, _, top = boxes[number]
        open_boxes = [i for i in open_boxes if boxes[i][2] >= left - gap]
        for other in open_boxes:
            if boxes[other][1] <= top + gap and boxes[other][3] >= bottom - gap:
                yield (other, number) if other < number else (number, other)
        open_boxes.append(number)


def _own_loop(cubic: Cubic) -> tuple[float, float] | None:
    """The two values of t at which a cubic passes through one point, if it has a loop.

    B(t) = B(u) divided by t - u gives the sum and the product of t and u in closed form.
    """
    a, b, c, d = cubic.start, cubic.first, cubic.second, cubic.end
    a1, a2, a3 = 3 * (b - a), 3 * (a - 2 * b + c), d - a + 3 * (b - c)
    across = cross(a3, a2)
    if abs(across) <= 1e-14 * abs(a3) * abs(a2) or across == 0:
        return None
    total = -cross(a3, a1) / across
    product = total * total + dot(a3, a2 * total + a1) / dot(a3, a3)
    square = total * total - 4 * product
    if square <= 1e-16:
        return None
    root = math.sqrt(square)
    t, u = (total - root) / 2, (total + root) / 2
    if t < -1e-12 or u > 1 + 1e-12 or (t <= 1e-12 and u >= 1 - 1e-12):
        return None
    return max(t, 0.0), min(u, 1.0)


def lenses(old: Path, new: Path) -> list[tuple[Path, float]]:
    """What lies between two paths with the same ends: (closed ring, signed area in mm²).

    Each ring runs along the new path and back along the old one. Its area is positive where the
    new path lies to the right of the old: on an anticlockwise outline, where paper was let in.
    The areas add up to the whole difference. Raises GeometryError if the ends differ.
    """
    if abs(old.start - new.start) > JOINT or abs(old.end - new.end) > JOINT:
        raise GeometryError("what lies between two lines needs both to have the same ends")
    stops = [(0.0, 0.0)]
    for meeting in () if _inside_corner(old, new) else meetings(old, new):
        s, u = meeting.first_at, meeting.second_at
        if JOINT < s < old.length - JOINT and JOINT < u < new.length - JOINT:
            stops.append((s, u))
    stops.append((old.length, new.length))
    found = []
    for (s0, u0), (s1, u1) in itertools.pairwise(stops):
        back = old.part(s0, s1).reversed()
        out = new.part(u0, u1) if u0 <= u1 else new.part(u1, u0).reversed()
        ring = _ring(out, back)
        area = ring.area() if ring else 0.0
        if ring and abs(area) >= _NO_AREA:
            found.append((ring, area))
    return found


def _inside_corner(old: Path, new: Path) -> bool:
    """Whether the new path is one curve that rounds the one corner of the old: nowhere do they
    meet.
    """
    if len(old.segments) != 2 or len(new.segments) != 1:
        return False
    (one, other), curve = old.segments, new.segments[0]
    if not (isinstance(one, Line) and isinstance(other, Line) and isinstance(curve, Cubic)):
        return False
    # Its handles lie on the two legs, so it lies inside the corner.
    return (
        abs(cross(one.tangent(1), curve.first - one.start)) <= _ON_LINE
        and 0 < dot(one.tangent(1), curve.first - one.start) <= one.length
        and abs(cross(other.tangent(0), curve.second - other.end)) <= _ON_LINE
        and 0 < dot(other.tangent(0), other.end - curve.second) <= other.length
    )


def _ring(out: Path, back: Path) -> Path | None:
    segments = [s for s in (*out.segments, *back.segments) if s.length > 0]
    return Path(segments) if len(segments) > 1 else None


def interior_point(ring: Path) -> complex:
    """A point inside a closed path far from its boundary, for a label.

    Squares are halved where they may still hold a point farther from the boundary, until the
    best is within a fiftieth of the ring's smaller extent.
    """
    left, bottom, right, top = ring.box()
    width, height = right - left, top - bottom
    size = min(width, height)
    if size <= 0:
        return ring.point_at(ring.length / 2)
    corners = ring.flattened(size / 100)
    half = size / 2
    best_point, best = complex(left + width / 2, bottom + height / 2), -math.inf
    queue: list[tuple[float, float, float, float, float]] = []

    def consider(x: float, y: float, half: float) -> None:
        nonlocal best_point, best
        depth = _depth(corners, complex(x, y))
        if depth > best:
            best_point, best = complex(x, y), depth
        if depth + half * math.sqrt(2) > best:
            heapq.heappush(queue, (-(depth + half * math.sqrt(2)), x, y, half, depth))

    for i in range(math.ceil(width / size)):
        for j in range(math.ceil(height / size)):
            consider(left + (2 * i + 1) * half, bottom + (2 * j + 1) * half, half)
    while queue:
        bound, x, y, half, _ = heapq.heappop(queue)
        if -bound - best <= size / 50:
            break
        half /= 2
        for dx in (-half, half):
            for dy in (-half, half):
                consider(x + dx, y + dy, half)
    return best_point


def _depth(corners: Sequence[complex], p: complex) -> float:
    """Distance of p from a closed polygon, negative outside."""
    px, py = p.real, p.imag
    inside = False
    nearest = math.inf
    for a, b in itertools.pairwise(corners):
        ax, ay, bx, by = a.real - px, a.imag - py, b.real - px, b.imag - py
        if (ay > 0) != (by > 0) and ax + (0 - ay) / (by - ay) * (bx - ax) > 0:
            inside = not inside
        ux, uy = bx - ax, by - ay
        square = ux * ux + uy * uy
        t = -(ax * ux + ay * uy) / square if square else 0.0
        t = 0.0 if t < 0 else 1.0 if t > 1 else t
        x, y = ax + t * ux, ay + t * uy
        nearest = min(nearest, x * x + y * y)
    return math.sqrt(nearest) if inside else -math.sqrt(nearest)
