"""The same paper under other names, or with its outline walked the other way."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Run
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece


def walked_round(piece: Piece) -> Piece:
    """The same piece with its outline walked the other way round."""
    return piece.changed(
        edges=tuple(edge.changed(runs=edge.reversed().runs) for edge in reversed(piece.edges)),
        openings=tuple(opening.swapped() for opening in piece.openings),
    )


def renamed(piece: Piece, scope: str) -> Piece:
    """The same piece with everything on it found under a word before its name."""

    def run(item: Run) -> Run:
        return item.changed(opening=item.opening.within(scope)) if item.opening else item

    def name(label: Label | None) -> Label | None:
        return label.within(scope) if label else None

    return piece.changed(
        edges=tuple(
            edge.changed(label=edge.label.within(scope), runs=tuple(map(run, edge.runs)))
            for edge in piece.edges
        ),
        lines=tuple(
            line.changed(label=line.label.within(scope), runs=tuple(map(run, line.runs)))
            for line in piece.lines
        ),
        openings=tuple(item.changed(label=item.label.within(scope)) for item in piece.openings),
        points=tuple(item.changed(label=item.label.within(scope)) for item in piece.points),
        marks=tuple(mark.changed(edge=name(mark.edge)) for mark in piece.marks),
        sections=tuple(
            item.changed(label=item.label.within(scope), edge=item.edge.within(scope))
            for item in piece.sections
        ),
    )
