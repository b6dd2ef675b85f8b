"""Names and dimensions of a whole file, before anything is drawn.

Everything wrong is found in one run. A mistake is reported where it is made and not again where its
consequences show: what comes of it is of kind `UNKNOWN`, which fits everywhere.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    PIECE,
    POINT,
    UNKNOWN,
    VALUES,
    WHOLE,
    YES_NO,
    with_article,
)
from oaktag.lang.checking.head import HEAD, adjusted
from oaktag.lang.checking.misfits import shown
from oaktag.lang.checking.names import Names, merge
from oaktag.lang.checking.scope import Scope
from oaktag.lang.checking.steps import STRIP_EDGES, step
from oaktag.lang.checking.values import Values
from oaktag.lang.diagnostics import Diagnostic, Label, in_order
from oaktag.lang.syntax.layout import OPENERS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from oaktag.lang.checking.dimensions import Kind
    from oaktag.lang.source import Source, Span

MOST_ERRORS = 500
UNUSED = "unused"  # told of the file that is checked, not of those it uses

# These see the finished pieces, wherever they stand; inside a piece `require` sees that step.
AFTERWARDS = (ast.Allow, ast.Sew, ast.Bind, ast.Fasten, ast.Cut, ast.Require, ast.Adjust)

# Understood and checked, but not built yet: the word that starts the instruction.
NOT_YET: dict[type[ast.Statement], str] = {}


def check(
    file: ast.File, uses: Mapping[str, Names], broken: Sequence[Span] = ()
) -> tuple[Names, tuple[Diagnostic, ...]]:
    """The names of a pattern file and what is wrong with its names and dimensions.

    uses: the names of the patterns it uses, by alias; one that could not be had is left out.
    broken: where the text could not be read; a name that may have been given there is not missed.
    """
    checking = _Check(file, uses, broken)
    checking.run(file.statements)
    checking.finish()
    names, found = checking.scope.names, checking.scope.found
    names.loose = bool(broken) or any(one.code != "not-yet" for one in found)
    idle = () if names.loose else _unused(checking.scope)
    return names, in_order([*found, *_meant_for_use(file, uses), *idle])


def _unused(scope: Scope) -> Iterator[Diagnostic]:
    """Choices that nothing in their file asks for: whatever is chosen, the paper stays the same.

    Measures and plain values may be there for others: a body has more than one pattern needs, and a
    figure may be asked of the finished pattern.
    """
    for name in scope.names.of_role("choice"):
        if name not in scope.asked:
            yield Diagnostic(
                "warning",
                UNUSED,
                f"nothing in the file uses the choice `{name}`",
                scope.names.symbols[name].span,
                help="take it out, or use it",
            )


def _meant_for_use(file: ast.File, uses: Mapping[str, Names]) -> Iterator[Diagnostic]:
    """Values at the margin, named like a choice of a used pattern, that nothing asks for."""
    named = {node.target.name: node for node in file.statements if isinstance(node, ast.Assign)}
    if not named:
        return
    text = "\n".join(line.partition("#")[0] for line in file.source.text.split("\n"))
    for node in [node for node in file.statements if isinstance(node, ast.Use)]:
        inside = uses.get(node.alias.name)
        for name in inside.of_role("choice") if inside is not None else ():
            value = named.get(name)
            if value is None or value.span.start < node.span.start:
                continue
            if len(re.findall(rf"(?<![\w.]){re.escape(name)}\b", text)) > 1:
                continue
            if f"{node.alias.name}." in value.value.span.text:
                continue  # a figure of that pattern, handed on
            yield Diagnostic(
                "warning",
                "not-set",
                f"`{name}` is named here, and nothing asks for it",
                value.target.span,
                labels=(Label(node.span, f"this pattern leaves a choice `{name}`"),),
                help="to set the choice, indent the line below `use`",
            )


def check_expression(
    expr: ast.Expr, names: Names, unit: str = "cm"
) -> tuple[Kind, tuple[Diagnostic, ...]]:
    """The kind of a value asked of a finished pattern, and what is wrong with the question."""
    scope = Scope()
    scope.names = names
    kind = Values(scope, unit).kind(expr)
    return kind, tuple(scope.found)


def lost_words(source: Source, broken: Sequence[Span]) -> frozenset[str]:
    """All words of the instructions in which something could not be read."""
    if not broken:
        return frozenset()
    lines = [line.partition("#")[0].rstrip() for line in source.text.split("\n")]
    indents = [len(line) - len(line.lstrip()) if line else -1 for line in lines]
    taken: set[int] = set()
    for span in broken:
        at = span.line - 1
        if at in taken:
            continue
        # Up to where the instruction begins: a line that is indented continues the one above it,
        # unless that one opens a block.
        above = at
        while above > 0 and indents[at] > 0:
            above -= 1
            if 0 <= indents[above] < indents[at]:
                if lines[above].split(None, 1)[0] in OPENERS:
                    break
                at = above
        taken.add(at)
        below = at + 1
        while below < len(lines) and not 0 <= indents[below] <= indents[at]:
            taken.add(below)
            below += 1
    words = {word for at in taken for word in re.findall(r"[^\W\d]\w*", lines[at])}
    if not words.isdisjoint(("strip", "facing")):
        words.update(STRIP_EDGES)  # such a line gives them without saying so
    return frozenset(words)


class _Check:
    """Goes through a file from top to bottom, and then through what sees the finished pieces."""

    def __init__(self, file: ast.File, uses: Mapping[str, Names], broken: Sequence[Span]) -> None:
        self.scope = Scope(file.statements, lost_words(file.source, broken), uses)
        self.values = Values(self.scope, file.unit)
        # Statements at the margin that have a line indented below them which could not be read.
        starts = [node.span.start for node in file.statements]
        self.spoilt = {
            starts[bisect_right(starts, span.start) - 1]
            for span in broken
            if starts and file.source.line(span.line).startswith(" ")
        }
        self.unread = {span.line for span in broken}
        self.waiting: list[tuple[ast.Statement, Names | None]] = []

    def run(self, statements: Sequence[ast.Statement]) -> None:
        scope = self.scope
        for node in statements:
            if len(scope.found) >= MOST_ERRORS:
                scope.spoilt = True
                return
            kind = type(node)
            if scope.sheet is None and not scope.nested:
                scope.spoilt = node.span.start in self.spoilt
            target = getattr(node, "target", None)
            if target is not None and target.index is not None:
                self.values.whole(target.index, "a number in brackets")
            waits = scope.sheet is None and kind in AFTERWARDS
            if kind in _HERE:
                _HERE[kind](self, node)
            elif kind in HEAD:
                HEAD[kind](self.values, node)
            elif not waits:
                step(self.values, node)
            if waits:
                self.waiting.append((node, scope.names.copy() if scope.nested else None))
            if kind in NOT_YET:
                word = NOT_YET[kind]
                scope.wrong(
                    "not-yet",
                    f"`{word}` is understood but not built yet; it comes with the next version",
                    node.span,
                )

    def finish(self) -> None:
        """What sees the finished pieces, wherever they stand."""
        scope = self.scope
        finished = scope.finished = scope.names
        for node, names in self.waiting:
            if len(scope.found) >= MOST_ERRORS:
                break
            scope.names = finished if names is None else names
            scope.before = node.span.start
            if isinstance(node, ast.Adjust):
                adjusted(self.values, node)
            else:
                step(self.values, node)
        scope.names = finished

    def assign(self, node: ast.Assign) -> None:
        kind = self.values.kind(node.value)
        if kind not in (*VALUES, POINT, UNKNOWN):
            self.scope.wrong(
                "wrong-kind",
                f"{shown(node.value.span)} is {with_article(kind)}, and has its name already",
                node.value.span,
                help="`=` names a value or a point; use the name that is there",
            )
            kind = UNKNOWN
        self.scope.give(node.target, kind, "value" if kind in VALUES else "")

    def repeat(self, node: ast.Repeat) -> None:
        scope, values = self.scope, self.values
        values.whole(node.first, "`repeat … from`")
        values.whole(node.last, "`repeat … to`")
        values.no_index(node.variable, "what counts the turns")
        scope.turns.append([])
        scope.give(node.variable, WHOLE, "turn")
        scope.nested += 1
        self.run(node.body)
        scope.nested -= 1
        scope.end_turn(scope.turns.pop())

    def if_(self, node: ast.If) -> None:
        scope = self.scope
        self.values.want(node.condition, (YES_NO,), "`if`")
        scope.nested += 1
        before = scope.current
        scope.current = before.copy()
        self.run(node.body)
        first = scope.current
        scope.current = before
        self.run(node.otherwise)
        scope.current = merge(first, scope.current)
        scope.nested -= 1

    def piece(self, node: ast.PieceDef) -> None:
        scope = self.scope
        sheet = Names()
        if node.origin is not None:
            origin = self.values.thing(node.origin, (PIECE,), "`piece … from`")
            sheet = Names(loose=True) if origin.inside is None else origin.inside.paper()
        turns, nested = scope.turns, scope.nested
        scope.turns, scope.nested = [], 0
        scope.sheet, scope.drawing = sheet, node
        self.run(node.body)
        sheet = scope.sheet
        scope.sheet = scope.drawing = None
        scope.turns, scope.nested = turns, nested
        stray = not node.body and self._next_line(node) in self.unread
        drawn = node.origin is not None  # where it began is told of there
        if not (sheet.outline or sheet.loose or scope.spoilt or stray or drawn):
            scope.wrong(
                "no-outline",
                f"the piece `{node.target.name}` has no outline",
                node.span,
                help="add an `outline`, a `strip`, or begin `piece … from` one that is there",
            )
        scope.give(node.target, PIECE, "", sheet)

    def _next_line(self, node: ast.Statement) -> int:
        """The number of the line with the next instruction below one."""
        lines = node.span.source.text.split("\n")
        return next(
            (
                number
                for number, line in enumerate(lines[node.span.line :], node.span.line + 1)
                if line.partition("#")[0].strip()
            ),
            0,
        )


_HERE: dict[type[ast.Statement], Callable[[_Check, Any], None]] = {
    ast.Assign: _Check.assign,
    ast.Repeat: _Check.repeat,
    ast.If: _Check.if_,
    ast.PieceDef: _Check.piece,
}
