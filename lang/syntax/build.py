"""The nodes of the syntax tree, made as the parser finishes each rule of the grammar.

Each method bears the name behind an arrow (or of a rule) in grammar.lark and gets the rule's place
and values. A value is a node, a token, or what another method here returned.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake
from oaktag.lang.syntax.build_drawing import Drawing
from oaktag.lang.syntax.build_finishing import Finishing

if TYPE_CHECKING:
    from oaktag.lang.ast import Direction, Expr, PathExpr, Ref
    from oaktag.lang.source import Span
    from oaktag.lang.syntax.tokens import Token


class Builder(Drawing, Finishing):
    """Makes the nodes of one source."""

    __slots__ = ()

    # ------------------------------------------------------------------ head

    def version(self, span: Span, number: Token) -> Token:
        return number

    def pattern(self, span: Span, title: Token) -> ast.Pattern:
        return ast.Pattern(span, None, title.text)

    def revision(self, span: Span, said: Token, date: Token | None) -> ast.Revision:
        return ast.Revision(span, None, said.text, date.text if date else "")

    def notches(self, span: Span, shape: Token, deep: Expr | None) -> ast.Notches:
        return ast.Notches(span, None, shape.text, deep)

    def body(self, span: Span, title: Token) -> ast.Body:
        return ast.Body(span, None, title.text, ())

    def measure(self, span: Span, *items: ast.MeasureItem) -> ast.Measure:
        return ast.Measure(span, None, items)

    def measured(self, span: Span, target: ast.Target, default: Expr | None) -> ast.MeasureItem:
        return ast.MeasureItem(span, target, default)

    def choose(
        self,
        span: Span,
        target: ast.Target,
        default: Expr,
        low: Expr | None,
        high: Expr | None,
        description: Token | None,
    ) -> ast.Choose:
        said = description.text if description else None
        return ast.Choose(span, None, target, default, low, high, said)

    def use(self, span: Span, path: Ref | Token, alias: ast.Target) -> ast.Use:
        if isinstance(path, ast.Ref):
            return ast.Use(span, None, path, path.span, alias, ())
        return ast.Use(span, None, path.text, self._span(path), alias, ())

    def piece(self, span: Span, target: ast.Target, origin: Ref | None) -> ast.PieceDef:
        return ast.PieceDef(span, None, target, origin, ())

    def adjust(
        self, span: Span, target: ast.Target, low: Expr, high: Expr, left: Expr, right: Expr
    ) -> ast.Adjust:
        condition = ast.Binary(left.span.to(right.span), "=", left, right)
        return ast.Adjust(span, None, target, low, high, condition)

    # ----------------------------------------------------------- both levels

    def assign(self, span: Span, target: ast.Target, value: Expr) -> ast.Assign:
        return ast.Assign(span, None, target, value)

    def repeat(self, span: Span, variable: ast.Target, first: Expr, last: Expr) -> ast.Repeat:
        return ast.Repeat(span, None, variable, first, last, ())

    def if_(self, span: Span, condition: Expr) -> ast.If:
        return ast.If(span, None, condition, (), ())

    def else_(self, span: Span) -> None:
        return None

    def require(
        self, span: Span, condition: Expr, within: Expr | None, why: Token | None
    ) -> ast.Require:
        return ast.Require(span, None, condition, within, why.text if why else None)

    def notch_on(
        self,
        span: Span,
        edges: tuple[Ref, ...],
        at: Expr,
        origin: Ref | None,
        double: bool | None,
        shape: Token | None,
        deep: Expr | None,
    ) -> ast.NotchOn:
        said = shape.text if shape else ""
        return ast.NotchOn(span, None, edges, at, origin, bool(double), said, deep)

    # ----------------------------------------------------------------- verbs

    def unfold(
        self, span: Span, along: Ref, first: ast.Target, second: ast.Target, holding: Ref | None
    ) -> ast.Unfold:
        return ast.Unfold(span, None, along, first, second, holding)

    def halve(self, span: Span, along: Ref, keeping: ast.Target) -> ast.Halve:
        return ast.Halve(span, None, along, keeping)

    def mirror(self, span: Span) -> ast.Mirror:
        return ast.Mirror(span, None)

    def close(
        self,
        span: Span,
        darts: tuple[Ref, ...],
        by: Expr | None,
        into: tuple[Ref, ...] | None,
        treatment: ast.Treatment | None,
        holding: Ref | None,
    ) -> ast.Close:
        return ast.Close(span, None, darts, by, into or (), treatment, holding)

    def spread(
        self,
        span: Span,
        lines: tuple[Ref, ...],
        amounts: tuple[ast.Amount, ...],
        hinge: Ref | None,
        treatment: ast.Treatment | None,
        holding: Ref | None,
    ) -> ast.Spread:
        return ast.Spread(span, None, lines, amounts, hinge, treatment, holding)

    def overlap(
        self,
        span: Span,
        lines: tuple[Ref, ...],
        amounts: tuple[ast.Amount, ...],
        hinge: Ref | None,
        holding: Ref | None,
    ) -> ast.Overlap:
        return ast.Overlap(span, None, lines, amounts, hinge, holding)

    def amounts(
        self, span: Span, first: ast.Amount, second: ast.Amount | None
    ) -> tuple[ast.Amount, ...]:
        if second and not (first.at and second.at):
            raise mistake(
                "amount-unfinished",
                "two amounts need the edge at which each is measured",
                span,
                help="write `by 4 cm at hem and 2 cm at waist`",
            )
        return (first, second) if second else (first,)

    def amount(self, span: Span, by: Expr, at: Ref | None) -> ast.Amount:
        return ast.Amount(span, by, at)

    def flare(self, span: Span) -> ast.Treatment:
        return ast.Treatment(span, "flare")

    def pleat(self, span: Span, style: Token | None) -> ast.Treatment:
        return ast.Treatment(span, "pleat", style.text if style else "knife")

    def dart(self, span: Span, ending: ast.Ending | None) -> ast.Treatment:
        return ast.Treatment(span, "dart", "knife", ending)

    def gather(self, span: Span) -> ast.Treatment:
        return ast.Treatment(span, "gather")

    def fold_trim(
        self,
        span: Span,
        folds: tuple[Ref, ...],
        toward: Direction | Ref | None,
        holding: Ref | None,
    ) -> ast.FoldTrim:
        return ast.FoldTrim(span, None, folds, toward, holding)

    def lengthen(self, span: Span, at: Ref, by: Expr, holding: Ref | None) -> ast.Lengthen:
        return ast.Lengthen(span, None, at, by, holding)

    def shorten(self, span: Span, at: Ref, by: Expr, holding: Ref | None) -> ast.Shorten:
        return ast.Shorten(span, None, at, by, holding)

    def redraw(self, span: Span, edge: Ref, path: PathExpr) -> ast.Redraw:
        return ast.Redraw(span, None, edge, path)

    def redraw_dart(self, span: Span, dart: Ref, to: Expr) -> ast.RedrawDart:
        return ast.RedrawDart(span, None, dart, to)

    def true_edges(self, span: Span, edges: tuple[Ref, ...], within: Expr | None) -> ast.TrueEdges:
        return ast.TrueEdges(span, None, edges, within)

    def divide(
        self, span: Span, along: Ref, first: ast.Target, second: ast.Target, holding: Ref | None
    ) -> ast.Divide:
        return ast.Divide(span, None, along, first, second, holding)

    def join(self, span: Span, other: Ref, edge: Ref, holding: Ref | None) -> ast.Join:
        return ast.Join(span, None, other, edge, holding)

    def strip(self, span: Span, length: Expr, width: Expr) -> ast.Strip:
        return ast.Strip(span, None, length, width)

    def facing(self, span: Span, edge: Ref, deep: Expr) -> ast.Facing:
        return ast.Facing(span, None, edge, deep)

    def of_piece(self, span: Span, name: Token) -> Token:
        return name

    def trace(self, span: Span, path: Token, piece: Token | None, *values: Any) -> ast.Trace:
        *edges, scale_edge, scale_length = values
        place = self._span(path)
        named = piece or path
        return ast.Trace(
            span,
            None,
            path.text,
            place,
            tuple(edges),
            scale_edge,
            scale_length,
            piece.text if piece else "",
            self._span(named),
        )
