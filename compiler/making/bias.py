"""Bias strips: how much cloth a binding wants, and how a square is cut up for it. Any one unit.

Sources: quiltersquestiontime.com for the square of a length, thebuttonship.blogspot.com for strips
that are joined.
"""

from __future__ import annotations

import math

SEAM = 6.35  # mm: each of the seams with which strips are joined, a quarter of an inch (published)
SLACK = 1e-9  # a strip that is too short by no more than rounding is long enough


def square_side(length: float, width: float) -> float:
    """The side of a square that holds as much cloth as strips of that length and width together.

    sqrt(length x width); cut in one spiral from it, or with little waste.
    """
    return math.sqrt(length * width)


def strips_needed(length: float, width: float) -> int:
    """How many strips across a square it takes: n = ceil(sqrt(T / 2w))."""
    return max(1, math.ceil(math.sqrt(length / (2 * width)) - SLACK))


def pieced_side(strips: int, width: float, seam: float = SEAM) -> float:
    """The side of the square that gives so many strips, and the seams at its edge: n w √2 + 2s."""
    return strips * width * math.sqrt(2) + 2 * seam
