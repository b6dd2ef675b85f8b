"""Working through the instructions of one piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.binding import bind, label_of, owners, verb_for
from oaktag.compiler.evaluate.doubts import (
    GRAIN,
    come_from,
    doubtful,
    each,
    rests_on_grain,
    settle,
    spoil,
)
from oaktag.compiler.evaluate.expressions import cannot_be_drawn, located
from oaktag.compiler.evaluate.outline import outline
from oaktag.compiler.evaluate.requirement import require
from oaktag.compiler.evaluate.scope import named_twice
from oaktag.compiler.evaluate.turns import plain_labels, retired
from oaktag.compiler.geometry import GeometryError
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import NamedPoint
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change, Step
from oaktag.lang import ast
from oaktag.lang.diagnostics import Label as Told
from oaktag.lang.diagnostics import mistake

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from oaktag.compiler.evaluate.scope import Scope
    from oaktag.lang.diagnostics import Diagnostic, Mistake
    from oaktag.lang.source import Span

    Body = Callable[[Sequence[ast.Statement], Scope], None]


HELD_EASILY = 25  # things on a piece: a step on one with twice as many counts for two more


def work_through(statements: Sequence[ast.Statement], scope: Scope) -> None:
    """Does the instructions of a piece in order; the scope's piece is the paper after each.

    What goes wrong is noted, and what needs nothing of it is done all the same.
    """
    each(
        statements,
        scope.told,
        lambda statement: _do(statement, scope),
        lambda statement: spoil(statement, scope),
    )


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
        before = plain_labels(scope.piece) if scope.piece is not None else set()
        found = scope.told.diagnostics
        known = len(found)
        try:
            body(statement.body, scope)
        finally:
            found[known:] = [in_turn(item, statement, number) for item in found[known:]]
        scope.turns.pop()
        if scope.piece is not None:
            turn = f"line {statement.span.line}, turn {number}"
            scope.piece = retired(scope.piece, before, turn)


def in_turn(found: Diagnostic, statement: ast.Repeat, number: int) -> Diagnostic:
    """A mistake in a turn of `repeat`, with the number of the turn."""
    if found.span is None:
        return found
    told = f"in the turn where `{statement.variable.name}` is {number}"
    return found.changed(labels=(*found.labels, Told(statement.variable.span, told)))


def _do(statement: ast.Statement, scope: Scope) -> None:
    scope.take_step(statement.span)
    if scope.unread is not None and statement.span.start > scope.unread:
        scope.lost = True
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
        case _ if scope.lost or (scope.bare and not isinstance(statement, ast.Draw)):
            raise _beside_paper(statement, scope)
        case _:
            _step(statement, scope)


def _beside_paper(statement: ast.Statement, scope: Scope) -> Mistake:
    """What is wrong with an instruction of a piece without looking at its paper."""
    if not isinstance(statement, ast.Outline | ast.Trace):
        bind(statement, scope)
    return doubtful()


def _assign(statement: ast.Assign, scope: Scope) -> None:
    value = scope.value(statement.value)
    label = label_of(statement.target, scope)
    if isinstance(value, complex) and not scope.lost:
        piece = scope.piece
        assert piece is not None
        _check_new(label, scope, statement.target.span)
        scope.piece = piece.changed(points=(*piece.points, NamedPoint(label, value)))
        settle(label.name, label.index, scope)
        return
    settle(label.name, label.index, scope)
    names = scope.turns[-1] if scope.turns and label.index is None else scope.piece_values
    if label.index is None and (label.name, None) in names:
        raise named_twice(f"`{label}` is already there", statement.target.span)
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
    if GRAIN in piece.unsure and rests_on_grain(statement):
        raise _beside_paper(statement, scope)
    held = len(piece.edges and piece.outline.segments) + sum(
        len(group) for group in (piece.lines, piece.openings, piece.points, piece.marks)
    )
    scope.take_step(statement.span, held // HELD_EASILY)
    label: Label | None = None
    others: dict[str, Piece] = {}
    try:
        if isinstance(statement, ast.Outline):
            change = outline(statement, scope)
        elif isinstance(statement, ast.Trace):
            from oaktag.compiler.evaluate.tracing import trace

            change = trace(statement, scope, scope.drawings)
        else:
            do = verb_for(type(statement).__name__)
            if do is None:
                raise not_yet(statement)
            target = getattr(statement, "target", None)
            if isinstance(target, ast.Target):
                label = label_of(target, scope)
                _check_new(label, scope, target.span)
            others = owners(do, statement, scope)
            change = do(piece, **bind(statement, scope), **others)
    except PaperError as wrong:
        raise located(wrong, statement, scope.unit) from None
    except GeometryError:
        raise cannot_be_drawn(statement.span) from None
    scope.piece = with_step(piece, change, statement)
    if label is not None:
        settle(label.name, label.index, scope)
    for other in others.values():
        come_from(other, statement, scope)


def not_yet(statement: ast.Statement) -> Exception:
    word = statement.span.text.split()[0]
    return mistake(
        "not-yet",
        f"`{word}` is understood but not built yet",
        statement.span,
        help="it comes with a later version of oaktag",
    )


def _check_new(label: Label, scope: Scope, span: Span) -> None:
    """Refuses a name that is on the paper already, or a name of the file."""
    piece = scope.piece
    sure = piece is not None and label.name not in piece.unsure
    same = piece.named.get(label.name, ()) if piece is not None and sure else ()
    if any(thing.label == label for thing in same):
        raise named_twice(f"`{label}` is on the paper already", span)
    if label.name in scope.given:
        raise mistake(
            "named-in-file",
            f"the file already has a name `{label.name}`",
            span,
            help="choose another name for what you draw",
        )


def with_step(before: Piece, change: Change, statement: ast.Statement) -> Piece:
    """The piece after a change, with the step that made it; its verb is the word in the file."""
    place = statement.span
    after = change.piece
    if not before.edges:
        after = after.changed(
            edges=tuple(
                edge if edge.line else edge.changed(line=place.line, file=place.source.name)
                for edge in after.edges
            )
        )
    step = Step(
        place.text.split()[0],
        statement.caption,
        place,
        before.outline if before.edges else None,
        after.outline if after.edges else None,
        after.changed(steps=()),
        change.let_in,
        change.cut_away,
    )
    if after.parts and not before.parts:
        after = after.changed(parts=_parts_with(step, before, after))
    return after.changed(steps=(*before.steps, step))


def _parts_with(step: Step, before: Piece, after: Piece) -> tuple[tuple[str, Piece], ...]:
    """The parts of a divided piece, each with its history: from it the others were cut away."""
    return tuple(
        (
            name,
            part.changed(
                steps=(
                    *before.steps,
                    step.changed(
                        after=part.outline,
                        paper=part.changed(steps=()),
                        cut_away=tuple(
                            other.outline for _, other in after.parts if other is not part
                        ),
                    ),
                )
            ),
        )
        for name, part in after.parts
    )
