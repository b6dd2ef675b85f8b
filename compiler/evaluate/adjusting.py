"""`adjust`: the value that makes a condition hold."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from oaktag.lang import ast

EXACT = 1e-6  # mm, degrees or plainly: how nearly both sides are brought together
TRIALS = 80
STEPS = 24  # how finely a range is searched where an end of it cannot be drawn


def needed(statements: Sequence[ast.Statement], condition: ast.Expr) -> list[ast.Statement]:
    """The instructions a condition depends on, in order."""
    wanted = asked(condition)
    kept = []
    for statement in reversed(statements):
        if wanted & given(statement):
            kept.append(statement)
            wanted |= asked(statement)
    return kept[::-1]


def root(function: Callable[[float], float | None], low: float, high: float) -> float | None:
    """Where a function comes to nothing between two values, or none if it is not found there.

    The function may have no value in places: where a spread would tear the paper, say. Then the
    range is searched in steps, from low to high.
    """
    left, right = function(low), function(high)
    if left is not None and right is not None and _opposite(left, right):
        return _between(function, low, left, high, right)
    behind, before = low, left
    for step in range(1, STEPS + 1):
        here = low + (high - low) * step / STEPS
        value = function(here) if step < STEPS else right
        if before is not None and value is not None and _opposite(before, value):
            return _between(function, behind, before, here, value)
        behind, before = here, value
    return None


def _opposite(left: float, right: float) -> bool:
    return abs(left) <= EXACT or abs(right) <= EXACT or (left > 0) != (right > 0)


def _between(
    function: Callable[[float], float | None], low: float, left: float, high: float, right: float
) -> float | None:
    """Regula falsi with the Illinois rule, bisecting every third time.

    Source: M. Dowell and P. Jarratt, "A modified regula falsi method", BIT 11, 1971.
    """
    if abs(left) <= EXACT:
        return low
    if abs(right) <= EXACT:
        return high
    side = 0
    for trial in range(TRIALS):
        middle = (low * right - high * left) / (right - left) if trial % 3 < 2 else (low + high) / 2
        value = function(middle)
        if value is None:
            return None
        if abs(value) <= EXACT or abs(high - low) < 1e-12:
            return middle
        if (value > 0) == (right > 0):
            high, right = middle, value
            left *= 0.5 if side == 1 else 1.0
            side = 1
        else:
            low, left = middle, value
            right *= 0.5 if side == -1 else 1.0
            side = -1
    return (low + high) / 2


def given(statement: ast.Statement) -> set[str]:
    """The names an instruction gives."""
    match statement:
        case ast.Assign() | ast.PieceDef() | ast.Choose() | ast.Adjust():
            return {statement.target.name}
        case ast.Measure():
            return {item.target.name for item in statement.items}
        case ast.Use():
            return {statement.alias.name}
        case ast.Repeat() | ast.If():
            inside = statement.body + (statement.otherwise if isinstance(statement, ast.If) else ())
            return set().union(*(given(item) for item in inside))
    return set()


def asked(node: object) -> set[str]:
    """The first words of all names an instruction uses."""
    if isinstance(node, ast.Ref):
        found = {node.parts[0].name}
        for part in node.parts:
            found |= asked(part.index)
        return found
    if isinstance(node, tuple):
        return set().union(*(asked(item) for item in node))
    if isinstance(node, ast.Node):
        return set().union(*(asked(getattr(node, name)) for name in node.fields))
    return set()
