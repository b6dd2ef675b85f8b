"""Where the grain is drawn: inside the piece, clear of its edges and of what is drawn on it."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.paper.piece import Piece

    Ends = tuple[complex, complex]
    Points = Sequence[complex]

CLEAR = 5.0  # mm: nearer to the outline than this the grain reads as an edge
_FLAT = 0.5  # mm: how exactly curves are looked at
_WORDS = 25.0  # mm from the edge, where there is room, for the words on a fold
_SHARES = (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.1, 0.9)
_LONG_ENOUGH = 0.6  # of the longest place there is
_LENGTH = 0.75  # of the paper along it


def grain_line(piece: Piece, obstacles: Sequence[Points] = ()) -> Ends | None:
    """The two ends of the grain's arrow, or none if the piece has no grain.

    The grain as it was given, if it lies well inside and no parallel crosses fewer obstacles
    (lines as points); else a parallel that has paper on both sides: of those long enough to
    measure from, the one that crosses the fewest, and of these the nearest.
    """
    grain = piece.grain
    if grain is None or abs(grain.end - grain.start) < 1e-6:
        return None
    length = abs(grain.end - grain.start)
    way = (grain.end - grain.start) / length

    def laid(points: Points) -> list[complex]:
        """Moved and turned so that the grain runs to the right from 0."""
        return [(place - grain.start) / way for place in points]

    ring = laid(piece.outline.flattened(_FLAT))
    given = (0j, length + 0j)
    inside = any(a.real <= 0 and b.real >= length for a, b in _stretches(ring, 0.0))
    inside = inside and not _crossed(*given, ring, CLEAR)
    found = list(_parallels(ring))
    if not found:
        return (grain.start, grain.end) if inside else None
    longest = max((b - a).real for a, b in found)
    long = [(a, b) for a, b in found if (b - a).real >= _LONG_ENOUGH * longest]
    lines = [laid(points) for points in obstacles]

    def crossings(ends: Ends) -> int:
        return sum(_crossed(ends[0], ends[1], line, CLEAR) for line in lines)

    start, end = min(long, key=crossings)
    if inside and crossings(given) <= crossings((start, end)):
        return grain.start, grain.end
    middle, reach = (start + end) / 2, (end - start) * _LENGTH / 2
    return grain.start + (middle - reach) * way, grain.start + (middle + reach) * way


def _parallels(ring: Points) -> Iterator[Ends]:
    """The longest stretch of paper along each of some parallels, the nearest parallel first."""
    span = max((place.imag for place in ring), key=abs)
    clear = min(CLEAR, abs(span) / 12)
    for share in _SHARES:
        off = span * share
        if abs(off) < _WORDS and abs(span) > 4 * _WORDS:
            off = _WORDS if span > 0 else -_WORDS
        inside = [
            (a, b)
            for a, b in _stretches(ring, off)
            # Not along an edge, on its middle half.
            if not _crossed(a + (b - a) / 4, b - (b - a) / 4, ring, clear)
        ]
        if inside:
            yield max(inside, key=lambda ends: (ends[1] - ends[0]).real)


def _stretches(ring: Points, off: float) -> list[Ends]:
    """Where the level line at `off` runs inside a ring, from left to right."""
    hits = sorted(
        a.real + (off - a.imag) / (b.imag - a.imag) * (b.real - a.real)
        for a, b in itertools.pairwise(ring)
        if (a.imag > off) != (b.imag > off)
    )
    ends = [complex(x, off) for x in hits]
    return list(zip(ends[::2], ends[1::2], strict=True))


def _crossed(start: complex, end: complex, points: Points, clear: float) -> int:
    """How many steps of a line come nearer than `clear`, upright, to a level line."""
    low, high = start.imag - clear, start.imag + clear
    return sum(
        _enters(a, b, start.real, end.real, low, high) for a, b in itertools.pairwise(points)
    )


def _enters(a: complex, b: complex, left: float, right: float, low: float, high: float) -> bool:
    """Whether a straight step has a part inside a level rectangle, its rim left out."""
    if (a.imag < low and b.imag < low) or (a.imag > high and b.imag > high):
        return False  # as most do
    way = b - a
    first, last = 0.0, 1.0
    for at, step, least, most in ((a.real, way.real, left, right), (a.imag, way.imag, low, high)):
        if abs(step) < 1e-12:
            if not least < at < most:
                return False
            continue
        ends = sorted(((least - at) / step, (most - at) / step))
        first, last = max(first, ends[0]), min(last, ends[1])
    return first < last
