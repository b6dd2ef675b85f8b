"""Cubics through dense rows of points, by least squares.

After P. J. Schneider, "An algorithm for automatically fitting digitized curves", Graphics Gems
(1990).
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.path import Path
from oaktag.compiler.geometry.segment import Cubic, Line
from oaktag.compiler.geometry.vectors import dot

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry.segment import Segment

_ROUNDS = 4


def fitted(
    points: Sequence[complex],
    tolerance: float,
    start_direction: complex | None = None,
    end_direction: complex | None = None,
) -> Path:
    """A smooth path of cubics within tolerance (mm) of every point, from the first to the last.

    The directions of travel at the ends are taken from the points unless given. Raises
    GeometryError for fewer than two points that lie apart.
    """
    row = [points[0]] if points else []
    row += [after for before, after in itertools.pairwise(points) if after != before]
    if len(row) < 2:
        raise GeometryError("a curve needs at least two points that lie apart")
    if len(row) == 2 and start_direction is None and end_direction is None:
        return Path([Line(row[0], row[1])])
    leaving = _unit(start_direction) if start_direction else _heading(row, 0)
    arriving = _unit(end_direction) if end_direction else _heading(row, len(row) - 1)
    segments: list[Segment] = []
    _fit(row, leaving, arriving, tolerance, segments)
    return Path(segments)


def _fit(
    row: Sequence[complex],
    leaving: complex,
    arriving: complex,
    tolerance: float,
    into: list[Segment],
) -> None:
    if len(row) == 2:
        third = abs(row[1] - row[0]) / 3
        into.append(Cubic(row[0], row[0] + leaving * third, row[1] - arriving * third, row[1]))
        return
    places = _chord_shares(row)
    worst = 1
    for _ in range(_ROUNDS):
        cubic = fit_cubic(row, places, leaving, arriving)
        # Measured after the places have slid along: what counts is the distance to the curve.
        places = _improved(row, places, cubic)
        worst, error = _worst(row, places, cubic)
        if error <= tolerance:
            into.append(cubic)
            return
        if error > 25 * tolerance:
            break
    # Splitting near the middle of the row keeps the number of parts low; a very early or late
    # worst point would leave a stub.
    quarter = len(row) // 4
    worst = min(max(worst, 1, quarter), len(row) - 2, max(1, len(row) - 1 - quarter))
    heading = _heading(row, worst)
    _fit(row[: worst + 1], leaving, heading, tolerance, into)
    _fit(row[worst:], heading, arriving, tolerance, into)


def fit_cubic(
    row: Sequence[complex], places: Sequence[float], leaving: complex, arriving: complex
) -> Cubic:
    """The cubic with these end directions whose points at the places are nearest to the row."""
    start, end = row[0], row[-1]
    c00 = c01 = c11 = x0 = x1 = 0.0
    for t, point in zip(places, row, strict=True):
        s = 1 - t
        b1, b2 = 3 * s * s * t, 3 * s * t * t
        a0, a1 = leaving * b1, -arriving * b2
        off = point - (start * (s * s * s + b1) + end * (b2 + t * t * t))
        c00 += dot(a0, a0)
        c01 += dot(a0, a1)
        c11 += dot(a1, a1)
        x0 += dot(a0, off)
        x1 += dot(a1, off)
    determinant = c00 * c11 - c01 * c01
    chord = abs(end - start)
    first = second = 0.0
    if determinant > 1e-12 * c00 * c11:
        first = (x0 * c11 - x1 * c01) / determinant
        second = (c00 * x1 - c01 * x0) / determinant
    if first <= 1e-6 * chord or second <= 1e-6 * chord:
        first = second = chord / 3
    return Cubic(start, start + leaving * first, end - arriving * second, end)


def _worst(row: Sequence[complex], places: Sequence[float], cubic: Cubic) -> tuple[int, float]:
    worst, error = 1, 0.0
    for k in range(1, len(row) - 1):
        off = abs(cubic.point(places[k]) - row[k])
        if off > error:
            worst, error = k, off
    return worst, error


def _improved(row: Sequence[complex], places: Sequence[float], cubic: Cubic) -> list[float]:
    """The places moved towards the nearest points of the cubic, by one step of Newton's method."""
    better = [0.0]
    for t, point in zip(places[1:-1], row[1:-1], strict=True):
        off, along = cubic.point(t) - point, cubic.derivative(t)
        slope = dot(along, along) + dot(off, cubic.second_derivative(t))
        moved = t - dot(off, along) / slope if slope > 0 else t
        better.append(moved if better[-1] < moved < 1 else t)
    better.append(1.0)
    return better


def _chord_shares(row: Sequence[complex]) -> list[float]:
    marks = [0.0]
    for before, after in itertools.pairwise(row):
        marks.append(marks[-1] + abs(after - before))
    return [mark / marks[-1] for mark in marks]


def _heading(row: Sequence[complex], at: int) -> complex:
    """The direction of travel at a point: of the polynomial through it and up to four others."""
    width = min(5, len(row))
    low = min(max(at - width // 2, 0), len(row) - width)
    near = row[low : low + width]
    marks = [0.0]
    for before, after in itertools.pairwise(near):
        marks.append(marks[-1] + abs(after - before))
    here = at - low
    # The derivative of Lagrange's polynomial over the chord lengths, at one of its own points.
    heading = 0j
    for k, point in enumerate(near):
        if k == here:
            continue
        weight = 1 / (marks[k] - marks[here])
        for other in range(width):
            if other not in (k, here):
                weight *= (marks[here] - marks[other]) / (marks[k] - marks[other])
        heading += weight * (point - near[here])
    return (
        _unit(heading) if heading else _unit(row[min(at + 1, len(row) - 1)] - row[max(at - 1, 0)])
    )


def _unit(vector: complex) -> complex:
    return vector / abs(vector)
