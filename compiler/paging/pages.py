"""From a drawing to pages."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import translation
from oaktag.compiler.paging.cover import cover
from oaktag.compiler.paging.furniture import caption, joins
from oaktag.compiler.paging.ink import Crowd, Ink
from oaktag.compiler.paging.page import Page, Paged
from oaktag.compiler.paging.paging import PROJECTOR, TILES, UNIT
from oaktag.compiler.paging.papers import LARGEST
from oaktag.compiler.paging.roll import THICK, strip
from oaktag.compiler.paging.squares import squares
from oaktag.compiler.paging.tiles import Tile, table
from oaktag.compiler.paging.whole_labels import with_whole_labels
from oaktag.compiler.sheet.scale import NAME

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.paging.page import Ink as Printed
    from oaktag.compiler.paging.page import Words
    from oaktag.compiler.paging.paging import Paging
    from oaktag.compiler.paging.roll import Strip
    from oaktag.compiler.paging.tiles import Table
    from oaktag.compiler.sheet.drawing import Group, Sheet


def paged(sheet: Sheet, paging: Paging) -> Paged:
    """All pages of a drawing, its pieces set out anew for the paper.

    Raises PagingError where the paper does not take them.
    """
    pieces = [group for group in sheet.groups if group.name != NAME and group.strokes]
    if paging.kind == TILES:
        made = with_whole_labels(table(pieces, paging))
        pages = _sheets(made, paging, sheet)
        return Paged(sheet.title, sheet.made_for, made.groups, tuple(pages), state=sheet.state)
    test = squares(sheet=sheet, advice=_advice(paging))
    laid = strip([test, *pieces], paging)
    pages = _parts(laid, paging, sheet)
    long = max(max(page.width, page.height) for page in pages)
    unit = math.ceil(long / LARGEST) if paging.long == UNIT else 1
    projected = paging.kind == PROJECTOR
    return Paged(
        sheet.title,
        sheet.made_for,
        laid.groups,
        tuple(pages),
        thick=THICK if projected else 1.0,
        dark=paging.dark,
        unit=unit,
        state=sheet.state,
    )


def _advice(paging: Paging) -> list[str]:
    if paging.kind == PROJECTOR:
        return ["set the projector so that both", "squares measure right", "make a toile first"]
    return ["print at 100 %: no scaling", "make a toile before you cut good cloth"]


def _sheets(made: Table, paging: Paging, sheet: Sheet) -> list[Page]:
    first = cover(made, paging, sheet)
    count = len(first) + len(made.tiles)
    pages = list(first)
    inks = _inks(made.groups)
    for tile in made.tiles:
        number = f"page {len(pages) + 1} of {count}"
        pages.append(_page(tile, made, paging, sheet, number, Crowd(inks, tile.window)))
    return pages


def _page(
    tile: Tile,
    made: Table,
    paging: Paging,
    sheet: Sheet,
    number: str,
    crowd: Crowd,
) -> Page:
    corner = complex(paging.margin, paging.margin)
    inks, words = joins(tile, made.tiles, crowd)
    lines = [_about(sheet), [f"row {tile.row + 1}, column {tile.column + 1}", number]]
    words += caption([line for line in lines if line], tile.name, tile.cell, crowd)
    return Page(
        *made.paper,
        window=tile.window,
        at=corner,
        marks=_moved(inks, corner - complex(*tile.window[:2])),
        words=_set(words, corner - complex(*tile.window[:2])),
    )


def _parts(laid: Strip, paging: Paging, sheet: Sheet) -> list[Page]:
    """The pages of a strip; where a piece goes on, with the marks of sheets that are joined."""
    tiles = []
    half = paging.overlap / 2
    count = len(laid.parts)
    for number, (bottom, top) in enumerate(laid.parts):
        goes_on = not laid.clean[number]
        from_above = number > 0 and not laid.clean[number - 1]
        cell = (0.0, bottom + half * goes_on, laid.width, top - half * from_above)
        window = (0.0, bottom, laid.width, top)
        tiles.append(Tile(number, 0, cell, window, f"part {number + 1}"))
    pages = []
    inked = _inks(laid.groups)
    for number, tile in enumerate(tiles):
        joined = [other for k, other in enumerate(tiles) if _joined(k, number, laid.clean)]
        crowd = Crowd(inked, tile.window)
        inks, words = joins(tile, joined, crowd)
        if count > 1:
            ends = "" if laid.clean[number] else ", pieces go on: lay diamonds on diamonds"
            lines = [_about(sheet), [f"part {number + 1} of {count}{ends}"]]
            words += caption([line for line in lines if line], tile.name, tile.cell, crowd)
        corner = complex(paging.margin, paging.margin)
        shift = corner - complex(*tile.window[:2])
        pages.append(
            Page(
                laid.width + 2 * paging.margin,
                tile.window[3] - tile.window[1] + 2 * paging.margin,
                window=tile.window,
                at=corner,
                marks=_moved(inks, shift),
                words=_set(words, shift),
            )
        )
    return pages


def _joined(one: int, other: int, clean: tuple[bool, ...]) -> bool:
    return abs(one - other) == 1 and not clean[min(one, other)]


def _about(sheet: Sheet) -> list[str]:
    """What is printed, as every sheet of it says."""
    return [words for words in (sheet.title, sheet.state, sheet.made_for) if words]


def _inks(groups: Sequence[Group]) -> list[tuple[Ink, complex]]:
    return [(Ink(group), group.at) for group in groups]


def _moved(inks: list[Printed], shift: complex) -> tuple[Printed, ...]:
    motion = translation(shift)
    return tuple(ink.changed(path=ink.path.moved(motion)) for ink in inks)


def _set(words: list[Words], shift: complex) -> tuple[Words, ...]:
    return tuple(line.changed(at=line.at + shift) for line in words)
