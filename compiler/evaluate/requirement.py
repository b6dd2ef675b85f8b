"""The cutter's own checks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.expressions import compare, show
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.scope import Scope


def require(statement: ast.Require, scope: Scope) -> None:
    """Raises a mistake with both values if a requirement is not met."""
    condition = statement.condition
    if isinstance(condition, ast.Binary) and condition.operator in ("=", "<", ">", "<=", ">="):
        within = scope.quantity(statement.within).amount if statement.within else None
        met = compare(condition, scope) if within is None else compare(condition, scope, within)
        if met:
            return
        left, right = scope.value(condition.left), scope.value(condition.right)
        figures = f"{show(left, scope.unit)} and {show(right, scope.unit)}"
        if isinstance(left, Quantity) and isinstance(right, Quantity):
            gap = show(Quantity(left.kind, abs(left.amount - right.amount)), scope.unit)
            figures += f", {gap} apart"
    else:
        if scope.truth(condition):
            return
        figures = "it does not hold"
    why = statement.why or f"this is required: {condition.span.text}"
    raise mistake("requirement", why, condition.span, label=figures)
