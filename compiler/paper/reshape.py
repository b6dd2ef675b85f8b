"""Redrawing parts of an outline, and the paper that lets in or cuts away."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, lenses, self_crossings
from oaktag.compiler.paper.areas import Areas
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


def difference(old: Path, new: Path, inward: complex) -> tuple[Areas, Areas]:
    """The paper let in and cut away when a stretch of outline is replaced.

    inward: what turns the direction of travel into the paper, `1j` or `-1j`.
    """
    found: list[tuple[Path, bool]] = []

    def rings(outside: bool) -> list[Path]:
        if not found:
            found.extend((ring, (area > 0) == (inward == 1j)) for ring, area in lenses(old, new))
        return [ring for ring, out in found if out == outside]

    return Areas(lambda: rings(True)), Areas(lambda: rings(False))
