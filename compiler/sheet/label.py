"""The label of a piece: what it is, of which pattern, and how often it is cut."""

from __future__ import annotations

import cmath
import math
from typing import TYPE_CHECKING

from oaktag.compiler.finish.placing import calmest_place
from oaktag.compiler.making.facing_up import orders_of
from oaktag.compiler.sheet.drawing import Plate, Text
from oaktag.compiler.sheet.identity import settings, shortened, spelled, state

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.piece import Piece

    Points = Sequence[complex]

LARGEST = 6.0  # mm
READABLE = 2.0  # mm
NAME = 1.6  # of the size of the other lines
_STEEP = math.sin(math.radians(60))
_LINE = 1.5  # from line to line, of the size
_CLEAR = 0.4  # of the size, on all sides of the block
_AIR = 0.92  # of the room that is used
_ENOUGH = 1.5 * LARGEST  # so that it stands free


def plate(
    pattern: Pattern, piece: Piece, made_for: str, outline: Points, obstacles: Sequence[Points]
) -> Plate:
    """What is to be said of a piece; obstacles: what its label keeps clear of."""
    cuts = tuple(orders_of(pattern, piece))
    others = tuple(filter(None, (made_for, shortened(settings(pattern)))))
    way = piece.grain.end - piece.grain.start if piece.grain else 1j
    name, own = spelled(piece.name), state(pattern)
    around = tuple(map(tuple, obstacles))
    return Plate(name, pattern.title, own, cuts, others, tuple(outline), around, way)


def label(plate: Plate, walls: Sequence[Points] = ()) -> tuple[list[Text], list[str]]:
    """The lines as one block at the calmest place of the piece, never off it; and those for which
    there was no room.

    They follow the grain where that lies rather level, else they are square to it, so that they
    turn with it and never stand on their head. Where the block would be too small to read: turned
    by a right angle, or fewer words, the name and how it is cut before the others; at last the name
    alone, over drawn lines. walls: what it keeps clear of besides.
    """
    turn = _reading_way(plate.way)
    ring = [place / turn for place in plate.outline]
    avoided = [[place / turn for place in points] for points in (*plate.obstacles, *walls)]
    best, texts, said = 0.0, list[Text](), list[str]()
    tries = [(avoided, shown) for shown in _fewer_and_fewer(plate)]
    tries.append(([], [plate.name]))
    for laid, shown in tries:
        for upright in (False, True):
            wide, high = _half_size(shown)
            if upright:
                wide, high = high, wide
            place, room = calmest_place(ring, laid, wide, high, _ENOUGH)
            if room > best:
                size = min(LARGEST, room * _AIR)
                best, said = room, shown
                texts = _block(shown, place, size, upright, turn)
            if best * _AIR >= READABLE:
                return texts, _unsaid(plate, said)
    return texts, _unsaid(plate, said)


def _fewer_and_fewer(plate: Plate) -> Iterator[list[str]]:
    """What may be said of a piece: everything, also in fewer lines; then less and less."""
    yield plate.lines
    about = ", ".join(filter(None, (plate.state, *plate.others)))
    packed = [plate.name, ", ".join(plate.cuts), plate.title, about]
    yield [line for line in packed if line]
    if plate.cuts:
        if plate.state:
            yield [plate.name, *plate.cuts, plate.state]
        yield [plate.name, *plate.cuts]
        yield [f"{plate.name}: {', '.join(plate.cuts)}"]
    yield [plate.name]


def _unsaid(plate: Plate, said: Sequence[str]) -> list[str]:
    """The lines of which nothing stands in the label."""
    told = " ".join(said)
    return [line for line in plate.lines[1:] if line not in told]


def _half_size(lines: Sequence[str]) -> tuple[float, float]:
    """Half the width and height of the block where the type is 1 mm."""
    widths = [Text(line, 0j, NAME if not i else 1.0).width for i, line in enumerate(lines)]
    return max(widths) / 2 + _CLEAR, (NAME + (len(lines) - 1)) * _LINE / 2 + _CLEAR


def _reading_way(grain: complex) -> complex:
    """The direction in which the words run: along the grain, or square to it where it is steep."""
    way = grain / abs(grain) if abs(grain) > 0 else 1j
    if abs(way.imag) > _STEEP:
        way *= -1j
    return way if way.real > 0 else -way


def _block(
    lines: Sequence[str], place: complex, size: float, upright: bool, turn: complex
) -> list[Text]:
    angle = math.degrees(cmath.phase(turn)) + (90.0 if upright else 0.0)
    if angle > 90.0 + 1e-6:  # it would stand on its head
        place, turn, angle = -place, -turn, angle - 180.0
    down = (1 + 0j if upright else -1j) * size * _LINE
    texts = []
    at = place - down * (NAME + len(lines) - 1) / 2
    for number, line in enumerate(lines):
        share = NAME if not number else 1.0
        middle = at + down * share / 2
        kind = "name" if not number else "label"
        texts.append(Text(line, middle * turn, size * share, angle, kind))
        at += down * share
    return texts
