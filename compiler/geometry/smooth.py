"""Blending the corners of a line into one smooth line."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.fair import hobby_between
from oaktag.compiler.geometry.path import Path
from oaktag.compiler.geometry.vectors import turning

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.geometry.segment import Segment

_CORNER = 1e-4
_END_KEPT = 0.05
# A blend is as long as it may be to this share; below so many mm it is given up.
_NEAR_ENOUGH = 5e-3
_SHORTEST = 1e-3
_SAMPLES = tuple(k / 12 for k in range(1, 12))


def blended(path: Path, within: float) -> Path:
    """The path with every corner (a turn above 1e-4 radians) replaced by a smooth curve.

    The new line keeps its ends and the directions there, and stays within so many mm of the old,
    measured both ways. Corners that turn to and fro, or with less than `within` between them, are
    blended by one long curve where that stays near enough, so that a step or a zigzag becomes one
    sweep. Each blend takes as long a stretch as it may: up to half of the smooth stretch between
    two of them, and nearly all of the first and the last.
    """
    corners = path.corners(_CORNER)
    if not corners or within <= 0:
        return path
    low = corners[0] * _END_KEPT
    high = path.length - (path.length - corners[-1]) * _END_KEPT
    segments: list[Segment] = []
    done = 0.0
    for start, end, blend in _blends(path, corners, low, high, within):
        segments += _kept(path, done, start)
        segments.append(blend)
        done = end
    segments += _kept(path, done, path.length)
    return Path(segments)


def _blends(
    path: Path, corners: tuple[float, ...], low: float, high: float, within: float
) -> list[tuple[float, float, Segment]]:
    """Blends over all these corners, as few as fairness asks for, between two places."""
    together = len(corners) == 1 or _as_one(path, corners, within)
    one = _blend(path, corners[0], corners[-1], low, high, within) if together else None
    if one or len(corners) == 1:
        return [one] if one else []
    gaps = [after - before for before, after in pairwise(corners)]
    parting = gaps.index(max(gaps)) + 1
    middle = (corners[parting - 1] + corners[parting]) / 2
    return [
        *_blends(path, corners[:parting], low, middle, within),
        *_blends(path, corners[parting:], middle, high, within),
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
    path: Path, first: float, last: float, low: float, high: float, within: float
) -> tuple[float, float, Segment] | None:
    """The longest blend over the corners from first to last: where it starts, ends, and itself."""
    reach = max(first - low, high - last)
    shortest = max(_SHORTEST, (last - first) / 10)

    def tried(size: float) -> tuple[float, float, Segment] | None:
        s0, s1 = max(low, first - size), min(high, last + size)
        old = path.part(s0, s1)
        a, b = old.start, old.end
        if a == b:
            return None
        new = hobby_between(a, b, path.tangent_at(s0), path.tangent_at(s1, before=True))
        return (s0, s1, new) if _stays(new, old, within) else None

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
    while best and _farthest(best[2], path.part(best[0], best[1])) > within:
        good *= 0.995
        best = tried(good)
    return best


def _stays(new: Segment, old: Path, within: float) -> bool:
    """Whether each line stays within reach of the other, at some places."""
    if any(new.nearest(old.point_at(corner))[1] > within for corner in old.corners(_CORNER)):
        return False
    if any(old.nearest(new.point(share))[1] > within for share in _SAMPLES):
        return False
    whole = old.length
    return all(new.nearest(old.point_at(whole * share))[1] <= within for share in _SAMPLES)


def _farthest(new: Segment, old: Path) -> float:
    """The greatest distance of either line from the other (mm)."""
    whole = old.length
    return max(
        _summit(lambda share: old.nearest(new.point(share))[1]),
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
