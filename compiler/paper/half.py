"""Names on paper of which only one half is left: they lose the word of that half."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from oaktag.compiler.paper.chain import Edge, Line
from oaktag.compiler.paper.find import JOINED

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.mark import NamedPoint, Section
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece

    Named = Line | Opening | NamedPoint | Section
    T = TypeVar("T", Line, Opening, NamedPoint, Section)


def plain(piece: Piece, half: str, other: str) -> Piece:
    """The names of a half without its word. What bears the name of the other half goes."""

    def own(things: Iterable[T]) -> Iterable[T]:
        return (thing for thing in things if other not in thing.label.scope)

    return piece.changed(
        edges=tuple(_plain(edge, half) for edge in piece.edges),
        lines=tuple(_plain(line, half) for line in own(piece.lines)),
        openings=tuple(
            item.changed(label=item.label.without(half)) for item in own(piece.openings)
        ),
        points=tuple(item.changed(label=item.label.without(half)) for item in own(piece.points)),
        marks=tuple(
            mark.changed(edge=mark.edge.without(half)) if mark.edge else mark
            for mark in piece.marks
        ),
        sections=tuple(
            item.changed(label=item.label.without(half), edge=item.edge.without(half))
            for item in own(piece.sections)
        ),
    )


def alone(part: Piece, halves: tuple[str, ...]) -> Piece:
    """A part that was cut off, named plainly where it holds one half of an unfolded piece alone.

    halves: those of the whole. The word may be said still.
    """
    there = {word for edge in part.edges for word in edge.label.scope}
    for pair in zip(halves[::2], halves[1::2], strict=True):
        left = there.intersection(pair)
        if len(left) != 1:
            continue
        (half,) = left
        other = pair[1] if half == pair[0] else pair[0]
        if not _strays(part, half, other):
            part = plain(part, half, other).changed(only=part.only | {half})
    return part


def _strays(part: Piece, half: str, other: str) -> bool:
    """Whether something of the other half lies on the paper, and not just on the cut."""

    def image(label: Label) -> Label:
        return label.changed(scope=tuple(half if word == other else word for word in label.scope))

    labels = [*(line.label for line in part.lines), *(item.label for item in part.openings)]
    if any(other in label.scope for label in labels):
        return True
    there = {point.label: point.at for point in part.points}
    return any(
        other in point.label.scope
        and abs(there.get(image(point.label), complex("inf")) - point.at) > JOINED
        for point in part.points
    )


def _plain(chain: Edge | Line, half: str) -> Edge | Line:
    runs = tuple(
        run.changed(opening=run.opening.without(half)) if run.opening else run for run in chain.runs
    )
    return chain.changed(label=chain.label.without(half), runs=runs)
