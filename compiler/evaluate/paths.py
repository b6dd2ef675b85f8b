"""Paths from legs: straights, arcs and fair curves, joined smoothly where nothing else is said."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate import points
from oaktag.compiler.geometry import (
    GeometryError,
    Path,
    arc_around,
    arc_through,
    bowed_curve,
    chain,
    fair_curve,
    line,
)
from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.scope import Scope

FARTHEST = 1e6  # mm: figures beyond it are a mistake, and rounding would spoil lengths

SquareWay = Callable[[ast.SquareTo, complex], complex | None]


def path(expr: ast.PathExpr, scope: Scope, square: SquareWay | None = None) -> Path:
    """The path a start and its legs draw.

    square: gives the direction square to an edge of an outline that is not drawn yet; without it,
    or where it has no answer, edges are found on the paper.
    """
    if not expr.legs:
        raise mistake(
            "not-a-path",
            "this is a point: a line leads from one point to another",
            expr.span,
            help="go on with `to` and a point, or `curve to` and a point",
        )
    places = [_near(scope.point(expr.start), expr.start)]
    for leg in expr.legs:
        places.append(_near(scope.point(leg.to), leg.to))
        if abs(places[-1] - places[-2]) < 1e-6:
            raise mistake(
                "no-length",
                "this leg begins and ends at the same point",
                leg.span,
                help="leave it out, or lead it somewhere else",
            )
    return _Legs(expr.legs, places, scope, square).drawn()


def _near(place: complex, expr: ast.Expr) -> complex:
    if not abs(place) <= FARTHEST:
        raise mistake(
            "too-far",
            "this point lies more than 1 km from the origin: no paper is so large",
            expr.span,
            help="look at the figures that lead here",
        )
    return place


def _grouped(legs: tuple[ast.Leg, ...]) -> list[list[ast.Leg]]:
    """Legs that are drawn as one curve stand together; every other leg stands alone."""
    groups: list[list[ast.Leg]] = []
    for leg in legs:
        before = groups[-1][-1] if groups else None
        if (
            isinstance(leg, ast.CurveLeg)
            and isinstance(before, ast.CurveLeg)
            and not (leg.bowed or before.bowed or (before.arriving and leg.leaving))
        ):
            groups[-1].append(leg)
        else:
            groups.append([leg])
    return groups


class _Legs:
    """The legs of one path and their places: fixed legs are drawn first, then the free curves."""

    def __init__(
        self,
        legs: tuple[ast.Leg, ...],
        places: list[complex],
        scope: Scope,
        square: SquareWay | None,
    ) -> None:
        self.groups = _grouped(legs)
        self.places = places
        self.scope = scope
        self.square = square
        self.paths: list[Path | None] = [None] * len(self.groups)

    def drawn(self) -> Path:
        at = 0
        curves = []
        for number, group in enumerate(self.groups):
            places = self.places[at : at + len(group) + 1]
            if isinstance(group[0], ast.CurveLeg):
                legs = [leg for leg in group if isinstance(leg, ast.CurveLeg)]
                curves.append((number, legs, places))
            else:
                self.paths[number] = self._fixed(group[0], *places)
            at += len(group)
        for number, legs, places in curves:
            self.paths[number] = self._curve(number, legs, places)
        return chain([drawn for drawn in self.paths if drawn is not None])

    def _fixed(self, leg: ast.Leg, start: complex, end: complex) -> Path:
        if isinstance(leg, ast.ArcLeg):
            try:
                if leg.around is not None:
                    return arc_around(start, end, self.scope.point(leg.around))
                assert leg.through is not None
                return arc_through(start, self.scope.point(leg.through), end)
            except GeometryError:
                raise self._no_arc(leg, start, end) from None
        return line(start, end)

    def _no_arc(self, leg: ast.ArcLeg, start: complex, end: complex) -> Exception:
        if leg.around is None:
            return mistake(
                "no-arc",
                "these three points lie in a line, so no arc goes through them",
                leg.span,
                help="move the point after `through` to one side, or draw a straight line",
            )
        centre = self.scope.point(leg.around)
        radii = [show_length(abs(place - centre), self.scope.unit) for place in (start, end)]
        return mistake(
            "no-arc",
            f"an arc keeps its distance from its centre, but it starts {radii[0]} and ends "
            f"{radii[1]} from there",
            leg.span,
            help="move the centre, or use `curve to`",
        )

    def _curve(self, number: int, legs: list[ast.CurveLeg], places: list[complex]) -> Path:
        """One smooth curve through the places of its legs."""
        start, end = places[0], places[-1]
        via: list[complex] = [start]
        directions: dict[int, complex] = {}
        for i, leg in enumerate(legs):
            inner = (legs[i - 1].arriving or leg.leaving) if i > 0 else None
            if inner is not None:
                directions[len(via) - 1] = self._way(inner, via[-1], end - start)
            via.extend(self.scope.point(place) for place in leg.through)
            via.append(places[i + 1])
        if any(abs(after - before) < 1e-6 for before, after in itertools.pairwise(via)):
            raise mistake(
                "no-length",
                "this curve meets one point twice in a row",
                legs[0].span,
                help="name each point once",
            )
        leaving, arriving = legs[0].leaving, legs[-1].arriving
        out = self._way(leaving, start, via[1] - start) if leaving else self._before(number)
        into = self._way(arriving, end, end - via[-2]) if arriving else self._after(number)
        if legs[0].bowed is None:
            return fair_curve(via, out, into, directions)
        side, depth = legs[0].bowed
        if legs[0].through:
            raise mistake(
                "through-and-bowed",
                "a curve is led through points or bowed, not both",
                side.span,
                help="leave one of them out; the depth of a curve through a point is where it lies",
            )
        deep, bow = self.scope.length(depth), self._way(side, start, 0j)
        shown = show_length(deep, self.scope.unit)
        if deep < 0:
            raise mistake(
                "no-bow",
                f"a curve cannot be bowed by {shown}",
                depth.span,
                help="name the other side, with a depth above nothing",
            )
        along = (bow.conjugate() * (end - start)).real / abs(end - start)
        if abs(along) > 1 - 1e-9:
            raise mistake(
                "no-bow",
                f"`{side.span.text}` runs along the line between the ends of this curve, so it is "
                "on neither side of it",
                side.span,
                help="name the side to which it bows, across that line",
            )
        try:
            return bowed_curve(start, end, bow, deep, out, into)
        except GeometryError:
            raise mistake(
                "no-bow",
                f"with these directions at its ends the curve cannot bow {shown} to that side",
                legs[0].span,
                help="leave out `leaving` or `arriving`, or bow it less",
            ) from None

    def _before(self, number: int) -> complex | None:
        """The direction in which the leg before arrives, if it is drawn already."""
        before = self.paths[number - 1] if number > 0 else None
        return before.end_direction if before is not None else None

    def _after(self, number: int) -> complex | None:
        after = self.paths[number + 1] if number + 1 < len(self.paths) else None
        return after.start_direction if after is not None else None

    def _way(self, direction: ast.Direction, base: complex, heading: complex) -> complex:
        """The direction of travel; square to an edge is taken the way the curve is going."""
        if isinstance(direction, ast.SquareTo):
            unit = self.square(direction, base) if self.square else None
            if unit is None:
                unit = points.way(direction, base, self.scope)
            return -unit if (unit.conjugate() * heading).real < 0 else unit
        return points.way(direction, base, self.scope)
