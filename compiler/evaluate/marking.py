"""Notches outside a piece: the same on edges of several pieces, and what all of them look like."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.compiler.evaluate.drawing import with_step
from oaktag.compiler.evaluate.expressions import located
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.mark import depth
from oaktag.compiler.verbs.notch_on import notch_on
from oaktag.lang.diagnostics import mistake

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.scope import Scope
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang import ast


def notching(statement: ast.Notches, scope: Scope) -> dict[str, Any]:
    """What a `notches` line says of the notches that do not say it themselves."""
    deep = None
    if statement.deep is not None:
        try:
            deep = depth(scope.quantity(statement.deep))
        except PaperError as wrong:
            raise located(wrong, statement, scope.unit) from None
    return {"notch_shape": statement.shape, "notch_deep": deep}


def notched(statement: ast.NotchOn, scope: Scope) -> list[Piece]:
    """The pieces with the notch on each of their edges, measured from the edge beside it."""
    done: dict[str, Piece] = {}
    at = scope.quantity(statement.at)
    deep = None if statement.deep is None else scope.quantity(statement.deep)
    for ref in statement.edges:
        owner, edge = scope.owner(ref), scope.value(ref)
        if not isinstance(edge, Edge):
            raise mistake("not-an-edge", f"`{ref.span.text}` is not an edge of a piece", ref.span)
        scope.check_own(owner, ref)
        piece = done.get(owner.name, owner)
        written = ref.span.text
        origin = scope.on(piece).value(statement.origin) if statement.origin else None
        try:
            change = notch_on(
                piece, (edge,), at, origin, statement.double, statement.shape, deep, written
            )
        except PaperError as wrong:
            raise located(wrong, statement, scope.unit) from None
        done[owner.name] = with_step(piece, change, statement)
    return list(done.values())
