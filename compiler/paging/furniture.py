"""What is printed around the drawing so that sheets can be told apart and joined exactly."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import line, polyline
from oaktag.compiler.paging.page import MIDDLE, RIGHT, Ink, Words
from oaktag.compiler.sheet.drawing import Text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from oaktag.compiler.geometry import Box
    from oaktag.compiler.paging.tiles import Tile

DIAMOND = 3.5  # mm from its middle to a corner
HAIR = 0.15  # mm
NAME, SMALL = 6.0, 2.6  # mm: size of the sheet's name, of other words
INSIDE = 6.0  # mm from the frame to the words: clear of the diamonds
_LINE = 1.35  # from line to line, of the size


def joins(tile: Tile, printed: Iterable[Tile]) -> tuple[list[Ink], list[Words]]:
    """The frame with its diamonds where sheets meet, in the drawing's coordinates, and the names of
    the neighbours.

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
            words.append(_neighbour(around[way].name, place, way))
    for up, corner_y in ((-1, top), (1, bottom)):
        for along, corner_x in ((-1, left), (1, right)):
            if {(up, 0), (0, along), (up, along)} & around.keys():
                inks += _diamond(complex(corner_x, corner_y))
    return inks, words


def caption(
    lines: Sequence[str], name: str, cell: Box, crowding: Callable[[Box], int]
) -> list[Words]:
    """The sheet's name and some lines of words, in the corner of the cell where least is drawn.

    crowding: how much is drawn within a box.
    """
    wide = max([Text(line, 0j, SMALL).width for line in lines] + [Text(name, 0j, NAME).width])
    small = SMALL * min(1.0, (cell[2] - cell[0] - 2 * INSIDE) / wide)
    wide *= small / SMALL
    high = NAME + len(lines) * small * _LINE
    left, bottom = cell[0] + INSIDE, cell[1] + INSIDE
    right, top = max(left, cell[2] - INSIDE - wide), max(bottom, cell[3] - INSIDE - high)
    corners = [complex(x, y) for y in (bottom, top) for x in (left, right)]

    corner = min(
        corners,
        key=lambda place: crowding(
            (place.real - 1, place.imag - 1, place.real + wide + 1, place.imag + high + 1)
        ),
    )
    words = [Words(name, corner + (high - NAME * 0.75) * 1j, NAME, bold=True)] if name else []
    for number, line_ in enumerate(reversed(lines)):
        words.append(Words(line_, corner + (0.3 + number * _LINE) * small * 1j, small))
    return words


def _diamond(middle: complex) -> list[Ink]:
    right, up = DIAMOND + 0j, DIAMOND * 1j
    corners = [middle + way for way in (right, up, -right, -up, right)]
    return [
        Ink(polyline(corners), HAIR),
        Ink(polyline([middle, middle + right, middle + up, middle])),
        Ink(polyline([middle, middle - right, middle - up, middle])),
    ]


def _neighbour(name: str, place: complex, way: tuple[int, int]) -> Words:
    """The name of the sheet that joins there, within the frame."""
    down, along = way
    if along:
        at = place - complex(along * (DIAMOND + 1.5), 0.35 * SMALL)
        return Words(name, at, SMALL, side=RIGHT if along > 0 else "left")
    up = DIAMOND + 1.5 if down > 0 else -(DIAMOND + 1.5 + 0.7 * SMALL)
    return Words(name, place + up * 1j, SMALL, side=MIDDLE)
