"""What a file leaves to choose, with what a control for it needs; and figures as they are written.

A figure that goes back into a file is written so that it is read as exactly the same.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from oaktag.compiler.evaluate import ask
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang import ast
from oaktag.lang.checking.misfits import constant
from oaktag.lang.diagnostics import Mistake
from oaktag.lang.units import MILLIMETRES, show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern, Value
    from oaktag.lang.project.program import Program

    Object = dict[str, Any]

FINEST = {"mm": 1.0, "cm": 0.1, "m": 0.001, "in": 1 / 16, "ft": 1 / 96, "yd": 1 / 288}
"""By how much a slider moves at least, in each unit."""
MOST_PLACES = 400  # of a slider: with more it moves in larger steps
_LARGER = (1, 2, 5, 10, 20, 50, 100)


def choices(program: Program, pattern: Pattern) -> list[Object]:
    """The choices in the order of the file; figures in the unit in which each is written."""
    return [
        _choice(node, pattern, pattern.choices[node.target.name])
        for node in chosen(program)
        if node.target.name in pattern.choices
    ]


def chosen(program: Program) -> Iterator[ast.Choose]:
    """The `choose` lines of a file."""
    return (node for node in program.file.statements if isinstance(node, ast.Choose))


def is_plain(node: ast.Choose) -> bool:
    """Whether the default is a figure, or yes or no, and not worked out from something else."""
    return isinstance(node.default, ast.YesNo) or constant(node.default) is not None


def unit_of(node: ast.Choose, unit: str) -> str:
    """The unit in which a length is written, or that of the file."""
    default = node.default
    return default.unit if isinstance(default, ast.Quantity) else unit


def written(value: Value, unit: str) -> str:
    """A value as it may stand in a file, to be read as the same."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    assert isinstance(value, Quantity)
    if value.kind == "length":
        amount = value.amount / MILLIMETRES[unit]
        if unit == "in" and abs(amount * 16 - round(amount * 16)) < 1e-6:
            return show_length(value.amount, unit)
        return f"{_decimal(amount)} {unit}"
    return f"{_decimal(value.amount)} deg" if value.kind == "angle" else _decimal(value.amount)


def _choice(node: ast.Choose, pattern: Pattern, value: Value) -> Object:
    unit = unit_of(node, pattern.unit)
    default = _asked(pattern, node.default)
    found: Object = {
        "name": node.target.name,
        "about": node.description or "",
        "text": written(value, unit),
        "default": "" if default is None else written(default, unit),
        "plain": is_plain(node),
    }
    if isinstance(value, bool):
        return {**found, "kind": "yes or no", "value": value}
    assert isinstance(value, Quantity)
    per = MILLIMETRES[unit] if value.kind == "length" else 1.0
    low, high = (_figure(_asked(pattern, bound), per) for bound in (node.low, node.high))
    whole = isinstance(node.default, ast.Number) and node.default.whole
    return {
        **found,
        "kind": value.kind,
        "unit": {"length": unit, "angle": "deg"}.get(value.kind, ""),
        "value": _figure(value, per),
        "low": low,
        "high": high,
        "step": None if low is None or high is None else _step(value.kind, unit, high - low, whole),
    }


def _asked(pattern: Pattern, expr: ast.Expr | None) -> Value | None:
    """What an expression of the file comes to; none if that is not to be known."""
    if expr is None:
        return None
    try:
        return ask(pattern, expr)
    except Mistake:
        return None


def _figure(value: Value | None, per: float) -> float | None:
    return round(value.amount / per, 9) + 0.0 if isinstance(value, Quantity) else None


def _step(kind: str, unit: str, wide: float, whole: bool) -> float:
    if whole:
        return 1.0
    if kind == "length":
        finest = FINEST[unit]
    else:
        finest = 1.0 if kind == "angle" else 10.0 ** math.floor(math.log10(max(wide, 1e-6) / 50))
    if unit in ("in", "ft", "yd") and kind == "length":
        larger = next((n for n in (1, 2, 4, 8, 16) if wide / (finest * n) <= MOST_PLACES), 16)
    else:
        larger = next((n for n in _LARGER if wide / (finest * n) <= MOST_PLACES), 100)
    return round(finest * larger, 9)


def _decimal(amount: float) -> str:
    """As few figures as say it to a millionth."""
    text = f"{amount:.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
