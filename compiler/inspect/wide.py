"""Allowances for which the piece itself is too narrow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import error
from oaktag.lang.units import show_length, unit_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from oaktag.compiler.evaluate.pattern import Allowance, Pattern
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.diagnostics import Diagnostic

SAME = 0.01  # mm


def too_wide(pattern: Pattern) -> Iterator[Diagnostic]:
    """Allowances wider than the paper is deep behind their edge: turned in, they come out again."""
    unit = pattern.unit
    told: set[int] = set()
    for piece in pattern.pieces.values():
        for edge in piece.edges:
            allowance = _last(pattern, piece, edge)
            if edge.on_fold or allowance is None or id(allowance) in told:
                continue
            deep = _depth(piece, edge, allowance.width)
            if allowance.width > deep + SAME:
                told.add(id(allowance))
                said = unit_in(allowance.span.text, unit) if allowance.span else unit
                yield error(
                    "allowance-wider",
                    f"an allowance of {show_length(allowance.width, said)} on "
                    f"`{piece.name}.{edge.label}` is wider than the piece, which is "
                    f"{show_length(deep, said)} deep there",
                    allowance.span,
                    help=f"allow less than {show_length(deep, said)}, or cut the piece deeper",
                )


def _last(pattern: Pattern, piece: Piece, edge: Edge) -> Allowance | None:
    """What is said last of the allowance of a whole edge."""
    found = None
    for allowance in pattern.allowances:
        if allowance.piece == piece.name and (
            allowance.edges is None
            or any(edge.label.answers(named.label) for named in allowance.edges)
        ):
            found = allowance
    return found


def _depth(piece: Piece, edge: Edge, enough: float) -> float:
    """How far the paper reaches from the straight between an edge's ends, square to it, in mm.

    If its corners alone reach far enough, curves between them are not looked at.
    """
    way = edge.end - edge.start
    if abs(way) < SAME:
        return float("inf")
    inward = way / abs(way) * piece.inward

    def depth(places: Iterable[complex]) -> float:
        return max(((place - edge.start) * inward.conjugate()).real for place in places)

    corners = depth(run.path.start for other in piece.edges for run in other.runs)
    return corners if corners >= enough else depth(piece.outline.flattened(1.0))
