"""Directions, points and paths."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.ast.expressions import Expr
from oaktag.lang.ast.node import Node

if TYPE_CHECKING:
    from oaktag.lang.ast.expressions import Ref


# ----------------------------------------------------------------- directions


class Direction(Node):
    """A direction of travel."""


class Way(Direction):
    """`up`, `down`, `left`, `right` of the sheet."""

    word: str


class SquareTo(Direction):
    edge: Ref


class AtAngle(Direction):
    """An angle, anticlockwise from `right`."""

    angle: Expr


class TowardPoint(Direction):
    point: Expr


class Moved(Expr):
    """`P down 20 cm`, `P square to side 4 cm`."""

    base: Expr
    direction: Direction
    distance: Expr


class Dropped(Expr):
    """`P down to hem`, `P square to side to centre`: moved until it meets."""

    base: Expr
    direction: Direction
    onto: Ref


class Polar(Expr):
    """`P at 30 deg by 4 cm`."""

    base: Expr
    angle: Expr
    distance: Expr


class Toward(Expr):
    """`P toward Q by 1/3` (a share of the way) or `by 4 cm`."""

    base: Expr
    target: Expr
    by: Expr


class Midway(Expr):
    first: Expr
    second: Expr


class OnEdge(Expr):
    """`on side 9 cm from waist`, `on top 1/3`: a distance or a share along an edge or line."""

    edge: Ref
    at: Expr
    origin: Expr | None


class Meeting(Expr):
    """`where side meets hem`."""

    first: Ref
    second: Ref


class AtDistance(Expr):
    """`where LINE is 4 cm from P`."""

    line: Ref
    distance: Expr
    origin: Expr


class Leg(Node):
    to: Expr


class StraightLeg(Leg):
    pass


class CurveLeg(Leg):
    leaving: Direction | None = None
    arriving: Direction | None = None
    through: tuple[Expr, ...] = ()
    bowed: tuple[Direction, Expr] | None = None


class ArcLeg(Leg):
    """Round a centre or through a point; just one of the two is given."""

    around: Expr | None = None
    through: Expr | None = None


class PathExpr(Node):
    """A start and legs. `P down to hem` alone is the straight leg to where it meets."""

    start: Expr
    legs: tuple[Leg, ...]
