"""Checks what a file says of its finished pieces: allowances, seams, cutting, requirements."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.dimensions import (
    EDGES,
    LENGTH,
    NUMBER,
    NUMBERS,
    PIECE,
    POINT,
    UNKNOWN,
    WHOLE,
    YES_NO,
)
from oaktag.lang.misfits import constant, shown
from oaktag.lang.values import COMPARISONS

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.lang.values import Values


def adjusted(values: Values, node: ast.Adjust) -> None:
    """The condition of an `adjust`; the name it brings may be used in it."""
    values.scope.before = node.span.end
    values.want(node.condition, (YES_NO,), "`until`")


def require(values: Values, node: ast.Require) -> None:
    condition, within = node.condition, node.within
    if isinstance(condition, ast.Binary) and condition.operator in COMPARISONS:
        kind = values.compared(condition)
    else:
        kind = values.want(condition, (YES_NO,), "`require`")
    if within is None:
        return
    if kind in (YES_NO, UNKNOWN):
        values.kind(within)
    else:
        wanted = {POINT: LENGTH, WHOLE: NUMBER}.get(kind, kind)
        values.want(within, NUMBERS if wanted == NUMBER else (wanted,), "`within`")
    if kind == YES_NO:
        values.scope.wrong(
            "no-within",
            "`within` belongs to a comparison of two figures",
            within.span,
            help="leave it out, or compare, as in `require sewn(a) = sewn(b) within 2 mm`",
        )


def allow(values: Values, node: ast.Allow) -> None:
    if node.width is not None:
        values.length(node.width, "an allowance")
    values.names(node.on, (PIECE, *EDGES), "`allow … on`")


def sew(values: Values, node: ast.Sew) -> None:
    for link in (*node.first, *node.second):
        values.thing(link.edge, EDGES, "`sew`")
        values.end_of(link.origin, link.edge)
    if node.easing is not None:
        values.length(node.easing, "`easing`")


def true_across(values: Values, node: ast.TrueAcross) -> None:
    for edge in node.edges:
        values.thing(edge, EDGES, "`true`")
    if node.within is not None:
        values.length(node.within, "`within`")


def cut(values: Values, node: ast.Cut) -> None:
    values.whole(node.count, "`cut`")
    count = constant(node.count)
    if count is not None and count < 1:
        values.scope.wrong(
            "not-positive",
            f"{shown(node.count.span)} pieces cannot be cut",
            node.count.span,
            help="cut at least one, or take the line out",
        )
    values.names((node.piece,), (PIECE,), "`cut`")


# What sees the finished pieces, wherever they stand.
AFTERWARDS: dict[type[ast.Statement], Callable[[Values, Any], None]] = {
    ast.Allow: allow,
    ast.Sew: sew,
    ast.Cut: cut,
    ast.Require: require,
    ast.Adjust: adjusted,
}
