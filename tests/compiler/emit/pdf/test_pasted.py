"""Sheets put together as she does it: by nothing but the diamonds that are printed on them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy
import pytest
from scipy import ndimage

from oaktag.compiler.paging import on_paper, on_roll

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.paging import Paging
    from oaktag.compiler.sheet import Sheet
    from tests.compiler.emit.pdf.conftest import Print

DPI = 150
MM = DPI / 25.4  # pixels
DIAMOND = 3.5  # mm from the middle to a corner
RUBBED = 3  # dots, half a mm
FURNITURE = ("page: joins, squares, words", "notches and marks", "words")
Place = tuple[int, int]


def diamonds(dark: numpy.ndarray) -> numpy.ndarray:
    """The middles of the diamonds on a page, in pixels, as rows of x and y.

    Two of their quarters are black triangles, above right and below left of the middle: of the
    shapes that are left when all thin lines are rubbed out, each pair that lies so. A triangle's
    centroid is a third of its legs away from the middle, both ways; a brush that rubs h dots off
    each of these and 2 h off the third side brings it nearer by h/3.
    """
    thick = ndimage.minimum_filter(dark, size=2 * RUBBED + 1)
    labels, _ = ndimage.label(thick)
    sizes = numpy.bincount(labels.ravel())[1:]
    area = (DIAMOND * MM - 4 * RUBBED) ** 2 / 2
    shapes = numpy.flatnonzero((sizes > area / 2) & (sizes < 2 * area)) + 1
    centres = numpy.array(ndimage.center_of_mass(thick, labels, shapes))
    apart = 2 / 3 * (DIAMOND * MM - RUBBED)
    found = [
        (a[::-1] + b[::-1]) / 2
        for a in centres
        for b in centres
        if abs(b[1] - a[1] - apart) < 2 and abs(a[0] - b[0] - apart) < 2
    ]
    return numpy.array(found).reshape(-1, 2)


def side(marks: numpy.ndarray, axis: int, last: bool) -> numpy.ndarray:
    """The diamonds along one side of a page, in order."""
    edge = marks[:, axis].max() if last else marks[:, axis].min()
    near = marks[abs(marks[:, axis] - edge) < MM]
    return near[near[:, 1 - axis].argsort()]


def pasted(sheets: Print, bare: Print) -> numpy.ndarray:
    """All sheets in one picture: each cut along its frame, laid where its diamonds cover those of
    its neighbours. bare: the same sheets without words and frames.
    """
    pages: dict[Place, numpy.ndarray] = {}
    marks: dict[Place, numpy.ndarray] = {}
    rasters, plain = sheets.rasters(DPI), bare.rasters(DPI)
    words = sheets.words().split("\f")
    for number, dark in enumerate(rasters, 1):
        name = re.search(r"row (\d+), column (\d+) · page (\d+) of (\d+)", words[number - 1])
        if name:
            row, column, page, count = map(int, name.groups())
            assert (page, count) == (number, len(rasters))
            pages[row, column], marks[row, column] = plain[number - 1], diamonds(dark)
    start = min(pages)
    places = {start: numpy.zeros(2)}
    waiting = [start]
    while waiting:
        row, column = here = waiting.pop()
        for other, axis, last in (
            ((row, column + 1), 0, True),
            ((row, column - 1), 0, False),
            ((row + 1, column), 1, True),
            ((row - 1, column), 1, False),
        ):
            if other not in pages:
                continue
            mine, theirs = side(marks[here], axis, last), side(marks[other], axis, not last)
            assert len(mine) == len(theirs) >= 2
            shifts = mine - theirs
            assert abs(shifts - shifts.mean(axis=0)).max() < 0.5, "diamonds lie on diamonds"
            place = places[here] + shifts.mean(axis=0)
            if other in places:
                assert places[other] == pytest.approx(place, abs=1.0)
            else:
                places[other] = place
                waiting.append(other)
    assert places.keys() == pages.keys()
    return laid(pages, places, marks)


def laid(
    pages: dict[Place, numpy.ndarray],
    places: dict[Place, numpy.ndarray],
    marks: dict[Place, numpy.ndarray],
) -> numpy.ndarray:
    corner = numpy.min(list(places.values()), axis=0)
    high = max(page.shape[0] + places[key][1] - corner[1] for key, page in pages.items())
    wide = max(page.shape[1] + places[key][0] - corner[0] for key, page in pages.items())
    whole = numpy.zeros((int(high) + 2, int(wide) + 2), bool)
    for (row, column), page in pages.items():
        mine = marks[row, column]
        foot, right = page.shape
        head = left = 0
        if (row, column - 1) in pages:
            left = round(side(mine, 0, False)[0][0])
        if (row, column + 1) in pages:
            right = round(side(mine, 0, True)[0][0])
        if (row - 1, column) in pages:
            head = round(side(mine, 1, False)[0][1])
        if (row + 1, column) in pages:
            foot = round(side(mine, 1, True)[0][1])
        x, y = numpy.rint(places[row, column] - corner).astype(int)
        whole[y + head : y + foot, x + left : x + right] |= page[head:foot, left:right]
    return whole


def cropped(dark: numpy.ndarray) -> numpy.ndarray:
    """To where ink is."""
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    return dark[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


@pytest.mark.parametrize(
    ("paging", "blank"),
    [
        (on_paper("a4"), True),
        (on_paper("letter").changed(overlap=15.0, orientation="portrait"), True),
        (on_paper("a3").changed(margin=5.0), False),
    ],
    ids=["a4", "letter", "a3"],
)
def test_pasted_sheets_are_the_same_as_one_page(
    paging: Paging, blank: bool, quarter: Sheet, printed: Callable[[Sheet, Paging], Print]
) -> None:
    """Each dot of either lies within two dots (a third of a mm) of one of the other."""
    sheets = printed(quarter, paging)
    assert ("not printed" in " ".join(sheets.words(1).split())) == blank
    together = cropped(pasted(sheets, sheets.without(*FURNITURE)))
    single = cropped(printed(quarter, on_roll(1118.0)).without(*FURNITURE).raster(1, DPI))
    high, wide = (max(sides) for sides in zip(together.shape, single.shape, strict=True))
    assert max(abs(a - b) for a, b in zip(together.shape, single.shape, strict=True)) <= 2
    one, other = (
        numpy.pad(dark, ((0, high - dark.shape[0]), (0, wide - dark.shape[1])))
        for dark in (together, single)
    )
    assert one.sum() > 50_000
    assert (one & ~ndimage.maximum_filter(other, size=5)).sum() == 0
    assert (other & ~ndimage.maximum_filter(one, size=5)).sum() == 0
