"""The nodes of the syntax tree, made as the parser finishes each rule of the grammar.

Each method bears the name behind an arrow (or of a rule) in grammar.lark and gets the rule's place
and values. A value is a node, a token, or what another method here returned.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake
from oaktag.lang.syntax.build_values import Option, Values, once

if TYPE_CHECKING:
    from oaktag.lang.ast import Direction, Expr, PathExpr, Ref
    from oaktag.lang.source import Span
    from oaktag.lang.syntax.tokens import Token


class Builder(Values):
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

    # -------------------------------------------------------------- finishing

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

    # --------------------------------------------------------------- drawing

    def line(self, span: Span, target: ast.Target, path: PathExpr) -> ast.Draw:
        return ast.Draw(span, None, "line", target, path)

    def curve(self, span: Span, target: ast.Target, path: PathExpr) -> ast.Draw:
        return ast.Draw(span, None, "curve", target, path)

    def outline(self, span: Span) -> ast.Outline:
        return ast.Outline(span, None, ())

    def edge_line(self, span: Span, target: ast.Target, path: PathExpr) -> ast.EdgeDef:
        return ast.EdgeDef(span, target, path)

    def section(
        self, span: Span, target: ast.Target, edge: Ref, start: Expr, end: Expr
    ) -> ast.Section:
        return ast.Section(span, None, target, edge, start, end)

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

    def dart_along(
        self, span: Span, target: ast.Target, line: Ref, intake: Expr, at: Expr
    ) -> ast.DartAlong:
        return ast.DartAlong(span, None, target, line, intake, at)

    def fold(self, span: Span, edge: Ref) -> ast.FoldOn:
        return ast.FoldOn(span, None, edge)

    def grain_along(self, span: Span, edge: Ref) -> ast.GrainAlong:
        return ast.GrainAlong(span, None, edge)

    def grain_from(self, span: Span, start: Expr, end: Expr) -> ast.GrainFrom:
        return ast.GrainFrom(span, None, start, end)

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

    def drill(self, span: Span, point: Expr) -> ast.Drill:
        return ast.Drill(span, None, point)

    def button(self, span: Span, point: Expr, size: Expr) -> ast.Button:
        return ast.Button(span, None, point, size)

    def buttonhole(self, span: Span, point: Expr, size: Expr, along: Ref | None) -> ast.Buttonhole:
        return ast.Buttonhole(span, None, point, size, along)

    def buttons(
        self, span: Span, count: Expr, along: Ref, start: Expr, end: Expr, size: Expr
    ) -> ast.Buttons:
        return ast.Buttons(span, None, count, along, start, end, size)

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
