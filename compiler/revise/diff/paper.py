"""What changed on the paper of one piece: edges, folds, marks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.opening import PLEAT
from oaktag.compiler.revise.diff.changes import Both, EdgeChange, FoldChange, MarkChange

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.geometry import Motion
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece

_NOTHING: tuple[float, float] = (0.0, 0.0)


def edge_changes(old: Piece, new: Piece, tolerance: float) -> Iterator[EdgeChange]:
    """Edges whose length changed, in the order of the new outline, then those that are gone.

    Halves that only one of the two papers has apart are compared as a whole.
    """
    before, after = _lengths(old), _lengths(new)
    split = {name for name in before if name in after and before[name].keys() != after[name].keys()}
    was, now = _told(before, split), _told(after, split)
    for name, (length, sewn) in now.items():
        if name not in was:
            yield EdgeChange(name, Both(None, length), Both(None, sewn))
        elif _apart(was[name][0], length, tolerance) or _apart(was[name][1], sewn, tolerance):
            yield EdgeChange(name, Both(was[name][0], length), Both(was[name][1], sewn))
    for name, (length, sewn) in was.items():
        if name not in now:
            yield EdgeChange(name, Both(length, None), Both(sewn, None))


def fold_changes(old: Piece, new: Piece, tolerance: float) -> Iterator[FoldChange]:
    """Darts and openings that came, went, or were made otherwise."""
    before = {str(one.label): one for one in old.openings}
    after = {str(one.label): one for one in new.openings}
    for name in dict.fromkeys((*after, *before)):
        was, now = before.get(name), after.get(name)
        change = FoldChange(
            name,
            Both(was and _kind(was), now and _kind(now)),
            Both(was and was.intake, now and now.intake),
            Both(was and was.first.length, now and now.first.length),
            Both(was and was.toward, now and now.toward),
        )
        if was is None or now is None or _otherwise(change, tolerance):
            yield change


def mark_changes(old: Piece, new: Piece, motion: Motion, tolerance: float) -> Iterator[MarkChange]:
    """Marks that came, went or moved: notches along their edge, the others on the paper.

    motion: lays the new piece on the old one. A notch that keeps its distance from either end of
    its edge has not moved.
    """
    before, after = _by_place(old), _by_place(new)
    for kind, edge in dict.fromkeys((*after, *before)):
        was, now = before.get((kind, edge), []), after.get((kind, edge), [])
        count = Both(len(was), len(now))
        if count.differs:
            yield MarkChange(kind, edge, count)
            continue
        if kind == "text":
            continue  # words lie where there is room
        if edge:
            moved = min(
                _moved(_along(old, was, back), _along(new, now, back)) for back in (False, True)
            )
        else:
            moved = max(abs(motion(b.at) - a.at) for a, b in zip(was, now, strict=True))
        if moved > tolerance:
            yield MarkChange(kind, edge, count, moved)


def _lengths(piece: Piece) -> dict[str, dict[str, tuple[float, float]]]:
    """As cut and as sewn, by the edge's own word and then by its whole name."""
    found: dict[str, dict[str, tuple[float, float]]] = {}
    for edge in piece.edges:
        own = found.setdefault(str(edge.label.changed(scope=())), {})
        length, sewn = own.get(str(edge.label), _NOTHING)
        own[str(edge.label)] = (length + edge.length, sewn + edge.sewn)
    return found


def _told(
    lengths: dict[str, dict[str, tuple[float, float]]], whole: set[str]
) -> dict[str, tuple[float, float]]:
    """One row for each name; for those in `whole` one for all their parts."""
    rows: dict[str, tuple[float, float]] = {}
    for name, parts in lengths.items():
        if name in whole:
            rows[name] = (sum(one for one, _ in parts.values()), sum(s for _, s in parts.values()))
        else:
            rows |= parts
    return rows


def _kind(opening: Opening) -> str:
    return f"{opening.style} {opening.kind}" if opening.kind == PLEAT else opening.kind


def _otherwise(change: FoldChange, tolerance: float) -> bool:
    figures = (change.intake, change.reach)
    return (
        change.kind.differs
        or change.toward.differs
        or any(_apart(both.before, both.after, tolerance) for both in figures)
    )


def _by_place(piece: Piece) -> dict[tuple[str, str], list[Mark]]:
    found: dict[tuple[str, str], list[Mark]] = {}
    for mark in piece.marks:
        edge = str(mark.edge) if mark.kind == "notch" and mark.edge else ""
        found.setdefault((mark.kind, edge), []).append(mark)
    return found


def _along(piece: Piece, marks: Sequence[Mark], back: bool) -> list[float]:
    """How far along its edge, as sewn, each notch lies; measured from the end, if `back`."""
    places = []
    for mark in marks:
        named = [edge for edge in piece.edges if mark.edge and edge.label.answers(mark.edge)]
        edge: Edge = min(named or piece.edges, key=lambda one: one.path.nearest(mark.at)[1])
        place = edge.sewn_distance(edge.path.nearest(mark.at)[0])
        places.append(edge.sewn - place if back else place)
    return sorted(places)


def _moved(was: Sequence[float], now: Sequence[float]) -> float:
    return max((abs(b - a) for a, b in zip(was, now, strict=True)), default=0.0)


def _apart(one: float, other: float, tolerance: float) -> bool:
    return abs(one - other) > tolerance
