"""The outline of a piece in a drawing, and its corners."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from oaktag.compiler.geometry import Arc, Cubic, Line, Path, Segment, chain, line, ring_area
from oaktag.compiler.tracing.drawing import Drawing, TracingError

MEETS = 0.1  # mm: ends nearer than this are one point
CORNER = math.radians(20)  # a turn sharper than this is a corner; common practice, no source


def outline_of(drawing: Drawing, name: str) -> Path:
    """The closed line with the greatest area, clockwise; separate lines that meet are joined."""
    if not drawing.lines:
        raise TracingError(f"{name} has no lines", "draw the outline of the piece in it")
    closed, gap = _closed(drawing.lines)
    if not closed:
        raise TracingError(
            f"the outline in {name} is open by {gap:.1f} mm",
            "close it: its last point must be its first",
        )
    largest = max(closed, key=lambda path: abs(ring_area(path)))
    return largest.reversed() if ring_area(largest) > 0 else largest


def corners_from_upper_left(outline: Path, wanted: int, name: str) -> list[Path]:
    """The outline cut at its corners, clockwise from the one at the upper left."""
    ring = _from_a_corner(outline)
    at = [0.0, *ring.corners(CORNER), ring.length]
    edges = [ring.part(start, end) for start, end in pairwise(at)]
    if len(edges) != wanted:
        raise TracingError(
            f"the outline in {name} has {len(edges)} corners, but {wanted} edges are named",
            "name one edge for each corner, or round the corners that are none "
            f"(a turn of more than {math.degrees(CORNER):.0f} degrees counts)",
        )
    first = max(range(wanted), key=lambda i: edges[i].start.imag - edges[i].start.real)
    return edges[first:] + edges[:first]


def enlarged(path: Path, factor: float) -> Path:
    """The path with every length multiplied: a drawing brought to its stated size."""
    segments: list[Segment] = []
    for segment in path.segments:
        if isinstance(segment, Cubic):
            handles = (segment.start, segment.first, segment.second, segment.end)
            segments.append(Cubic(*(handle * factor for handle in handles)))
        elif isinstance(segment, Arc):
            segments.append(Arc(segment.centre * factor, segment.start * factor, segment.sweep))
        else:
            segments.append(Line(segment.start * factor, segment.end * factor))
    return Path(segments)


def _from_a_corner(outline: Path) -> Path:
    """The same ring, starting at a corner of it."""
    joint = outline.start_direction / outline.end_direction
    if abs(math.atan2(joint.imag, joint.real)) > CORNER:
        return outline
    corners = outline.corners(CORNER)
    if not corners:
        raise TracingError("the outline has no corners", "name its edges by corners it has")
    first, second = outline.split_at(corners[0])
    return second.joined(first)


def _closed(lines: Sequence[Path]) -> tuple[list[Path], float]:
    """Closed lines, some joined from several, and the smallest gap of those left open."""
    closed: list[Path] = []
    waiting: list[Path] = []
    for path in lines:
        (closed if _gap(path) <= MEETS else waiting).append(path)
    gap = math.inf
    while waiting:
        path = waiting.pop(0)
        while _gap(path) > MEETS:
            near = _next(path.end, waiting)
            if near is None:
                break
            number, following = near
            waiting.pop(number)
            path = _joined(path, following)
        if _gap(path) <= MEETS:
            closed.append(path)
        else:
            gap = min(gap, _gap(path))
    return [_shut(path) for path in closed], gap


def _next(end: complex, waiting: list[Path]) -> tuple[int, Path] | None:
    for number, path in enumerate(waiting):
        if abs(path.start - end) <= MEETS:
            return number, path
        if abs(path.end - end) <= MEETS:
            return number, path.reversed()
    return None


def _joined(first: Path, second: Path) -> Path:
    gap = line(first.end, second.start)
    return chain([first, gap, second] if gap.length > 1e-9 else [first, second])


def _shut(path: Path) -> Path:
    return path if _gap(path) < 1e-9 else chain([path, line(path.end, path.start)])


def _gap(path: Path) -> float:
    return abs(path.end - path.start)
