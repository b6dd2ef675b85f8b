"""Blending the corners of a line into one smooth line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry.fair import hobby_between
from oaktag.compiler.geometry.path import Path

if TYPE_CHECKING:
    from oaktag.compiler.geometry.segment import Segment

_CORNER = 1e-4
_END_KEPT = 0.05
_STEPS = 24
_SAMPLES = 24


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

    good, best = 0.0, None
    bad = reach
    size = reach
    for _ in range(40):
        best = tried(size)
        if best:
            good = size
            break
        bad = size
        size *= 0.7
    if best is None or good == reach:
        return best
    for _ in range(_STEPS):
        size = (good + bad) / 2
        better = tried(size)
        if better:
            good, best = size, better
        else:
            bad = size
        if bad - good <= 1e-6 * reach:
            break
    return best


def _stays(new: Segment, old: Path, within: float) -> bool:
    """Whether each line stays within reach of the other, at many places."""
    for corner in old.corners(_CORNER):
        if new.nearest(old.point_at(corner))[1] > within:
            return False
    for k in range(1, _SAMPLES):
        if old.nearest(new.point(k / _SAMPLES))[1] > within:
            return False
    whole = old.length
    return all(
        new.nearest(old.point_at(whole * k / _SAMPLES))[1] <= within for k in range(1, _SAMPLES)
    )
