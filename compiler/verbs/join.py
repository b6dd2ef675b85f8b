"""`join`: lay another piece against this one along a seam that disappears."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, carrying, line
from oaktag.compiler.paper.chain import INTAKE, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import check_simple
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.turning import renamed, walked_round

SAME = 1.0  # mm: edges that differ in length, or lie apart, by no more can be joined


def join(
    piece: Piece, other: Edge, edge: Edge, other_piece: Piece, holding: object = None
) -> Change:
    """Moves the other piece so that its edge lies along this one; both edges disappear.

    This piece stays. What lay on the other is found under that piece's name, and by its plain name
    where this one has nothing of it.
    """
    moving, along = other_piece, other
    if (moving.signed_area > 0) != (piece.signed_area > 0):
        moving = walked_round(moving)
        along = other.changed(runs=other.reversed().runs)
    _check(piece, edge, along, other_piece)
    moving = moving.moved(carrying(along.start, along.end, edge.end, edge.start))
    mine = [i for i, item in enumerate(piece.edges) if item.label.answers(edge.label)]
    theirs = [i for i, item in enumerate(moving.edges) if item.label.answers(other.label)]
    laid = Path([s for i in theirs for run in moving.edges[i].runs for s in run.path.segments])
    apart = max(edge.path.nearest(place)[1] for place in laid.flattened(0.1))
    if apart > SAME:
        raise PaperError(
            f"`{edge.label}` and `{other_piece.name}.{other.label}` have different lines: laid on "
            "each other they are up to {0} apart",
            apart,
            help="only edges of the same shape can be joined: redraw one of them",
            about="other",
            code="edges-differ",
        )
    moving = renamed(moving, moving.name.rsplit(".", 1)[-1])
    count = len(moving.edges)
    added = [moving.edges[(theirs[-1] + 1 + i) % count] for i in range(count - len(theirs))]
    edges = _closed([*piece.edges[: mine[0]], *added, *piece.edges[mine[-1] + 1 :]])
    whole = piece.changed(
        edges=edges,
        lines=piece.lines + moving.lines,
        openings=piece.openings + moving.openings,
        points=piece.points + moving.points,
        marks=piece.marks + moving.marks,
        sections=piece.sections + moving.sections,
    )
    check_simple(whole, "joined this way, the pieces would lie on each other")
    return Change(whole, let_in=(moving.outline,))


def _check(piece: Piece, edge: Edge, other: Edge, other_piece: Piece) -> None:
    names = f"`{edge.label}` and `{other_piece.name}.{other.label}`"
    for item, about in ((edge, "edge"), (other, "other")):
        if any(run.role == INTAKE for run in item.runs):
            raise PaperError(
                f"`{item.label}` has a dart or pleat on it, so it cannot be joined",
                help="close it first, or move it to another edge",
                about=about,
                code="dart-on-joint",
            )
    gap = abs(edge.length - other.length)
    if gap > SAME:
        raise PaperError(
            f"{names} have different lengths: {{0}} and {{1}}, {{2}} apart",
            edge.length,
            other.length,
            gap,
            help="lengthen or shorten one of them, or sew them with ease instead of joining",
            about="other",
            code="lengths-differ",
        )


def _closed(edges: list[Edge]) -> tuple[Edge, ...]:
    """The edges, small gaps between them closed."""
    done = []
    for i, edge in enumerate(edges):
        following = edges[(i + 1) % len(edges)]
        if abs(edge.end - following.start) > 1e-7:
            edge = edge.changed(runs=(*edge.runs, Run(line(edge.end, following.start))))
        done.append(edge)
    return tuple(done)
