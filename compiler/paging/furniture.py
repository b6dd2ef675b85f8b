"""What is printed around the drawing so that sheets can be told apart and joined exactly."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import line, polyline
from oaktag.compiler.paging.ink import shifted
from oaktag.compiler.paging.page import MIDDLE, RIGHT, Ink, Words
from oaktag.compiler.sheet.drawing import Text

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from oaktag.compiler.geometry import Box
    from oaktag.compiler.paging.ink import Crowd
    from oaktag.compiler.paging.tiles import Tile

DIAMOND = 3.5  # mm from its middle to a corner
HAIR = 0.15  # mm
NAME, SMALL = 6.0, 2.6  # mm: size of the sheet's name, of other words
INSIDE = 6.0  # mm from the frame to the words: clear of the diamonds
_LINE = 1.35  # from line to line, of the size
_SMALLEST = 2.0  # mm: of words where there is little room
_STEP = 8.0  # mm: from place to place that is tried
_DEEP = 3  # steps in from its side that the name of a neighbour may stand
_BETWEEN = " · "


def joins(tile: Tile, printed: Iterable[Tile], crowd: Crowd) -> tuple[list[Ink], list[Words]]:
    """The frame with its diamonds where sheets meet, in the drawing's coordinates, and the names of
    the neighbours beside them, where nothing is drawn. They count as drawn from then on.

    A diamond stands on each corner and on the middle of each side that is shared with a sheet that
    is printed; two of its quarters are black, so that its middle can be found.
    """
    around = {(other.row - tile.row, other.column - tile.column): other for other in printed}
    left, bottom, right, top = tile.cell
    middle = complex((left + right) / 2, (bottom + top) / 2)
    inks: list[Ink] = []
    words: list[Words] = []
    sides = (
        ((0, -1), complex(left, middle.imag), complex(left, bottom), complex(left, top)),
        ((0, 1), complex(right, middle.imag), complex(right, bottom), complex(right, top)),
        ((-1, 0), complex(middle.real, top), complex(left, top), complex(right, top)),
        ((1, 0), complex(middle.real, bottom), complex(left, bottom), complex(right, bottom)),
    )
    for way, place, start, end in sides:
        if way in around:
            inks += [Ink(line(start, end), HAIR), *_diamond(place)]
            words.append(_neighbour(around[way].name, place, end - start, way, crowd))
    for up, corner_y in ((-1, top), (1, bottom)):
        for along, corner_x in ((-1, left), (1, right)):
            if {(up, 0), (0, along), (up, along)} & around.keys():
                inks += _diamond(complex(corner_x, corner_y))
    crowd.boxes += [ink.path.box() for ink in inks if not ink.width]
    return inks, words


def caption(lines: Sequence[Sequence[str]], name: str, cell: Box, crowd: Crowd) -> list[Words]:
    """The sheet's name and lines of words in a corner of the cell, or elsewhere, where nothing is
    drawn; if there is no such place, where least is.

    lines: each in parts, that may stand below each other.
    """
    least, best = -1, list[Words]()
    for shown, size in _shapes(lines, name, cell):
        wide = max(Text(line, 0j, size).width for line in (*shown, name))
        wide = max(wide, Text(name, 0j, NAME).width)
        high = NAME + len(shown) * size * _LINE
        for place in _places(cell, wide, high):
            box = (place.real - 1, place.imag - 1, place.real + wide + 1, place.imag + high + 1)
            taken = crowd.within(box, least)
            if least < 0 or taken < least:
                least, best = taken, list(_caption(shown, name, place, high, size))
            if not least:
                return best
    return best


def _shapes(
    lines: Sequence[Sequence[str]], name: str, cell: Box
) -> Iterator[tuple[list[str], float]]:
    """Ways to set the lines, with the size of their type, from the largest down."""
    whole = [_BETWEEN.join(parts) for parts in lines]
    narrow = [part for parts in lines for part in parts]
    for shown, size in ((whole, SMALL), (narrow, SMALL), (narrow, _SMALLEST)):
        wide = max(Text(line, 0j, size).width for line in (*shown, name))
        yield shown, size * min(1.0, (cell[2] - cell[0] - 2 * INSIDE) / wide)


def _places(cell: Box, wide: float, high: float) -> Iterator[complex]:
    """The lower left of a block: in the four corners, then everywhere, corners first."""
    left, bottom = cell[0] + INSIDE, cell[1] + INSIDE
    right, top = max(left, cell[2] - INSIDE - wide), max(bottom, cell[3] - INSIDE - high)
    corners = [complex(x, y) for y in (bottom, top) for x in (left, right)]
    yield from corners
    across, up = math.ceil((right - left) / _STEP), math.ceil((top - bottom) / _STEP)
    others = [
        complex(
            left + (right - left) * i / max(across, 1), bottom + (top - bottom) * j / max(up, 1)
        )
        for j in range(up + 1)
        for i in range(across + 1)
    ]
    yield from sorted(others, key=lambda place: min(abs(place - corner) for corner in corners))


def _caption(
    lines: Sequence[str], name: str, corner: complex, high: float, size: float
) -> Iterator[Words]:
    if name:
        yield Words(name, corner + (high - NAME * 0.75) * 1j, NAME, bold=True)
    for number, words in enumerate(reversed(lines)):
        yield Words(words, corner + (0.3 + number * _LINE) * size * 1j, size)


def _diamond(middle: complex) -> list[Ink]:
    right, up = DIAMOND + 0j, DIAMOND * 1j
    corners = [middle + way for way in (right, up, -right, -up, right)]
    return [
        Ink(polyline(corners), HAIR),
        Ink(polyline([middle, middle + right, middle + up, middle])),
        Ink(polyline([middle, middle - right, middle - up, middle])),
    ]


def _neighbour(
    name: str, place: complex, side: complex, way: tuple[int, int], crowd: Crowd
) -> Words:
    """The name of the sheet that joins there, within the frame, beside the diamond or further along
    the side; further in, where a line of a piece runs along it.
    """
    down, along = way
    wide = Text(name, 0j, SMALL).width
    if along:
        at = place - complex(along * (DIAMOND + 1.5), 0.35 * SMALL)
        words = Words(name, at, SMALL, side=RIGHT if along > 0 else "left")
        start = at.real - (wide if along > 0 else 0.0)
    else:
        up = DIAMOND + 1.5 if down > 0 else -(DIAMOND + 1.5 + 0.7 * SMALL)
        words = Words(name, place + up * 1j, SMALL, side=MIDDLE)
        start = place.real - wide / 2
    foot = words.at.imag
    room = (start - 0.5, foot - 0.5, start + wide + 0.5, foot + 0.75 * SMALL + 0.5)
    step = side / abs(side) * _STEP
    tries = [step * number for number in range(int(abs(side) / _STEP / 2 - 1))]
    inward = complex(-along, 0) if along else complex(0, down)
    places = (
        off + inward * _STEP * depth
        for depth in range(_DEEP)
        for one in tries
        for off in (one, -one)
    )
    off = next((off for off in places if not crowd.within(shifted(room, off), 1)), 0j)
    crowd.boxes.append(shifted(room, off))
    return words.changed(at=words.at + off)
