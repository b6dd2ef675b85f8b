"""Edges that must be straight: those on a fold, and those about which paper is unfolded."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.errors import PaperError

STRAIGHT = 0.05  # mm: an edge bows less than this, or it cannot lie on a fold


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
    away = max(
        abs(((place - edge.start) / chord).imag) * abs(chord) for place in edge.path.flattened(0.01)
    )
    if away > STRAIGHT:
        raise PaperError(
            f"`{edge.label}` is not straight, so it cannot lie on a fold: it bows by {{0}}",
            away,
            help=f"straighten it first: `redraw {edge.label} = …`",
            about=about,
            code="bent-fold",
        )
