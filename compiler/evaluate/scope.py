"""Where names live while a file is worked through."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate import expressions
from oaktag.compiler.evaluate.doubts import Told, TooMuch, doubtful
from oaktag.compiler.evaluate.pattern import Pattern, Value
from oaktag.compiler.geometry import Path
from oaktag.compiler.paper.arguments import Half
from oaktag.compiler.paper.chain import Line, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import Thing, answering, family, find, intake_drawn, section_chain
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import NamedPoint, Section
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake, error, mistake
from oaktag.lang.source import Span

if TYPE_CHECKING:
    from oaktag.lang.checking.names import Names

Key = tuple[str, int | None]
Word = tuple[str, int | tuple[int, int] | None]


class Scope:
    """The names of a file and, while a piece is drawn, its paper. The one thing here that changes.

    turns: names that last one turn of a `repeat`, innermost last. drawings: files that are traced.
    given: names of the file that its lines have given so far, those of this turn aside.
    unsure: names of the file that a line with a mistake would have given. told: what was wrong.
    lost: the paper of the piece is not as it should be, so nothing on it is looked at any more.
    bare: it has no outline yet, since that failed. sheet: the names of the piece as they were found
    before it was drawn, for what may lie on lost paper.
    unread: where the first line of the piece stands that was not understood, if there is one.
    """

    def __init__(self, names: dict[Key, Value], unit: str, told: Told | None = None) -> None:
        self.names = names
        self.told = told or Told()
        self.given: set[str] = set()
        self.unsure: set[str] = set()
        self.lost = self.bare = False
        self.sheet: Names | None = None
        self.unread: int | None = None
        self.unit = unit
        self.piece: Piece | None = None
        self.piece_values: dict[Key, Value] = {}
        self.turns: list[dict[Key, Value]] = []
        self.steps_left = 20_000
        self.drawings: Mapping[str, bytes] = {}

    def value(self, expr: ast.Expr | ast.PathExpr) -> Value:
        return expressions.evaluate(expr, self)

    def length(self, expr: ast.Expr) -> float:
        return expressions.length_of(expr, self)

    def quantity(self, expr: ast.Expr) -> Quantity:
        return expressions.quantity_of(expr, self)

    def point(self, expr: ast.Expr) -> complex:
        return expressions.point_of(expr, self)

    def whole(self, expr: ast.Expr) -> int:
        return expressions.whole_of(expr, self)

    def truth(self, expr: ast.Expr) -> bool:
        return expressions.truth_of(expr, self)

    def take_step(self, span: Span, work: int = 1) -> None:
        """Counts one instruction; a file that never comes to an end is stopped.

        work: how many simple instructions it is worth: on a piece that holds very much, more.
        """
        self.steps_left -= work
        if self.steps_left < 0:
            found = error(
                "too-long",
                "this file asks for more than 20,000 instructions, or draws too much on one piece",
                span,
                help="check the numbers of its `repeat` lines",
            )
            raise TooMuch(found)

    def name(self, name: str, index: int | None, value: Value) -> None:
        """Gives a name; without index inside `repeat` it lasts one turn."""
        names = self.turns[-1] if self.turns and index is None else self.names
        names[(name, index)] = value

    def give(self, label: Label, value: Value, span: Span) -> None:
        """Gives a name that a line of the file brings in; refused if another line has given it.

        Before anything is drawn only names that are sure to be there can be refused.
        """
        key = (label.name, label.index)
        if label.index is None and (key in self.turns[-1] if self.turns else key[0] in self.given):
            raise named_twice(f"`{label}` is already there", span)
        if not self.turns:
            self.given.add(label.name)
        self.name(label.name, label.index, value)

    def on(self, piece: Piece) -> Scope:
        """The same names, seen from a piece."""
        inside = Scope(self.names, self.unit, self.told)
        inside.given, inside.unsure = self.given, self.unsure
        inside.piece, inside.turns, inside.steps_left = piece, [*self.turns], self.steps_left
        inside.drawings = self.drawings
        return inside

    def owner(self, ref: ast.Ref) -> Piece:
        """The piece on which an edge lies that is written with its piece: `front.neck`."""
        for count in range(len(ref.parts) - 1, 0, -1):
            try:
                value = self.value(ref.changed(parts=ref.parts[:count]))
            except Mistake:
                if count == 1:
                    raise
                continue  # `front.hl`, where `front.hl.side` is an edge
            if isinstance(value, Piece):
                return value
        raise mistake(
            "not-an-edge",
            f"`{ref.span.text}` is not an edge of another piece",
            ref.span,
            help="write the piece and the edge: `front.side`",
        )

    def check_own(self, piece: Piece, ref: ast.Ref) -> None:
        """Refuses a piece of another pattern, and a part of a divided one."""
        if any(item is piece for item in self.names.values()):
            return
        written = ref.span.text
        for count in range(1, len(ref.parts) + 1):
            if self.value(ref.changed(parts=ref.parts[:count])) is piece:
                written = ".".join(part.name for part in ref.parts[:count])
                break
        raise mistake(
            "other-pattern",
            f"`{written}` is not a piece of this file, and stays as it is",
            ref.span,
            help=f"copy it, `piece {written.rpartition('.')[2]} from {written}`, and name the copy",
        )

    def look_up(self, words: Sequence[Word]) -> Value:
        """What a dotted name stands for: the paper first, then values, then the file's names."""
        (name, index), rest = words[0], words[1:]
        if self.piece is not None and not self.lost:
            found = on_paper(self.piece, words)
            if found is not None:
                return found
        if isinstance(index, tuple):
            first, last = index
            return tuple(self.look_up([(name, i), *rest]) for i in range(first, last + 1))
        for names in (*reversed(self.turns), self.piece_values):
            if (name, index) in names:
                return member(names[(name, index)], rest, name)
        if name in self.unsure or (self.lost and self._may_be_on_paper(name)):
            raise doubtful()
        if (name, index) in self.names:
            return member(self.names[(name, index)], rest, name)
        if self.piece is not None and name in self.piece.halves and not rest:
            return Half(name)
        if self.lost or self.bare:
            raise doubtful()
        raise self.missing(words)

    def _may_be_on_paper(self, name: str) -> bool:
        piece = self.piece
        if piece is not None and (name in piece.named or name in (*piece.unsure, *piece.halves)):
            return True
        known = self.sheet.symbols if self.sheet is not None else ()
        return any(word.partition(".")[0] == name for word in known)

    def may_be_elsewhere(self, expr: ast.Expr | ast.PathExpr) -> bool:
        """Whether a name that is not there may be given by a line that was not understood."""
        if not self.told.elsewhere or not isinstance(expr, ast.Ref):
            return False
        words = expressions.words_of(expr, self)
        for count, (name, _) in enumerate(words, 1):
            if name in self.told.elsewhere:
                try:
                    self.look_up(words[:count])
                except (PaperError, Mistake):
                    return True
        return False

    def missing(self, words: Sequence[Word]) -> PaperError:
        asked = ".".join(name if index is None else f"{name}[{index}]" for name, index in words)
        name, _index = words[0]
        numbers = sorted(
            number
            for names in (*self.turns, self.piece_values, self.names)
            for (known, number) in names
            if known == name and number is not None
        )
        if self.piece is not None:
            things = list(answering(self.piece, Label(words[-1][0])))
            numbers = numbers or sorted(t.label.index for t in things if t.label.index is not None)
            if not numbers and things:
                return PaperError(
                    f"there is no `{asked}` here",
                    help="there is " + ", ".join(f"`{thing.label}`" for thing in things),
                    code="unknown-name",
                )
        if numbers:
            return PaperError(
                f"there is no `{asked}`: they run from {numbers[0]} to {numbers[-1]}",
                help="use a number between the two",
                code="unknown-name",
            )
        return self._never_there(words[-1][0] if name in self._halves() else name, asked)

    def _halves(self) -> tuple[str, ...]:
        return self.piece.halves if self.piece is not None else ()

    def _never_there(self, name: str, asked: str) -> PaperError:
        """For a name that is no longer there, or that no line has given for this body."""
        steps = self.piece.steps if self.piece is not None else ()
        had = [number for number, step in enumerate(steps) if name in step.paper.named]
        if had and had[-1] + 1 < len(steps):
            gone = steps[had[-1] + 1]
            line = f" of line {gone.span.line}" if gone.span is not None else ""
            return PaperError(
                f"`{asked}` is no longer there: it went with the `{gone.verb}`{line}",
                help="say this before that line, or name what came of it",
                code="unknown-name",
            )
        return PaperError(
            f"there is no `{asked}` for this body and these choices",
            help="it is named only under an `if` that does not hold, or a `repeat` without turns: "
            "put this line under it too, or name it in either case",
            code="unknown-name",
        )


