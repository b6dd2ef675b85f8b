"""Which edges a step made longer or shorter, as cut and as sewn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import find
from oaktag.compiler.paper.label import Label
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.compiler.paper.piece import Piece

SAME = 0.005  # mm: lengths nearer than this are one


class EdgeLength(Record):
    """An edge's length in mm, as cut and as sewn, before a step and after it.

    before, sewn_before: none if the edge came with the step.
    """

    name: str
    before: float | None
    after: float
    sewn_before: float | None
    sewn_after: float


def edge_lengths(before: Piece | None, after: Piece) -> tuple[EdgeLength, ...]:
    """The edges whose length changed, in the order of the outline; of a new outline, all.

    Of an edge that lies in several stretches (two halves, and paper let in between them) the whole
    is told, unless just one of them changed.
    """
    stretches: dict[Label, list[Label]] = {}
    for edge in after.edges:
        labels = stretches.setdefault(Label(edge.label.name, edge.label.index), [])
        if edge.label not in labels:
            labels.append(edge.label)
    found: list[EdgeLength] = []
    for whole, labels in stretches.items():
        changed = [item for label in labels if (item := _changed(before, after, label))]
        together = _changed(before, after, whole) if len(changed) != 1 else None
        found += [together] if together else changed
    return tuple(found)


def _changed(before: Piece | None, after: Piece, label: Label) -> EdgeLength | None:
    """What a step did to one edge; none if it left it alone, or if only one paper has it."""
    now = _edge(after, label)
    if now is None:
        return None
    if before is None or not before.edges:
        return EdgeLength(str(label), None, now.length, None, now.sewn)
    was = _edge(before, label)
    if was is None or (abs(was.length - now.length) < SAME and abs(was.sewn - now.sewn) < SAME):
        return None
    return EdgeLength(str(label), was.length, now.length, was.sewn, now.sewn)


def _edge(piece: Piece, label: Label) -> Edge | None:
    try:
        found = find(piece, label)
    except PaperError:
        return None  # it lies there in several places: there is no one length to tell
    return found if isinstance(found, Edge) else None
