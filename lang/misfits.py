"""What is said where a value is of another kind than is wanted: both kinds, and the way out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.diagnostics import Label, error
from oaktag.lang.dimensions import (
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

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.dimensions import Kind
    from oaktag.lang.source import Span

EXAMPLES = {LENGTH: "4 cm", ANGLE: "30 deg", NUMBER: "1/2", WHOLE: "3", YES_NO: "yes"}
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
    return f"`{figure(value)} {unit}`" if value is not None else f"`({_text(expr)}) * 1 {unit}`"


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
        return error(
            "missing-unit",
            f"{said} has no unit; {what} wants {a(wanted[0])}",
            expr.span,
            help=f"write {_with_unit(expr, unit if wanted[0] == LENGTH else 'deg')}",
        )
    help = ""
    if kind in LINES and wanted[0] == POINT:
        help = points_of(_text(expr))
    elif kind in LINES and wanted[0] == LENGTH:
        help = f"its length is `length({_text(expr)})`"
    elif wanted[0] in EXAMPLES:
        help = f"write something like `{EXAMPLES[wanted[0]]}`"
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
    one, other = a(first), a(second)
    if expr.operator == "+":
        does = f"adds {other} to {one}"
    elif expr.operator == "-":
        does = f"takes {other} from {one}"
    else:
        does = f"compares {one} with {other}"
    help = "both sides have to be of one kind"
    for lacking, kind, measured in ((expr.right, second, first), (expr.left, first, second)):
        if kind in NUMBERS and measured in (LENGTH, ANGLE):
            written = _with_unit(lacking, unit if measured == LENGTH else "deg")
            help = f"give the number its unit: {written}"
        elif kind in LINES and measured == LENGTH:
            help = f"its length is `length({_text(lacking)})`"
    return _two_kinds(expr, first, second, does, help)


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


def wrong_argument(call: ast.Call, kinds: Sequence[Kind]) -> Diagnostic:
    """A function is given what it does not take."""
    function = FUNCTIONS[call.name]
    refused = [at for at, kind in enumerate(kinds) if not function.result([kind] * len(kinds))]
    at = refused[0] if refused else len(kinds) - 1
    kind, argument = kinds[at], call.arguments[at]
    if kind in NUMBERS and function.result([ANGLE]) and not function.result([kind]):
        value = constant(argument)
        return error(
            "missing-unit",
            f"{shown(argument.span)} has no unit; `{call.name}` takes {function.use}",
            argument.span,
            help=f"write `{figure(value)} deg`" if value is not None else "multiply it by `1 deg`",
        )
    return error(
        "wrong-kind",
        f"{shown(argument.span)} is {a(kind)}; `{call.name}` takes {function.use}",
        argument.span,
        help="" if refused else "give it values of one kind",
    )
