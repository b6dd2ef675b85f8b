"""What is drawn on a piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.ast.node import Node
from oaktag.lang.ast.statements import Statement

if TYPE_CHECKING:
    from oaktag.lang.ast.expressions import Expr, Ref
    from oaktag.lang.ast.points import PathExpr
    from oaktag.lang.ast.statements import Target


# -- drawing on a piece


class Draw(Statement):
    """`line NAME = PATH` or `curve NAME = PATH`; `word` is which."""

    word: str
    target: Target
    path: PathExpr


class EdgeDef(Node):
    target: Target
    path: PathExpr


class Outline(Statement):
    edges: tuple[EdgeDef, ...]


class Section(Statement):
    target: Target
    edge: Ref
    start: Expr
    end: Expr


class Ending(Node):
    """`ending 3 cm short`."""

    short: Expr


class DartOn(Statement):
    """`length` or `to` gives the point; `toward` is not needed."""

    target: Target
    edge: Ref
    at: Expr
    origin: Ref | None
    intake: Expr
    length: Expr | None
    to: Expr | None
    ending: Ending | None


class DartAlong(Statement):
    """A fish-eye dart along a line, widest at a point."""

    target: Target
    line: Ref
    intake: Expr
    at: Expr


class FoldOn(Statement):
    edge: Ref


class GrainAlong(Statement):
    edge: Ref


class GrainFrom(Statement):
    start: Expr
    end: Expr


class NotchOn(Statement):
    edges: tuple[Ref, ...]
    at: Expr
    origin: Ref | None
    double: bool
    shape: str
    deep: Expr | None


class NotchAt(Statement):
    """shape: empty if not said."""

    point: Expr
    double: bool
    shape: str
    deep: Expr | None


class Mark(Statement):
    """Words along lines: `words`, or their names if that is none; or lines to lengthen at."""

    lines: tuple[Ref, ...]
    words: str | None
    lengthening: bool


class Drill(Statement):
    point: Expr


class Button(Statement):
    point: Expr
    size: Expr


class Buttonhole(Statement):
    point: Expr
    size: Expr
    along: Ref | None


class Buttons(Statement):
    count: Expr
    along: Ref
    start: Expr
    end: Expr
    size: Expr


class Buttonholes(Statement):
    """size: of the buttons."""

    count: Expr
    along: Ref
    start: Expr
    end: Expr
    size: Expr
    across: bool


class Text(Statement):
    text: str
    point: Expr
