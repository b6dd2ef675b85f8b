"""What a name in an expression stands for, and whether it is of a kind that is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    LENGTH,
    LINES,
    NUMBERS,
    PATTERN,
    PIECE,
    POINT,
    REAL,
    UNKNOWN,
    fits,
)
from oaktag.lang.checking.misfits import constant, figure, misfit, shown
from oaktag.lang.checking.names import MISTAKEN, Symbol

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.lang.checking.dimensions import Kind
    from oaktag.lang.checking.scope import Found, Scope


class References:
    """Looks names up at one place of a file. unit: that in which lengths are suggested."""

    def __init__(self, scope: Scope, unit: str) -> None:
        self.scope = scope
        self.unit = unit

    def kind(self, expr: ast.Expr) -> Kind:
        """The kind of an expression; `UNKNOWN` where a mistake in it has been reported."""
        raise NotImplementedError

    # ---------------------------------------------------------------- wanting a kind

    def want(self, expr: ast.Expr, kinds: Sequence[Kind], what: str, *, many: bool = False) -> Kind:
        """The kind of an expression, which has to be one of these; `what` wants it.

        many: a name may be a row, `drape[1..3]`. Without kinds anything will do.
        """
        if isinstance(expr, ast.Ref):
            return self.thing(expr, kinds, what, many=many).kind
        return self._fitting(expr, self.kind(expr), kinds, what)

    def thing(
        self, ref: ast.Ref, kinds: Sequence[Kind], what: str, *, many: bool = False
    ) -> Symbol:
        """What a name stands for, which has to be of a wanted kind."""
        symbol = self.name(ref, kinds, many=many)
        inside = symbol.inside.of_kind(kinds) if symbol.inside is not None else []
        there = [f"{ref.span.text}.{name}" for name in inside]
        fitting = self._fitting(ref, symbol.kind, kinds, what, there) == symbol.kind
        return symbol if fitting else MISTAKEN

    def _fitting(
        self,
        expr: ast.Expr,
        kind: Kind,
        kinds: Sequence[Kind],
        what: str,
        there: Sequence[str] = (),
    ) -> Kind:
        """The kind, if it fits. there: what the writer may have meant."""
        if not kinds or fits(kind, kinds):
            return kind
        if not there and kinds[0] not in REAL:
            there = self.scope.current.of_kind(kinds)
        self.scope.found.append(misfit(expr, kind, kinds, what, unit=self.unit, there=there))
        return UNKNOWN

    def length(self, expr: ast.Expr, what: str) -> None:
        self.want(expr, (LENGTH,), what)

    def point(self, expr: ast.Expr, what: str) -> None:
        self.want(expr, (POINT,), what)

    def place(self, expr: ast.Expr, what: str) -> None:
        """A distance along an edge, or a share of it."""
        kind = self.want(expr, (LENGTH, *NUMBERS), what)
        share = constant(expr)
        if kind in NUMBERS and share is not None and not 0 <= share <= 1:
            self.scope.wrong(
                "missing-unit",
                f"{shown(expr.span)} without a unit is a share, and a share lies between 0 and 1",
                expr.span,
                help=f"write `{figure(share)} {self.unit}`, or a share like `1/2`",
            )

    def share(self, expr: ast.Expr, what: str) -> None:
        """A part of a whole: more than nothing, and no more than all of it."""
        kind = self.want(expr, NUMBERS, what)
        value = constant(expr)
        if kind in NUMBERS and value is not None and not 0 < value <= 1:
            self.scope.wrong(
                "no-share",
                f"{shown(expr.span)} is no share: a share lies between 0 and 1",
                expr.span,
                help="write a share like `1/2`",
            )

    def whole(self, expr: ast.Expr, what: str) -> None:
        """A whole number, as far as that can be seen before anything is calculated."""
        kind = self.want(expr, NUMBERS, what)
        value = constant(expr)
        if kind in NUMBERS and value is not None and value != value // 1:
            self.scope.wrong(
                "not-whole",
                f"{shown(expr.span)} is no whole number; {what} wants one",
                expr.span,
                help=f"write `{figure(value // 1)}` or `{figure(value // 1 + 1)}`",
            )

    def no_index(self, target: ast.Target, what: str) -> None:
        """Says so if an index is given where there are never several."""
        if target.index is not None:
            self.scope.wrong(
                "no-index-here",
                f"{what} has one plain name, without a number in brackets",
                target.span,
                help=f"write `{target.name}`",
            )

    # ---------------------------------------------------------------- names

    def name(
        self,
        ref: ast.Ref,
        wanted: Sequence[Kind] = (),
        *,
        many: bool = False,
        bare_row: bool = False,
    ) -> Symbol:
        """What a dotted name stands for; says so if it leads nowhere."""
        found = self.scope.follow(ref.parts)
        return self._settled(ref, found, wanted, many=many, bare_row=bare_row)

    def _settled(
        self,
        ref: ast.Ref,
        found: Found,
        wanted: Sequence[Kind],
        *,
        many: bool = False,
        bare_row: bool = False,
    ) -> Symbol:
        scope = self.scope
        for part in ref.parts:
            if part.index is not None:
                self._index_values(part.index)
        rows_fit = True
        for part, holder in found.ends:
            if any(part is own for own in ref.parts):
                rows_fit &= self._row(part, holder, many=many, bare_row=bare_row)
        symbol = found.symbol
        if symbol is None:
            scope.unknown(ref.parts, found, wanted)
            return MISTAKEN
        if symbol.twice:
            before, rest = _around(ref, found)
            first, second = (f"`{before}{name}{rest}`" for name in symbol.twice)
            scope.wrong(
                "there-twice",
                f"{shown(ref.span)} is there twice since the piece was unfolded",
                ref.span,
                help=f"write {first} or {second}",
            )
            return MISTAKEN
        inner = [part for part, holder in found.ends[1:] if holder.kind == PATTERN]
        if inner:
            scope.wrong(
                "used-elsewhere",
                f"`{inner[0].name}` is a pattern that `{ref.parts[0].name}` uses for itself",
                inner[0].span,
                help="use that pattern here too, with a `use` line of your own",
            )
            return MISTAKEN
        return symbol if rows_fit else MISTAKEN

    def _row(self, part: ast.Part, symbol: Symbol, *, many: bool, bare_row: bool) -> bool:
        """Whether an index is there just where a row of several is meant."""
        scope, index = self.scope, part.index
        if index is None:
            if symbol.row and not bare_row:
                way = "[1..3]`, with the numbers" if many else "[1]`, with the number"
                scope.wrong(
                    "index-missing",
                    f"`{part.name}` is a row of several; this does not say which",
                    part.span,
                    help=f"write `{part.name}{way} you mean",
                )
                return False
            return True
        if symbol.row is False and symbol.kind != UNKNOWN:
            scope.wrong(
                "no-row",
                f"`{part.name}` is one {symbol.kind}, not a row of several",
                part.span,
                help=f"write `{part.name}`",
            )
            return False
        if index.last is not None and not many:
            scope.wrong(
                "one-wanted",
                f"{shown(part.span)} is several; one is wanted here",
                part.span,
                help=f"write `{part.name}[1]`, with the number you mean",
            )
            return False
        return True

    def _index_values(self, index: ast.Index) -> None:
        self.whole(index.first, "a number in brackets")
        if index.last is not None:
            self.whole(index.last, "a number in brackets")

    def end_of(self, origin: ast.Expr | None, edge: ast.Ref) -> None:
        """`from waist` behind an edge: the name is looked for first where the edge lies.

        In `front.side … from waist` the waist is that of `front`; in `right.side … from hem` it is
        `right.hem`, if there is one, else `hem`.
        """
        if origin is None:
            return
        what, wanted = "`from`", (*LINES, POINT)
        if not isinstance(origin, ast.Ref):
            self.want(origin, wanted, what)
            return
        scope = self.scope
        place = scope.follow(edge.parts).symbol
        if place is None or place.kind == UNKNOWN:
            return  # what it is the end of has been missed already
        for beside in range(len(edge.parts) - 1, 0, -1):
            found = scope.follow((*edge.parts[:beside], *origin.parts))
            if found.symbol is not None:
                symbol = self._settled(origin, found, wanted)
                self._fitting(origin, symbol.kind, wanted, what)
                return
        if len(edge.parts) > 1 and scope.sheet is None:
            # Outside a piece it can only be meant beside the edge, and is missed there.
            there = scope.follow(edge.parts[:-1])
            if there.symbol is not None and there.symbol.kind == PIECE:
                parts = (*edge.parts[:-1], *origin.parts)
                if scope.follow(origin.parts).symbol is None:
                    scope.unknown(parts, scope.follow(parts), wanted)
                    return
        self.want(origin, wanted, what)


def _around(ref: ast.Ref, found: Found) -> tuple[str, str]:
    """What stands before and behind the name that is there twice."""
    text = ref.span.source.text
    last = found.ends[-1][0].span
    before = found.ends[-2][0].span if found.ends[1:] else None
    inside = before is not None and ref.span.start <= before.start < ref.span.end
    start = text[ref.span.start : before.end] + "." if before is not None and inside else ""
    return start, text[last.end : ref.span.end]
