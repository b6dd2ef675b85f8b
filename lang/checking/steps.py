"""Checks one instruction: its parts, and what its names mean from then on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    EDGE,
    EDGES,
    HALF,
    LENGTH,
    LINE,
    NUMBER,
    NUMBERS,
    PIECE,
    POINT,
    UNKNOWN,
    WHOLE,
    YES_NO,
)
from oaktag.lang.checking.misfits import constant, shown
from oaktag.lang.checking.names import Names, Symbol
from oaktag.lang.checking.values import COMPARISONS
from oaktag.lang.checking.wants import ANYTHING, DRAWN, HOLDING, ROWS_TOO, VERBS, WANTS, Want
from oaktag.lang.words import CLOSURES, nearest

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from oaktag.lang.checking.values import Values

STRIP_EDGES = ("base", "end", "top", "start")
_ASIDE = frozenset({"span", "caption", "target", "origin"})


def step(values: Values, node: ast.Statement) -> None:
    """A drawn thing, a mark, a verb, or what finishes pieces."""
    kind = type(node)
    if values.scope.current.divided and kind is not ast.Require:
        _divided(values, node)
    if kind in VERBS:
        _needs_paper(values, node)
    if kind in _INSTEAD:
        _INSTEAD[kind](values, node)
        return
    fields(values, node)
    if kind in DRAWN:
        values.scope.give(node.target, DRAWN[kind])  # type: ignore[attr-defined]
    if kind in _THEN:
        _THEN[kind](values, node)


def fields(values: Values, node: ast.Node) -> None:
    """Every field of a node is what it has to be."""
    wants = WANTS.get(type(node), {})
    for name in node.fields:
        if name not in _ASIDE:
            want = HOLDING if name == "holding" else wants.get(name, ANYTHING)
            many = (type(node), name) in ROWS_TOO
            _field(values, getattr(node, name), want, many=many)
    origin = getattr(node, "origin", None)
    if origin is not None:
        one = getattr(node, "edge", None)
        for edge in (one,) if one is not None else node.edges:  # type: ignore[attr-defined]
            values.end_of(origin, edge)


def _field(values: Values, part: object, want: Want, *, many: bool) -> None:
    if isinstance(part, tuple):
        for one in part:
            _field(values, one, want, many=True)
    elif isinstance(part, ast.Expr):
        if want.rule == "place":
            values.place(part, want.what)
        elif want.rule == "share":
            values.share(part, want.what)
        elif want.rule == "whole":
            values.whole(part, want.what)
        else:
            values.want(part, want.kinds, want.what, many=many)
    elif isinstance(part, ast.PathExpr):
        values.path(part)
    elif isinstance(part, ast.Direction):
        values.direction(part)
    elif isinstance(part, ast.Node) and not isinstance(part, ast.Target | ast.Part):
        fields(values, part)


def dotted(ref: ast.Ref) -> str:
    """A name as it is kept on paper, `right.side`."""
    return ".".join(part.name for part in ref.parts)


# ---------------------------------------------------------------- getting paper


def _outline(values: Values, node: ast.Outline) -> None:
    sheet = _new_paper(values, node)
    names = {edge.target.name for edge in node.edges}

    def beside(ref: ast.Ref) -> bool:
        return len(ref.parts) == 1 and ref.parts[0].index is None and ref.parts[0].name in names

    for edge in node.edges:
        values.path(edge.path, beside=beside)
        values.no_index(edge.target, "an edge of the outline")
        values.scope.give(edge.target, EDGE)
    sheet.outline = tuple(dict.fromkeys(edge.target.name for edge in node.edges))


def _trace(values: Values, node: ast.Trace) -> None:
    sheet = _new_paper(values, node)
    for edge in node.edges:
        values.no_index(edge, "an edge of the outline")
        values.scope.give(edge, EDGE)
    sheet.outline = tuple(dict.fromkeys(edge.name for edge in node.edges))
    fields(values, node)


def _strip(values: Values, node: ast.Strip | ast.Facing) -> None:
    sheet = _new_paper(values, node)
    sheet.symbols.update((name, Symbol(EDGE, node.span)) for name in STRIP_EDGES)
    sheet.outline = STRIP_EDGES


def _facing(values: Values, node: ast.Facing) -> None:
    _strip(values, node)
    values.scope.current.loose = True  # marks may come with it


def _new_paper(values: Values, node: ast.Statement) -> Names:
    """The paper of a piece, which gets it once."""
    scope = values.scope
    if scope.turns:
        scope.wrong(
            "outline-twice",
            f"`{_word(node)}` cannot be repeated: a piece has one outline",
            node.span,
            help="move it out of the `repeat`",
        )
    elif scope.current.outline:
        scope.wrong(
            "outline-twice",
            "this piece has its outline already",
            node.span,
            help="begin another piece for it; `redraw` changes an edge of this one",
        )
    return scope.current


def _needs_paper(values: Values, node: ast.Statement) -> None:
    scope = values.scope
    if not scope.current.outline and not scope.current.loose and not scope.spoilt:
        scope.wrong(
            "no-outline",
            f"`{_word(node)}` comes before the piece has an outline",
            node.span,
            help="draw the outline first",
        )
        scope.current.loose = True  # said once


def _word(node: ast.Statement) -> str:
    return node.span.text.split(None, 1)[0]


# ---------------------------------------------------------------- what verbs do to names


def _unfold(values: Values, node: ast.Unfold) -> None:
    scope = values.scope
    if node.first.name == node.second.name:
        scope.wrong(
            "named-twice",
            f"both halves are called `{node.first.name}`",
            node.second.span,
            help="give them two names, like `right and left`",
        )
    edge = scope.follow(node.along.parts).symbol
    if edge is not None and edge.kind == EDGE:
        kind = HALF
        scope.current.unfold(dotted(node.along), node.first.name, node.second.name)
    else:
        kind = UNKNOWN  # halves of what is not known
        scope.current.loose = True
        if edge is None:
            scope.current.doubt(EDGE)  # one that is there was meant, and is a line now
    for half in dict.fromkeys((node.first, node.second)):
        values.no_index(half, "a half")
        scope.give(half, kind)


def _halve(values: Values, node: ast.Halve) -> None:
    scope = values.scope
    sheet = scope.current
    halves = [name for pair in sheet.halves for name in pair]
    known = node.keeping.name in halves or node.keeping.name in scope.lost
    if not known and not sheet.loose:
        there = " or ".join(f"`{name}`" for name in halves)
        scope.wrong(
            "unknown-half",
            f"no half of this piece is called `{node.keeping.name}`",
            node.keeping.span,
            help=f"write {there}" if halves else "halves get their names from `unfold`",
        )
        sheet.loose = True
        sheet.doubt(LINE)  # the one along which it is cut would be an edge again
    sheet.halve(dotted(node.along), node.keeping.name)


def _erase(values: Values, node: ast.Erase) -> None:
    """The lines are gone and their names free again, unless they may be some of a row."""
    for ref in node.lines:
        values.scope.current.erase(dotted(ref), ref.span)


def _opened(values: Values, lines: Sequence[ast.Ref]) -> None:
    """The names of slashed lines mean their openings from now on."""
    scope = values.scope
    if any(scope.follow(ref.parts).symbol is None for ref in lines):
        scope.current.doubt(LINE)  # one that is there was meant
    for ref in lines:
        index = ref.parts[-1].index
        every = index is not None and (index.last is not None or bool(scope.turns))
        scope.current.open(dotted(ref), whole_row=every)


def _close(values: Values, node: ast.Close) -> None:
    _opened(values, node.into)


def _spread(values: Values, node: ast.Spread) -> None:
    _opened(values, node.lines)


def _divided(values: Values, node: ast.Statement) -> None:
    scope = values.scope
    own = scope.drawing.target.name if scope.drawing is not None else ""
    parts = [name for name, symbol in scope.current.symbols.items() if symbol.kind == PIECE]
    scope.wrong(
        "after-divide",
        "`divide` is the last step of a piece",
        node.span,
        help=f"go on with `piece {parts[0]} from {own}.{parts[0]}`" if parts else "",
    )
    scope.current.divided = False  # said once


def _divide(values: Values, node: ast.Divide) -> None:
    scope = values.scope
    line = scope.follow(node.along.parts).symbol
    known = line is not None and line.kind == LINE
    for part in (node.first, node.second):
        values.no_index(part, "a part")
        inside = scope.current.divide(dotted(node.along)) if known else Names(loose=True)
        scope.give(part, PIECE, "", inside)
    scope.current.divided = True


def _join(values: Values, node: ast.Join) -> None:
    values.scope.current.loose = True  # the other piece's names come with it


# ---------------------------------------------------------------- finishing


def _bind(values: Values, node: ast.Bind) -> None:
    _chain(values, node.edges, "`bind`")
    values.length(node.width, "`bind … with`")


def _fasten(values: Values, node: ast.Fasten) -> None:
    _chain(values, (*node.first, *node.second), "`fasten`")
    if node.length is not None:
        values.length(node.length, "`length`")
    word = node.closure.name
    meant = "zip" if word == "zipper" else nearest(word, CLOSURES)
    if meant and word not in CLOSURES:
        values.scope.wrong(
            "unknown-closure",
            f"nothing closes with {shown(node.closure.span)}",
            node.closure.span,
            help=f"write `{meant}`; other names, like `frogs`, may stand here too",
        )


def _chain(values: Values, links: Sequence[ast.Link], what: str) -> None:
    for link in links:
        values.want(link.edge, EDGES, what)
        values.end_of(link.origin, link.edge)


def _cut(values: Values, node: ast.Cut) -> None:
    count = constant(node.count)
    if count is not None and count < 1:
        values.scope.wrong(
            "not-positive",
            f"{shown(node.count.span)} pieces cannot be cut",
            node.count.span,
            help="cut at least one, or take the line out",
        )


def _require(values: Values, node: ast.Require) -> None:
    condition, within = node.condition, node.within
    if isinstance(condition, ast.Binary) and condition.operator in COMPARISONS:
        kind = values.compared(condition)
    else:
        kind = values.want(condition, (YES_NO,), "`require`")
    if within is None:
        return
    if kind in (YES_NO, UNKNOWN):
        values.kind(within)
    else:
        wanted = {POINT: LENGTH, WHOLE: NUMBER}.get(kind, kind)
        values.want(within, NUMBERS if wanted == NUMBER else (wanted,), "`within`")
    if kind == YES_NO:
        values.scope.wrong(
            "no-within",
            "`within` belongs to a comparison of two figures",
            within.span,
            help="leave it out, or compare, as in `require sewn(a) = sewn(b) within 2 mm`",
        )


# Checked in their own way.
_INSTEAD: dict[type[ast.Statement], Callable[[Values, Any], None]] = {
    ast.Outline: _outline,
    ast.Trace: _trace,
    ast.Require: _require,
    ast.Bind: _bind,
    ast.Fasten: _fasten,
}
# What follows from them.
_THEN: dict[type[ast.Statement], Callable[[Values, Any], None]] = {
    ast.Strip: _strip,
    ast.Facing: _facing,
    ast.Unfold: _unfold,
    ast.Halve: _halve,
    ast.Erase: _erase,
    ast.Close: _close,
    ast.Spread: _spread,
    ast.Divide: _divide,
    ast.Join: _join,
    ast.Cut: _cut,
}
