"""What is done to a piece."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from oaktag.lang.ast.node import Node
from oaktag.lang.ast.statements import Statement

if TYPE_CHECKING:
    from oaktag.lang.ast.drawing import Ending
    from oaktag.lang.ast.expressions import Expr, Ref
    from oaktag.lang.ast.points import Direction, PathExpr
    from oaktag.lang.ast.statements import Target
    from oaktag.lang.source import Span


# -- verbs


class Treatment(Node):
    """What becomes of an opening: kind `flare`, `pleat`, `dart`, `gather`; style of a pleat."""

    kind: str
    style: str = "knife"
    ending: Ending | None = None


class OpenFold(Statement):
    edge: Ref


class Erase(Statement):
    lines: tuple[Ref, ...]


class Unfold(Statement):
    along: Ref
    first: Target
    second: Target
    holding: Ref | None


class Halve(Statement):
    along: Ref
    keeping: Target


class Mirror(Statement):
    pass


class Close(Statement):
    darts: tuple[Ref, ...]
    by: Expr | None
    into: tuple[Ref, ...]
    treatment: Treatment | None
    holding: Ref | None


class Amount(Node):
    """`4 cm at hem`."""

    by: Expr
    at: Ref | None


class Spread(Statement):
    """`spread` and `overlap`; `amounts` holds one or two."""

    lines: tuple[Ref, ...]
    amounts: tuple[Amount, ...]
    hinge: Ref | None
    treatment: Treatment | None
    holding: Ref | None


class Overlap(Statement):
    lines: tuple[Ref, ...]
    amounts: tuple[Amount, ...]
    hinge: Ref | None
    holding: Ref | None


class FoldTrim(Statement):
    folds: tuple[Ref, ...]
    toward: Direction | Ref | None
    holding: Ref | None


class Lengthen(Statement):
    at: Ref
    by: Expr
    holding: Ref | None


class Shorten(Statement):
    at: Ref
    by: Expr
    holding: Ref | None


class Redraw(Statement):
    edge: Ref
    path: PathExpr


class RedrawDart(Statement):
    dart: Ref
    to: Expr


class TrueEdges(Statement):
    edges: tuple[Ref, ...]
    within: Expr | None


class Divide(Statement):
    along: Ref
    first: Target
    second: Target
    holding: Ref | None


class Join(Statement):
    other: Ref
    edge: Ref
    holding: Ref | None


class Strip(Statement):
    length: Expr
    width: Expr


class Facing(Statement):
    edge: Ref
    deep: Expr


class Trace(Statement):
    """piece: which one of the file, if it was named; piece_span: there, or where the file is."""

    uncompared: ClassVar[frozenset[str]] = frozenset({"span", "path_span", "piece_span"})
    path: str
    path_span: Span
    edges: tuple[Target, ...]
    scale_edge: Ref | None
    scale_length: Expr | None
    piece: str
    piece_span: Span
