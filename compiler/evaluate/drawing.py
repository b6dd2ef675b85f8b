"""Working through the instructions of one piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.binding import bind, label_of, owners, verb_for
from oaktag.compiler.evaluate.expressions import located
from oaktag.compiler.evaluate.outline import outline
from oaktag.compiler.evaluate.requirement import require
from oaktag.compiler.geometry import GeometryError
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import NamedPoint
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change, Step
from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from oaktag.compiler.evaluate.scope import Scope

    Body = Callable[[Sequence[ast.Statement], Scope], None]


def work_through(statements: Sequence[ast.Statement], scope: Scope) -> None:
    """Does the instructions of a piece in order; the scope's piece is the paper after each."""
    for statement in statements:
        _do(statement, scope)


def repeat(statement: ast.Repeat, scope: Scope, body: Body) -> None:
    """Does a body once for every number; names without index last one turn."""
    first, last = scope.whole(statement.first), scope.whole(statement.last)
    if last - first >= 10_000:
        raise mistake(
            "too-often",
            f"this repeats {last - first + 1:,} times: at most 10,000 are done",
            statement.span,
            help="check the numbers after `from` and `to`",
        )
    key = (statement.variable.name, None)
    for number in range(first, last + 1):
        scope.take_step(statement.span)
        scope.turns.append({key: Quantity("number", float(number))})
        before = _labels(scope.piece)
        body(statement.body, scope)
        scope.turns.pop()
        if scope.piece is not None:
            scope.piece = _retired(scope.piece, before, number)


def _do(statement: ast.Statement, scope: Scope) -> None:
    scope.take_step(statement.span)
    match statement:
        case ast.Assign():
            _assign(statement, scope)
        case ast.Repeat():
            repeat(statement, scope, work_through)
        case ast.If():
            chosen = statement.body if scope.truth(statement.condition) else statement.otherwise
            work_through(chosen, scope)
        case ast.Require():
            require(statement, scope)
        case _:
            _step(statement, scope)


def _assign(statement: ast.Assign, scope: Scope) -> None:
    value = scope.value(statement.value)
    label = label_of(statement.target, scope)
    if isinstance(value, complex) and (label.index is not None or not scope.turns):
        piece = scope.piece
        assert piece is not None
        scope.piece = piece.changed(points=(*piece.points, NamedPoint(label, value)))
        return
    names = scope.turns[-1] if scope.turns and label.index is None else scope.piece_values
    names[(label.name, label.index)] = value


def _step(statement: ast.Statement, scope: Scope) -> None:
    """Does one verb and keeps what it did as a step."""
    piece = scope.piece
    assert piece is not None
    if piece.parts:
        raise mistake(
            "after-divide",
            "`divide` is the last step of a piece",
            statement.span,
            help=f"go on with a part of it: `piece NAME from {piece.name}.{piece.parts[0][0]}`",
        )
    try:
        if isinstance(statement, ast.Outline):
            verb, change = "outline", outline(statement, scope)
        elif isinstance(statement, ast.Trace):
            from oaktag.compiler.evaluate.tracing import trace

            verb, change = "trace", trace(statement, scope, scope.drawings)
        else:
            found = verb_for(type(statement).__name__)
            if found is None:
                raise not_yet(statement)
            verb, do = found
            change = do(piece, **bind(statement, scope), **owners(do, statement, scope))
    except PaperError as wrong:
        raise located(wrong, statement, scope.unit) from None
    except GeometryError as wrong:
        raise mistake("cannot-be-drawn", str(wrong), statement.span) from None
    scope.piece = with_step(piece, change, verb, statement)


def not_yet(statement: ast.Statement) -> Exception:
    word = statement.span.text.split()[0]
    return mistake(
        "not-yet",
        f"`{word}` is understood but not built yet",
        statement.span,
        help="it comes with a later version of oaktag",
    )


def with_step(before: Piece, change: Change, verb: str, statement: ast.Statement) -> Piece:
    after = change.piece
    step = Step(
        verb,
        statement.caption,
        statement.span,
        before.outline if before.edges else None,
        after.outline if after.edges else None,
        after.changed(steps=()),
        change.let_in,
        change.cut_away,
    )
    return after.changed(steps=(*before.steps, step))


def _labels(piece: Piece | None) -> set[Label]:
    if piece is None:
        return set()
    named = (piece.lines, piece.openings, piece.sections)
    return {thing.label for group in named for thing in group}


def _retired(piece: Piece, before: set[Label], number: int) -> Piece:
    """The piece after a turn: what the turn drew without index keeps its paper, not its name."""

    def new_name(label: Label) -> Label:
        if label in before or label.index is not None or label.scope:
            return label
        return label.changed(name=f"{label.name} (turn {number})")

    old = _labels(piece) - before
    if all(new_name(label) == label for label in old):
        return piece
    renamed = {label: new_name(label) for label in old}
    edges = tuple(
        edge.changed(
            runs=tuple(
                run.changed(opening=renamed.get(run.opening, run.opening)) if run.opening else run
                for run in edge.runs
            )
        )
        for edge in piece.edges
    )
    lines = tuple(
        line.changed(
            label=renamed.get(line.label, line.label),
            runs=tuple(
                run.changed(opening=renamed.get(run.opening, run.opening)) if run.opening else run
                for run in line.runs
            ),
        )
        for line in piece.lines
    )
    return piece.changed(
        edges=edges,
        lines=lines,
        openings=tuple(
            item.changed(label=renamed.get(item.label, item.label)) for item in piece.openings
        ),
        sections=tuple(
            item.changed(label=renamed.get(item.label, item.label)) for item in piece.sections
        ),
    )
