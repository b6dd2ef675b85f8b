"""What a mistake makes doubtful, so that everything else is still looked at.

An instruction that fails is told of once. What it would have made is doubtful from then on: whoever
uses it raises a mistake without words, and what that one would have made is doubtful in turn. So
nothing is told that only follows from something told already, and nothing else is hidden by it.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake
from oaktag.lang.words import NEVER_NAMES

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Sequence

    from oaktag.compiler.evaluate.scope import Scope
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.source import Span

MOST = 500  # mistakes told in one run
_NAME = re.compile(r"[^\W\d]\w*(?![\w(])")  # and not `length(`

# What may be doubtful on a piece beside names; a file cannot give such names.
MARKS, GRAIN = "its marks", "its grain"

_SETTING_MARKS = (
    *(ast.NotchOn, ast.NotchAt, ast.Mark, ast.Drill, ast.Text),
    *(ast.Button, ast.Buttonhole, ast.Buttons, ast.Buttonholes),
)
_MAKING_PAPER = (ast.Outline, ast.Trace, ast.Strip, ast.Facing)
_STRIP = frozenset({"base", "end", "top", "start", MARKS, GRAIN})


class TooMuch(Mistake):
    """A mistake that ends the work on a file."""


def doubtful() -> Mistake:
    """For what rests on something doubtful: what is wrong has been told."""
    return Mistake()


class Told:
    """What was found wrong in a file so far; the one thing here that changes.

    failed: instructions known to be wrong, by identity; they are not tried again. elsewhere: words
    of lines that were wrong before anything was drawn; a name among them is not missed.
    """

    def __init__(self, failed: Collection[int] = (), elsewhere: Collection[str] = ()) -> None:
        self.diagnostics: list[Diagnostic] = []
        self.failed = set(failed)
        self.elsewhere = frozenset(elsewhere)

    def note(self, wrong: Mistake, statement: ast.Statement) -> None:
        """Keeps what is wrong with an instruction; raises TooMuch if that is enough."""
        if not wrong.diagnostics:
            return
        self.failed.add(id(statement))
        self.diagnostics.extend(wrong.diagnostics)
        if len(self.diagnostics) >= MOST:
            raise TooMuch()


def each(
    statements: Sequence[ast.Statement],
    told: Told,
    do: Callable[[ast.Statement], None],
    doubt: Callable[[ast.Statement], None],
    anyway: tuple[type[ast.Statement], ...] = (),
) -> None:
    """Does instructions in order, notes what is wrong, and goes on with the next.

    doubt: makes doubtful what an instruction that failed would have made. anyway: those that are
    done even if something is known to be wrong with them.
    """
    for statement in statements:
        if id(statement) in told.failed and not isinstance(statement, anyway):
            doubt(statement)
            continue
        try:
            do(statement)
        except TooMuch:
            raise
        except Mistake as wrong:
            told.note(wrong, statement)
            doubt(statement)


def excused(diagnostics: Sequence[Diagnostic]) -> list[Diagnostic]:
    """What was found wrong, but for figures that come to nothing and are spoken of in a `require`
    that has failed: they follow from what it is about.

    One at the margin sees the finished pieces, one in a piece only what stands below it.
    """
    failed = [item.span for item in diagnostics if item.code == "requirement" and item.span]

    def follows(figure: Span) -> bool:
        names = set(_NAME.findall(figure.text)) - NEVER_NAMES
        return any(
            (span.start < figure.start or not span.source.line(span.line).startswith(" "))
            and not names.isdisjoint(_NAME.findall(span.text))
            for span in failed
        )

    return [
        item
        for item in diagnostics
        if item.code != "arithmetic" or item.span is None or not follows(item.span)
    ]


def spoil(statement: ast.Statement, scope: Scope) -> None:
    """Makes doubtful what an instruction of a piece would have made or changed."""
    piece = scope.piece
    assert piece is not None
    names = _spoilt(statement, piece)
    if names is None:
        scope.lost = True
    elif names:
        scope.piece = piece.changed(unsure=piece.unsure | names)
    if not piece.edges and any(isinstance(item, _MAKING_PAPER) for item in _all(statement)):
        scope.bare = True


def settle(name: str, index: int | None, scope: Scope) -> None:
    """A name given anew, in another turn or under another condition, is sure again."""
    piece = scope.piece
    if piece is not None and index is None and name in piece.unsure:
        scope.piece = piece.changed(unsure=piece.unsure - {name})


def come_from(other: Piece, statement: ast.Statement, scope: Scope) -> None:
    """Makes doubtful what has come from another piece, by joining or facing it, and was there."""
    piece = scope.piece
    if piece is None or not other.unsure:
        return
    if isinstance(statement, ast.Join) and not other.unsure <= {MARKS, GRAIN}:
        scope.lost = True  # its names are found here in more than one way
    scope.piece = piece.changed(unsure=piece.unsure | (other.unsure & {MARKS, GRAIN}))


def rests_on_grain(statement: ast.Statement) -> bool:
    """Whether the grain decides which part of the paper stays where it is."""
    return "holding" in statement.fields and getattr(statement, "holding", None) is None


def _spoilt(statement: ast.Statement, piece: Piece) -> frozenset[str] | None:
    """The names that mean something else, or nothing, without an instruction; none: all paper.

    A dart takes some of its edge away as it is sewn; a fold on an edge goes with that edge.
    """
    match statement:
        case ast.Assign() | ast.Draw() | ast.Section() | ast.DartAlong():
            return frozenset({statement.target.name})
        case ast.DartOn():
            return frozenset({statement.target.name, *_with_sections(_word(statement.edge), piece)})
        case ast.FoldOn() | ast.OpenFold():
            return frozenset({MARKS, *_with_sections(_word(statement.edge), piece)})
        case ast.FoldTrim():
            return _trimmed(statement, piece)
        case ast.GrainAlong() | ast.GrainFrom():
            return frozenset({GRAIN})
        case ast.Require():
            return frozenset()
        case ast.Erase():
            return frozenset(line.parts[-1].name for line in statement.lines)
        case ast.Repeat() | ast.If():
            found: frozenset[str] = frozenset()
            for item in _inside(statement):
                more = _spoilt(item, piece)
                if more is None:
                    return None
                found |= more
            return found
        case ast.Outline() if not piece.edges:
            return frozenset(edge.target.name for edge in statement.edges)
        case ast.Trace() if not piece.edges:
            return frozenset({MARKS, GRAIN, *(edge.name for edge in statement.edges)})
        case ast.Strip() | ast.Facing() if not piece.edges:
            return _STRIP
    return frozenset({MARKS}) if isinstance(statement, _SETTING_MARKS) else None


def _trimmed(statement: ast.FoldTrim, piece: Piece) -> frozenset[str] | None:
    """The folds, and the edges that have them: those get another shape, the rest stays."""
    found: set[str] = set()
    for ref in statement.folds:
        name = _word(ref)
        labels = [item.label for item in piece.openings if item.label.name == name]
        if not labels and name not in piece.unsure:
            return None
        found.add(name)
        for edge in piece.edges:
            if any(run.opening in labels for run in edge.runs if run.opening is not None):
                found.update(_with_sections(edge.label.name, piece))
    return frozenset(found)


def _with_sections(name: str, piece: Piece) -> Iterator[str]:
    """The word of an edge, of the sections of it, and of the edge of which it is one."""
    yield name
    for section in piece.sections:
        if name in (section.label.name, section.edge.name):
            yield from (section.label.name, section.edge.name)


def _word(ref: ast.Ref) -> str:
    return ref.parts[-1].name


def _inside(statement: ast.Repeat | ast.If) -> tuple[ast.Statement, ...]:
    return statement.body + (statement.otherwise if isinstance(statement, ast.If) else ())


def _all(statement: ast.Statement) -> Iterator[ast.Statement]:
    yield statement
    if isinstance(statement, ast.Repeat | ast.If):
        for item in _inside(statement):
            yield from _all(item)
