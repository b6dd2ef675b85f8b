"""The nodes of the syntax tree, made as the parser finishes each rule of the grammar.

The name behind an arrow (or of a rule) in grammar.lark is that of a node in small letters, whose
fields are the values of the rule in order: `fold_trim` makes a FoldTrim. Where it takes more than
that, a method here bears the name and gets the rule's place and values. A value is a node, a token,
or what another method returned.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake
from oaktag.lang.syntax.build_drawing import Drawing
from oaktag.lang.syntax.build_finishing import Finishing

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.lang.ast import Expr, Ref
    from oaktag.lang.source import Span
    from oaktag.lang.syntax.tokens import Token


def node_named(name: str) -> type[ast.Node]:
    """The node whose name in small letters is `fold_trim`."""
    node: type[ast.Node] = getattr(ast, "".join(map(str.capitalize, name.split("_"))))
    return node


def _uncaptioned(node: type[ast.Statement], span: Span, *values: Any) -> ast.Statement:
    """An instruction; its caption is put in when its line is known."""
    return node(span, None, *values)


class Builder(Drawing, Finishing):
    """Makes the nodes of one source."""

    __slots__ = ()

    def maker(self, name: str) -> Callable[..., Any]:
        """What makes the value of a rule, from its place and values."""
        method: Callable[..., Any] | None = getattr(self, name, None)
        if method is not None:
            return method
        node = node_named(name)
        if issubclass(node, ast.Statement):
            return partial(_uncaptioned, node)
        return node

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
