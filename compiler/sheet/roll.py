"""Pieces laid along a roll of paper, and the roll divided into frames."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.sheet.drawing import Sheet, extent
from oaktag.compiler.sheet.turning import quarter_turned
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Box
    from oaktag.compiler.sheet.drawing import Group

GAP = 10.0  # mm between pieces


class TooWide(Exception):  # noqa: N818  (it is the piece that is too wide)
    """A piece that no roll of this width takes. Sizes in mm, width and height as it lies."""

    def __init__(self, group: Group, width: float, height: float) -> None:
        super().__init__(group.name)
        self.group = group
        self.width = width
        self.height = height


class Rolled(Record):
    """sheet: x along the roll, y across it, both without margins. rows: where each begins and ends.

    turned: the pieces that were turned by a quarter beside the others.
    """

    sheet: Sheet
    rows: tuple[tuple[float, float], ...]
    turned: tuple[str, ...]


def on_roll(sheet: Sheet, width: float, turning: bool = False) -> Rolled:
    """All pieces in rows across a roll that is `width` mm between its margins.

    The sheet lies on the roll with its head to the far end: all pieces are turned alike, and none
    differently from the others, unless `turning`, when those too wide for the roll are turned by a
    quarter. Long pieces come first, so that little paper is lost. Raises TooWide.
    """
    groups, turned = [], []
    for group in sheet.groups:
        left, bottom, right, top = extent(group)
        if right - left > width + 1e-9:
            if not turning or top - bottom > width + 1e-9:
                raise TooWide(group, right - left, top - bottom)
            turned.append(group.name)
            groups.append(quarter_turned(group, -1))
        else:
            groups.append(group)
    lying = [quarter_turned(group, -1) for group in groups]
    boxes = [extent(group) for group in lying]
    shifts, rows = _rows(boxes, width)
    placed = tuple(group.changed(at=at) for group, at in zip(lying, shifts, strict=True))
    return Rolled(Sheet(sheet.title, rows[-1][1], width, placed), tuple(rows), tuple(turned))


def frames(rows: tuple[tuple[float, float], ...], longest: float) -> list[tuple[float, float]]:
    """Where the roll is divided, from x to x, none longer than `longest`.

    Between rows where that can be; a row longer than a frame begins one and goes on in the next.
    """
    found: list[tuple[float, float]] = []
    begun: float | None = None
    reached = 0.0
    for start, end in rows:
        if begun is not None and end - begun > longest + 1e-9:
            found.append((begun, reached))
            begun = None
        if begun is None:
            begun = start
        while end - begun > longest + 1e-9:
            found.append((begun, begun + longest))
            begun += longest
        reached = end
    if begun is not None:
        found.append((begun, reached))
    return found


def _rows(boxes: list[Box], width: float) -> tuple[list[complex], list[tuple[float, float]]]:
    """How far each box is shifted, and from where to where each row goes along the roll."""
    order = sorted(range(len(boxes)), key=lambda number: boxes[number][0] - boxes[number][2])
    shifts = [0j] * len(boxes)
    rows: list[tuple[float, float]] = []
    used: list[float] = []
    for number in order:
        left, bottom, right, top = boxes[number]
        across = top - bottom
        row = next(
            (k for k, taken in enumerate(used) if taken + GAP + across <= width + 1e-9), len(rows)
        )
        if row == len(rows):
            start = rows[-1][1] + GAP if rows else 0.0
            rows.append((start, start + right - left))
            used.append(-GAP)
        shifts[number] = complex(rows[row][0] - left, used[row] + GAP - bottom)
        used[row] += GAP + across
    return shifts, rows
