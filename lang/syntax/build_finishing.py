"""The nodes of what is said of finished pieces; see build.py."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.syntax.build_values import Values

if TYPE_CHECKING:
    from oaktag.lang.ast import Expr, Ref
    from oaktag.lang.source import Span
    from oaktag.lang.syntax.tokens import Token


class Finishing(Values):
    """Makes the nodes of one source that are said of finished pieces."""

    __slots__ = ()

    def none(self, span: Span) -> None:
        return None

    def as_hem(self, span: Span) -> bool:
        return True

    def as_pair(self, span: Span) -> bool:
        return True

    def double(self, span: Span) -> bool:
        return True

    def allow(
        self,
        span: Span,
        width: Expr | None,
        on: tuple[Ref, ...],
        hem: bool | None,
        corners: Token | None,
    ) -> ast.Allow:
        return ast.Allow(span, None, width, on, bool(hem), corners.text if corners else "")

    def chain(self, span: Span, *links: ast.Link) -> tuple[ast.Link, ...]:
        return links

    def link(self, span: Span, edge: Ref, origin: Ref | None) -> ast.Link:
        return ast.Link(span, edge, origin)

    def sew(
        self,
        span: Span,
        first: tuple[ast.Link, ...],
        second: tuple[ast.Link, ...],
        easing: Expr | None,
    ) -> ast.Sew:
        return ast.Sew(span, None, first, second, easing, False)

    def sew_gathering(
        self, span: Span, first: tuple[ast.Link, ...], second: tuple[ast.Link, ...]
    ) -> ast.Sew:
        return ast.Sew(span, None, first, second, None, True)

    def bind(
        self,
        span: Span,
        edges: tuple[ast.Link, ...],
        width: Expr,
        style: Token | None,
        cloth: ast.Part,
    ) -> ast.Bind:
        double = style is None or style.text == "double"
        return ast.Bind(span, None, edges, width, double, cloth)

    def fasten(
        self,
        span: Span,
        first: tuple[ast.Link, ...],
        second: tuple[ast.Link, ...] | None,
        closure: Token,
        length: Expr | None,
    ) -> ast.Fasten:
        word = ast.Part(self._span(closure), closure.text, None)
        return ast.Fasten(span, None, first, second or (), word, length)

    def true_across(self, span: Span, *values: Any) -> ast.TrueAcross:
        return ast.TrueAcross(span, None, values[:-1], values[-1])

    def cut(
        self, span: Span, count: Expr, piece: Ref, pair: bool | None, *cloths: ast.Part
    ) -> ast.Cut:
        return ast.Cut(span, None, count, piece, bool(pair), cloths)

    def cloth(self, span: Span, name: Token) -> ast.Part:
        return ast.Part(span, name.text, None)
