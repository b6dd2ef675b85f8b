"""Where one outline does not lie on another: what a step moved, and what is new."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import pairwise, product
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Path
from oaktag.compiler.geometry.path import JOINT

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from oaktag.compiler.geometry import Box, Segment

SAME = 0.05  # mm: lines nearer than this are one line on paper
CELL = 40.0  # mm: the squares in which segments are looked up


def differing(outline: Path, other: Path) -> tuple[Path, ...]:
    """The stretches of an outline that do not lie on the other, in order, neighbours joined.

    A stretch of one segment can only begin or end to lie on the other where a segment of either
    ends, so between such places three points of it tell.
    """
    joints = sorted((s.start for s in other.segments), key=lambda joint: joint.real)
    across = [joint.real for joint in joints]
    known = set(other.segments)
    lines = _Lines(other.segments)
    found: list[Path] = []
    for segment in outline.segments:
        if segment in known:
            continue
        left, _, right, _ = segment.box()
        first, last = bisect_left(across, left - SAME), bisect_right(across, right + SAME)
        for stretch in _stretches(segment, joints[first:last]):
            if not lines.carry(stretch):
                _add(found, stretch)
    if len(found) > 1 and abs(found[0].start - found[-1].end) <= JOINT:
        found[0] = found.pop().joined(found[0])
    return tuple(found)


def along(path: Path, rings: Sequence[Path]) -> tuple[Path, ...]:
    """The segments of a path that run along the edge of one of the rings, neighbours joined."""
    lines = _Lines(segment for ring in rings for segment in ring.segments)
    found: list[Path] = []
    for segment in path.segments:
        stretch = Path([segment])
        if lines.carry(stretch):
            _add(found, stretch)
    return tuple(found)


class _Lines:
    """Segments, found quickly by where they lie."""

    def __init__(self, segments: Iterable[Segment]) -> None:
        self.cells: dict[tuple[int, int], list[Segment]] = {}
        for segment in segments:
            for cell in _cells(segment.box()):
                self.cells.setdefault(cell, []).append(segment)

    def carry(self, stretch: Path) -> bool:
        """Whether a stretch lies on them."""
        return all(
            any(
                segment.nearest(point)[1] <= SAME
                for segment in self.cells.get(
                    (int(point.real // CELL), int(point.imag // CELL)), ()
                )
            )
            for point in (stretch.point_at(stretch.length * share) for share in (0.5, 0.25, 0.75))
        )


def _cells(box: Box) -> Iterator[tuple[int, int]]:
    across = range(int((box[0] - SAME) // CELL), int((box[2] + SAME) // CELL) + 1)
    up = range(int((box[1] - SAME) // CELL), int((box[3] + SAME) // CELL) + 1)
    return product(across, up)


def _add(found: list[Path], stretch: Path) -> None:
    if found and abs(found[-1].end - stretch.start) <= JOINT:
        found[-1] = found[-1].joined(stretch)
    else:
        found.append(stretch)


def _stretches(segment: Segment, joints: Sequence[complex]) -> Iterator[Path]:
    whole = Path([segment])
    places = {0.0, whole.length}
    for joint in joints:
        place, away = whole.nearest(joint)
        if away <= SAME:
            places.add(place)
    for start, end in pairwise(sorted(places)):
        if end - start > SAME or len(places) == 2:
            yield whole.part(start, end)
