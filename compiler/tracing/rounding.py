"""From the points of a digitised line to the line that was meant: smooth between its corners."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Line, Path, fitted, polyline, turning

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Segment

WITHIN = 0.0075  # mm: as near as a point with two decimals is to its place
_FEWEST = 4  # points that show a curve; fewer are joined by straight steps
_LONGER = 2.5  # times as long as its neighbour a step is no part of the curve, but straight


def rounded(points: Sequence[complex], corners: Sequence[bool], within: float = WITHIN) -> Path:
    """The closed line through points, in mm: corners where it is said, smooth elsewhere.

    The curve keeps within `within` of every point. A step much longer than the one beside it is
    taken for straight, as are points in one line.
    """
    ring = list(points)
    turns = list(corners)
    if not any(turns):
        turns[0] = True
    first = turns.index(True)
    ring = ring[first:] + ring[:first]
    turns = turns[first:] + turns[:first]
    at = [number for number, turn in enumerate(turns) if turn] + [len(ring)]
    ring.append(ring[0])
    segments: list[Segment] = []
    for start, end in itertools.pairwise(at):
        segments += _between(ring[start : end + 1], within)
    return Path(segments)


def _between(row: Sequence[complex], within: float) -> list[Segment]:
    """The line from one corner to the next."""
    if _in_line(row, within):
        return [Line(row[0], row[-1])]
    steps = [abs(b - a) for a, b in itertools.pairwise(row)]
    straight = [_stands_out(steps, number) for number in range(len(steps))]
    found: list[Segment] = []
    for is_straight, group in itertools.groupby(range(len(steps)), key=straight.__getitem__):
        numbers = list(group)
        part = row[numbers[0] : numbers[-1] + 2]
        if is_straight or len(part) < _FEWEST:
            found += polyline(part).segments
            continue
        # A straight step before or behind leads on smoothly: there is no corner between.
        before = row[numbers[0]] - row[numbers[0] - 1] if numbers[0] else None
        after = row[numbers[-1] + 2] - row[numbers[-1] + 1] if numbers[-1] + 2 < len(row) else None
        found += fitted(_midway(part), within, before, after).segments
    return found


def _in_line(row: Sequence[complex], within: float) -> bool:
    across = row[-1] - row[0]
    if not across:
        return False
    return all(
        abs(((point - row[0]) / across).imag) * abs(across) <= within
        and 0 <= ((point - row[0]) / across).real <= 1
        for point in row
    )


def _stands_out(steps: Sequence[float], number: int) -> bool:
    """Whether a step is much longer than one beside it."""
    beside = [*steps[max(number - 1, 0) : number], *steps[number + 1 : number + 2]]
    return bool(beside) and steps[number] > _LONGER * min(beside)


def _midway(row: Sequence[complex]) -> list[complex]:
    """The points of a curve with one more between every two, where a round curve would lie.

    An arc is away from the middle of its chord by an eighth of the chord's length times its turn,
    which shows in the angles at the ends of the chord.
    """
    steps = [b - a for a, b in itertools.pairwise(row)]
    turns = [turning(a / abs(a), b / abs(b)) for a, b in itertools.pairwise(steps)]
    points = [row[0]]
    for number, step in enumerate(steps):
        ends = turns[max(number - 1, 0) : number + 1]
        turn = min(ends, key=abs) if min(ends) * max(ends) > 0 else 0.0
        points += [(row[number] + row[number + 1]) / 2 - 1j * step * turn / 8, row[number + 1]]
    return points
