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
    """Allowances wider than the paper is deep behind their edge: turned in, they come out again.

    Each width of a line is told of once, at the narrowest place of all that it names: less than
    that fits everywhere.
    """
    narrowest: dict[object, tuple[float, Allowance, str]] = {}
    for piece in pattern.pieces.values():
        for edge in piece.edges:
            allowance = _last(pattern, piece, edge)
            if edge.on_fold or allowance is None:
                continue
            deep = _depth(piece, edge, allowance.width)
            line = (allowance.span or id(allowance), allowance.width)
            if allowance.width > deep + SAME and (
                line not in narrowest or deep < narrowest[line][0]
            ):
                narrowest[line] = (deep, allowance, f"{piece.name}.{edge.label}")
    for deep, allowance, name in narrowest.values():
        unit = unit_in(allowance.span.text, pattern.unit) if allowance.span else pattern.unit
        yield error(
            "allowance-wider",
            f"an allowance of {show_length(allowance.width, unit)} on `{name}` is wider than the "
            f"piece, which is {show_length(deep, unit)} deep there",
            allowance.span,
            help=f"allow less than {show_length(deep, unit)}, or cut the piece deeper",
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
