"""Redrawing parts of an outline, and the paper that lets in or cuts away."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, lenses, self_crossings
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.piece import Piece

SPREAD_LESS = "open or close it less, or let it stay joined at the other end"
REDRAW = "lead it so that it meets the outline only at its two ends"


def check_simple(
    piece: Piece, message: str, before: Piece | None = None, help: str = SPREAD_LESS
) -> None:
    """Refuses a piece whose outline crosses itself. before: the piece it was made from."""
    since = before.outline if before is not None and before.edges else None
    crossings = self_crossings(piece.outline, True, since)
    if crossings:
        raise PaperError(
            f"{message}: its outline crosses itself {{0}} from the start of "
            f"`{piece.edges[0].label}`",
            crossings[0][0],
            help=help,
            code="crosses-itself",
        )


def difference(old: Path, new: Path, inward: complex) -> tuple[tuple[Path, ...], tuple[Path, ...]]:
    """The paper let in and cut away when a stretch of outline is replaced, as closed rings.

    inward: what turns the direction of travel into the paper, `1j` or `-1j`.
    """
    let_in: list[Path] = []
    cut_away: list[Path] = []
    for ring, area in lenses(old, new):
        outside = (area > 0) == (inward == 1j)
        (let_in if outside else cut_away).append(ring)
    return tuple(let_in), tuple(cut_away)