def named_twice(message: str, span: Span) -> Mistake:
    """For a name that is given a second time."""
    return mistake("named-twice", message, span, help="choose another name; a name is given once")


def on_paper(piece: Piece, words: Sequence[Word]) -> Value | None:
    """What a dotted name means on a piece, or none if its paper has nothing of that name.

    The word of a half that is all there is may be said or not.
    """
    if piece.only and words[0][0] in piece.only and words[0][1] is None:
        return on_paper(piece, words[1:]) if words[1:] else Half(words[0][0])
    if piece.unsure:
        own = next((word for word, _ in words if word not in piece.halves), "")
        if own in piece.unsure:
            raise doubtful()
    for count in range(len(words), 0, -1):
        scope = words[: count - 1]
        if any(index is not None for _, index in scope):
            continue
        name, index = words[count - 1]
        halves = tuple(word for word, _ in scope)
        if isinstance(index, tuple):
            first, last = index
            found = [find(piece, Label(name, i, halves)) for i in range(first, last + 1)]
            if any(thing is None for thing in found):
                if not all(thing is None for thing in found) or family(
                    piece, Label(name, None, halves)
                ):
                    missing = next(first + n for n, thing in enumerate(found) if thing is None)
                    raise PaperError(f"there is no `{name}[{missing}]`", code="unknown-name")
                continue
            return tuple(
                attribute(piece, thing, words[count:]) for thing in found if thing is not None
            )
        thing = find(piece, Label(name, index, halves))
        if thing is not None:
            return attribute(piece, thing, words[count:])
    if len(words) == 1 and words[0][0] in piece.halves and words[0][1] is None:
        return Half(words[0][0])
    return None


