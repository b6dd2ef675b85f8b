"""Which instructions depend on which, told from the names they give and use."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast

if TYPE_CHECKING:
    from collections.abc import Sequence


def needed(statements: Sequence[ast.Statement], condition: ast.Expr) -> list[ast.Statement]:
    """The instructions a condition depends on, in order."""
    wanted = asked(condition)
    kept = []
    for statement in reversed(statements):
        if wanted & _made(statement):
            kept.append(statement)
            wanted |= asked(statement)
    return kept[::-1]


def moved_by(name: str, statements: Sequence[ast.Statement]) -> list[ast.Statement]:
    """Those instructions whose outcome changes with the value of a name, in order."""
    names = {name}
    uses = [(item, asked(item)) for item in statements]
    while True:
        found = [item for item, used in uses if names & used]
        more = names.union(*(_made(item) for item in found))
        if more == names:
            return found
        names = more


def _made(statement: ast.Statement) -> set[str]:
    """The names whose meaning depends on an instruction: truing across a seam changes pieces."""
    if isinstance(statement, ast.TrueAcross):
        return {ref.parts[0].name for ref in statement.edges}
    return given(statement)


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


def spoken_of(node: object) -> set[str]:
    """The first words of what a line says something of, when it speaks of finished pieces."""
    match node:
        case tuple():
            return set().union(*(spoken_of(item) for item in node))
        case ast.Repeat() | ast.If():
            return spoken_of(node.body) | (
                spoken_of(node.otherwise) if isinstance(node, ast.If) else set()
            )
        case ast.Allow():
            return spoken_of(node.on)
        case ast.Sew() | ast.Fasten():
            return spoken_of((*node.first, *node.second))
        case ast.Bind() | ast.TrueAcross() | ast.NotchOn():
            return spoken_of(node.edges)
        case ast.Cut():
            return spoken_of(node.piece)
        case ast.Link():
            return spoken_of(node.edge)
        case ast.Ref():
            return {node.parts[0].name}
    return set()


def asked(node: object) -> set[str]:
    """The first words of all names an instruction uses."""
    found = set()
    waiting = [node]
    while waiting:
        one = waiting.pop()
        if isinstance(one, ast.Ref):
            found.add(one.parts[0].name)
            waiting.extend(part.index for part in one.parts)
        elif isinstance(one, tuple):
            waiting.extend(one)
        elif isinstance(one, ast.Node):
            waiting.extend(getattr(one, name) for name in one.fields)
    return found
