"""Squares and pieces measured in rasters of 600 dots an inch, made by poppler and ghostscript."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy
import pytest

from oaktag.compiler.paging import for_projector, on_paper, on_roll

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.paging import Paging
    from oaktag.compiler.sheet import Sheet
    from tests.compiler.emit.pdf.conftest import Print

    Printed = Callable[[Sheet, Paging], Print]

DPI = 600
MM = DPI / 25.4  # pixels


def lines(dark: numpy.ndarray, axis: int) -> list[float]:
    """Where whole lines lie across a raster: the middles, in pixels, of runs of dark columns (axis
    0) or rows (axis 1), of which four fifths are ink.
    """
    found = numpy.flatnonzero(dark.mean(axis=axis) > 0.8)
    runs = numpy.split(found, numpy.flatnonzero(numpy.diff(found) > 1) + 1)
    return [(run[0] + run[-1]) / 2 for run in runs if len(run)]


def sides(dark: numpy.ndarray) -> tuple[float, float]:
    """Width and height of the only rectangle in a raster, from the middles of its lines, in mm."""
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    inside = dark[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    across, down = lines(inside, 0), lines(inside, 1)
    assert (len(across), len(down)) == (2, 2)
    return (across[1] - across[0]) / MM, (down[1] - down[0]) / MM


PIXEL = pytest.approx(0, abs=1 / MM)

# The squares lie at the foot of the first sheet, within margins of 10 mm; on a roll at its head.
ABOVE = {"10 cm": (8, 183, 115, 289), "4 in": (8, 76, 115, 185)}  # mm on A4, from the upper left


@pytest.mark.parametrize("reader", ["poppler", "ghostscript"])
def test_the_squares_on_the_first_sheet(reader: str, panel: Sheet, printed: Printed) -> None:
    sheet = printed(panel, on_paper("a4").changed(orientation="portrait"))
    whole = sheet.by_ghostscript(1, DPI) if reader == "ghostscript" else None
    for words, side in (("10 cm", 100.0), ("4 in", 101.6)):
        assert f"this square is {words} by {words}" in sheet.words(1)
        left, head, right, foot = ABOVE[words]
        if whole is None:
            dark = sheet.raster(1, DPI, (left, head, right, foot))
        else:
            dark = whole[round(head * MM) : round(foot * MM), round(left * MM) : round(right * MM)]
        wide, high = sides(dark)
        assert (wide - side, high - side) == (PIXEL, PIXEL)


@pytest.mark.parametrize(
    ("paging", "margin"),
    [(on_roll(914.0), 10.0), (for_projector(), 0.0)],
    ids=["roll", "projector"],
)
def test_the_squares_on_one_page(
    paging: Paging, margin: float, panel: Sheet, printed: Printed
) -> None:
    page = printed(panel, paging)
    assert page.pages == 1
    for start, side in ((0.0, 100.0), (106.0, 101.6)):
        box = (margin + start, margin, margin + start + side + 5, margin + side + 5)
        wide, high = sides(page.raster(1, DPI, box))
        assert (wide - side, high - side) == (PIXEL, PIXEL)


def test_a_known_piece(panel: Sheet, printed: Printed) -> None:
    """A panel of 40 by 60 cm on a roll: strips across it, 5 mm deep."""
    page = printed(panel, on_roll(914.0))
    dark = page.raster(1, 75)
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    foot, right = rows[-1] * 25.4 / 75, columns[-1] * 25.4 / 75
    across = lines(page.raster(1, DPI, (right - 405, foot - 30, right + 5, foot - 25)), 0)
    assert (across[-1] - across[0]) / MM - 400.0 == PIXEL
    down = lines(page.raster(1, DPI, (right - 35, foot - 605, right - 30, foot + 5)), 1)
    assert (down[-1] - down[0]) / MM - 600.0 == PIXEL


def test_both_readers_see_the_same(quarter: Sheet, printed: Printed) -> None:
    """Ink that one of them draws lies within two dots (a third of a mm) of ink of the other's: they
    round thin lines differently.
    """
    from scipy.ndimage import maximum_filter

    page = printed(quarter, on_roll(1118.0))
    one, other = page.raster(1, 150), page.by_ghostscript(1, 150)
    # A part of a dot at the edge of a page is a whole one to one of them, none to the other.
    high, wide = (min(sides) for sides in zip(one.shape, other.shape, strict=True))
    assert max(abs(a - b) for a, b in zip(one.shape, other.shape, strict=True)) <= 1
    one, other = one[:high, :wide], other[:high, :wide]
    assert one.sum() > 50_000
    assert not (one & ~maximum_filter(other, size=5)).any()
    assert not (other & ~maximum_filter(one, size=5)).any()
