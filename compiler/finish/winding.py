"""What of a tangled closed line bounds the region it winds around."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Line, Path, ring_area

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Segment

_BESIDE = 2e-3  # mm: how far from the line its two sides are looked at
_FLAT = 2e-4  # mm: how exactly
_SAME = 1e-6  # mm along the line
_JOINED = 1e-6  # mm
_GAP = 0.01  # mm: ends nearer than this are one crossing, found twice
_NO_HOLE = 0.1  # mm²


def bounding(
    whole: Path, crossings: Sequence[tuple[float, float, complex]]
) -> tuple[Path | None, list[tuple[float, float]]]:
    """The outer boundary of a closed line that crosses itself, with the stretches kept of it.

    A stretch is kept if the line winds around what lies to its left (once or more) and not around
    what lies to its right. None if that leaves a hole in the region.
    """
    corners = whole.flattened(_FLAT)
    kept = [
        (start, end)
        for start, end in _stretches(whole, crossings)
        if _bounds(whole, corners, start, end)
    ]
    loops = [(_joined(whole, loop), loop) for loop in _loops(whole, kept)]
    if not loops:
        return None, []
    areas = [ring_area(path) for path, _ in loops]
    outer = areas.index(max(areas))
    if min(areas) < -_NO_HOLE:
        return None, kept
    path, loop = loops[outer]
    return path, _unwrapped(whole, loop)


def _joined(whole: Path, loop: Sequence[tuple[float, float]]) -> Path:
    """The stretches as one closed path."""
    segments: list[Segment] = []
    for start, end in loop:
        path = _part(whole, start, end)
        if segments and abs(segments[-1].end - path.start) > _JOINED:
            segments.append(Line(segments[-1].end, path.start))
        segments += path.segments
    if abs(segments[-1].end - segments[0].start) > _JOINED:
        segments.append(Line(segments[-1].end, segments[0].start))
    return Path(segments)


def _stretches(
    whole: Path, crossings: Sequence[tuple[float, float, complex]]
) -> list[tuple[float, float]]:
    """The line between its crossings; the last stretch runs on over the start."""
    places: list[float] = []
    for place in sorted(place % whole.length for hit in crossings for place in hit[:2]):
        if not places or place - places[-1] > _SAME:
            places.append(place)
    return [*itertools.pairwise(places), (places[-1], places[0] + whole.length)]


def _bounds(whole: Path, corners: Sequence[complex], start: float, end: float) -> bool:
    middle = (start + end) / 2 % whole.length
    place, way = whole.point_at(middle), whole.tangent_at(middle)
    beside = way * 1j * min(_BESIDE, max((end - start) / 4, 4 * _FLAT))
    return _winding(corners, place + beside) >= 1 and _winding(corners, place - beside) <= 0


def _winding(corners: Sequence[complex], p: complex) -> int:
    """How often a closed polygon runs anticlockwise around a point."""
    total = 0
    x, y = p.real, p.imag
    for a, b in itertools.pairwise(corners):
        if (a.imag <= y) != (b.imag <= y):
            across = a.real + (y - a.imag) / (b.imag - a.imag) * (b.real - a.real)
            if across > x:
                total += 1 if b.imag > a.imag else -1
    return total


def _loops(whole: Path, kept: Sequence[tuple[float, float]]) -> list[list[tuple[float, float]]]:
    """The stretches led to each other, one list a closed line; what leads nowhere is left out."""
    left = list(kept)
    loops = []
    while left:
        loop = [left.pop(0)]
        start = whole.point_at(loop[0][0])
        end = whole.point_at(loop[0][1] % whole.length)
        while left and abs(end - start) > _GAP:
            following = min(left, key=lambda item: abs(whole.point_at(item[0]) - end))
            if abs(whole.point_at(following[0]) - end) > _GAP:
                break
            left.remove(following)
            loop.append(following)
            end = whole.point_at(following[1] % whole.length)
        if abs(end - start) <= _GAP:
            loops.append(loop)
    return loops


def _part(whole: Path, start: float, end: float) -> Path:
    if end <= whole.length:
        return whole.part(start, end)
    if start >= whole.length - _SAME:
        return whole.part(0.0, end - whole.length)
    head = whole.part(start, whole.length)
    return head if end - whole.length <= _SAME else head.joined(whole.part(0.0, end - whole.length))


def _unwrapped(whole: Path, order: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The stretches as parts of the line, none over its start."""
    out = []
    for start, end in order:
        out.append((start, min(end, whole.length)))
        if end > whole.length:
            out.append((0.0, end - whole.length))
    return out
