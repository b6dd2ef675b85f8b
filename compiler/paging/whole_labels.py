"""Labels set anew so that each can be read on one sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry.vectors import united
from oaktag.compiler.paging.ink import overlap, shifted
from oaktag.compiler.sheet.drawing import extent
from oaktag.compiler.sheet.label import READABLE, label
from oaktag.compiler.sheet.lettering import frame

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Box
    from oaktag.compiler.paging.tiles import Table
    from oaktag.compiler.sheet.drawing import Group, Text

_KINDS = ("name", "label")
_CLOSE = 1e-6


def with_whole_labels(table: Table) -> Table:
    """The same table; a label that lay over the joins of sheets stands on one of them, smaller or
    with fewer words if need be, as long as it can be read and says how the piece is cut.
    """
    return table.changed(groups=tuple(_settled(group, table) for group in table.groups))


def _settled(group: Group, table: Table) -> Group:
    block = [text for text in group.texts if text.kind in _KINDS]
    if group.plate is None or not block or _on_one(block, group.at, table):
        return group
    box = shifted(extent(group), group.at)
    walls = [_ring(tile.cell, -group.at) for tile in table.every if overlap(tile.cell, box)]
    texts, unsaid = label(group.plate, walls)
    told = not set(unsaid) & set(group.plate.cuts)
    readable = min(text.size for text in texts) >= READABLE - _CLOSE
    if not (told and readable and _on_one(texts, group.at, table)):
        return group
    others = [text for text in group.texts if text.kind not in _KINDS]
    return group.changed(texts=(*others, *texts))


def _on_one(block: Sequence[Text], at: complex, table: Table) -> bool:
    """Whether a sheet that is printed shows all of a label."""
    room = shifted(united([frame(text).box() for text in block]), at)
    return any(
        tile.window[0] <= room[0]
        and tile.window[1] <= room[1]
        and room[2] <= tile.window[2]
        and room[3] <= tile.window[3]
        for tile in table.tiles
    )


def _ring(box: Box, by: complex) -> list[complex]:
    left, bottom, right, top = shifted(box, by)
    corners = [complex(left, bottom), complex(right, bottom), complex(right, top)]
    return [*corners, complex(left, top), corners[0]]
