"""The plan of all sheets: which shows what, and which are blank."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import contains, line, polyline
from oaktag.compiler.paging.ink import crosses, overlap
from oaktag.compiler.paging.page import MIDDLE, Ink, Words
from oaktag.compiler.sheet.drawing import CUT, Text

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from oaktag.compiler.geometry import Box, Path
    from oaktag.compiler.paging.tiles import Table

_FINE, _BOLD = 0.1, 0.35  # mm
_LARGEST = 2.6  # mm: of the type for sheets
_SIZES = (2.8, 2.3, 1.8)  # mm: of the type for pieces
_AWAY = [0.75 * step for step in range(-12, 13)]  # of their size: how far names give way
_FLAT = 2.0  # mm on the pieces


def plan(table: Table, wide: float, high: float) -> tuple[list[Ink], list[Words], float]:
    """Lines, words and height of a plan, its upper left corner at 0, in a room of this size (mm).

    The cut lines of the pieces, small, over the cells of the sheets; blank cells are crossed out.
    Names of pieces keep clear of those of sheets and of each other.
    """
    right, top = table.size
    scale = min(wide / right, high / top)
    origin = complex(0, top)

    def down(place: complex) -> complex:
        return (place - origin) * scale

    papers = [
        [
            polyline([down(point + group.at) for point in stroke.path.flattened(_FLAT)])
            for stroke in group.strokes
            if stroke.layer == CUT
        ]
        for group in table.groups
    ]
    inks, words = _cells(table, down, [path for paper in papers for path in paper])
    inks += [Ink(path, _BOLD) for paper in papers for path in paper]
    for group, paper in zip(table.groups, papers, strict=True):
        for text in group.texts:
            if text.kind == "name":
                said = group.plate.name if group.plate else text.content
                taken = [_room(line) for line in words]
                words.append(_named(said, down(text.at + group.at), paper, taken))
    return inks, words, top * scale


def _cells(
    table: Table, down: Callable[[complex], complex], drawn: Sequence[Path]
) -> tuple[list[Ink], list[Words]]:
    """The cells of the sheets, and in a corner of each that is printed its name.

    drawn: the lines it does not stand over, if there is a corner without.
    """
    inks: list[Ink] = []
    words: list[Words] = []
    lines = [path.flattened(_FLAT) for path in drawn]
    printed = {(tile.row, tile.column) for tile in table.tiles}
    for tile in table.every:
        a, b = down(complex(*tile.cell[:2])), down(complex(*tile.cell[2:]))
        corners = [a, complex(b.real, a.imag), b, complex(a.real, b.imag), a]
        inks.append(Ink(polyline(corners), _FINE))
        if (tile.row, tile.column) in printed:
            text = Text(tile.name, 0j, _LARGEST)
            room = min(0.8 * (b - a).real / text.width, 0.6 * (b - a).imag / _LARGEST, 1.0)
            size = _LARGEST * room
            wide = size / _LARGEST * text.width
            places = [
                complex(x, y)
                for y in (b.imag - size, a.imag + 0.3 * size)
                for x in (a.real + 0.3 * size, b.real - 0.3 * size - wide)
            ]
            tried = [Words(tile.name, place, size) for place in places]
            free = (one for one in tried if not any(crosses(p, _room(one)) for p in lines))
            words.append(next(free, tried[0]))
        else:
            inks += [Ink(line(a, b), _FINE), Ink(line(corners[1], corners[3]), _FINE)]
    return inks, words


def _named(name: str, at: complex, paper: Sequence[Path], taken: Sequence[Box]) -> Words:
    """A piece's name on its paper, as near to a place as it does not lie over other words."""
    for size in _SIZES:
        near = [complex(x, y) * size for x in _AWAY for y in _AWAY]
        for off in sorted(near, key=abs):
            words = Words(name, at + off, size, True, MIDDLE)
            on_paper = any(ring.closed and contains(ring, at + off) for ring in paper) or not off
            if on_paper and not any(overlap(_room(words), box) for box in taken):
                return words
    return Words(name, at, _SIZES[-1], True, MIDDLE)


def _room(words: Words) -> Box:
    """What words take at most, with a little air."""
    wide = Text(words.content, 0j, words.size).width
    left = words.at.real - (wide / 2 if words.side == MIDDLE else 0.0)
    air = 0.1 * words.size
    foot = words.at.imag
    return left - air, foot - 3 * air, left + wide + air, foot + 0.75 * words.size + air
