"""One long page from a roll or for a projector, in parts where no program could show the whole."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.paging.arrange import on_roll
from oaktag.compiler.paging.errors import PagingError
from oaktag.compiler.paging.ink import Ink
from oaktag.compiler.paging.paging import ROLL, UNIT, printable
from oaktag.compiler.paging.papers import LARGEST
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.paging.paging import Paging
    from oaktag.compiler.sheet.drawing import Group

_SCREEN = 1.6  # a projector's picture: so much wider than high, about


class Strip(Record):
    """Pieces on one long paper, in mm, y up from its foot.

    parts: bottom and top of each part, from the top down. whole: whether the parts end where no
    piece lies; if not, they overlap.
    """

    width: float
    height: float
    groups: tuple[Group, ...]
    parts: tuple[tuple[float, float], ...]
    clean: tuple[bool, ...]


def strip(groups: Sequence[Group], paging: Paging) -> Strip:
    """The pieces as high up as they go on the roll's width; of a projector, on a broad page.

    Raises PagingError for a piece wider than the roll.
    """
    inks = [Ink(group) for group in groups]
    sizes = [(ink.box[2] - ink.box[0], ink.box[3] - ink.box[1]) for ink in inks]
    widest = max(range(len(sizes)), key=lambda number: (sizes[number][0], -number))
    if paging.kind == ROLL:
        wide = printable(paging)[0]
        _must_fit(groups[widest].name, sizes[widest][0], wide, paging)
    else:
        area = sum(w * h for w, h in sizes)
        wide = min(max(math.sqrt(area * _SCREEN), sizes[widest][0]), LARGEST)
        if sizes[widest][0] > LARGEST:
            raise PagingError(
                f"{groups[widest].name} is {paging.length(sizes[widest][0])} wide, and a page of a "
                f"PDF is no wider than {paging.length(LARGEST)}",
                "divide the piece, or print sheets that are pasted together",
            )
    places = on_roll(sizes, wide)
    ends = [place + complex(*size) for place, size in zip(places, sizes, strict=True)]
    height = max(end.imag for end in ends)
    moved = tuple(
        group.changed(at=complex(place.real - ink.box[0], height - place.imag - ink.box[3]))
        for group, place, ink in zip(groups, places, inks, strict=True)
    )
    if paging.kind != ROLL:
        wide = max(end.real for end in ends)
    spans = [
        (height - end.imag, height - place.imag) for place, end in zip(places, ends, strict=True)
    ]
    room = LARGEST - 2 * paging.margin
    whole = paging.long == UNIT or height <= room
    parts = [(0.0, height, True)] if whole else _parts(spans, height, room, paging.overlap)
    return Strip(
        wide,
        height,
        moved,
        tuple((bottom, top) for bottom, top, _ in parts),
        tuple(clean for _, _, clean in parts),
    )


def _must_fit(name: str, needed: float, wide: float, paging: Paging) -> None:
    if needed <= wide + 1e-6:
        return
    roll = paging.length(needed + 2 * paging.margin)
    raise PagingError(
        f"{name} is {paging.length(needed)} wide, and a roll of {paging.length(paging.paper[0])} "
        f"with margins of {paging.length(paging.margin)} takes {paging.length(wide)}",
        f"take a roll of {roll} or more, divide the piece, or print sheets to be pasted together",
    )


def _parts(
    spans: Sequence[tuple[float, float]], height: float, room: float, overlap: float
) -> list[tuple[float, float, bool]]:
    """Bottom, top, and whether it ends clean below: as few as will do, cut between pieces if there
    is a place in the lower half of the room.
    """
    parts = []
    top = height
    while top > room:
        free = [
            bottom
            for bottom, _ in spans
            if top - room <= bottom < top
            and not any(low < bottom - 1e-6 and bottom + 1e-6 < high for low, high in spans)
        ]
        if free:
            parts.append((min(free), top, True))
            top = max(high for _, high in spans if high <= min(free) + 1e-6)
        else:
            parts.append((top - room, top, False))
            top = top - room + overlap
    parts.append((0.0, top, True))
    return parts
