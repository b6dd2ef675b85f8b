"""Setting pieces out on sheets or on a roll; nothing is turned, so that the grain stays as drawn.

Places are counted from the upper left corner, x to the right and y down, in mm.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    Size = tuple[float, float]
    Cost = Callable[[float, float, float, float], tuple[float, ...]]

GAP = 6.0  # mm between pieces
_CLOSE = 1e-6


class Grid(Record):
    """Sheets side by side: what each shows, and how far apart they begin."""

    columns: int
    shown: tuple[float, float]
    step: tuple[float, float]

    def columns_of(self, start: float, end: float) -> range:
        """The sheets that are needed for a piece from start to end."""
        return _needed(start, end, self.step[0], self.shown[0])

    def rows_of(self, start: float, end: float) -> range:
        """The same from the top down."""
        return _needed(start, end, self.step[1], self.shown[1])

    @property
    def width(self) -> float:
        """From the first sheet's left to the last one's right."""
        return (self.columns - 1) * self.step[0] + self.shown[0]


def on_sheets(sizes: Sequence[Size], grid: Grid) -> list[complex]:
    """A place for each size so that few sheets are needed: large ones first, each where it takes
    the fewest sheets that are not in use already.
    """
    used: set[tuple[int, int]] = set()

    def cells(x: float, y: float, wide: float, high: float) -> set[tuple[int, int]]:
        columns = grid.columns_of(x, x + wide)
        return {(row, column) for row in grid.rows_of(y, y + high) for column in columns}

    def cost(x: float, y: float, wide: float, high: float) -> tuple[float, ...]:
        taken = cells(x, y, wide, high)
        return len(taken - used), max(taken)[0], len(taken), y, x

    def order(number: int) -> tuple[float, ...]:
        wide, high = sizes[number]
        return -len(cells(0.0, 0.0, wide, high)), -wide * high, number

    places = [0j] * len(sizes)
    taken: list[tuple[float, float, float, float]] = []
    xs = [column * grid.step[0] for column in range(grid.columns)]
    for number in sorted(range(len(sizes)), key=order):
        foot = max((box[3] for box in taken), default=0.0)
        ys = [row * grid.step[1] for row in range(math.ceil(foot / grid.step[1]) + 1)]
        place = _best(sizes[number], taken, xs, ys, grid.width, cost)
        wide, high = sizes[number]
        used |= cells(place.real, place.imag, wide, high)
        places[number] = place
        taken.append((place.real, place.imag, place.real + wide, place.imag + high))
    return places


def on_roll(sizes: Sequence[Size], width: float) -> list[complex]:
    """A place for each size on paper of a width, each as high up as it goes; the first one first,
    then high ones before low ones.
    """

    def cost(x: float, y: float, wide: float, high: float) -> tuple[float, ...]:
        return y + high, x

    order = sorted(range(len(sizes)), key=lambda n: (n > 0, -sizes[n][1], -sizes[n][0], n))
    places = [0j] * len(sizes)
    taken: list[tuple[float, float, float, float]] = []
    for number in order:
        place = _best(sizes[number], taken, [0.0], [0.0], width, cost)
        places[number] = place
        wide, high = sizes[number]
        taken.append((place.real, place.imag, place.real + wide, place.imag + high))
    return places


def _best(
    size: Size,
    taken: Sequence[tuple[float, float, float, float]],
    xs: Sequence[float],
    ys: Sequence[float],
    width: float,
    cost: Cost,
) -> complex:
    """The cheapest free place: at one of the starts, or beside or below what lies there."""
    wide, high = size
    free = [
        (cost(x, y, wide, high), x, y)
        for y in sorted({*ys, *(box[3] + GAP for box in taken)})
        for x in sorted({*xs, *(box[2] + GAP for box in taken)})
        if x + wide <= width + _CLOSE and not any(_meets(x, y, size, box) for box in taken)
    ]
    _, x, y = min(free)
    return complex(x, y)


def _meets(x: float, y: float, size: Size, box: tuple[float, float, float, float]) -> bool:
    return (
        x < box[2] + GAP - _CLOSE
        and x + size[0] > box[0] - GAP + _CLOSE
        and y < box[3] + GAP - _CLOSE
        and y + size[1] > box[1] - GAP + _CLOSE
    )


def _needed(start: float, end: float, step: float, shown: float) -> range:
    first = math.floor(start / step + _CLOSE)
    last = max(first, math.ceil((end - shown) / step - _CLOSE))
    return range(first, last + 1)


def widths(sizes: Sequence[Size], grid: Grid) -> Iterator[Grid]:
    """Grids worth trying: from as many columns as the widest piece needs, to all in one row."""
    least = max(len(grid.columns_of(0.0, wide)) for wide, _ in sizes)
    row = len(grid.columns_of(0.0, sum(wide + GAP for wide, _ in sizes) - GAP))
    square = math.ceil(math.sqrt(sum(w * h for w, h in sizes)) / grid.step[0])
    for columns in sorted({least, least + 1, least + 2, max(least, square), max(least, row)}):
        yield grid.changed(columns=columns)
