"""Names that last one turn of a `repeat`: what was drawn under them stays, the names go."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.compiler.paper.chain import Run
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.piece import Piece


def plain_labels(piece: Piece) -> set[Label]:
    """The names on a piece that have neither index nor half."""
    return {
        label
        for things in piece.named.values()
        for thing in things
        if (label := thing.label).index is None and not label.scope
    }


def retired(piece: Piece, known: set[Label], turn: str) -> Piece:
    """The piece after a turn, without the plain names that were not known before it.

    Lines, openings and sections keep their paper under a name nobody can write; points are gone.
    """
    new = plain_labels(piece) - known
    if not new:
        return piece
    renamed = {label: _unwritable(label, turn, piece) for label in new}

    def name(label: Label) -> Label:
        return renamed.get(label, label)

    def named(runs: Iterable[Run]) -> tuple[Run, ...]:
        return tuple(
            run.changed(opening=name(run.opening)) if run.opening in renamed else run
            for run in runs
        )

    return piece.changed(
        edges=tuple(edge.changed(runs=named(edge.runs)) for edge in piece.edges),
        lines=tuple(
            line.changed(label=name(line.label), runs=named(line.runs)) for line in piece.lines
        ),
        openings=tuple(item.changed(label=name(item.label)) for item in piece.openings),
        points=tuple(point for point in piece.points if point.label not in new),
        sections=tuple(item.changed(label=name(item.label)) for item in piece.sections),
    )


def _unwritable(label: Label, turn: str, piece: Piece) -> Label:
    """A name that no line of a file can give, and that is not there yet."""
    changed = label.changed(name=f"{label.name} ({turn})")
    while changed.name in piece.named:
        changed = changed.changed(name=f"{changed.name} again")
    return changed
