"""The sides of a ring, and each of their segments set off by its width."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import (
    IDENTITY,
    Cubic,
    GeometryError,
    Motion,
    Path,
    line,
    parallel,
)
from oaktag.compiler.paper.folded import halfway
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Segment

    Tagged = tuple[Segment, int]
    """A segment with the number of the edge it runs beside, or NOWHERE."""

NOWHERE = -1
TOLERANCE = 0.005  # mm: how far a curve's parallel may be off
SQUARED = "squared"
MITRED = "mitred"
HEM = "hem"


class Fold(Record):
    """A trimmed dart or pleat between two sides of the ring, as it is pressed.

    first, second: its creases, each from inside the paper to its end at the edge. closing lays the
    second on the first. onto_first: its paper lies under the side before it.
    """

    first: Path
    second: Path
    closing: Motion
    onto_first: bool

    def reversed(self) -> Fold:
        """As met by a ring walked the other way."""
        return Fold(self.second, self.first, self.closing.inverse(), not self.onto_first)

    @property
    def crease(self) -> Path:
        """That on which its paper is turned under."""
        return self.first if self.onto_first else self.second

    @property
    def carrying(self) -> Motion:
        """What carries the paper beside that crease to the other one."""
        return self.closing.inverse() if self.onto_first else self.closing

    @property
    def depth(self) -> Path:
        """How far its paper reaches, folded: the line through the bottom of the fold."""
        half = halfway(self.closing)
        return self.crease.moved(half if self.onto_first else half.inverse())


class Side(Record):
    """A stretch of the ring, its width in mm, and the number of the edge it belongs to.

    on_fold: nothing may reach beyond the line of this side, whatever its neighbours' widths.
    corners: how its allowance ends: HEM, SQUARED, MITRED, or empty if that is not said; rank: of
    two that say it, the higher decides. folds, over: the trimmed folds that follow it, and the
    outline over them.
    """

    path: Path
    width: float
    edge: int
    on_fold: bool = False
    corners: str = ""
    rank: tuple[int, int] = (-1, 0)
    folds: tuple[Fold, ...] = ()
    over: Path | None = None

    def unfolded(self) -> tuple[Side, ...]:
        """The side, and the folds behind it as a side of their own."""
        if self.over is None:
            return (self,)
        return (
            self.changed(folds=(), over=None),
            self.changed(path=self.over, folds=(), over=None),
        )


def backwards(sides: Sequence[Side]) -> list[Side]:
    """The sides of a ring that is walked the other way."""
    return [
        side.changed(
            path=side.path.reversed(),
            folds=tuple(fold.reversed() for fold in reversed(before.folds)),
            over=before.over.reversed() if before.over else None,
        )
        for side, before in zip(reversed(sides), [*reversed(sides[:-1]), sides[-1]], strict=True)
    ]


class Beside:
    """A segment set off by its width; its line is shortened while corners are made.

    line: none where a corner has taken all of it.
    """

    __slots__ = ("arriving", "edge", "end", "leaving", "line", "own", "side", "start", "width")

    line: Path | None

    def __init__(self, segment: Segment, side: Side) -> None:
        self.start = segment.start
        self.end = segment.end
        self.leaving = segment.tangent(0)
        self.arriving = segment.tangent(1)
        self.width = side.width
        self.side = side
        self.edge = side.edge if side.width else NOWHERE
        self.own = Path((segment,))
        self.line = self.own
        if side.width:
            try:
                self.line = parallel(segment, -side.width, TOLERANCE)
            except GeometryError:
                # Bent tighter than its width: its neighbours must cover it, or it is lost.
                self.width, self.edge = 0.0, NOWHERE

    def moved(self, motion: Motion) -> Beside:
        if motion is IDENTITY:
            return self
        new: Beside = Beside.__new__(Beside)
        new.start, new.end = motion(self.start), motion(self.end)
        new.leaving, new.arriving = (motion.direction(way) for way in (self.leaving, self.arriving))
        new.width, new.side, new.edge, new.own = self.width, self.side, self.edge, self.own
        new.line = self.line.moved(motion) if self.line else None
        return new

    @property
    def on_fold(self) -> bool:
        return self.side.on_fold

    @property
    def hem(self) -> bool:
        """Whether it is turned up, its ends shaped like what they come to lie on."""
        return self.side.corners == HEM and self.width > 0


class Joint:
    """What leads from one segment's line to the next one's.

    folds: those between the two. parts: one path more than there are folds, as segments, each on
    the paper before, between or behind them. layers: over each fold, once they are known.
    waiting: it is the end of a hem, and not made yet.
    """

    __slots__ = ("folds", "layers", "parts", "waiting")

    def __init__(self, folds: tuple[Fold, ...] = ()) -> None:
        self.folds = folds
        self.parts: list[list[Tagged]] = [[] for _ in range(len(folds) + 1)]
        self.layers: list[list[Segment]] = [[] for _ in folds]
        self.waiting = False


def set_off(sides: Sequence[Side]) -> tuple[list[Beside], list[Joint]]:
    """The segments of a ring set off, and a joint behind each of them, still empty."""
    pieces: list[Beside] = []
    joints: list[Joint] = []
    for side in sides:
        parts = [part for segment in side.path.segments for part in _parts(segment)]
        pieces += [Beside(part, side) for part in parts]
        joints += [Joint() for _ in parts[:-1]] + [Joint(side.folds)]
    return pieces, joints


def _parts(segment: Segment) -> tuple[Segment, ...]:
    """The segment, an S in halves: as a whole its parallel is fitted less surely."""
    if isinstance(segment, Cubic) and segment.curvature(0) * segment.curvature(1) < 0:
        return segment.split(0.5)
    return (segment,)


def lengthened(path: Path, by: float) -> Path:
    """A path led straight on at its end, in mm."""
    return path.joined(line(path.end, path.end + path.end_direction * by))