def attribute(piece: Piece, thing: Thing, words: Sequence[Word]) -> Value:
    """A thing on the paper, or what a dart knows of itself: `.point`, `.tip`, `.mouth`, …"""
    if isinstance(thing, Section):
        thing = section_chain(piece, thing)
    if not words:
        return thing.at if isinstance(thing, NamedPoint) else thing
    name, index = words[0]
    if isinstance(thing, Opening) and len(words) == 1:
        if name == "point":
            return thing.point
        if name == "tip":
            return thing.tip
        if name == "mouth":
            return _line(name, thing.mouth)
        if name == "intake":
            return Quantity("length", intake_drawn(piece, thing))
        if name == "legs":
            legs = (_line("leg", thing.first), _line("leg", thing.second))
            if index is None:
                return legs
            if index in (1, 2):
                return legs[index - 1]
            raise PaperError(
                f"`{thing.label}` has two legs",
                help="write `legs[1]` or `legs[2]`",
                code="unknown-name",
            )
    raise PaperError(f"`{thing.label}` has no `{name}`", code="unknown-name")


def member(value: Value, words: Sequence[Word], name: str) -> Value:
    """What stands behind a name of the file: a piece of a pattern, an edge of a piece."""
    if not words:
        return value
    if isinstance(value, Pattern):
        (inner, index), rest = words[0], words[1:]
        if inner in value.unsure:
            raise doubtful()
        if not isinstance(index, tuple) and (inner, index) in value.names:
            return member(value.names[(inner, index)], rest, inner)
        raise PaperError(f"`{name}` has no `{inner}`", code="unknown-name")
    if isinstance(value, Piece):
        part = dict(value.parts).get(words[0][0])
        if part is not None:
            return member(part, words[1:], words[0][0])
        found = on_paper(value, words)
        if found is not None:
            return found
        asked = ".".join(word if index is None else f"{word}[{index}]" for word, index in words)
        raise PaperError(
            f"`{name}` has no `{asked}`",
            help="it has " + ", ".join(f"`{edge.label}`" for edge in value.edges),
            code="unknown-name",
        )
    if isinstance(value, Opening):
        return attribute(Piece(""), value, words)
    raise PaperError(f"`{name}` has no `{words[0][0]}`", code="unknown-name")


def _line(name: str, path: Path) -> Line:
    return Line(Label(name), (Run(path),))
