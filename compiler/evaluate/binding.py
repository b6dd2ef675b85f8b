"""From a statement's node to the arguments of the verb that does it.

Every field of the node goes to the argument of the same name: names become the things they mean,
expressions their values, a new name a label, a path the path it draws. So a new verb needs no
change here.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, Any

from oaktag.compiler.evaluate import paths, points
from oaktag.compiler.paper import arguments
from oaktag.compiler.paper.label import Label
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.evaluate.scope import Scope
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.paper.step import Change

# Fields that speak of the whole statement, not of the paper.
_ASIDE = frozenset({"span", "caption", "source"})


@cache
def verb_for(node: str) -> Callable[..., Change] | None:
    """The function of a verb, from the module named like its node, or none."""
    name = "".join(f"_{c.lower()}" if c.isupper() else c for c in node).strip("_")
    try:
        module = import_module(f"oaktag.compiler.verbs.{name}")
    except ModuleNotFoundError:
        return None
    verb: Callable[..., Change] = getattr(module, name)
    return verb


def bind(node: ast.Node, scope: Scope) -> dict[str, Any]:
    """The arguments a node's fields come to; raises Mistake with all that is wrong with them."""
    bound: dict[str, Any] = {}
    wrong: list[Mistake] = []
    for name in node.fields:
        if name not in _ASIDE:
            try:
                bound[name] = _bound(getattr(node, name), scope)
            except Mistake as found:
                wrong.append(found)
    if wrong:
        raise Mistake(*(item for found in wrong for item in found.diagnostics))
    return bound


def owners(do: Callable[..., Change], node: ast.Statement, scope: Scope) -> dict[str, Piece]:
    """For each argument called NAME_piece, the piece on which the thing in the field NAME lies."""
    names = do.__code__.co_varnames[: do.__code__.co_argcount]
    fields = [name.removesuffix("_piece") for name in names if name.endswith("_piece")]
    return {f"{field}_piece": scope.owner(getattr(node, field)) for field in fields}


def label_of(target: ast.Target, scope: Scope) -> Label:
    """The name being given, with its index worked out."""
    return Label(target.name, None if target.index is None else scope.whole(target.index))


def _bound(field: object, scope: Scope) -> Any:
    match field:
        case tuple():
            flat: list[Any] = []
            for item in field:
                bound = _bound(item, scope)
                if isinstance(item, ast.Ref) and isinstance(bound, tuple):
                    flat.extend(bound)
                else:
                    flat.append(bound)
            return tuple(flat)
        case ast.Target():
            return label_of(field, scope)
        case ast.Direction():
            return points.way(field, 0j, scope)
        case ast.PathExpr():
            return paths.path(field, scope)
        case ast.Expr():
            return scope.value(field)
        case ast.Node():
            return getattr(arguments, type(field).__name__)(**bind(field, scope))
        case _:
            return field
