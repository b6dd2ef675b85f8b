"""The label of a piece: what it is, of which pattern, and how often it is cut."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.finish.placing import calmest_place
from oaktag.compiler.sheet.drawing import Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import CutOrder, Pattern
    from oaktag.compiler.paper.piece import Piece

LARGEST = 6.0  # mm
READABLE = 2.0  # mm
NAME = 1.6  # of the size of the other lines
_LINE = 1.5  # from line to line, of the size
_AIR = 0.92  # of the room that is used
_ENOUGH = 1.5 * LARGEST  # so that it stands free


def label_lines(pattern: Pattern, piece: Piece, made_for: str) -> list[str]:
    """The piece's name, the pattern, how it is cut, and for which body or size."""
    on_fold = any(edge.on_fold for edge in piece.edges)
    cuts = [_order(cut, on_fold) for cut in pattern.cuts if cut.piece == piece.name]
    return [line for line in (piece.name, pattern.title, *cuts, made_for) if line]


def label(
    lines: Sequence[str], outline: Sequence[complex], obstacles: Sequence[Sequence[complex]]
) -> list[Text]:
    """The lines as one block at the calmest place of the piece, never off it.

    Where it would be too small to read: upright, or the name alone, at last over drawn lines.
    """
    tries = itertools.product((obstacles, ()), (lines, lines[:1]), (False, True))
    best, texts = 0.0, []
    for avoided, shown, upright in tries:
        wide, high = _half_size(shown)
        if upright:
            wide, high = high, wide
        place, room = calmest_place(outline, avoided, wide, high, _ENOUGH)
        if room > best:
            best, texts = room, _block(shown, place, min(LARGEST, room * _AIR), upright)
        if best * _AIR >= READABLE:
            break
    return texts


def _order(cut: CutOrder, on_fold: bool) -> str:
    how = " as a pair" if cut.pair and cut.count == 2 else " as pairs" if cut.pair else ""
    return f"cut {cut.count}{how}{' on the fold' if on_fold else ''} in {cut.cloth}"


def _half_size(lines: Sequence[str]) -> tuple[float, float]:
    """Half the width and height of the block where the type is 1 mm."""
    widths = [Text(line, 0j, NAME if not i else 1.0).width for i, line in enumerate(lines)]
    return max(widths) / 2, (NAME + (len(lines) - 1)) * _LINE / 2


def _block(lines: Sequence[str], place: complex, size: float, upright: bool) -> list[Text]:
    down = (1 + 0j if upright else -1j) * size * _LINE
    _, half = _half_size(lines)
    texts = []
    at = place - down / _LINE * half
    for number, line in enumerate(lines):
        share = NAME if not number else 1.0
        middle = at + down * share / 2
        kind = "name" if not number else "label"
        texts.append(Text(line, middle, size * share, 90.0 if upright else 0.0, kind))
        at += down * share
    return texts
