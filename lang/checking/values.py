"""The kind of every expression, point and path, and what is said where another kind is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    ANGLE,
    FUNCTIONS,
    LENGTH,
    LINE,
    LINES,
    NUMBER,
    NUMBERS,
    POINT,
    REAL,
    UNKNOWN,
    WHOLE,
    YES_NO,
    comparable,
    product_of,
    quotient_of,
    sum_of,
)
from oaktag.lang.checking.misfits import (
    constant,
    no_product,
    shown,
    unlike,
    wrong_argument,
)
from oaktag.lang.checking.references import References
from oaktag.lang.words import nearest

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from oaktag.lang.checking.dimensions import Kind


COMPARISONS = ("=", "<", ">", "<=", ">=")


class Values(References):
    """Finds the kinds of expressions at one place of a file."""

    def kind(self, expr: ast.Expr) -> Kind:
        return _KINDS[type(expr)](self, expr)

    def _number(self, expr: ast.Number) -> Kind:
        return WHOLE if expr.whole else NUMBER

    def _quantity(self, expr: ast.Quantity) -> Kind:
        return ANGLE if expr.unit == "deg" else LENGTH

    def _yes_no(self, expr: ast.YesNo) -> Kind:
        return YES_NO

    def _ref(self, expr: ast.Ref) -> Kind:
        return self.name(expr).kind

    def _unary(self, expr: ast.Unary) -> Kind:
        if expr.operator == "not":
            self.want(expr.operand, (YES_NO,), "`not`")
            return YES_NO
        return self.want(expr.operand, REAL, "a minus")

    def _binary(self, expr: ast.Binary) -> Kind:
        operator = expr.operator
        if operator in ("and", "or"):
            self.want(expr.left, (YES_NO,), f"`{operator}`")
            self.want(expr.right, (YES_NO,), f"`{operator}`")
            return YES_NO
        if operator in COMPARISONS:
            self.compared(expr)
            return YES_NO
        first, second = self.kind(expr.left), self.kind(expr.right)
        if operator in ("+", "-"):
            kind = sum_of(first, second)
            if kind is None:
                self.scope.found.append(unlike(expr, first, second, self.unit))
            return kind or UNKNOWN
        kind = product_of(first, second) if operator == "*" else quotient_of(first, second)
        if kind is None:
            self.scope.found.append(no_product(expr, first, second))
        elif operator == "/" and constant(expr.right) == 0:
            self.scope.wrong(
                "division-by-zero",
                f"{shown(expr.span)} divides by nothing",
                expr.right.span,
                help="divide by something other than 0",
            )
        return kind or UNKNOWN

    def compared(self, expr: ast.Binary) -> Kind:
        """The kind of the two sides of a comparison."""
        first, second = self.kind(expr.left), self.kind(expr.right)
        if not comparable(expr.operator, first, second):
            self.scope.found.append(unlike(expr, first, second, self.unit))
            return UNKNOWN
        return sum_of(first, second) or first

    def _call(self, expr: ast.Call) -> Kind:
        kinds = []
        for argument in expr.arguments:
            if isinstance(argument, ast.PathExpr):
                self.path(argument)
                kinds.append(LINE)
            elif isinstance(argument, ast.Ref) and expr.name == "count":
                kinds.append(self.name(argument, many=True, bare_row=True).kind)
            else:
                kinds.append(self.kind(argument))
        scope, function = self.scope, FUNCTIONS.get(expr.name)
        if function is None:
            near = nearest(expr.name, FUNCTIONS)
            scope.wrong(
                "unknown-function",
                f"nothing is measured or reckoned with `{expr.name}(…)`",
                expr.span,
                help=f"write `{near}(…)`" if near else f"there are {', '.join(FUNCTIONS)}",
            )
            return UNKNOWN
        if len(kinds) not in function.count:
            given = f"{len(kinds)} values" if kinds[1:] else "one value"
            scope.wrong(
                "wrong-count",
                f"`{expr.name}` is given {given}; it takes {function.use}",
                expr.span,
            )
            return UNKNOWN
        kind = function.result(kinds)
        if kind is None:
            scope.found.append(wrong_argument(expr, kinds, self.unit))
        return kind or UNKNOWN

    # ---------------------------------------------------------------- points

    def _moved(self, expr: ast.Moved) -> Kind:
        self.point(expr.base, "the start of a move")
        self.direction(expr.direction)
        self.length(expr.distance, "the distance")
        return POINT

    def _dropped(self, expr: ast.Dropped) -> Kind:
        self.point(expr.base, "the start of a move")
        self.direction(expr.direction)
        self.thing(expr.onto, LINES, "`to`")
        return POINT

    def _polar(self, expr: ast.Polar) -> Kind:
        self.point(expr.base, "the start of a move")
        self.want(expr.angle, (ANGLE,), "`at`")
        self.length(expr.distance, "the distance")
        return POINT

    def _toward(self, expr: ast.Toward) -> Kind:
        self.point(expr.base, "the start of a move")
        self.point(expr.target, "`toward`")
        self.want(expr.by, (LENGTH, *NUMBERS), "`by`")
        return POINT

    def _midway(self, expr: ast.Midway) -> Kind:
        self.point(expr.first, "`midway`")
        self.point(expr.second, "`midway`")
        return POINT

    def _on_edge(self, expr: ast.OnEdge) -> Kind:
        self.thing(expr.edge, LINES, "`on`")
        self.place(expr.at, "the place on an edge")
        self.end_of(expr.origin, expr.edge)
        return POINT

    def _meeting(self, expr: ast.Meeting) -> Kind:
        self.thing(expr.first, LINES, "`where … meets`")
        self.thing(expr.second, LINES, "`meets`")
        return POINT

    def _at_distance(self, expr: ast.AtDistance) -> Kind:
        self.thing(expr.line, LINES, "`where … is`")
        self.length(expr.distance, "the distance")
        self.point(expr.origin, "`from`")
        return POINT

    # ---------------------------------------------------------------- paths

    def path(self, path: ast.PathExpr, *, beside: Callable[[ast.Ref], bool] | None = None) -> None:
        """A start and legs. beside: whether a name is an edge of the same outline, whose
        directions may be used before it is drawn."""
        self.point(path.start, "the start of a path")
        for leg in path.legs:
            self.point(leg.to, "the end of a leg")
            if isinstance(leg, ast.CurveLeg):
                for direction in (leg.leaving, leg.arriving):
                    if direction is not None:
                        self.direction(direction, beside=beside)
                for point in leg.through:
                    self.point(point, "`through`")
                if leg.bowed is not None:
                    self.direction(leg.bowed[0], beside=beside)
                    self.length(leg.bowed[1], "`bowed`")
            elif isinstance(leg, ast.ArcLeg):
                if leg.around is not None:
                    self.point(leg.around, "`around`")
                if leg.through is not None:
                    self.point(leg.through, "`through`")

    def direction(
        self, direction: ast.Direction, *, beside: Callable[[ast.Ref], bool] | None = None
    ) -> None:
        if isinstance(direction, ast.SquareTo):
            if beside is None or not beside(direction.edge):
                self.thing(direction.edge, LINES, "`square to`")
        elif isinstance(direction, ast.AtAngle):
            self.want(direction.angle, (ANGLE,), "a direction")
        elif isinstance(direction, ast.TowardPoint):
            self.point(direction.point, "`toward`")


_KINDS: dict[type[ast.Expr], Callable[[Values, Any], Kind]] = {
    ast.Number: Values._number,
    ast.Quantity: Values._quantity,
    ast.YesNo: Values._yes_no,
    ast.Ref: Values._ref,
    ast.Call: Values._call,
    ast.Unary: Values._unary,
    ast.Binary: Values._binary,
    ast.Moved: Values._moved,
    ast.Dropped: Values._dropped,
    ast.Polar: Values._polar,
    ast.Toward: Values._toward,
    ast.Midway: Values._midway,
    ast.OnEdge: Values._on_edge,
    ast.Meeting: Values._meeting,
    ast.AtDistance: Values._at_distance,
}
