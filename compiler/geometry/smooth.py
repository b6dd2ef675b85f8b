"""Blending the corners of a line into one smooth line."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.fair import hobby_between
from oaktag.compiler.geometry.path import Path
from oaktag.compiler.geometry.segment import Arc, Cubic
from oaktag.compiler.geometry.vectors import turning

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from typing import Final

    from oaktag.compiler.geometry.segment import Segment

_CORNER = 1e-4
_END_KEPT = 0.05
_ARMS = 2.0
# A blend is as long as it may be to this share; below so many mm it is given up.
_NEAR_ENOUGH = 5e-3
_SHORTEST = 1e-3
_SAMPLES = tuple(k / 12 for k in range(1, 12))
# Samples this far below the limit need no closer look.
_WELL_WITHIN = 0.8


class Blend:
    """A smooth segment in place of a stretch of a path, from start to end in mm along it."""

    __slots__ = ("end", "segment", "start")

    start: Final[float]
    end: Final[float]
    segment: Final[Segment]

    def __init__(self, start: float, end: float, segment: Segment) -> None:
        self.start = start
        self.end = end
        self.segment = segment


def blended(path: Path, within: float, change: float = math.inf) -> Path:
    """The path with every corner (a turn above 1e-4 radians) replaced by a smooth curve.

    The new line keeps its ends and the directions there, and stays within so many mm of the old,
    measured both ways. Each corner makes it longer or shorter by no more than `change` mm. Corners
    that turn to and fro, or with less than `within` between them, are blended by one long curve
    where that stays near enough, so that a step or a zigzag becomes one sweep; what a step itself
    is long does not count as a change. Each blend takes as long a stretch as it may: up to half of
    the smooth stretch between two of them, and nearly all of the first and the last.
    """
    return replaced(path, blends(path, within, change))


def blends(path: Path, within: float, change: float = math.inf) -> tuple[Blend, ...]:
    """What `blended` puts in place of the corners, in order."""
    corners = path.corners(_CORNER)
    if not corners or within <= 0:
        return ()
    low = corners[0] * _END_KEPT
    high = path.length - (path.length - corners[-1]) * _END_KEPT
    return tuple(_blends(path, corners, (low, high), within, change))


def replaced(path: Path, parts: tuple[Blend, ...]) -> Path:
    """The path with segments in place of stretches of it."""
    segments: list[Segment] = []
    done = 0.0
    for part in parts:
        segments += _kept(path, done, part.start)
        segments.append(part.segment)
        done = part.end
    segments += _kept(path, done, path.length)
    return Path(segments) if parts else path


def _blends(
    path: Path,
    corners: tuple[float, ...],
    room: tuple[float, float],
    within: float,
    change: float,
) -> list[Blend]:
    """Blends over all these corners, as few as fairness asks for, between two places."""
    together = len(corners) == 1 or _as_one(path, corners, within)
    one = _blend(path, corners, room, within, change) if together else None
    if one or len(corners) == 1:
        return [one] if one else []
    gaps = [after - before for before, after in pairwise(corners)]
    parting = gaps.index(max(gaps)) + 1
    middle = (corners[parting - 1] + corners[parting]) / 2
    return [
        *_blends(path, corners[:parting], (room[0], middle), within, change),
        *_blends(path, corners[parting:], (middle, room[1]), within, change),
    ]


def _as_one(path: Path, corners: tuple[float, ...], within: float) -> bool:
    """Whether corners had better be one curve: a step, or turns to both sides."""
    if all(after - before < within for before, after in pairwise(corners)):
        return True
    turns = [turning(path.tangent_at(at, before=True), path.tangent_at(at)) for at in corners]
    return min(turns) < 0 < max(turns)


def _kept(path: Path, s0: float, s1: float) -> list[Segment]:
    return list(path.part(s0, s1).segments) if s1 - s0 > 1e-9 else []


def _blend(
    path: Path,
    corners: tuple[float, ...],
    room: tuple[float, float],
    within: float,
    change: float,
) -> Blend | None:
    """The longest blend over these corners."""
    (low, high), first, last = room, corners[0], corners[-1]
    reach = max(first - low, high - last)
    shortest = max(_SHORTEST, (last - first) / 10)

    def made(size: float) -> Blend | None:
        s0, s1 = max(low, first - size), min(high, last + size)
        if first == last:
            # With one arm much longer than the other the curve would swing out before it turns.
            short = min(first - s0, s1 - last)
            s0, s1 = max(s0, first - _ARMS * short), min(s1, last + _ARMS * short)
        a, b = path.point_at(s0), path.point_at(s1)
        if a == b:
            return None
        new = hobby_between(a, b, path.tangent_at(s0), path.tangent_at(s1, before=True))
        return Blend(s0, s1, new)

    def tried(size: float) -> tuple[Blend, float] | None:
        """A blend that stays near, looked at in some places, and how far it goes there."""
        blend = made(size)
        if blend is None:
            return None
        off = _off(blend.segment, path.part(blend.start, blend.end), within)
        return (blend, off) if off <= within else None

    def stays(blend: Blend, off: float) -> bool:
        """Whether it does in all places."""
        if off <= _WELL_WITHIN * within:
            return True
        return _farthest(blend.segment, path.part(blend.start, blend.end)) <= within

    bad = size = reach
    best = tried(size)
    while best is None and size > shortest:
        bad, size = size, size / 2
        best = tried(size)
    good = size
    while best and bad - good > _NEAR_ENOUGH * bad:
        size = (good + bad) / 2
        better = tried(size)
        if better:
            good, best = size, better
        else:
            bad = size
    while best and not stays(*best):
        good *= 0.995
        best = tried(good)
    if best is None:
        return None
    blend = best[0]
    if math.isinf(change):
        return blend
    steps = sum(gap for before, after in pairwise(corners) if (gap := after - before) < within)
    # What the room or the arms cut off at the start would only be counted down again.
    good = min(good, max(first - blend.start, blend.end - last))
    return _changing_less(made, blend, good, change * len(corners), steps)


def _changing_less(
    made: Callable[[float], Blend | None], best: Blend, size: float, change: float, steps: float
) -> Blend | None:
    """A blend so short that the length changes by no more than that, besides what steps are long.

    The change mostly grows with the size as a straight line, or faster. Where the shorter arm is at
    its limit already it hardly grows at all, so each round takes off a twentieth at least.
    """
    for _ in range(100):
        off = abs(best.segment.length - (best.end - best.start))
        off = min(off, abs(best.segment.length + steps - (best.end - best.start)))
        if off <= change * (1 + 1e-6):
            return best
        size *= min(change / off, 0.95)
        if size <= _SHORTEST:
            return None
        smaller = made(size)
        if smaller is None:
            return None
        best = smaller
    return None


def _off(new: Segment, old: Path, within: float) -> float:
    """How far the lines go from each other at some places; if over `within`, not to the end.

    0 where it is plain that they go nowhere farther.
    """
    most = 0.0
    if not _in_a_strip(new, old, within):
        for distance in _distances(new, old):
            most = max(most, distance)
            if most > within:
                break
    return most


def _distances(new: Segment, old: Path) -> Iterator[float]:
    """How far the lines are apart (mm): at the corners, where it is mostly most, and between."""
    for corner in old.corners(_CORNER):
        yield new.nearest(old.point_at(corner))[1]
    for share in _SAMPLES:
        yield old.distance(new.point(share))
    for share in _SAMPLES:
        yield new.nearest(old.point_at(old.length * share))[1]


def _in_a_strip(new: Segment, old: Path, within: float) -> bool:
    """Whether both lines run from end to end of a strip no wider than that.

    Then they are nowhere farther apart: wherever one is, the other passes abreast of it.
    """
    if any(isinstance(segment, Arc) for segment in old.segments):
        return False
    chord = old.end - old.start
    size = abs(chord)
    places = [
        (handle - old.start) / chord for item in (new, *old.segments) for handle in _hull(item)
    ]
    heights = [place.imag for place in places]
    return (
        (max(heights) - min(heights)) * size <= within
        and min(place.real for place in places) >= -1e-9
        and max(place.real for place in places) <= 1 + 1e-9
    )


def _hull(segment: Segment) -> tuple[complex, ...]:
    if isinstance(segment, Cubic):
        return segment.start, segment.first, segment.second, segment.end
    return segment.start, segment.end


def _farthest(new: Segment, old: Path) -> float:
    """The greatest distance of either line from the other (mm)."""
    whole = old.length
    return max(
        _summit(lambda share: old.distance(new.point(share))),
        _summit(lambda share: new.nearest(old.point_at(whole * share))[1]),
        *(new.nearest(old.point_at(corner))[1] for corner in old.corners(_CORNER)),
    )


def _summit(distance: Callable[[float], float]) -> float:
    """The greatest value over 0 to 1: the highest of many, closed in on by thirds."""
    count = 32
    values = [distance(k / count) for k in range(count + 1)]
    highest = max(values)
    for at, value in enumerate(values):
        if value < highest * 0.98:
            continue
        low, high = max(0, at - 1) / count, min(count, at + 1) / count
        for _ in range(12):
            left, right = low + (high - low) / 3, high - (high - low) / 3
            at_left, at_right = distance(left), distance(right)
            highest = max(highest, at_left, at_right)
            if at_left < at_right:
                low = left
            else:
                high = right
    return highest
