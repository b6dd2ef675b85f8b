"""`facing`: a strip that follows an edge of another piece."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, chain, line, meetings, offset
from oaktag.compiler.paper.chain import INTAKE, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import check_edge
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.reshape import check_simple
from oaktag.compiler.paper.ring import Ring
from oaktag.compiler.paper.step import Change


def facing(piece: Piece, edge: Edge, deep: Quantity, edge_piece: Piece) -> Change:
    """Draws the paper that lies along an edge, to a depth, between the edges beside it.

    Its edges are `base` (the edge faced), `end`, `top` (parallel to it) and `start`; where an edge
    beside it lies on the fold, so does the facing. Grain and notches of the edge come with it.
    """
    if piece.edges:
        raise PaperError("this piece has its outline already", code="outline-twice")
    check_edge(edge, "edge")
    if any(run.role == INTAKE for run in edge.runs):
        raise PaperError(
            f"`{edge.label}` has a dart or pleat on it",
            help="face the edge after the dart is closed: copy the piece, close it there, and "
            "take the facing from that",
            about="edge",
            code="dart-on-facing",
        )
    if deep.amount <= 0:
        raise PaperError(
            "a facing is deeper than nothing: this is {0}",
            deep.amount,
            help="give a depth like `5 cm`",
            about="deep",
            code="no-depth",
        )
    ring = Ring(edge_piece)
    base = edge.path
    start, stop = ring.locate(edge.start), ring.locate(edge.end)
    assert start is not None and stop is not None  # the edge is part of the outline
    beside = ring.stretch(stop, start)
    forward = chain([run.path for _, run in beside])
    inner = offset(base, deep.amount * (1 if edge_piece.signed_area > 0 else -1))
    far = 3 * deep.amount
    longer = chain(
        [
            line(inner.start - inner.start_direction * far, inner.start),
            inner,
            line(inner.end, inner.end + inner.end_direction * far),
        ]
    )
    hits = [hit for hit in meetings(longer, forward) if hit.second_at > 1e-6]
    ends = sorted(hits, key=lambda hit: hit.second_at)
    middle = far + inner.length / 2
    after = [hit for hit in ends if hit.first_at > middle]
    before = [hit for hit in ends if hit.first_at < middle]
    if not after or not before or after[0].second_at >= before[-1].second_at:
        raise PaperError(
            f"the piece is less than {{0}} deep beside `{edge.label}`, so this facing does not fit",
            deep.amount,
            help="make it less deep",
            about="deep",
            code="facing-too-deep",
        )
    end = forward.part(0.0, after[0].second_at)
    start_edge = forward.part(before[-1].second_at, forward.length)
    top = longer.part(before[-1].first_at, after[0].first_at).reversed()
    drawn: list[tuple[str, Path, bool]] = [
        ("base", base, False),
        ("end", end, _on_fold(edge_piece, beside[0][0], end)),
        ("top", top, False),
        ("start", start_edge, _on_fold(edge_piece, beside[-1][0], start_edge)),
    ]
    edges = tuple(Edge(Label(name), (Run(path),), on_fold=fold) for name, path, fold in drawn)
    marks = tuple(
        mark.changed(edge=Label("base"))
        for mark in edge_piece.marks
        if mark.kind == "notch" and base.nearest(mark.at)[1] < 1e-3
    )
    made = piece.changed(edges=edges, marks=marks, grain=edge_piece.grain)
    check_simple(made, "this facing does not work", help="make it less deep")
    return Change(made, let_in=(made.outline,))


def _on_fold(piece: Piece, number: int, path: Path) -> bool:
    """Whether an end of the facing lies wholly on a fold edge of the piece."""
    edge = piece.edges[number]
    return edge.on_fold and path.length <= edge.length + 1e-6
