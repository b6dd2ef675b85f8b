"""The nodes of what is drawn on a piece and marked on it; see build.py."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake
from oaktag.lang.syntax.build_values import Option, Values, once

if TYPE_CHECKING:
    from oaktag.lang.ast import Expr, PathExpr, Ref
    from oaktag.lang.source import Span
    from oaktag.lang.syntax.tokens import Token


class Drawing(Values):
    """Makes the nodes of one source that draw on the paper."""

    __slots__ = ()

    def line(self, span: Span, target: ast.Target, path: PathExpr) -> ast.Draw:
        return ast.Draw(span, None, "line", target, path)

    def curve(self, span: Span, target: ast.Target, path: PathExpr) -> ast.Draw:
        return ast.Draw(span, None, "curve", target, path)

    def outline(self, span: Span) -> ast.Outline:
        return ast.Outline(span, None, ())

    def edge_line(self, span: Span, target: ast.Target, path: PathExpr) -> ast.EdgeDef:
        return ast.EdgeDef(span, target, path)

    def dart_on(
        self,
        span: Span,
        target: ast.Target,
        edge: Ref,
        at: Expr,
        origin: Ref | None,
        *options: Option,
    ) -> ast.DartOn:
        intake, length, to, ending = once(options, "intake", "length", "to", "ending")
        if intake is None:
            raise mistake(
                "dart-unfinished",
                f"the dart `{target.name}` does not say how much it takes in",
                span,
                help="add `intake 3 cm`",
            )
        if length is None and to is None:
            raise mistake(
                "dart-unfinished",
                f"the dart `{target.name}` does not say where it ends",
                span,
                help="add `length 10 cm`, or `to` and a point",
            )
        if length is not None and to is not None:
            raise mistake(
                "dart-unfinished",
                f"the dart `{target.name}` says both a length and a point to end at",
                span,
                help="keep one of the two",
            )
        return ast.DartOn(span, None, target, edge, at, origin, intake, length, to, ending)

    def intake(self, span: Span, amount: Expr) -> Option:
        return Option("intake", span, amount)

    def reach(self, span: Span, length: Expr) -> Option:
        return Option("length", span, length)

    def point_at(self, span: Span, point: Expr) -> Option:
        return Option("to", span, point)

    def dart_ending(self, span: Span, ending: ast.Ending) -> Option:
        return Option("ending", span, ending)

    def ending(self, span: Span, short: Expr) -> ast.Ending:
        return ast.Ending(span, short)

    def notch_at(
        self,
        span: Span,
        point: Expr,
        double: bool | None,
        shape: Token | None,
        deep: Expr | None,
    ) -> ast.NotchAt:
        return ast.NotchAt(span, None, point, bool(double), shape.text if shape else "", deep)

    def mark(self, span: Span, lines: tuple[Ref, ...], words: Token | None) -> ast.Mark:
        return ast.Mark(span, None, lines, words.text if words else None, False)

    def mark_lengthening(self, span: Span, lines: tuple[Ref, ...]) -> ast.Mark:
        return ast.Mark(span, None, lines, None, True)

    def buttonholes(
        self,
        span: Span,
        count: Expr,
        along: Ref,
        start: Expr,
        end: Expr,
        size: Expr,
        across: bool | None,
    ) -> ast.Buttonholes:
        return ast.Buttonholes(span, None, count, along, start, end, size, bool(across))

    def across(self, span: Span) -> bool:
        return True

    def text(self, span: Span, text: Token, point: Expr) -> ast.Text:
        return ast.Text(span, None, text.text, point)
