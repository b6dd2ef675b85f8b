"""The measurements of a body: a file of `NAME = LENGTH` lines, or a row of a chart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import LENGTH
from oaktag.lang.checking.misfits import constant, shown
from oaktag.lang.checking.scope import Scope
from oaktag.lang.checking.values import Values
from oaktag.lang.diagnostics import Diagnostic, Mistake
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Mapping


class Body(Record):
    """values: each measurement in mm, with the unit it was written in."""

    name: str
    values: Mapping[str, tuple[float, str]]


def is_body(file: ast.File) -> bool:
    """Whether a file describes a body, not a pattern."""
    return bool(file.statements) and isinstance(file.statements[0], ast.Body)


def read_body(file: ast.File) -> Body:
    """The body a file describes; raises Mistake with everything wrong in it."""
    if not is_body(file):
        message = "this is no body file: it does not begin with a `body` line"
        place = file.statements[0].span if file.statements else None
        raise Mistake(
            Diagnostic(
                "error",
                "no-body",
                message,
                place,
                "" if place else file.source.name,
                help='let it begin with `body "Name"`, and indent `NAME = LENGTH` lines below',
            )
        )
    node = file.statements[0]
    assert isinstance(node, ast.Body)
    wrong = check_body(file)
    if wrong:
        raise Mistake(*wrong)
    return Body(
        node.title,
        {entry.target.name: _length(entry.value, file.unit) for entry in node.entries},
    )


def check_body(file: ast.File) -> tuple[Diagnostic, ...]:
    """What is wrong with the lines of a body file."""
    node = file.statements[0]
    assert isinstance(node, ast.Body)
    scope = Scope()
    values = Values(scope, file.unit)
    for entry in node.entries:
        name, value = entry.target.name, entry.value
        values.no_index(entry.target, "a measure")
        scope.give(entry.target, LENGTH, "measure")
        amount = constant(value)
        if amount is None:
            scope.wrong(
                "no-length",
                f"{shown(value.span)} is not a plain length",
                value.span,
                help=f"a body holds figures with units, like `{name} = 72 {file.unit}`",
            )
        elif values.want(value, (LENGTH,), f"the measure `{name}`") == LENGTH and amount <= 0:
            scope.wrong(
                "not-positive",
                f"`{name}` is a measure of a body, and more than nothing",
                value.span,
            )
    return tuple(scope.found)


def _length(value: ast.Expr, unit: str) -> tuple[float, str]:
    """In mm, and the unit it is written in."""
    amount = constant(value)
    assert amount is not None, "checked before"
    return amount, value.unit if isinstance(value, ast.Quantity) else unit
