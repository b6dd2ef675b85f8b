"""Working through a whole file: its head, its pieces, and what is said of the finished ones."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from oaktag.compiler.evaluate.adjusting import solve
from oaktag.compiler.evaluate.beforehand import Beforehand, beforehand
from oaktag.compiler.evaluate.binding import label_of
from oaktag.compiler.evaluate.dependence import given, moved_by, needed
from oaktag.compiler.evaluate.divided import divided_seams
from oaktag.compiler.evaluate.doubts import Told, TooMuch, doubtful, each, excused
from oaktag.compiler.evaluate.drawing import not_yet, repeat, work_through
from oaktag.compiler.evaluate.finished import FINISHING, Finishing
from oaktag.compiler.evaluate.fold_check import check_folds
from oaktag.compiler.evaluate.marking import notching
from oaktag.compiler.evaluate.pattern import Pattern, Result, Value
from oaktag.compiler.evaluate.plausible import implausible
from oaktag.compiler.evaluate.refusals import (
    check_range,
    check_whole,
    missing_measures,
    seen_from,
)
from oaktag.compiler.evaluate.scope import Scope
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake, in_order, mistake

if TYPE_CHECKING:
    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.project.program import Program
    from oaktag.lang.source import Span


def evaluate(
    program: Program,
    measures: Mapping[str, Quantity] | None = None,
    settings: Mapping[str, Value] | None = None,
) -> Result:
    """The pattern a checked program draws for a body.

    measures: of the body, in mm; they come before the file's defaults. settings: choices set from
    outside. If anything is wrong there is no pattern, only diagnostics, all of them in one run;
    those of the program itself, which are known, are not among them.
    """
    before = beforehand(program)
    if before.hopeless:
        return Result(None, ())
    work = _Work(program, measures or {}, settings or {}, before)
    try:
        work.statements(program.file.statements)
        work.finish()
    except TooMuch as wrong:
        return Result(None, in_order((*work.told.diagnostics, *wrong.diagnostics)))
    return work.result()


def ask(pattern: Pattern, expr: ast.Expr) -> Value:
    """The value of an expression in an evaluated pattern; raises Mistake."""
    return Scope(dict(pattern.names), pattern.unit).value(expr)


class _Work:
    """One file being worked through: what it has come to so far, and what was wrong."""

    def __init__(
        self,
        program: Program,
        body: Mapping[str, Quantity],
        settings: Mapping[str, Value],
        before: Beforehand,
    ) -> None:
        self.program = program
        self.body = body
        self.settings = settings
        self.before = before
        self.told = Told(before.failed, before.words)
        self.scope = Scope({}, program.file.unit, self.told)
        self.scope.unsure.update(before.unsure)
        self.scope.drawings = program.traced
        self.finishing = Finishing(self.scope, program.file.statements)
        self.title = ""
        self.measures: dict[str, Quantity] = {}
        self.choices: dict[str, Value] = {}
        self.said: dict[str, Any] = {}  # of the whole file, as the pattern keeps it
        self.trials: dict[str, Quantity] = {}

    def statements(self, statements: Sequence[ast.Statement], scope: Scope | None = None) -> None:
        """Does instructions in order; one that fails leaves its names out, and what needs them."""
        each(
            statements,
            self.told,
            self._do,
            self._doubt,
            anyway=(ast.PieceDef, ast.TrueAcross),
        )

    def finish(self) -> None:
        """Works out what sees the finished pieces; truing across seams finishes them."""
        self.finishing.work()

    def result(self) -> Result:
        diagnostics = in_order((*excused(self.told.diagnostics), *self._implausible()))
        pattern = self._pattern()
        if self.program.sound and all(item.severity != "error" for item in diagnostics):
            return Result(pattern, diagnostics)
        untold = self.finishing.untold(self.before.margin)
        part = pattern.changed(unsure=frozenset(self.scope.unsure), untold=untold)
        return Result(None, diagnostics, part)

    def _pattern(self) -> Pattern:
        """What the file has come to."""
        pattern = Pattern(
            self.title,
            self.program.file.source.name,
            self.program.file.unit,
            self.measures,
            self.choices,
            self.scope.names,
            {v.name: v for v in self.scope.names.values() if isinstance(v, Piece)},
            **self.finishing.come_to(),
            chosen=tuple(name for name in self.choices if name in self.settings),
            **self.said,
        )
        seams = (*pattern.seams, *divided_seams(pattern))
        return pattern.changed(seams=seams)

    def _implausible(self) -> Iterator[Diagnostic]:
        """A word about measures no body has, at the line that asks for them or uses who does."""
        measures: dict[str, Quantity] = {}
        places: dict[str, Span] = {}
        for statement in self.program.file.statements:
            if isinstance(statement, ast.Measure):
                measures.update(self.measures)
                places.update((item.target.name, item.target.span) for item in statement.items)
            elif isinstance(statement, ast.Use):
                used = self.scope.names.get((statement.alias.name, None))
                for name, value in used.measures.items() if isinstance(used, Pattern) else ():
                    measures.setdefault(name, value)
                    places.setdefault(name, statement.path_span)
        return implausible(measures, places, self.scope.unit)

    def _do(self, statement: ast.Statement) -> None:
        scope = self.scope
        scope.take_step(statement.span)
        match statement:
            case ast.Pattern():
                self.title = statement.title
            case ast.Revision():
                self.said.update(revision=statement.said, date=statement.date)
            case ast.Notches():
                self.said.update(notching(statement, scope))
            case ast.Measure():
                self._measure(statement)
            case ast.Choose():
                self._choose(statement)
            case ast.Assign():
                label = label_of(statement.target, scope)
                scope.give(label, scope.value(statement.value), statement.target.span)
            case ast.Use():
                self._use(statement)
            case ast.PieceDef():
                self._piece(statement)
            case ast.Adjust():
                self._adjust(statement)
            case ast.Repeat():
                repeat(statement, scope, self.statements)
            case ast.If():
                chosen = statement.body if scope.truth(statement.condition) else statement.otherwise
                self.statements(chosen)
            case _ if isinstance(statement, FINISHING):
                self.finishing.wait(statement)
            case _:
                raise not_yet(statement)

    def _measure(self, statement: ast.Measure) -> None:
        missing: list[ast.MeasureItem] = []
        for item in statement.items:
            name = item.target.name
            value = self.body.get(name)
            if value is None and item.default is not None:
                value = self.scope.quantity(item.default)
            if value is None:
                self.scope.unsure.add(name)
                missing.append(item)
                continue
            self.measures[name] = value
            self.scope.name(name, None, value)
        if missing:
            self.told.note(missing_measures(missing), statement)

    def _choose(self, statement: ast.Choose) -> None:
        scope, name = self.scope, statement.target.name
        value = self.settings.get(name)
        if value is None:
            value = scope.value(statement.default)
        elif isinstance(statement.default, ast.Number) and statement.default.whole:
            check_whole(name, value, statement.span)
        check_range(statement, value, scope)
        self.choices[name] = value
        scope.name(name, None, value)

    def _use(self, statement: ast.Use) -> None:
        used = self.program.uses[statement.alias.name]
        settings = {
            setting.target.name: self.scope.value(setting.value) for setting in statement.settings
        }
        try:
            result = evaluate(used, {**self.measures, **self.body}, settings)
        except RecursionError:
            raise mistake(
                "too-deep",
                "too many patterns stand one upon the other here",
                statement.span,
                help="use fewer at a time: put what they have in common into one",
            ) from None
        errors = [item for item in result.diagnostics if item.severity == "error"]
        self.told.diagnostics += [item for item in result.diagnostics if item.severity == "note"]
        self.told.note(Mistake(*(seen_from(item, statement, used) for item in errors)), statement)
        drawn = result.pattern or result.part
        if drawn is None:
            raise doubtful()
        self.scope.give(Label(statement.alias.name), drawn, statement.alias.span)

    def _adjust(self, statement: ast.Adjust) -> None:
        """Brings in the value that makes the condition hold, or a mistake with both end values."""
        scope, name, condition = self.scope, statement.target.name, statement.condition
        if name in self.trials:
            scope.name(name, None, self.trials[name])
            return
        assert isinstance(condition, ast.Binary)
        low, high = scope.quantity(statement.low), scope.quantity(statement.high)
        statements = self.program.file.statements
        wanted = needed(statements, condition)
        moving = moved_by(name, wanted)
        place = next((i for i, item in enumerate(statements) if item is statement), 0)
        done = {id(item) for item in (*statements[: place + 1], *moving)}
        still = self._trial(self.trials, scope)
        try:
            still.statements([item for item in wanted if id(item) not in done])
        except TooMuch as wrong:
            raise Mistake(*wrong.diagnostics) from None
        silent = False

        def attempt(value: Quantity) -> tuple[Quantity, Quantity]:
            nonlocal silent
            trial = self._trial({**self.trials, name: value}, still.scope)
            trial.scope.name(name, None, value)
            trial.statements([item for item in moving if item is not statement])
            trial.finish()
            if trial.told.diagnostics:
                raise Mistake(*trial.told.diagnostics)
            try:
                return trial.scope.quantity(condition.left), trial.scope.quantity(condition.right)
            except Mistake as wrong:
                silent |= not wrong.diagnostics
                raise

        try:
            found = solve(statement, low, high, attempt, scope.unit)
        except Mistake as wrong:
            raise doubtful() if silent else Mistake(*wrong.diagnostics) from None
        self.trials[name] = found
        scope.name(name, None, found)

    def _trial(self, trials: Mapping[str, Quantity], known: Scope) -> _Work:
        """The same file to be worked through in part, with some values as if they were found."""
        trial = _Work(self.program, self.body, self.settings, self.before)
        trial.trials, trial.measures = dict(trials), dict(self.measures)
        trial.scope.names.update(known.names)
        trial.scope.unsure.update(known.unsure)
        return trial

    def _piece(self, statement: ast.PieceDef) -> None:
        scope = self.scope
        label = label_of(statement.target, scope)
        name = str(label)
        piece = self._begun(name, statement)
        inside = scope.on((piece or Piece(name)).changed(sewn=self._sewn(label.name)))
        known = self.program.symbols.symbols.get(label.name)
        inside.sheet = known.inside if known is not None else None
        inside.unread = self.before.unread.get(id(statement))
        inside.lost = piece is None
        work_through(statement.body, inside)
        scope.steps_left = inside.steps_left
        assert inside.piece is not None
        if inside.lost or inside.bare or inside.unread is not None:
            raise doubtful()
        if not inside.piece.edges:
            raise mistake(
                "no-outline",
                f"the piece `{name}` has no outline",
                statement.span,
                help="list its edges below `outline`, or begin it `from` another piece",
            )
        check_folds(inside.piece, statement, scope.unit)
        scope.give(label, inside.piece, statement.target.span)

    def _begun(self, name: str, statement: ast.PieceDef) -> Piece | None:
        """The paper a piece begins with; none if that is doubtful."""
        if id(statement) in self.told.failed:
            return None
        if statement.origin is None:
            return Piece(name)
        try:
            origin = self.scope.value(statement.origin)
            if not isinstance(origin, Piece):
                raise mistake("not-a-piece", "only a piece can be copied", statement.origin.span)
        except Mistake as wrong:
            self.told.note(wrong, statement)
            return None
        return origin.changed(name=name, parts=())

    def _sewn(self, name: str) -> frozenset[str]:
        """The names of those edges of a piece that the file sews."""
        links = [
            link
            for item in self.program.file.statements
            if isinstance(item, ast.Sew | ast.Fasten)
            for link in (*item.first, *item.second)
        ]
        return frozenset(
            link.edge.parts[-1].name for link in links if link.edge.parts[0].name == name
        )

    def _doubt(self, statement: ast.Statement) -> None:
        """Makes doubtful what an instruction that failed would have given, changed or said."""
        self.scope.unsure.update(given(statement))
        self.finishing.doubt(statement)
