"""The outline as one closed walk, with distances along it."""

from __future__ import annotations

from bisect import bisect_right

from oaktag.compiler.paper.chain import Run
from oaktag.compiler.paper.piece import Piece

ON_OUTLINE = 0.01  # mm: a point this near to the outline lies on it
SNAP = 1e-6  # mm along the outline: a position this near to an end of a run is that end


class Ring:
    """Positions on a piece's outline: distances in mm, as cut, from the start of its first edge."""

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        self.entries: list[tuple[int, Run]] = []
        self.starts: list[float] = []
        total = 0.0
        for number, edge in enumerate(piece.edges):
            for run in edge.runs:
                self.entries.append((number, run))
                self.starts.append(total)
                total += run.length
        self.total = total

    def locate(self, point: complex, tolerance: float = ON_OUTLINE) -> float | None:
        """Where on the outline a point lies, or none if it lies off it."""
        where, away = self.piece.outline.nearest(point)
        return self.snapped(where) if away <= tolerance else None

    def snapped(self, where: float) -> float:
        """A position, set to the start of a run where rounding alone keeps it from there."""
        if where <= SNAP or where >= self.total - SNAP:
            return 0.0
        after = bisect_right(self.starts, where)
        for start in self.starts[after - 1 : after + 1]:
            if abs(start - where) <= SNAP:
                return start
        return where

    def run_at(self, where: float) -> Run | None:
        """The run inside which a position lies, or none if it lies between two runs."""
        number = max(bisect_right(self.starts, where) - 1, 0)
        run, inside = self.entries[number][1], where - self.starts[number]
        return run if SNAP < inside < run.length - SNAP else None

    def edge_at(self, where: float) -> int:
        """The number of the edge at a position; at a corner, of the edge that begins there."""
        return self.entries[max(bisect_right(self.starts, where + 1e-7) - 1, 0)][0]

    def edge_before(self, where: float) -> int:
        """The number of the edge at a position; at a corner, of the edge that ends there."""
        return self.entries[
            max(bisect_right(self.starts, where - 1e-7) - 1, 0) if where > 1e-7 else -1
        ][0]

    def edge_span(self, number: int) -> tuple[float, float]:
        """Where an edge starts and ends."""
        mine = [i for i, (owner, _) in enumerate(self.entries) if owner == number]
        return self.starts[mine[0]], self.starts[mine[-1]] + self.entries[mine[-1]][1].length

    def stretch(self, start: float, end: float) -> list[tuple[int, Run]]:
        """The runs from one position on to another, each with the number of its edge."""
        if end <= start:
            return (
                self.stretch(start, self.total) + self.stretch(0.0, end)
                if end > 0
                else (self.stretch(start, self.total) if start < self.total else [])
            )
        found = []
        for (number, run), begin in zip(self.entries, self.starts, strict=True):
            first, last = max(start - begin, 0.0), min(end - begin, run.length)
            if last - first <= 1e-9:
                continue
            if first <= 1e-9 and last >= run.length - 1e-9:
                found.append((number, run))
            else:
                found.append((number, run.changed(path=run.path.part(first, last), drawn=None)))
        return found
