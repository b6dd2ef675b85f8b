"""What is said of finished pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.ast.node import Node
from oaktag.lang.ast.statements import Statement

if TYPE_CHECKING:
    from oaktag.lang.ast.expressions import Expr, Part, Ref


# -- finishing


class Allow(Statement):
    """`width` left out means `none`. corners: `squared`, `mitred`, or empty if it is not said."""

    width: Expr | None
    on: tuple[Ref, ...]
    hem: bool
    corners: str


class Link(Node):
    """One edge of a chain that is sewn, and the end from which it is walked."""

    edge: Ref
    origin: Ref | None


class Sew(Statement):
    first: tuple[Link, ...]
    second: tuple[Link, ...]
    easing: Expr | None
    gathering: bool


class Bind(Statement):
    """Edges bound with a bias strip; width: of the finished binding."""

    edges: tuple[Link, ...]
    width: Expr
    double: bool
    cloth: Part


class Fasten(Statement):
    """An opening that closes with `closure`, a word; `second` is empty where it closes on itself.

    length: of the zip, or of each tie.
    """

    first: tuple[Link, ...]
    second: tuple[Link, ...]
    closure: Part
    length: Expr | None


class TrueAcross(Statement):
    """Outside pieces: `true a then b`: edges that flow into each other when sewn."""

    edges: tuple[Ref, ...]
    within: Expr | None


class Cut(Statement):
    count: Expr
    piece: Ref
    pair: bool
    cloths: tuple[Part, ...]
