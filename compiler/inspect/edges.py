"""What becomes of the edges of a piece: sewn, hemmed, bound, closed, or nothing."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern, SeamSide
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.piece import Piece

MANY = 1000  # copies of a piece, if no `cut` line says how many


def copies(pattern: Pattern, piece: Piece) -> int:
    """How many of each edge of a piece there will be in one cloth; many, if nothing says so.

    An edge of a piece on the fold is there twice.
    """
    counts: Counter[str] = Counter()
    for order in pattern.cuts:
        if order.piece == piece.name:
            counts[order.cloth] += order.count
    if not counts or not owned(pattern, piece):
        return MANY
    return max(counts.values()) * (2 if any(edge.on_fold for edge in piece.edges) else 1)


def owned(pattern: Pattern, piece: Piece) -> bool:
    """Whether a piece is one of this file, and not of a pattern it uses."""
    return any(own is piece for own in pattern.pieces.values())


def means(piece: Piece, asked: Label, edge: Edge) -> bool:
    """Whether a name means an edge of the outline, or a section of that edge."""
    if edge.label.answers(asked):
        return True
    return any(
        section.label.answers(asked)
        and (edge.label.answers(section.edge) or section.edge.answers(edge.label))
        for section in piece.sections
    )


def sewn_sides(pattern: Pattern) -> Iterator[SeamSide]:
    """Every link of every seam."""
    for seam in pattern.seams:
        yield from seam.first
        yield from seam.second


def closed_sides(pattern: Pattern) -> Iterator[SeamSide]:
    """Every edge, or section of one, at an opening that is fastened."""
    for closure in pattern.closures:
        yield from closure.first
        yield from closure.second


def loose_edges(pattern: Pattern, piece: Piece) -> list[Edge]:
    """The edges with which nothing is done: each as a whole, with no part sewn or hemmed.

    An edge with `allow none` is meant to be cut as it is; the outer edge of a facing hangs free.
    """
    held = [
        side.edge.label
        for sides in (sewn_sides(pattern), closed_sides(pattern), _bound_sides(pattern))
        for side in sides
        if side.piece is piece
    ]
    faced = any(step.verb == "facing" for step in piece.steps)
    return [
        edge
        for edge in piece.edges
        if not edge.on_fold
        and not edge.seam
        and not (faced and edge.label.name == "top")
        and not any(means(piece, label, edge) for label in held)
        and not _settled(pattern, piece, edge)
    ]


def _bound_sides(pattern: Pattern) -> Iterator[SeamSide]:
    for binding in pattern.bindings:
        yield from binding.edges


def _settled(pattern: Pattern, piece: Piece, edge: Edge) -> bool:
    """Whether the last word on its allowance is that it is a hem, or that there is none."""
    settled = False
    for allowance in pattern.allowances:
        if allowance.piece != piece.name:
            continue
        if allowance.edges is None or any(
            edge.label.answers(named.label) for named in allowance.edges
        ):
            settled = allowance.hem or allowance.width == 0
        elif allowance.hem and any(means(piece, one.label, edge) for one in allowance.edges):
            settled = True
    return settled


def unsewn(pattern: Pattern, piece: Piece, edge: Edge) -> float:
    """How much of an edge, in mm as sewn, no seam takes up and no fastening closes."""
    left = edge.sewn
    told = set()
    for sides in (sewn_sides(pattern), closed_sides(pattern)):
        for side in sides:
            if side.piece is not piece or side.edge.label in told:
                continue
            told.add(side.edge.label)
            if edge.label.answers(side.edge.label):
                return 0.0
            if means(piece, side.edge.label, edge):
                left -= side.edge.sewn
    return max(left, 0.0)


def beside(piece: Piece, edge: Edge) -> tuple[Edge, Edge]:
    """The edges before and behind one in the outline."""
    number = next(i for i, item in enumerate(piece.edges) if item is edge)
    return piece.edges[number - 1], piece.edges[(number + 1) % len(piece.edges)]
