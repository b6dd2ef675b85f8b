"""Blending the corners of a line into one smooth line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry.fair import hobby_between
from oaktag.compiler.geometry.path import Path

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.geometry.segment import Segment

_CORNER = 1e-4
_END_KEPT = 0.05
# A blend is as long as it may be to this share of its reach; below so many mm it is given up.
_NEAR_ENOUGH = 2e-3
_SHORTEST = 1e-3
_SAMPLES = tuple(k / 12 for k in range(1, 12))


def blended(path: Path, within: float) -> Path:
    """The path with every corner (a turn above 1e-4 radians) replaced by a smooth curve.

    The new line keeps its ends and the directions there, and stays within so many mm of the old,
    measured both ways. Each blend takes as long a stretch as that allows: up to half of the
    smooth stretch between two corners, and nearly all of the first and the last. Corners with
    less than `within` between them, as at a small step, are blended over as one.
    """
    corners = path.corners(_CORNER)
    if not corners or within <= 0:
        return path
    groups = _groups(corners, within)
    edges = _edges(groups, path.length)
    segments: list[Segment] = []
    done = 0.0
    for (first, last), (low, high) in zip(groups, edges, strict=True):
        blend = _blend(path, first, last, low, high, within)
        if blend is None and first < last:
            # One curve cannot follow the whole group: take its corners one by one.
            inner = [s for s in corners if first <= s <= last]
            for at, corner in enumerate(inner):
                left = low if at == 0 else (inner[at - 1] + corner) / 2
                right = high if at == len(inner) - 1 else (corner + inner[at + 1]) / 2
                single = _blend(path, corner, corner, left, right, within)
                if single:
                    segments += _kept(path, done, single[0])
                    segments.append(single[2])
                    done = single[1]
        elif blend:
            segments += _kept(path, done, blend[0])
            segments.append(blend[2])
            done = blend[1]
    segments += _kept(path, done, path.length)
    return Path(segments)


def _kept(path: Path, s0: float, s1: float) -> list[Segment]:
    return list(path.part(s0, s1).segments) if s1 - s0 > 1e-9 else []


def _groups(corners: tuple[float, ...], within: float) -> list[tuple[float, float]]:
    """The corners by groups of near neighbours: place of the first and of the last."""
    groups = [(corners[0], corners[0])]
    for corner in corners[1:]:
        if corner - groups[-1][1] < within:
            groups[-1] = (groups[-1][0], corner)
        else:
            groups.append((corner, corner))
    return groups


def _edges(groups: list[tuple[float, float]], whole: float) -> list[tuple[float, float]]:
    """How far each blend may reach back and forward."""
    edges = []
    for at, (first, last) in enumerate(groups):
        low = (groups[at - 1][1] + first) / 2 if at else first * _END_KEPT
        if at < len(groups) - 1:
            high = (last + groups[at + 1][0]) / 2
        else:
            high = whole - (whole - last) * _END_KEPT
        edges.append((low, high))
    return edges


def _blend(
    path: Path, first: float, last: float, low: float, high: float, within: float
) -> tuple[float, float, Segment] | None:
    """The longest blend over the corners from first to last: where it starts, ends, and itself."""
    reach = max(first - low, high - last)

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
    while best is None and size > _SHORTEST:
        bad, size = size, size * 0.7
        best = tried(size)
    good = size
    while best and bad - good > _NEAR_ENOUGH * reach:
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
