"""What is said where a value is of another kind than is wanted: both kinds, and the way out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    ANGLE,
    AREA,
    FUNCTIONS,
    LENGTH,
    LINES,
    NUMBER,
    NUMBERS,
    POINT,
    REAL,
    WHOLE,
    YES_NO,
    either,
    with_article,
)
from oaktag.lang.diagnostics import Label, error

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.lang.checking.dimensions import Kind
    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.source import Span

EXAMPLES = {
    LENGTH: "write something like `4 cm`",
    ANGLE: "write something like `30 deg`",
    NUMBER: "write something like `1/2`",
    WHOLE: "write something like `3`",
    YES_NO: "write a comparison, like `depth > 2 cm`",
}
LISTED = 8
SHOWN = 40


def shown(span: Span) -> str:
    """A stretch of the file as it is quoted in a message."""
    text = " ".join(span.text.split())
    return f"`{text}`" if len(text) <= SHOWN else f"`{text[: SHOWN - 2]} …`"


def figure(value: float) -> str:
    return f"{value:.10g}"


def constant(expr: ast.Node) -> float | None:
    """The value of an expression made of figures alone: mm, mm², degrees or a number."""
    if isinstance(expr, ast.Number | ast.Quantity):
        return expr.value
    if isinstance(expr, ast.Unary) and expr.operator == "-":
        value = constant(expr.operand)
        return None if value is None else -value
    if isinstance(expr, ast.Binary) and expr.operator in ("+", "-", "*", "/"):
        first, second = constant(expr.left), constant(expr.right)
        if first is None or second is None:
            return None
        if expr.operator == "/":
            return first / second if second else None
        return {"+": first + second, "-": first - second, "*": first * second}[expr.operator]
    return None


def a(kind: Kind) -> str:
    """A kind as it is said in a message: that a number is whole is seldom the point."""
    return with_article(NUMBER if kind == WHOLE else kind)


def points_of(edge: str) -> str:
    """How a point is said where an edge or line is."""
    return f"`on {edge} 4 cm from …` is a point on it, `where {edge} meets …` a corner"


def _with_unit(expr: ast.Expr, unit: str) -> str:
    """How a number gets the unit it lacks."""
    value = constant(expr)
    if value is not None:
        return f"`{figure(value)} {unit}`"
    text = _text(expr)
    return f"`{text} * 1 {unit}`" if isinstance(expr, ast.Ref) else f"`({text}) * 1 {unit}`"


def _text(expr: ast.Node) -> str:
    return " ".join(expr.span.text.split())


def misfit(
    expr: ast.Expr,
    kind: Kind,
    wanted: Sequence[Kind],
    what: str,
    *,
    unit: str,
    there: Sequence[str],
) -> Diagnostic:
    """An expression of one kind stands where `what` wants another.

    unit: of lengths in this file. there: names at hand that would do.
    """
    said = shown(expr.span)
    if kind in NUMBERS and wanted[0] in (LENGTH, ANGLE):
        written = _with_unit(expr, unit if wanted[0] == LENGTH else "deg")
        return error(
            "missing-unit",
            f"{said} has no unit; {what} wants {a(wanted[0])}",
            expr.span,
            help=f"give it its unit, like {written}",
        )
    help = ""
    if kind in LINES and wanted[0] == POINT:
        help = points_of(_text(expr))
    elif kind in LINES and wanted[0] == LENGTH:
        help = f"its length is `length({_text(expr)})`"
    elif wanted[0] in EXAMPLES and either(wanted) == with_article(wanted[0]):
        help = EXAMPLES[wanted[0]]
    elif there and len(there) <= LISTED:
        help = f"there is {', '.join(f'`{name}`' for name in there)}"
    return error(
        "wrong-kind",
        f"{said} is {a(kind)}; {what} wants {either(wanted)}",
        expr.span,
        help=help,
    )


def unlike(expr: ast.Binary, first: Kind, second: Kind, unit: str) -> Diagnostic:
    """`4 cm + 3`, `depth < 12 deg`: two kinds that do not go together."""
    mixed = _hyphenated(expr)
    if mixed:
        return error(
            "hyphenated",
            f"{shown(expr.span)} takes {_text(expr.right)} from {_text(expr.left)}",
            expr.span,
            help=f"between a whole and its fraction stands a space: `{mixed}`",
        )
    one, other = a(first), a(second)
    if expr.operator == "+":
        does = f"adds {other} to {one}"
    elif expr.operator == "-":
        does = f"takes {other} from {one}"
    else:
        does = f"compares {one} with {other}"
    help = "both sides have to be of one kind"
    if first == second == POINT and expr.operator in "+-":
        help = f"a point is moved in words, like `{_text(expr.left)} right 4 cm`"
    elif first == second:
        help = "only `=` compares them" if first in (POINT, YES_NO) else ""
    for lacking, kind, measured in ((expr.right, second, first), (expr.left, first, second)):
        if kind in NUMBERS and measured in (LENGTH, ANGLE):
            written = _with_unit(lacking, unit if measured == LENGTH else "deg")
            help = f"give the number its unit: {written}"
        elif kind in LINES and measured == LENGTH:
            help = f"its length is `length({_text(lacking)})`"
    return _two_kinds(expr, first, second, does, help)


def _hyphenated(expr: ast.Binary) -> str:
    """`24-1/2 in` as it is meant, `24 1/2 in`; else nothing."""
    if expr.operator != "-" or not isinstance(expr.left, ast.Number):
        return ""
    if not isinstance(expr.right, ast.Quantity) or not expr.left.whole:
        return ""
    text, whole, fraction = expr.span.text, expr.left.span.text, expr.right.span.text
    return f"{whole} {fraction}" if "/" in fraction and text == f"{whole}-{fraction}" else ""


def no_product(expr: ast.Binary, first: Kind, second: Kind) -> Diagnostic:
    """A product or quotient that means nothing."""
    one, other = a(first), a(second)
    does = f"{'multiplies' if expr.operator == '*' else 'divides'} {one} by {other}"
    help = ""
    if {first, second} <= {LENGTH, AREA} and expr.operator == "*":
        help = "a length times a length is an area, and there is nothing beyond"
    elif first in LINES or second in LINES:
        help = f"its length is `length({_text(expr.left if first in LINES else expr.right)})`"
    elif first in NUMBERS:
        help = f"divide by a number, or divide {other} by {other}"
    elif first in REAL:
        help = "divide by a number" if expr.operator == "/" else "multiply by a number"
    return _two_kinds(expr, first, second, does, help)


def _two_kinds(expr: ast.Binary, first: Kind, second: Kind, does: str, help: str) -> Diagnostic:
    return error(
        "mixed-kinds",
        f"{shown(expr.span)} {does}",
        expr.right.span,
        label=a(second),
        labels=(Label(expr.left.span, a(first)),),
        help=help,
    )


def wrong_argument(call: ast.Call, kinds: Sequence[Kind], unit: str) -> Diagnostic:
    """A function is given what it does not take."""
    function = FUNCTIONS[call.name]
    alone = [function.result([kind] * len(kinds)) is not None for kind in kinds]
    measured = next((kind for kind in kinds if kind in (LENGTH, ANGLE)), None)
    if all(alone):  # each would do, but not together
        at = next((at for at, kind in enumerate(kinds) if kind in NUMBERS), len(kinds) - 1)
        wanted = measured
    else:
        at = alone.index(False)
        wanted = ANGLE if function.result([ANGLE]) and not function.result([LENGTH]) else None
    kind, argument = kinds[at], call.arguments[at]
    takes = f"`{call.name}` takes {function.use}"
    if kind in NUMBERS and wanted is not None and isinstance(argument, ast.Expr):
        return error(
            "missing-unit",
            f"{shown(argument.span)} has no unit; {takes}",
            argument.span,
            help=f"write {_with_unit(argument, unit if wanted == LENGTH else 'deg')}",
        )
    return error("wrong-kind", f"{shown(argument.span)} is {a(kind)}; {takes}", argument.span)
