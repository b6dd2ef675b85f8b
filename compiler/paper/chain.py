"""Edges and drawn lines: chains of runs, each sewn as drawn or folded away."""

from __future__ import annotations

from functools import cached_property

from oaktag.compiler.geometry import IDENTITY, Motion, Path, chain
from oaktag.compiler.paper.label import Label
from oaktag.record import Record

SEAM = "seam"
INTAKE = "intake"


class Run(Record):
    """A stretch of an edge with one role.

    role: `seam`, sewn or hemmed as drawn, or `intake`, folded or gathered away: the mouth of a
    dart, the underlay of a pleat. opening: the dart or opening whose mouth or let-in paper this is.
    drawn: for an intake, its length before it was trimmed to shape, in mm.
    """

    path: Path
    role: str = SEAM
    opening: Label | None = None
    drawn: float | None = None

    @property
    def length(self) -> float:
        return self.path.length

    @property
    def sewn(self) -> float:
        return self.path.length if self.role == SEAM else 0.0

    @property
    def as_drawn(self) -> float:
        return self.path.length if self.drawn is None else self.drawn

    def moved(self, motion: Motion) -> Run:
        if motion is IDENTITY:
            return self
        return self.changed(path=self.path.moved(motion))

    def reversed(self) -> Run:
        return self.changed(path=self.path.reversed())


class Chain(Record):
    """Runs one after the other, under a name."""

    label: Label
    runs: tuple[Run, ...]

    @cached_property
    def path(self) -> Path:
        return chain([run.path for run in self.runs])

    @property
    def start(self) -> complex:
        return self.runs[0].path.start

    @property
    def end(self) -> complex:
        return self.runs[-1].path.end

    @cached_property
    def length(self) -> float:
        """As cut, in mm."""
        return sum(run.length for run in self.runs)

    @cached_property
    def sewn(self) -> float:
        """As it meets the other piece, in mm: without what is folded away."""
        return sum(run.sewn for run in self.runs)

    def cut_distance(self, sewn: float) -> float:
        """The distance as cut that belongs to one as sewn; at a fold, before it."""
        return self._cut_distance(sewn, [run.sewn for run in self.runs])

    def cut_distance_drawn(self, drawn: float) -> float:
        """The distance as cut that belongs to a distance on the edge as it was first drawn."""
        return self._cut_distance(drawn, [run.as_drawn for run in self.runs])

    def _cut_distance(self, wanted: float, measured: list[float]) -> float:
        behind = 0.0
        for run, own in zip(self.runs, measured, strict=True):
            if own > 0 and wanted <= own + 1e-9:
                return behind + min(max(wanted, 0.0), own) * (run.length / own)
            wanted -= own
            behind += run.length
        return behind

    def sewn_distance(self, cut: float) -> float:
        """The distance as sewn that belongs to a distance as cut."""
        behind = 0.0
        for run in self.runs:
            if cut <= run.length:
                return behind + (max(cut, 0.0) if run.role == SEAM else 0.0)
            cut -= run.length
            behind += run.sewn
        return behind

    def reversed(self) -> Chain:
        return self.changed(runs=tuple(run.reversed() for run in reversed(self.runs)))

    def moved(self, motion: Motion) -> Chain:
        return self.changed(runs=tuple(run.moved(motion) for run in self.runs))


class Edge(Chain):
    """A part of the outline.

    line, file: where it was drawn. seam: for an edge made by `divide`, the name of the
    seam it shares with the other part. part: the name of the part it was made on. words: what is
    written along it; none leaves that to its name.
    """

    on_fold: bool = False
    line: int = 0
    file: str = ""
    seam: str = ""
    part: str = ""
    words: str | None = None


class Line(Chain):
    """A line drawn on the paper.

    was_fold: it was an edge on the fold before `unfold`. line, file: where that edge was drawn.
    words: what is written along it; none leaves that to its name. lengthening: the piece is made
    longer or shorter there.
    """

    was_fold: bool = False
    line: int = 0
    file: str = ""
    words: str | None = None
    lengthening: bool = False
