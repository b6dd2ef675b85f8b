"""The head of a file, and the pieces it draws."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from oaktag.lang.ast.node import Node
from oaktag.lang.ast.statements import Statement

if TYPE_CHECKING:
    from oaktag.lang.ast.expressions import Expr, Ref
    from oaktag.lang.ast.statements import Assign, Target
    from oaktag.lang.source import Span


# -- head


class Pattern(Statement):
    title: str


class Revision(Statement):
    """Which state of the pattern this is, and its date, as the labels are to say it."""

    said: str
    date: str


class Notches(Statement):
    """What the notches of the file look like that do not say it themselves."""

    shape: str
    deep: Expr | None


class Body(Statement):
    title: str
    entries: tuple[Assign, ...]


class MeasureItem(Node):
    target: Target
    default: Expr | None


class Measure(Statement):
    items: tuple[MeasureItem, ...]


class Choose(Statement):
    target: Target
    default: Expr
    low: Expr | None
    high: Expr | None
    description: str | None


class Use(Statement):
    """`use skirts.straight as block` (path is a Ref) or `use "ines.oak" as block` (a text)."""

    uncompared: ClassVar[frozenset[str]] = frozenset({"span", "path_span"})
    path: Ref | str
    path_span: Span
    alias: Target
    settings: tuple[Assign, ...]


class Adjust(Statement):
    target: Target
    low: Expr
    high: Expr
    condition: Expr


class PieceDef(Statement):
    target: Target
    origin: Ref | None
    body: tuple[Statement, ...]
