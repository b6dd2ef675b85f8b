"""`notch on` outside a piece: the same notch on edges of several pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.drawing import with_step
from oaktag.compiler.evaluate.expressions import located
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.verbs.notch_on import notch_on
from oaktag.lang.diagnostics import mistake

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.scope import Scope
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang import ast


def notched(statement: ast.NotchOn, scope: Scope) -> list[Piece]:
    """The pieces with the notch on each of their edges, measured from the edge beside it."""
    done: dict[str, Piece] = {}
    at = scope.quantity(statement.at)
    for ref in statement.edges:
        owner, edge = scope.owner(ref), scope.value(ref)
        if not isinstance(edge, Edge):
            raise mistake("not-an-edge", f"`{ref.span.text}` is not an edge of a piece", ref.span)
        scope.check_own(owner, ref)
        piece = done.get(owner.name, owner)
        origin = scope.on(piece).value(statement.origin) if statement.origin else None
        try:
            change = notch_on(piece, (edge,), at, origin, statement.double)
        except PaperError as wrong:
            raise located(wrong, statement, scope.unit) from None
        done[owner.name] = with_step(piece, change, statement)
    return list(done.values())
