"""The plan of all sheets: which shows what, and which are blank."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import line, polyline
from oaktag.compiler.paging.page import MIDDLE, Ink, Words
from oaktag.compiler.sheet.drawing import CUT, Text

if TYPE_CHECKING:
    from oaktag.compiler.paging.tiles import Table

_FINE, _BOLD = 0.1, 0.35  # mm
_LARGEST, _PIECE = 2.6, 2.6  # mm: of the type for sheets and for pieces
_FLAT = 2.0  # mm on the pieces


def plan(table: Table, wide: float, high: float) -> tuple[list[Ink], list[Words], float]:
    """Lines, words and height of a plan, its upper left corner at 0, in a room of this size (mm).

    The cut lines of the pieces, small, over the cells of the sheets; blank cells are crossed out.
    """
    right, top = table.size
    scale = min(wide / right, high / top)
    origin = complex(0, top)
    inks: list[Ink] = []
    words: list[Words] = []
    printed = {(tile.row, tile.column): tile for tile in table.tiles}
    for group in table.groups:
        for stroke in group.strokes:
            if stroke.layer == CUT:
                points = stroke.path.flattened(_FLAT)
                drawn = [(point + group.at - origin) * scale for point in points]
                inks.append(Ink(polyline(drawn), _BOLD))
        words += [
            Words(text.content, (text.at + group.at - origin) * scale, _PIECE, True, MIDDLE)
            for text in group.texts
            if text.kind == "name"
        ]
    for tile in table.every:
        a = (complex(*tile.cell[:2]) - origin) * scale
        b = (complex(*tile.cell[2:]) - origin) * scale
        corners = [a, complex(b.real, a.imag), b, complex(a.real, b.imag), a]
        inks.append(Ink(polyline(corners), _FINE))
        if (tile.row, tile.column) in printed:
            text = Text(tile.name, 0j, _LARGEST)
            room = min(0.8 * (b - a).real / text.width, 0.6 * (b - a).imag / _LARGEST, 1.0)
            size = _LARGEST * room
            words.append(Words(tile.name, complex(a.real, b.imag) + (0.3 - 1j) * size, size))
        else:
            inks += [Ink(line(a, b), _FINE), Ink(line(corners[1], corners[3]), _FINE)]
    return inks, words, top * scale
