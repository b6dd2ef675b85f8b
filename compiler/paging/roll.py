"""One long page from a roll or for a projector, in parts where no program could show the whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paging.arrange import GAP, on_roll
from oaktag.compiler.paging.errors import PagingError
from oaktag.compiler.paging.ink import REACH, Ink, grown
from oaktag.compiler.paging.paging import PROJECTOR, ROLL, UNIT, printable
from oaktag.compiler.paging.papers import LARGEST
from oaktag.compiler.sheet.drawing import extent
from oaktag.compiler.sheet.turning import quarter_turned
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.paging.paging import Paging
    from oaktag.compiler.sheet.drawing import Group

THICK = 3.0
"""How often thicker than on paper a projector's lines are, to be seen on cloth in daylight."""
_SCREEN = 16 / 9  # a projector's picture, width to height; common practice, no source
_TRIES = 24


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
    thick = THICK if paging.kind == PROJECTOR else 1.0
    groups = [_fitted(group, paging) for group in groups]
    inks = [Ink(group, REACH * thick) for group in groups]
    sizes = [(ink.box[2] - ink.box[0], ink.box[3] - ink.box[1]) for ink in inks]
    wide = printable(paging)[0] if paging.kind == ROLL else _broad(groups, sizes, paging)
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


def _fitted(group: Group, paging: Paging) -> Group:
    """The group as it lies on a roll: turned by a quarter if it is too wide and may be turned."""
    if paging.kind != ROLL:
        return group
    left, bottom, right, top = grown(extent(group), REACH)
    width, height, wide = right - left, top - bottom, printable(paging)[0]
    if width <= wide + 1e-6:
        return group
    if height <= wide + 1e-6 and paging.turning:
        return quarter_turned(group)
    needed = paging.length(min(width, height if paging.turning else width) + 2 * paging.margin)
    turn = "turn it by a quarter (`--turn`), " if height <= wide + 1e-6 else ""
    across = paging.length(paging.paper[0])
    paper = f"a roll of {across}" if paging.name == "roll" else f"{paging.name}, {across} wide,"
    raise PagingError(
        f"{group.name} is {paging.length(width - 2 * REACH)} wide, and {paper} with margins of "
        f"{paging.length(paging.margin)} takes {paging.length(wide)}",
        f"{turn}take a roll of {needed} or more (`--roll`), or print sheets to be pasted together "
        f"(`--paper a4`)",
    )


def _broad(groups: Sequence[Group], sizes: Sequence[tuple[float, float]], paging: Paging) -> float:
    """The width at which a projector's picture shows the pieces largest."""
    widest = max(range(len(sizes)), key=lambda number: (sizes[number][0], -number))
    least = sizes[widest][0]
    if least > LARGEST:
        raise PagingError(
            f"{groups[widest].name} is {paging.length(least)} wide, and a page of a PDF is no "
            f"wider than {paging.length(LARGEST)}",
            "divide the piece, or print sheets to be pasted together",
        )
    row = sum(wide + GAP for wide, _ in sizes) - GAP
    tries = [least + (row - least) * share / _TRIES for share in range(_TRIES + 1)]

    def screen(width: float) -> float:
        ends = [
            place + complex(*size) for place, size in zip(on_roll(sizes, width), sizes, strict=True)
        ]
        across = max(end.real for end in ends)
        return max(across, max(end.imag for end in ends) * _SCREEN)

    return min((width for width in tries if width <= LARGEST), key=screen)


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
