"""What changed, as values: each thing before and after, in mm, mm² and degrees."""

from __future__ import annotations

from typing import Any, TypeVar

from oaktag.record import Record

T = TypeVar("T")


class Both(Record):
    """A figure, a word or a list before and after; none where the thing was not there."""

    before: Any
    after: Any

    @property
    def more(self) -> float:
        """By how much a figure grew."""
        return float(self.after - self.before)

    @property
    def differs(self) -> bool:
        return bool(self.before != self.after)


class ValueChange(Record):
    """A choice or measure; its values are Quantity, yes or no, or none."""

    name: str
    value: Both


class EdgeChange(Record):
    """An edge whose length changed, as cut or as sewn; or one that came or went."""

    name: str
    length: Both
    sewn: Both


class FoldChange(Record):
    """A dart or opening. kind: `dart`, `knife pleat`, …; none where there is none of that name.

    intake: across the mouth; reach: from the mouth to the point, or to the far end; toward: the
    side to which it is pressed.
    """

    name: str
    kind: Both
    intake: Both
    reach: Both
    toward: Both


class MarkChange(Record):
    """All marks of a kind on one edge, or (edge: an empty word) on the paper.

    moved: how far the one that moved most is from where it was; 0 if their number changed.
    """

    kind: str
    edge: str
    count: Both
    moved: float = 0.0


class StepChange(Record):
    """A step that came, went or changed. line: its text; caption: the comment above it."""

    line: Both
    caption: Both
    times: int = 1


class PieceChange(Record):
    """What changed of a piece. name: none where there is no such piece.

    reshaped: how far its outline moved at most, told where no length changed. turned: by how
    many degrees the grain lies otherwise on the paper.
    """

    name: Both
    area: Both
    edges: tuple[EdgeChange, ...] = ()
    folds: tuple[FoldChange, ...] = ()
    marks: tuple[MarkChange, ...] = ()
    allowances: tuple[ValueChange, ...] = ()
    cut: Both = Both((), ())
    steps: tuple[StepChange, ...] = ()
    reshaped: float = 0.0
    turned: float = 0.0

    @property
    def nothing(self) -> bool:
        """Whether it is the same piece."""
        return not (
            self.name.differs
            or self.area.differs
            or any((self.edges, self.folds, self.marks, self.allowances, self.steps))
            or self.cut.differs
            or self.reshaped
            or self.turned
        )


class SeamChange(Record):
    """A seam that came or went, or whose sides no longer match, or match again.

    apart: how much longer the second side is than the first and its ease, where they do not match;
    0 where they do; none where there is no such seam.
    """

    name: Both
    apart: Both


class Changes(Record):
    """All that differs between two patterns.

    unit: in which lengths are told. tolerance: lengths in mm that differ by no more are the same.
    """

    title: Both
    unit: str
    tolerance: float
    choices: tuple[ValueChange, ...] = ()
    measures: tuple[ValueChange, ...] = ()
    pieces: tuple[PieceChange, ...] = ()
    seams: tuple[SeamChange, ...] = ()
    finishing: tuple[Both, ...] = ()
    revision: Both = Both("", "")

    @property
    def nothing(self) -> bool:
        return not (
            self.title.differs
            or self.revision.differs
            or self.made_otherwise
            or self.pieces
            or self.choices
            or self.measures
        )

    @property
    def made_otherwise(self) -> bool:
        """Whether anything differs that reaches the cloth."""
        paper = any(not piece.changed(steps=()).nothing for piece in self.pieces)
        return bool(paper or self.seams or self.finishing)


def turned_round(value: T) -> T:
    """The change the other way: what was after is before."""
    if isinstance(value, Both):
        return value.changed(before=value.after, after=value.before)
    if isinstance(value, tuple):
        return tuple(turned_round(item) for item in value)  # type: ignore[return-value]
    if isinstance(value, Record):
        fields = {name: turned_round(getattr(value, name)) for name in value.fields}
        return value.changed(**fields)
    return value
