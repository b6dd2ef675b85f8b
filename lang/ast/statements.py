"""What an instruction is, and those that stand anywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.ast.node import Node

if TYPE_CHECKING:
    from oaktag.lang.ast.expressions import Expr


# ----------------------------------------------------------------- statements


class Target(Node):
    """A name being given, with an index inside `repeat`: `flare[i]`."""

    name: str
    index: Expr | None


class Statement(Node):
    """One instruction; the caption is the comment that stands directly above it."""

    caption: str | None


class Assign(Statement):
    target: Target
    value: Expr


class Repeat(Statement):
    variable: Target
    first: Expr
    last: Expr
    body: tuple[Statement, ...]


class If(Statement):
    condition: Expr
    body: tuple[Statement, ...]
    otherwise: tuple[Statement, ...]


class Require(Statement):
    condition: Expr
    within: Expr | None
    why: str | None
