"""Working through what a file says of its finished pieces, once all of them are drawn."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from oaktag.compiler.evaluate import finishing
from oaktag.compiler.evaluate.dependence import spoken_of
from oaktag.compiler.evaluate.doubts import each
from oaktag.compiler.evaluate.flowing import flowing
from oaktag.compiler.evaluate.marking import notched
from oaktag.compiler.evaluate.requirement import require
from oaktag.compiler.paper.piece import Piece
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Allowance, Binding, Closure, CutOrder, Seam, Value
    from oaktag.compiler.evaluate.scope import Scope

FINISHING = (
    *(ast.Allow, ast.Sew, ast.Bind, ast.Fasten),
    *(ast.Cut, ast.Require, ast.TrueAcross, ast.NotchOn),
)
_FIRST = {ast.TrueAcross: 0, ast.NotchOn: 1}  # these finish the pieces; the rest sees them so


class Finishing:
    """The lines that see finished pieces, and what they come to.

    statements: all of the file, for seams that are trued across before they are worked out.
    """

    def __init__(self, scope: Scope, statements: Sequence[ast.Statement]) -> None:
        self.scope = scope
        self.statements = statements
        self.waiting: list[tuple[ast.Statement, list[dict[tuple[str, int | None], Value]]]] = []
        self.allowances: list[Allowance] = []
        self.seams: list[Seam] = []
        self.cuts: list[CutOrder] = []
        self.bindings: list[Binding] = []
        self.closures: list[Closure] = []
        self._spoken: dict[str, set[str]] = {}  # by lines with a mistake, by their first word

    def wait(self, statement: ast.Statement) -> None:
        """Keeps a line until the pieces are finished, with the names of the turn it stands in."""
        self.waiting.append((statement, [dict(turn) for turn in self.scope.turns]))

    def work(self) -> None:
        """Works out what was kept; truing across seams, and notches, finish the pieces."""
        self.waiting.sort(key=lambda item: _FIRST.get(type(item[0]), len(_FIRST)))
        for statement, turns in self.waiting:
            self.scope.turns = turns
            each((statement,), self.scope.told, self._do, self.doubt)
        self.scope.turns = []

    def doubt(self, statement: ast.Statement) -> None:
        """Notes that a line with a mistake, or a block of them, is missing."""
        if isinstance(statement, ast.TrueAcross):
            self.scope.unsure |= spoken_of(statement)
        spoken = spoken_of(statement)
        if spoken:
            word = statement.span.text.split()[0]
            self._spoken.setdefault(word, set()).update(spoken)

    def untold(self, margin: Iterable[frozenset[str]]) -> dict[str, frozenset[str]]:
        """What lines with a mistake speak of, by their first word; one that names what is not there
        may speak of any piece.

        margin: the words of lines that were not understood at all; their first word is empty.
        """
        names = self.scope.names
        pieces = {name for (name, _), value in names.items() if isinstance(value, Piece)}
        known = {name for name, _ in names} | self.scope.unsure
        untold = {
            word: frozenset(spoken if spoken <= known else spoken | pieces)
            for word, spoken in self._spoken.items()
        }
        for words in margin:
            spoken = pieces if pieces.isdisjoint(words) else words
            untold[""] = untold.get("", frozenset()).union(spoken)
        return untold

    def come_to(self) -> Mapping[str, Any]:
        """As the pattern keeps it."""
        kept = ("allowances", "seams", "cuts", "bindings", "closures")
        return {name: tuple(getattr(self, name)) for name in kept}

    def _do(self, statement: ast.Statement) -> None:
        match statement:
            case ast.TrueAcross():
                said = (*self.statements, *(item for item, _ in self.waiting))
                sews = [item for item in said if isinstance(item, ast.Sew)]
                for piece in flowing(statement, sews, self.scope):
                    self._replace(piece)
            case ast.NotchOn():
                for piece in notched(statement, self.scope):
                    self._replace(piece)
            case ast.Allow():
                self._allow(statement)
            case ast.Sew():
                self.seams.append(finishing.seam(statement, self.scope))
            case ast.Bind():
                self.bindings.append(finishing.binding(statement, self.scope))
            case ast.Fasten():
                self.closures.append(finishing.closure(statement, self.scope))
            case ast.Cut():
                self.cuts.extend(finishing.cut_orders(statement, self.scope))
            case ast.Require():
                require(statement, self.scope)

    def _allow(self, statement: ast.Allow) -> None:
        """What is allowed on each thing the line names; it holds for those that are sure."""
        for ref in statement.on:
            one = statement.changed(on=(ref,))
            try:
                self.allowances.extend(finishing.allowances(one, self.scope))
            except Mistake as wrong:
                self.scope.told.note(wrong, statement)
                self.doubt(one)

    def _replace(self, piece: Piece) -> None:
        """Puts a finished piece in the place of the one of its name."""
        for key, value in self.scope.names.items():
            if isinstance(value, Piece) and value.name == piece.name:
                self.scope.names[key] = piece
