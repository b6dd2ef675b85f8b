"""Setting pieces out side by side, none over another."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Box

GAP = 20.0  # mm between pieces
MARGIN = 10.0  # mm around the drawing


def set_out(boxes: Sequence[Box]) -> tuple[list[complex], float, float]:
    """How far to shift each box, and the width and height of the sheet that takes them all.

    In order, in rows from the top, each row as high as its highest box and aligned at its head.
    Nothing is turned, so that the grain stays as it was drawn.
    """
    sizes = [(right - left, top - bottom) for left, bottom, right, top in boxes]
    area = sum((wide + GAP) * (high + GAP) for wide, high in sizes)
    widest = max([math.sqrt(area) * 1.25, *(wide for wide, _ in sizes)])
    rows: list[list[int]] = [[]]
    used = 0.0
    for number, (wide, _) in enumerate(sizes):
        if rows[-1] and used + wide > widest:
            rows.append([])
            used = 0.0
        rows[-1].append(number)
        used += wide + GAP
    heights = [max(sizes[number][1] for number in row) for row in rows]
    height = sum(heights) + GAP * (len(rows) - 1) + 2 * MARGIN
    shifts = [0j] * len(boxes)
    width, head = 0.0, height - MARGIN
    for row, high in zip(rows, heights, strict=True):
        x = MARGIN
        for number in row:
            shifts[number] = complex(x - boxes[number][0], head - boxes[number][3])
            x += sizes[number][0] + GAP
        width = max(width, x - GAP + MARGIN)
        head -= high + GAP
    return shifts, width, height
