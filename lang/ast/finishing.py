"""What is said of finished pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.ast.node import Node
from oaktag.lang.ast.statements import Statement

if TYPE_CHECKING:
    from oaktag.lang.ast.expressions import Expr, Part, Ref


# -- finishing


class Allow(Statement):
    """`width` left out means `none`."""

    width: Expr | None
    on: tuple[Ref, ...]
    hem: bool


class Link(Node):
    """One edge of a chain that is sewn, and the end from which it is walked."""

    edge: Ref
    origin: Ref | None


class Sew(Statement):
    first: tuple[Link, ...]
    second: tuple[Link, ...]
    easing: Expr | None
    gathering: bool


class TrueAcross(Statement):
    """Outside pieces: `true a then b`: edges that flow into each other when sewn."""

    edges: tuple[Ref, ...]
    within: Expr | None


class Cut(Statement):
    count: Expr
    piece: Ref
    pair: bool
    cloths: tuple[Part, ...]
