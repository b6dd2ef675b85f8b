"""Cloth folded and sewn by plain arithmetic: nothing of the compiler is used here.

It knows a pattern only from the JSON that `oaktag build` writes: points in mm,
flattened to 0.01 mm.
"""

from __future__ import annotations

import cmath
import itertools
import math
from typing import Any

Points = list[complex]
Object = dict[str, Any]


def points(rows: list[list[float]]) -> Points:
    return [complex(x, y) for x, y in rows]


def long(line: Points) -> float:
    """The length of a polyline, by Pythagoras."""
    return sum(abs(b - a) for a, b in itertools.pairwise(line))


def away(place: complex, line: Points) -> float:
    """How far a place is from a polyline."""
    return min(_from_segment(place, a, b) for a, b in itertools.pairwise(line))


def mirrored(place: complex, a: complex, b: complex) -> complex:
    """A place folded over the crease from a to b."""
    way = (b - a) / abs(b - a)
    return a + way * ((place - a) / way).conjugate()


class Laying:
    """A rigid move of paper that lays `mine` (two points) on `yours`, as nearly as it can be."""

    def __init__(self, mine: tuple[complex, complex], yours: tuple[complex, complex]) -> None:
        turn = (yours[1] - yours[0]) / (mine[1] - mine[0])
        self.turn = turn / abs(turn)
        self.shift = (sum(yours) - sum(mine) * self.turn) / 2

    def __call__(self, line: Points) -> Points:
        return [place * self.turn + self.shift for place in line]


class Fold:
    """A dart or pleat whose mouth is an intake run; `left` and `right` are met in that order."""

    def __init__(self, opening: Object, mouth: Points) -> None:
        sides = [points(leg) for leg in opening["legs"]]
        sides.sort(key=lambda side: abs(side[-1] - mouth[0]))
        self.name, self.trimmed = opening["name"], opening["trimmed"]
        self.left, self.right = sides
        self.mouth = mouth
        self.closing = Laying((self.right[0], self.right[-1]), (self.left[0], self.left[-1]))

    @property
    def gap(self) -> float:
        """How far the sides are from lying on each other when it is closed; in mm."""
        return max(away(place, self.left) for place in self.closing(self.right))

    def paper(self) -> tuple[Points, Points]:
        """The mouth's edge as it lies when the fold is closed: to the left, and to the right.

        The paper is creased along both sides and in the middle between them, straight from end to
        end: the half beside the left side turns over it, that beside the right side comes along
        with the right part; or the other way round.
        """
        crease = self._crease()
        half = min(range(len(self.mouth)), key=lambda i: away(self.mouth[i], crease))
        first, second = self.mouth[: half + 1], self.mouth[half:]
        to_left = [mirrored(place, *_ends(self.left)) for place in first]
        to_right = [mirrored(place, *_ends(self.right)) for place in second]
        return to_left + self.closing(second), first + self.closing(to_right)

    def _crease(self) -> Points:
        middle = [(a + b) / 2 for a, b in zip(_ends(self.left), _ends(self.right), strict=True)]
        way = middle[1] - middle[0]
        return [middle[0], middle[1] + way]


class SewnEdge:
    """An edge of a piece, its darts and pleats folded away: one line, lying flat."""

    def __init__(self, piece: Object, edge: Object) -> None:
        self.folds: list[Fold] = []
        self.line: Points = []
        self.kept: list[Points] = []
        self.creased: list[tuple[Points, Points]] = []
        for run in edge["runs"]:
            line = points(run["points"])
            if run["role"] == "seam":
                self.kept.append(line)
                self.line += self._laid(line)
                continue
            opening = _opening_of(piece, line)
            if opening is not None:
                fold = Fold(opening, line)
                left, right = fold.paper()
                self.creased.append((self._laid(left), self._laid(right)))
                self.folds.append(fold)

    def _laid(self, line: Points) -> Points:
        """A line on the paper beyond the folds so far, where it comes to lie."""
        for fold in reversed(self.folds):
            line = fold.closing(line)
        return line

    def off_the_seam(self, fold: Fold) -> float:
        """How far the folded paper's edge lies from the seam it is sewn into, on its better side.

        In mm. Only the paper that reaches no further than the seam does can be compared.
        """
        sides = self.creased[self.folds.index(fold)]
        return min(max(away(place, self.line) for place in side) for side in sides)

    @property
    def length(self) -> float:
        return sum(map(long, self.kept))

    @property
    def jump(self) -> float:
        """How much longer the folded line is than its parts: gaps that folding left open."""
        return long(self.line) - self.length

    def place_of(self, mark: complex) -> float:
        """How far along the sewn edge a mark on it lies, in mm."""
        done = 0.0
        best, place = math.inf, 0.0
        for line in self.kept:
            for a, b in itertools.pairwise(line):
                off = _from_segment(mark, a, b)
                if off < best:
                    best, place = off, done + min(abs(mark - a), abs(b - a))
                done += abs(b - a)
        return place


def edge_of(piece: Object, name: str) -> Object | None:
    return next((edge for edge in piece["edges"] if edge["name"] == name), None)


def angle_between(first: Points, second: Points) -> float:
    """The turn from the end of one line to the beginning of the next, in degrees."""
    turn = (second[1] - second[0]) / (first[-1] - first[-2])
    return math.degrees(cmath.phase(turn))


def width_at(outline: Points, height: float) -> float:
    """How wide a piece is on a level line: the sum of what lies inside."""
    cuts = []
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        if (a.imag > height) != (b.imag > height):
            cuts.append(a.real + (b.real - a.real) * (height - a.imag) / (b.imag - a.imag))
    cuts.sort()
    return sum(cuts[1::2]) - sum(cuts[::2])


def _opening_of(piece: Object, mouth: Points) -> Object | None:
    """The dart or pleat whose sides end at both ends of the mouth; none for a gather."""
    for opening in piece["darts"]:
        ends = {_near(points(leg)[-1], mouth) for leg in opening["legs"]}
        if ends == {0, 1} and opening["kind"] in ("dart", "pleat"):
            return opening
    return None


def _near(place: complex, mouth: Points) -> int | None:
    offs = [abs(place - mouth[0]), abs(place - mouth[-1])]
    return offs.index(min(offs)) if min(offs) < 0.05 else None


def _ends(side: Points) -> tuple[complex, complex]:
    return side[0], side[-1]


def _from_segment(place: complex, a: complex, b: complex) -> float:
    way = b - a
    if not way:
        return abs(place - a)
    share = ((place - a) / way).real
    return abs(place - a - way * min(max(share, 0.0), 1.0))
