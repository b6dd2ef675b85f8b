"""From an evaluated pattern to the drawing of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.sheet.drawing import Sheet, extent
from oaktag.compiler.sheet.identity import settings, state
from oaktag.compiler.sheet.piece import piece_group
from oaktag.compiler.sheet.scale import scale_square
from oaktag.compiler.sheet.shelves import set_out

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.piece import Piece


def lay_out(pattern: Pattern, made_for: str = "") -> Sheet:
    """All pieces that are cut, side by side at full size, with a square to measure first.

    made_for: the body or size, as the labels are to say it. If nothing is said to be cut, all
    pieces are shown but those that were divided. Raises PaperError where an edge cannot take its
    allowance.
    """
    own, told = state(pattern), settings(pattern)
    groups = [scale_square(pattern.title, made_for, own, told)]
    groups += [piece_group(pattern, piece, made_for) for piece in cut_pieces(pattern)]
    shifts, width, height = set_out([extent(group) for group in groups])
    placed = [group.changed(at=shift) for group, shift in zip(groups, shifts, strict=True)]
    return Sheet(pattern.title, width, height, tuple(placed), made_for, own, told)


def cut_pieces(pattern: Pattern) -> list[Piece]:
    """The pieces that reach the cloth, in the order of the file."""
    return pattern.made
