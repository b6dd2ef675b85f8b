"""Edges that must be straight: those on a fold, and those about which paper is unfolded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.piece import Piece

if TYPE_CHECKING:
    from collections.abc import Iterable

STRAIGHT = 0.05  # mm: an edge bows less than this, or it cannot lie on a fold
EVEN = 1.0  # mm: so much may a line bow at which a piece is lengthened


def furthest_off(chain: Chain, places: Iterable[complex]) -> float:
    """How far the furthest of some places lies from the straight through the ends of a chain."""
    chord = chain.end - chain.start
    if abs(chord) < 1e-9:
        return max(abs(place - chain.start) for place in places)
    return max(abs(((place - chain.start) / chord).imag) * abs(chord) for place in places)


def check_straight(edge: Chain, about: str) -> None:
    """Refuses an edge that bows."""
    chord = edge.end - edge.start
    if abs(chord) < STRAIGHT:
        raise PaperError(
            f"`{edge.label}` ends where it begins, so it cannot lie on a fold",
            help="name a straight edge",
            about=about,
            code="bent-fold",
        )
    away = furthest_off(edge, edge.path.flattened(0.01))
    if away > STRAIGHT:
        raise PaperError(
            f"`{edge.label}` is not straight, so it cannot lie on a fold: it bows by {{0}}",
            away,
            help=f"straighten it first: `redraw {edge.label} = …`",
            about=about,
            code="bent-fold",
        )


def check_one_side(piece: Piece, edge: Chain, about: str) -> None:
    """Refuses paper that reaches over the line of a fold."""
    way = (edge.end - edge.start) / abs(edge.end - edge.start)
    inward = way * piece.inward
    over = max(
        -((place - edge.start) * inward.conjugate()).real for place in piece.outline.flattened(0.1)
    )
    if over > STRAIGHT:
        raise PaperError(
            f"the paper reaches {{0}} over the line of `{edge.label}`, so it would lie on itself "
            "when unfolded",
            over,
            help="lay the fold along an edge beyond which there is no paper",
            about=about,
            code="over-fold",
        )
