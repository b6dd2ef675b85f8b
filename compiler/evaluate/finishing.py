"""What is said of the finished pieces: allowances, seams, and what is cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.pattern import (
    Allowance,
    Binding,
    Closure,
    CutOrder,
    Seam,
    SeamSide,
)
from oaktag.compiler.evaluate.points import starting_from
from oaktag.compiler.paper.chain import Chain, Edge
from oaktag.compiler.paper.piece import Piece
from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake
from oaktag.lang.units import show_length, unit_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.scope import Scope


def allowances(statement: ast.Allow, scope: Scope) -> list[Allowance]:
    """What one `allow` line says, by piece."""
    width = scope.length(statement.width) if statement.width is not None else 0.0
    if width < 0:
        assert statement.width is not None
        raise mistake(
            "negative-allowance",
            "an allowance is added outside the seam, so it cannot be negative",
            statement.width.span,
            help="leave it out, or write `allow none on …`",
        )
    found = []
    said = (statement.hem, statement.span, statement.caption, statement.corners)
    for ref in statement.on:
        value = scope.value(ref)
        if isinstance(value, Piece):
            scope.check_own(value, ref)
            found.append(Allowance(value.name, width, None, *said))
            continue
        piece, edge = _edge(ref, scope)
        scope.check_own(piece, ref)
        found.append(Allowance(piece.name, width, (edge,), *said))
    return found


def _as_written(length: float, expr: ast.Expr, scope: Scope) -> str:
    """In the unit in which the file gives it."""
    return show_length(length, unit_in(expr.span.text, scope.unit))


def seam(statement: ast.Sew, scope: Scope) -> Seam:
    """The two chains of a `sew` line, each edge walked the way it is sewn."""
    easing = scope.length(statement.easing) if statement.easing is not None else 0.0
    if easing < 0:
        assert statement.easing is not None
        raise mistake(
            "negative-easing",
            f"{_as_written(easing, statement.easing, scope)} cannot be eased in: ease is what one "
            "side has more",
            statement.easing.span,
            help="write it without the minus; the longer side is eased in, whichever comes first",
        )
    first = tuple(_side(link, scope) for link in statement.first)
    second = tuple(_side(link, scope) for link in statement.second)
    _refuse_folds((*statement.first, *statement.second), (*first, *second), "sewn to another")
    return Seam(
        first,
        second,
        easing,
        statement.gathering,
        statement.span,
        statement.caption,
    )


def binding(statement: ast.Bind, scope: Scope) -> Binding:
    """The edges of a `bind` line, and the strip they are bound with."""
    width = scope.length(statement.width)
    if width <= 0:
        raise mistake(
            "no-binding",
            f"a binding {_as_written(width, statement.width, scope)} wide binds nothing",
            statement.width.span,
            help="say how wide it is when it is sewn on, like `1 cm`",
        )
    edges = tuple(_side(link, scope) for link in statement.edges)
    _refuse_folds(statement.edges, edges, "bound")
    said = (statement.double, statement.cloth.name, statement.span, statement.caption)
    return Binding(edges, width, *said)


def closure(statement: ast.Fasten, scope: Scope) -> Closure:
    """The opening of a `fasten` line, both sides walked the way they close."""
    length = scope.length(statement.length) if statement.length is not None else None
    if length is not None and length <= 0:
        assert statement.length is not None
        raise mistake(
            "no-length",
            f"{_as_written(length, statement.length, scope)} is no length for "
            f"`{statement.closure.name}`",
            statement.length.span,
            help="leave it out, and it is proposed from the opening",
        )
    links = (*statement.first, *statement.second)
    sides = tuple(_side(link, scope) for link in links)
    _refuse_folds(links, sides, "an opening")
    count = len(statement.first)
    said = (statement.closure.name, length, statement.span, statement.caption)
    return Closure(sides[:count], sides[count:], *said)


def _refuse_folds(links: Sequence[ast.Link], sides: Sequence[SeamSide], what: str) -> None:
    for link, side in zip(links, sides, strict=True):
        if side.edge.on_fold:
            raise mistake(
                "fold-edge",
                f"`{side.name}` lies on the fold of the cloth, so it cannot be {what}",
                link.edge.span,
                help="name an edge that is cut, or take this one off the fold in its piece: "
                f"`open {side.edge.label}`",
            )


def cut_orders(statement: ast.Cut, scope: Scope) -> list[CutOrder]:
    """What one `cut` line asks for, by piece and by cloth."""
    value = scope.value(statement.piece)
    pieces = value if isinstance(value, tuple) else (value,)
    count = scope.whole(statement.count)
    if count < 1:
        raise mistake(
            "cut-none",
            f"`{statement.piece.span.text}` is cut {count} times, so it would never be cut",
            statement.count.span,
            help="leave the line out, or say how many",
        )
    if statement.pair and count % 2:
        raise mistake(
            "odd-pair",
            f"{count} cannot be cut as pairs",
            statement.count.span,
            help="a pair is two: `cut 2`, or leave out `as pair`",
        )
    orders = []
    for piece in pieces:
        if not isinstance(piece, Piece):
            raise mistake("not-a-piece", "only a piece can be cut", statement.piece.span)
        scope.check_own(piece, statement.piece)
        for cloth in statement.cloths:
            orders.append(CutOrder(piece.name, count, statement.pair, cloth.name, statement.span))
    return orders


def _side(link: ast.Link, scope: Scope) -> SeamSide:
    piece, edge = _edge(link.edge, scope)
    inside = scope.on(piece)
    walked: Chain = starting_from(edge, link.origin, inside) if link.origin else edge
    assert isinstance(walked, Edge)
    return SeamSide(link.edge.span.text, piece, walked, link.origin is not None)


def _edge(ref: ast.Ref, scope: Scope) -> tuple[Piece, Edge]:
    """An edge with the piece it belongs to."""
    piece, edge = scope.owner(ref), scope.value(ref)
    if not isinstance(edge, Edge):
        raise mistake("not-an-edge", f"`{ref.span.text}` is not an edge of a piece", ref.span)
    return piece, edge
