"""Roots of polynomials in Bernstein form, between 0 and 1."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_BINOMIALS = {
    2: (1, 2, 1),
    3: (1, 3, 3, 1),
    4: (1, 4, 6, 4, 1),
    5: (1, 5, 10, 10, 5, 1),
    6: (1, 6, 15, 20, 15, 6, 1),
}
_NARROWEST = 2.0**-30


def bernstein_value(values: Sequence[float], t: float) -> float:
    """The polynomial with these Bernstein coefficients (degree 2 to 6) at t."""
    s = 1 - t
    power = 1.0
    total = 0.0
    for binomial, value in zip(_BINOMIALS[len(values) - 1], values, strict=True):
        total = total * s + binomial * value * power
        power *= t
    return total


def bernstein_slope(values: Sequence[float]) -> list[float]:
    """The Bernstein coefficients of the derivative, up to a positive factor."""
    return [after - before for before, after in itertools.pairwise(values)]


def bernstein_roots(values: Sequence[float]) -> list[float]:
    """Where in [0, 1] the polynomial crosses zero, in ascending order.

    Intervals are halved until Descartes' rule of signs leaves one root in each (a multiple root
    ends in a very narrow interval and is given by its middle), then the root is closed in on.
    """
    found: list[float] = []
    _isolate(list(values), 0.0, 1.0, _powers(values), found)
    found.sort()
    return [t for at, t in enumerate(found) if at == 0 or t - found[at - 1] > 1e-13]


def _isolate(
    piece: list[float], low: float, high: float, powers: Sequence[float], found: list[float]
) -> None:
    changes = 0
    sign = 0.0
    for value in piece:
        if value:
            if sign and (value > 0) != (sign > 0):
                changes += 1
            sign = value
    if piece[0] == 0:
        found.append(low)
    if piece[-1] == 0:
        found.append(high)
    if changes == 0:
        return
    if changes == 1 and piece[0] and piece[-1]:
        found.append(_closed_in(powers, low, high, piece[0] > 0))
        return
    if high - low < _NARROWEST:
        found.append((low + high) / 2)
        return
    middle = (low + high) / 2
    left: list[float] = []
    right: list[float] = []
    row = piece
    while True:
        left.append(row[0])
        right.append(row[-1])
        if len(row) == 1:
            break
        row = [(a + b) / 2 for a, b in itertools.pairwise(row)]
    right.reverse()
    _isolate(left, low, middle, powers, found)
    _isolate(right, middle, high, powers, found)


def _closed_in(powers: Sequence[float], low: float, high: float, falling: bool) -> float:
    """The one root between low and high, by Newton's method kept between them."""
    t = (low + high) / 2
    for _ in range(100):
        value = slope = 0.0
        for power in powers:
            slope = slope * t + value
            value = value * t + power
        if value == 0:
            return t
        if (value > 0) == falling:
            low = t
        else:
            high = t
        following = t - value / slope if slope else low
        if not low < following < high:
            following = (low + high) / 2
        if abs(following - t) <= 1e-16:
            return following
        t = following
    return t


def _powers(values: Sequence[float]) -> list[float]:
    """The coefficients of the powers of t, the highest first, from Bernstein coefficients."""
    if len(values) == 6:  # the nearest point of a cubic: asked most, and so written out
        a, b, c, d, e, f = values
        b1, c1, d1, e1, f1 = b - a, c - b, d - c, e - d, f - e
        c2, d2, e2, f2 = c1 - b1, d1 - c1, e1 - d1, f1 - e1
        d3, e3, f3 = d2 - c2, e2 - d2, f2 - e2
        e4, f4 = e3 - d3, f3 - e3
        return [f4 - e4, 5 * e4, 10 * d3, 10 * c2, 5 * b1, a]
    differences = list(values)
    found = []
    for binomial in _BINOMIALS[len(values) - 1]:
        found.append(binomial * differences[0])
        differences = bernstein_slope(differences)
    found.reverse()
    return found
