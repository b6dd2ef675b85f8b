"""The label of a piece: what it is, of which pattern, and how often it is cut."""

from __future__ import annotations

import cmath
import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.expressions import show
from oaktag.compiler.finish.placing import calmest_place
from oaktag.compiler.sheet.drawing import Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import CutOrder, Pattern
    from oaktag.compiler.paper.piece import Piece

LARGEST = 6.0  # mm
READABLE = 2.0  # mm
NAME = 1.6  # of the size of the other lines
_STEEP = math.sin(math.radians(60))
_LONG = 40  # letters
_LINE = 1.5  # from line to line, of the size
_AIR = 0.92  # of the room that is used
_ENOUGH = 1.5 * LARGEST  # so that it stands free


def label_lines(pattern: Pattern, piece: Piece, made_for: str) -> list[str]:
    """The piece's name, the pattern and its revision, how it is cut, for which body or size, and
    what was chosen, if that is short.
    """
    on_fold = any(edge.on_fold for edge in piece.edges)
    cuts = [_order(cut, on_fold) for cut in pattern.cuts if cut.piece == piece.name]
    state = f"revision {pattern.revision}" if pattern.revision else ""
    state = ", ".join(filter(None, (state, pattern.date)))
    lines = (piece.name, pattern.title, state, *cuts, made_for, _chosen(pattern))
    return [line for line in lines if line]


def label(
    lines: Sequence[str],
    outline: Sequence[complex],
    obstacles: Sequence[Sequence[complex]],
    grain: complex = 1j,
) -> list[Text]:
    """The lines as one block at the calmest place of the piece, never off it.

    They follow the grain where that lies rather level, else they are square to it, so that they
    turn with it and never stand on their head. Where the block would be too small to read: turned
    by a right angle, or the name alone, at last over drawn lines.
    """
    tries = itertools.product((obstacles, ()), (lines, lines[:1]), (False, True))
    turn = _reading_way(grain)
    ring = [place / turn for place in outline]
    best, texts = 0.0, []
    for avoided, shown, upright in tries:
        wide, high = _half_size(shown)
        if upright:
            wide, high = high, wide
        laid = [[place / turn for place in points] for points in avoided]
        place, room = calmest_place(ring, laid, wide, high, _ENOUGH)
        if room > best:
            size = min(LARGEST, room * _AIR)
            best, texts = room, _block(shown, place, size, upright, turn)
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


def _reading_way(grain: complex) -> complex:
    """The direction in which the words run: along the grain, or square to it where it is steep."""
    way = grain / abs(grain) if abs(grain) > 0 else 1j
    if abs(way.imag) > _STEEP:
        way *= -1j
    return way if way.real > 0 else -way


def _chosen(pattern: Pattern) -> str:
    """The choices that were set from outside, unless that is long: the names tell enough then."""
    said = ", ".join(
        f"{name.replace('_', ' ')} {show(pattern.choices[name], pattern.unit)}"
        for name in pattern.chosen
    )
    return said if len(said) <= _LONG else ""


def _block(
    lines: Sequence[str], place: complex, size: float, upright: bool, turn: complex
) -> list[Text]:
    angle = math.degrees(cmath.phase(turn)) + (90.0 if upright else 0.0)
    if angle > 90.0 + 1e-6:  # it would stand on its head
        place, turn, angle = -place, -turn, angle - 180.0
    down = (1 + 0j if upright else -1j) * size * _LINE
    _, half = _half_size(lines)
    texts = []
    at = place - down / _LINE * half
    for number, line in enumerate(lines):
        share = NAME if not number else 1.0
        middle = at + down * share / 2
        kind = "name" if not number else "label"
        texts.append(Text(line, middle * turn, size * share, angle, kind))
        at += down * share
    return texts
