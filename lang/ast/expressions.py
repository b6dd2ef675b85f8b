"""Values: numbers, amounts, names, arithmetic."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.ast.node import Node

if TYPE_CHECKING:
    from oaktag.lang.ast.points import PathExpr


# ---------------------------------------------------------------- expressions


class Expr(Node):
    """Anything with a value: a number, a length, an angle, yes or no, a point, a thing on paper."""


class Number(Expr):
    """`4`, `1.5`; a fraction like `1/3` is a division."""

    value: float
    whole: bool


class Quantity(Expr):
    """`4 1/2 in`, `12 deg`: value in millimetres or degrees, the unit as written."""

    value: float
    unit: str


class YesNo(Expr):
    value: bool


class Index(Node):
    """`[2]` or, with a last, `[1..3]`."""

    first: Expr
    last: Expr | None


class Part(Node):
    """One step of a dotted name: `drape[i]`."""

    name: str
    index: Index | None


class Ref(Expr):
    """A dotted name: `block.front.waist`, `right.waist_dart[1].point`."""

    parts: tuple[Part, ...]


class Call(Expr):
    """`length(front.waist)`, `max(a, b)`; an argument may be a path."""

    name: str
    arguments: tuple[Expr | PathExpr, ...]


class Unary(Expr):
    """`-` or `not`."""

    operator: str
    operand: Expr


class Binary(Expr):
    """`+ - * /`, `= < > <= >=`, `and or`."""

    operator: str
    left: Expr
    right: Expr
