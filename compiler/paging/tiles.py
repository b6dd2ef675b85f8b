"""Sheets that are pasted together: as few as will do, and which of them are blank."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paging.arrange import Grid, on_sheets, widths
from oaktag.compiler.paging.ink import Ink
from oaktag.compiler.paging.paging import AUTO, LANDSCAPE, PORTRAIT, printable
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Box
    from oaktag.compiler.paging.paging import Paging
    from oaktag.compiler.sheet.drawing import Group


class Tile(Record):
    """A sheet of the table, counted from the upper left. name: row and column, counted from 1.

    cell: its own part of the drawing, to the middle of the overlaps. window: all that it shows.
    """

    row: int
    column: int
    cell: Box
    window: Box
    name: str


class Table(Record):
    """All sheets of one way to set the pieces out; groups lie where the windows look for them.

    paper: width and height of a sheet as it is turned. size: of the whole, in mm. every: all
    sheets, row by row. tiles: those that are printed.
    """

    paper: tuple[float, float]
    rows: int
    columns: int
    size: tuple[float, float]
    groups: tuple[Group, ...]
    every: tuple[Tile, ...]
    tiles: tuple[Tile, ...]


def table(groups: Sequence[Group], paging: Paging) -> Table:
    """The table with the fewest sheets to print; of several the smallest, then upright sheets."""
    inks = [Ink(group) for group in groups]
    sizes = [(ink.box[2] - ink.box[0], ink.box[3] - ink.box[1]) for ink in inks]
    wide, high = printable(paging)
    upright = paging.paper[0] <= paging.paper[1]
    turns = [False, True] if upright else [True, False]
    wanted = {PORTRAIT: turns[:1], LANDSCAPE: turns[1:], AUTO: turns}[paging.orientation]
    tried = []
    for turned in wanted:
        shown = (high, wide) if turned else (wide, high)
        step = (shown[0] - paging.overlap, shown[1] - paging.overlap)
        paper = paging.paper[::-1] if turned else paging.paper
        for grid in widths(sizes, Grid(1, shown, step)):
            tried.append(_laid(groups, inks, sizes, grid, paper))
    return min(tried, key=lambda made: (len(made.tiles), made.rows * made.columns))


def _laid(
    groups: Sequence[Group],
    inks: Sequence[Ink],
    sizes: Sequence[tuple[float, float]],
    grid: Grid,
    paper: tuple[float, float],
) -> Table:
    places = on_sheets(sizes, grid)
    ends = [place + complex(*size) for place, size in zip(places, sizes, strict=True)]
    columns = len(grid.columns_of(0.0, max(end.real for end in ends)))
    rows = len(grid.rows_of(0.0, max(end.imag for end in ends)))
    head = (rows - 1) * grid.step[1] + grid.shown[1]
    shifts = [
        complex(place.real - ink.box[0], head - place.imag - ink.box[3])
        for place, ink in zip(places, inks, strict=True)
    ]
    moved = tuple(group.changed(at=at) for group, at in zip(groups, shifts, strict=True))
    grid = grid.changed(columns=columns)
    every = tuple(
        _tile(row, column, rows, grid) for row in range(rows) for column in range(columns)
    )
    printed = _printed(every, list(zip(inks, shifts, strict=True)), grid)
    return Table(paper, rows, columns, (grid.width, head), moved, every, tuple(printed))


def _tile(row: int, column: int, rows: int, grid: Grid) -> Tile:
    """Cells end in the middle of the overlaps, at the outer sides where the windows end."""
    left, head = column * grid.step[0], (rows - 1 - row) * grid.step[1] + grid.shown[1]
    window = (left, head - grid.shown[1], left + grid.shown[0], head)
    half = ((grid.shown[0] - grid.step[0]) / 2, (grid.shown[1] - grid.step[1]) / 2)
    cell = (
        window[0] + half[0] * (column > 0),
        window[1] + half[1] * (row < rows - 1),
        window[2] - half[0] * (column < grid.columns - 1),
        window[3] - half[1] * (row > 0),
    )
    return Tile(row, column, cell, window, f"{row + 1}-{column + 1}")


def _printed(every: Sequence[Tile], laid: Sequence[tuple[Ink, complex]], grid: Grid) -> list[Tile]:
    """The sheets with something of a piece in their cell that no neighbour shows as well.

    A neighbour that is relied on for that stays, whatever its own cell holds.
    """

    def holds(box: Box) -> bool:
        return any(ink.within(box, at) for ink, at in laid)

    kept = {(tile.row, tile.column): tile for tile in every if holds(tile.cell)}
    relied_on: set[tuple[int, int]] = set()
    for key, tile in list(kept.items()):
        if key in relied_on:
            continue
        row, column = key
        left, bottom, right, top = tile.cell
        beside = {
            side: place
            for side, place in (
                ("left", (row, column - 1)),
                ("right", (row, column + 1)),
                ("above", (row - 1, column)),
                ("below", (row + 1, column)),
            )
            if place in kept
        }
        if "left" in beside:
            left = tile.window[0] + grid.shown[0] - grid.step[0]
        if "right" in beside:
            right = tile.window[2] - grid.shown[0] + grid.step[0]
        if "above" in beside:
            top = tile.window[3] - grid.shown[1] + grid.step[1]
        if "below" in beside:
            bottom = tile.window[1] + grid.shown[1] - grid.step[1]
        if not holds((left, bottom, right, top)):
            del kept[key]
            relied_on.update(beside.values())
    return list(kept.values())
