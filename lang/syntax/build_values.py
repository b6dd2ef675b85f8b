"""The nodes of values, points, directions and paths; see build.py."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.diagnostics import Label, mistake
from oaktag.lang.source import Span

if TYPE_CHECKING:
    from oaktag.lang.ast import Direction, Expr, PathExpr, Ref
    from oaktag.lang.source import Source
    from oaktag.lang.syntax.tokens import Token


class Option:
    """One of several parts that may come in any order, each once."""

    __slots__ = ("name", "span", "value")

    def __init__(self, name: str, span: Span, value: Any) -> None:
        self.name = name
        self.span = span
        self.value = value


def once(options: tuple[Option, ...], *names: str) -> list[Any]:
    """The values of options by name; a second one of a name is a mistake."""
    found: dict[str, Option] = {}
    for option in options:
        first = found.setdefault(option.name, option)
        if first is not option:
            said = option.span.text.split()[0]
            raise mistake(
                "said-twice",
                f"`{said}` is said twice",
                option.span,
                label="the second time",
                labels=(Label(first.span, "the first time"),),
                help="keep one of the two",
            )
    return [found[name].value if name in found else None for name in names]


class Values:
    """Makes the nodes of one source that are parts of instructions."""

    __slots__ = ("source",)

    def __init__(self, source: Source) -> None:
        self.source = source

    def _span(self, token: Token) -> Span:
        return Span(self.source, token.start, token.end)

    # ------------------------------------------------- paths and directions

    def path(self, span: Span, start: Expr, *legs: ast.Leg) -> PathExpr:
        return ast.PathExpr(span, start, legs)

    def dropped_path(self, span: Span, drop: ast.Dropped) -> PathExpr:
        return ast.PathExpr(span, drop.base, (ast.StraightLeg(span, drop),))

    def straight(self, span: Span, to: Expr) -> ast.Leg:
        return ast.StraightLeg(span, to)

    def curved(self, span: Span, to: Expr, *options: Option) -> ast.Leg:
        leaving, arriving, through, bowed = once(options, "leaving", "arriving", "through", "bowed")
        return ast.CurveLeg(span, to, leaving, arriving, through or (), bowed)

    def arc_around(self, span: Span, to: Expr, centre: Expr) -> ast.Leg:
        return ast.ArcLeg(span, to, centre, None)

    def arc_through(self, span: Span, to: Expr, point: Expr) -> ast.Leg:
        return ast.ArcLeg(span, to, None, point)

    def leaving(self, span: Span, direction: Direction) -> Option:
        return Option("leaving", span, direction)

    def arriving(self, span: Span, direction: Direction) -> Option:
        return Option("arriving", span, direction)

    def through(self, span: Span, *points: Expr) -> Option:
        return Option("through", span, points)

    def bowed(self, span: Span, side: Direction, depth: Expr) -> Option:
        return Option("bowed", span, (side, depth))

    def at_angle(self, span: Span, angle: Expr) -> ast.AtAngle:
        return ast.AtAngle(span, angle)

    def way(self, span: Span, word: Token) -> ast.Way:
        return ast.Way(span, word.text)

    def square(self, span: Span, edge: Ref) -> ast.SquareTo:
        return ast.SquareTo(span, edge)

    def toward_point(self, span: Span, point: Expr) -> ast.TowardPoint:
        return ast.TowardPoint(span, point)

    # ---------------------------------------------------- values and points

    def binary(self, span: Span, left: Expr, operator: Token, right: Expr) -> ast.Binary:
        return ast.Binary(span, operator.text, left, right)

    def unary(self, span: Span, operator: Token, operand: Expr) -> ast.Unary:
        return ast.Unary(span, operator.text, operand)

    def minus_quantity(self, span: Span, minus: Token, amount: Token) -> ast.Unary:
        return ast.Unary(span, "-", self.quantity(self._span(amount), amount))

    def moved(self, span: Span, base: Expr, direction: Direction, distance: Expr) -> ast.Moved:
        return ast.Moved(span, base, direction, distance)

    def dropped(self, span: Span, base: Expr, direction: Direction, onto: Ref) -> ast.Dropped:
        return ast.Dropped(span, base, direction, onto)

    def polar(self, span: Span, base: Expr, angle: Expr, distance: Expr) -> ast.Polar:
        return ast.Polar(span, base, angle, distance)

    def toward(self, span: Span, base: Expr, target: Expr, by: Expr) -> ast.Toward:
        return ast.Toward(span, base, target, by)

    def midway(self, span: Span, first: Expr, second: Expr) -> ast.Midway:
        return ast.Midway(span, first, second)

    def on_edge(self, span: Span, edge: Ref, at: Expr, origin: Expr | None) -> ast.OnEdge:
        return ast.OnEdge(span, edge, at, origin)

    def meeting(self, span: Span, first: Ref, second: Ref) -> ast.Meeting:
        return ast.Meeting(span, first, second)

    def at_distance(self, span: Span, line: Ref, distance: Expr, origin: Expr) -> ast.AtDistance:
        return ast.AtDistance(span, line, distance, origin)

    def number(self, span: Span, token: Token) -> ast.Number:
        return ast.Number(span, token.value, "." not in token.text)

    def quantity(self, span: Span, token: Token) -> ast.Quantity:
        return ast.Quantity(span, token.value, token.unit)

    def yes(self, span: Span) -> ast.YesNo:
        return ast.YesNo(span, True)

    def no(self, span: Span) -> ast.YesNo:
        return ast.YesNo(span, False)

    def call(self, span: Span, name: Token, *arguments: Expr | PathExpr) -> ast.Call:
        if name.text in ("length", "sewn") and len(arguments) == 1:
            only = arguments[0]
            if isinstance(only, ast.Dropped):  # the line to there: a point has no length
                arguments = (self.dropped_path(only.span, only),)
        return ast.Call(span, name.text, arguments)

    def refs(self, span: Span, *refs: Ref) -> tuple[Ref, ...]:
        return refs

    def ref(self, span: Span, *parts: ast.Part) -> Ref:
        return ast.Ref(span, parts)

    def part(self, span: Span, name: Token, index: ast.Index | None) -> ast.Part:
        return ast.Part(span, name.text, index)

    def target(self, span: Span, name: Token, index: Expr | None = None) -> ast.Target:
        return ast.Target(span, name.text, index)

    def index(self, span: Span, first: Expr, last: Expr | None) -> ast.Index:
        return ast.Index(span, first, last)
