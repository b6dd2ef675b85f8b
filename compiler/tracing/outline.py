"""The outline of a piece in a drawing, and its corners."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from oaktag.compiler.geometry import (
    Box,
    Path,
    chain,
    contains,
    line,
    ring_area,
    self_crossings,
)
from oaktag.compiler.tracing.drawing import Drawing, TracingError

MEETS = 0.1  # mm: ends nearer than this are one point
MEETS_UNSCALED = 2e-4  # the same where the size is not known, as a share of the whole drawing
CORNER = math.radians(20)  # a turn sharper than this is a corner; common practice, no source
BESIDE = 0.05  # share of the largest outline from which another beside it may be the piece too


def outline_of(drawing: Drawing, name: str) -> Path:
    """The closed line with the greatest area, clockwise; separate lines that meet are joined."""
    if not drawing.lines:
        raise TracingError(f"{name} has no lines", help="draw the outline of the piece in it")
    near = MEETS
    if not drawing.scaled:
        near = MEETS_UNSCALED * _extent([path.box() for path in drawing.lines])
    closed, gap = _closed(drawing.lines, near)
    if not closed:
        away = "{0}" if drawing.scaled else f"{gap:.4g} of its own units"
        raise TracingError(
            f"the outline in {name} is open by {away}",
            gap,
            help="close it: its last point must be its first",
        )
    closed.sort(key=lambda path: -abs(ring_area(path)))
    largest, others = closed[0], closed[1:]
    for other in others:
        if abs(ring_area(other)) > BESIDE * abs(ring_area(largest)) and not contains(
            largest, other.start
        ):
            raise TracingError(
                f"{name} holds more than one piece", help="leave only the one to be traced in it"
            )
    crossings = self_crossings(largest, closed=True)
    if crossings:
        away = "{0}" if drawing.scaled else f"{crossings[0][0]:.4g} of its own units"
        raise TracingError(
            f"the outline in {name} crosses itself, {away} from where it begins",
            crossings[0][0],
            help="draw it without the crossing",
        )
    return largest.reversed() if ring_area(largest) > 0 else largest


def corners_from_upper_left(outline: Path, wanted: int, name: str) -> list[Path]:
    """The outline cut at its corners, clockwise from the one at the upper left."""
    ring = _from_a_corner(outline, name)
    at = [0.0, *ring.corners(CORNER), ring.length]
    edges = [ring.part(start, end) for start, end in pairwise(at)]
    if len(edges) != wanted:
        raise TracingError(
            f"the outline in {name} has {len(edges)} corners, but {wanted} edges are named",
            help="name one edge for each corner, or round the corners that are none "
            f"(a turn of more than {math.degrees(CORNER):.0f} degrees counts)",
        )
    first = max(range(wanted), key=lambda i: edges[i].start.imag - edges[i].start.real)
    return edges[first:] + edges[:first]


def _extent(boxes: Sequence[Box]) -> float:
    """The greater of width and height of all boxes together."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return float(max(max(rights) - min(lefts), max(tops) - min(bottoms)))


def _from_a_corner(outline: Path, name: str) -> Path:
    """The same ring, starting at a corner of it."""
    joint = outline.start_direction / outline.end_direction
    if abs(math.atan2(joint.imag, joint.real)) > CORNER:
        return outline
    corners = outline.corners(CORNER)
    if not corners:
        raise TracingError(
            f"the outline in {name} has no corners",
            help="edges run from corner to corner: a turn of more than "
            f"{math.degrees(CORNER):.0f} degrees is one",
        )
    first, second = outline.split_at(corners[0])
    return second.joined(first)


def _closed(lines: Sequence[Path], near: float) -> tuple[list[Path], float]:
    """Closed lines, some joined from several, and the smallest gap of those left open."""
    closed = [path for path in lines if _gap(path) <= near and path.length > near]
    waiting = _Ends([path for path in lines if _gap(path) > near], near)
    gap = math.inf
    while (path := waiting.any()) is not None:
        while _gap(path) > near:
            following = waiting.at(path.end)
            if following is None:
                break
            path = _joined(path, following)
        if _gap(path) <= near:
            closed.append(path)
        else:
            gap = min(gap, _gap(path))
    return [_shut(path) for path in closed], gap


class _Ends:
    """Lines that wait to be joined, found by where they end."""

    def __init__(self, lines: Sequence[Path], near: float) -> None:
        self.near = near
        self.waiting = dict(enumerate(lines))
        self.cells: dict[tuple[int, int], list[int]] = {}
        for number, path in self.waiting.items():
            for end in (path.start, path.end):
                self.cells.setdefault(self._cell(end), []).append(number)

    def _cell(self, place: complex) -> tuple[int, int]:
        return math.floor(place.real / self.near), math.floor(place.imag / self.near)

    def any(self) -> Path | None:
        """The first line that is left."""
        number = next(iter(self.waiting), None)
        return None if number is None else self.waiting.pop(number)

    def at(self, place: complex) -> Path | None:
        """A line that is left and ends near a place, led away from there."""
        column, row = self._cell(place)
        numbers = sorted(
            number
            for i in (-1, 0, 1)
            for j in (-1, 0, 1)
            for number in self.cells.get((column + i, row + j), ())
            if number in self.waiting
        )
        for number in numbers:
            path = self.waiting[number]
            for walked in (path, path.reversed()):
                if abs(walked.start - place) <= self.near:
                    del self.waiting[number]
                    return walked
        return None


def _joined(first: Path, second: Path) -> Path:
    gap = line(first.end, second.start)
    return chain([first, gap, second] if gap.length > 1e-9 else [first, second])


def _shut(path: Path) -> Path:
    return path if _gap(path) < 1e-9 else chain([path, line(path.end, path.start)])


def _gap(path: Path) -> float:
    return abs(path.end - path.start)
