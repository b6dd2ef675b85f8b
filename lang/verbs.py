"""Checks the verbs of a piece: what each works on, and what its names mean from then on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.dimensions import (
    EDGE,
    EDGES,
    FOLDS,
    HALF,
    LINE,
    LINES,
    NUMBERS,
    ON_PAPER,
    OPENING,
    PIECE,
    UNKNOWN,
)
from oaktag.lang.drawing import ending
from oaktag.lang.misfits import constant, shown
from oaktag.lang.names import Names

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from oaktag.lang.values import Values


def needs_paper(values: Values, node: ast.Statement, word: str) -> None:
    """A verb works on a piece that has its outline."""
    scope = values.scope
    if not scope.current.outline and not scope.current.loose and not scope.spoilt:
        scope.wrong(
            "no-outline",
            f"`{word}` comes before the piece has an outline",
            node.span,
            help="draw the outline first",
        )
        scope.current.loose = True  # said once


def holding(values: Values, ref: ast.Ref | None) -> None:
    """`holding` names a half, or anything that lies on the part that stays still."""
    if ref is not None:
        values.thing(ref, ON_PAPER, "`holding`")


def unfold(values: Values, node: ast.Unfold) -> None:
    needs_paper(values, node, "unfold")
    scope = values.scope
    edge = values.thing(node.along, (EDGE,), "`unfold along`")
    holding(values, node.holding)
    for half in (node.first, node.second):
        values.no_index(half, "a half")
    if node.first.name == node.second.name:
        scope.wrong(
            "named-twice",
            f"both halves are called `{node.first.name}`",
            node.second.span,
            help="`unfold along centre into right and left`",
        )
    kind = UNKNOWN  # of the halves, if it is not known what they are halves of
    if edge.kind == EDGE:
        kind = HALF
        along = ".".join(part.name for part in node.along.parts)
        scope.current.unfold(along, node.first.name, node.second.name)
    else:
        scope.current.loose = True
    scope.give(node.first, kind)
    if node.first.name != node.second.name:
        scope.give(node.second, kind)


def halve(values: Values, node: ast.Halve) -> None:
    needs_paper(values, node, "halve")
    scope = values.scope
    sheet = scope.current
    values.thing(node.along, (LINE,), "`halve along`")
    halves = [name for pair in sheet.halves for name in pair]
    if node.keeping.name not in halves and not sheet.loose:
        there = " or ".join(f"`{name}`" for name in halves)
        scope.wrong(
            "unknown-half",
            f"no half of this piece is called `{node.keeping.name}`",
            node.keeping.span,
            help=f"write {there}" if halves else "halves get their names from `unfold`",
        )
    sheet.halve(".".join(part.name for part in node.along.parts), node.keeping.name)


def mirror(values: Values, node: ast.Mirror) -> None:
    needs_paper(values, node, "mirror")


def share(values: Values, expr: ast.Expr, what: str) -> None:
    """A part of a whole: more than nothing, and no more than all of it."""
    kind = values.want(expr, NUMBERS, what)
    value = constant(expr)
    if kind in NUMBERS and value is not None and not 0 < value <= 1:
        values.scope.wrong(
            "no-share",
            f"{shown(expr.span)} is no share; it lies between 0 and 1",
            expr.span,
            help="write a share like `1/2`",
        )


def close(values: Values, node: ast.Close) -> None:
    needs_paper(values, node, "close")
    values.names(node.darts, FOLDS, "`close`")
    if node.by is not None:
        share(values, node.by, "`by`")
    values.names(node.into, (LINE, OPENING), "`into`")
    treatment(values, node.treatment)
    holding(values, node.holding)
    opened(values, node.into)


def spread(values: Values, node: ast.Spread | ast.Overlap) -> None:
    word = "spread" if isinstance(node, ast.Spread) else "overlap"
    needs_paper(values, node, word)
    values.names(node.lines, (LINE, OPENING), f"`{word}`")
    for amount in node.amounts:
        values.length(amount.by, "`by`")
        if amount.at is not None:
            values.thing(amount.at, EDGES, "`at`")
    if node.hinge is not None:
        values.thing(node.hinge, EDGES, "`hinged on`")
    holding(values, node.holding)
    if isinstance(node, ast.Spread):
        treatment(values, node.treatment)
        opened(values, node.lines)


def opened(values: Values, lines: Sequence[ast.Ref]) -> None:
    """The names of slashed lines mean their openings from now on."""
    scope = values.scope
    for ref in lines:
        index = ref.parts[-1].index
        every = index is not None and (index.last is not None or bool(scope.turns))
        scope.current.open(".".join(part.name for part in ref.parts), whole_row=every)


def treatment(values: Values, node: ast.Treatment | None) -> None:
    if node is not None:
        ending(values, node.ending)


def fold_trim(values: Values, node: ast.FoldTrim) -> None:
    needs_paper(values, node, "fold-trim")
    values.names(node.folds, FOLDS, "`fold-trim`")
    if isinstance(node.toward, ast.Ref):
        values.thing(node.toward, LINES, "`toward`")
    elif node.toward is not None:
        values.direction(node.toward)
    holding(values, node.holding)


def lengthen(values: Values, node: ast.Lengthen | ast.Shorten) -> None:
    word = "lengthen" if isinstance(node, ast.Lengthen) else "shorten"
    needs_paper(values, node, word)
    values.thing(node.at, (LINE,), f"`{word} at`")
    values.length(node.by, "`by`")
    holding(values, node.holding)


def redraw(values: Values, node: ast.Redraw) -> None:
    needs_paper(values, node, "redraw")
    values.thing(node.edge, EDGES, "`redraw`")
    values.path(node.path)


def redraw_dart(values: Values, node: ast.RedrawDart) -> None:
    needs_paper(values, node, "redraw")
    values.thing(node.dart, FOLDS, "`redraw … to`")
    values.point(node.to, "`to`")


def true_edges(values: Values, node: ast.TrueEdges) -> None:
    needs_paper(values, node, "true")
    values.names(node.edges, EDGES, "`true`")
    if node.within is not None:
        values.length(node.within, "`within`")


def divide(values: Values, node: ast.Divide) -> None:
    needs_paper(values, node, "divide")
    scope = values.scope
    line = values.thing(node.along, (LINE,), "`divide along`")
    holding(values, node.holding)
    along = ".".join(part.name for part in node.along.parts)
    for part in (node.first, node.second):
        values.no_index(part, "a part")
        inside = scope.current.divided(along) if line.kind == LINE else Names(loose=True)
        scope.give(part, PIECE, "", inside)


def join(values: Values, node: ast.Join) -> None:
    needs_paper(values, node, "join")
    values.thing(node.other, EDGES, "`join`")
    values.thing(node.edge, EDGES, "`to`")
    holding(values, node.holding)
    values.scope.current.loose = True  # the other piece's names come with it


VERBS: dict[type[ast.Statement], Callable[[Values, Any], None]] = {
    ast.Unfold: unfold,
    ast.Halve: halve,
    ast.Mirror: mirror,
    ast.Close: close,
    ast.Spread: spread,
    ast.Overlap: spread,
    ast.FoldTrim: fold_trim,
    ast.Lengthen: lengthen,
    ast.Shorten: lengthen,
    ast.Redraw: redraw,
    ast.RedrawDart: redraw_dart,
    ast.TrueEdges: true_edges,
    ast.Divide: divide,
    ast.Join: join,
}
