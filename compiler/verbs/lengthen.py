"""`lengthen`: cut across a line and let paper in."""

from __future__ import annotations

from oaktag.compiler.paper.arguments import Amount
from oaktag.compiler.paper.chain import Run
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.slashing import drawn_line
from oaktag.compiler.paper.step import Change
from oaktag.compiler.verbs.spread import spread


def lengthen(piece: Piece, at: object, by: Quantity, holding: object = None) -> Change:
    """Opens a line by the same amount at both ends; the line stays drawn on the part that stays."""
    label = drawn_line(at, "at").label
    done = spread(piece, (at,), (Amount(by),), holding=holding)
    after = done.piece
    lines = [line.changed(runs=_plain(line.runs, label)) for line in after.lines]
    for place, line in enumerate(piece.lines):
        if line.label.answers(label):
            lines.insert(place, line)
    return done.changed(
        piece=after.changed(
            edges=tuple(edge.changed(runs=_plain(edge.runs, label)) for edge in after.edges),
            lines=tuple(lines),
            openings=tuple(item for item in after.openings if item.label != label),
        )
    )


def _plain(runs: tuple[Run, ...], label: Label) -> tuple[Run, ...]:
    """Without the name of the opening: what was let in is paper like all the rest."""
    return tuple(run.changed(opening=None) if run.opening == label else run for run in runs)
