"""How a drawing is to come onto paper."""

from __future__ import annotations

from oaktag.compiler.paging.errors import PagingError
from oaktag.compiler.paging.papers import paper_size
from oaktag.lang.units import show_length
from oaktag.record import Record

TILES, ROLL, PROJECTOR = "tiles", "roll", "projector"
AUTO, PORTRAIT, LANDSCAPE = "auto", "portrait", "landscape"
SPLIT, UNIT = "split", "unit"
SQUARE = 101.6  # mm: the larger of the test squares, 4 in
ENOUGH = 10.0  # mm of overlap, to paste
ROLLED = "a0"  # what copy shops print from a roll


class Paging(Record):
    """Paper and what stays free on it, in mm.

    kind: sheets that are pasted together, a roll, or a projector's picture without edges.
    paper: width and height of a sheet; of a roll only the width counts. name: what it is called.
    margin: what the printer leaves free on each side. overlap: what two sheets both show.
    orientation: of sheets; `auto` takes the one that needs fewer. long: whether a page beyond
    5.08 m is split, or given a larger unit, which few programs heed. dark: light on dark. turning:
    pieces too wide for the roll are turned by a quarter.
    unit: in which messages tell their figures.
    """

    kind: str = TILES
    paper: tuple[float, float] = (210.0, 297.0)
    name: str = "A4"
    orientation: str = AUTO
    margin: float = 10.0
    overlap: float = ENOUGH
    long: str = SPLIT
    dark: bool = False
    turning: bool = False
    unit: str = "mm"

    def length(self, millimetres: float) -> str:
        """A length in words."""
        return show_length(millimetres, self.unit)


def on_paper(words: str) -> Paging:
    """Sheets of a paper, as named; A0 as a roll, since that is how it is printed.

    Raises PagingError for a paper nobody knows.
    """
    paper = paper_size(words)
    name = " ".join(words.split())
    if name.lower() == ROLLED:
        return on_roll(paper[0]).changed(name=name.upper())
    return Paging(paper=paper, name=name.upper() if len(name) == 2 else name)


def on_roll(width: float) -> Paging:
    """A roll of a width in mm, as long as the pieces need."""
    return Paging(kind=ROLL, paper=(width, 0.0), name="roll")


def for_projector(dark: bool = False) -> Paging:
    """One page without margins."""
    return Paging(kind=PROJECTOR, paper=(0.0, 0.0), name="projector", margin=0.0, dark=dark)


def printable(paging: Paging) -> tuple[float, float]:
    """Width and height of what a sheet shows, upright; of a roll the height is 0.

    Raises PagingError if the margins or the overlap leave too little.
    """
    wide, high = (side - 2 * paging.margin for side in paging.paper)
    if paging.kind == ROLL:
        high = 0.0
    least = min(wide, high) if paging.kind == TILES else wide
    what = "the roll" if paging.name == "roll" else f"the {paging.name} paper"
    what += f", {paging.length(paging.paper[0])} wide"
    if paging.margin < 0 or paging.overlap < 0:
        raise PagingError("a margin or an overlap cannot be less than nothing")
    if least <= 0:
        raise PagingError(
            f"margins of {paging.length(paging.margin)} leave nothing of {what}",
            "make the margin smaller, or take a larger paper",
        )
    if least < SQUARE + 0.4:
        raise PagingError(
            f"margins of {paging.length(paging.margin)} leave {paging.length(least)} of {what}: "
            f"the test squares do not fit",
            "make the margin smaller, or take a larger paper",
        )
    if paging.kind == TILES and paging.overlap > least / 2:
        raise PagingError(
            f"an overlap of {paging.length(paging.overlap)} is more than half of what a sheet "
            f"shows, {paging.length(least)}",
            f"{paging.length(ENOUGH)} are enough to paste the sheets",
        )
    return wide, high
