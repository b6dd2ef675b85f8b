"""`true`: blend the joints of an edge into one smooth line."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, blended, chain
from oaktag.compiler.paper.chain import SEAM, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.following import follow, joint_on
from oaktag.compiler.paper.intake import check_edge, owners
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.reshape import check_simple, difference
from oaktag.compiler.paper.step import Change

WITHIN = 5.0  # mm, if nothing else is said


def true_edges(piece: Piece, edges: tuple[Edge, ...], within: Quantity | None = None) -> Change:
    """Makes each edge flow, staying within a distance of what was drawn, its ends kept.

    Between folds, each stretch is made to flow by itself.
    """
    limit = within.amount if within is not None else WITHIN
    if limit <= 0:
        raise PaperError(
            "`within` is a distance above nothing: this is {0}",
            limit,
            about="within",
            code="within",
        )
    change = Change(piece)
    for edge in edges:
        check_edge(edge, "edges")
        done = _trued(change.piece, edge, limit)
        change = Change(done.piece, change.let_in + done.let_in, change.cut_away + done.cut_away)
    check_simple(change.piece, "trued this way the outline does not work")
    return change


def _trued(piece: Piece, edge: Edge, limit: float) -> Change:
    """One edge, in as many stored stretches as it has; each keeps its share of the new line."""
    change = Change(piece)
    stretch: list[tuple[Edge, Run]] = []
    for owner in owners(piece, edge, "edges"):
        for run in owner.runs:
            if run.role == SEAM:
                stretch.append((owner, run))
            else:
                change = _blend(change, stretch, limit)
                stretch = []
    return _blend(change, stretch, limit)


def _blend(change: Change, stretch: list[tuple[Edge, Run]], limit: float) -> Change:
    if len(stretch) < 1:
        return change
    old = chain([run.path for _, run in stretch])
    if not old.corners(1e-4):
        return change
    new = blended(old, limit)
    piece, start, total = change.piece, 0.0, 0.0
    joints = [
        index for index in range(1, len(stretch)) if stretch[index][0] is not stretch[index - 1][0]
    ]
    bounds = [*joints, len(stretch)]
    first = 0
    for bound in bounds:
        end = stretch[bound - 1][1].path.end
        total = new.length
        if bound < len(stretch):
            total = max(joint_on(change.piece, end, new), start)
        mine = [run for _, run in stretch[first:bound]]
        piece = _with_runs(piece, mine, new.part(start, total))
        first, start = bound, total
    let_in, cut_away = difference(old, new, change.piece.inward)
    piece = follow(piece, old, new)
    return Change(piece, change.let_in + let_in, change.cut_away + cut_away)


def _with_runs(piece: Piece, old: list[Run], path: Path) -> Piece:
    """The piece with neighbouring runs of one edge replaced by one."""
    edges = []
    for edge in piece.edges:
        place = next((i for i, run in enumerate(edge.runs) if run is old[0]), None)
        if place is not None:
            runs = (*edge.runs[:place], Run(path), *edge.runs[place + len(old) :])
            edge = edge.changed(runs=runs)
        edges.append(edge)
    return piece.changed(edges=tuple(edges))
