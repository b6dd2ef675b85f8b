"""The text that did a step: its lines as they stand in the file, and the comment above them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.source import seen_from
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.lang.project.program import Program
    from oaktag.lang.source import Source, Span

Place = tuple["Source", int]


class Quote(Record):
    """Lines of a file, without their common indentation. line: the number of the first."""

    file: str
    line: int
    text: tuple[str, ...]


def quoted(span: Span, main: str) -> Quote:
    """An instruction with all that is indented below it.

    main: the file the story is told of; another is named as it lies from there.
    """
    source, number = span.source, span.line
    first = source.line(number)
    indent = _indent(first)
    lines = [first[indent:]]
    waiting: list[str] = []  # empty lines and comments count only if more follows
    last = source.place(len(source.text))[0]
    while number < last:
        number += 1
        line = source.line(number).rstrip()
        if line and _indent(line) <= indent:
            break
        waiting.append(line[indent:])
        if line and not line.lstrip().startswith("#"):
            lines += waiting
            waiting = []
    return Quote(seen_from(main, source.name), span.line, tuple(lines))


class Text:
    """What the pictures need to know of the files: comments and repeats.

    captions: the comment above a `repeat`, `if` or the like, for the first step it stands over.
    repeats: for each step, the `repeat`s it stands in, the outermost first, by their places. main:
    the name of the file the story is told of.
    """

    def __init__(self, program: Program) -> None:
        self.main = program.name
        self.captions: dict[Place, str] = {}
        self.repeats: dict[Place, tuple[Place, ...]] = {}
        waiting, done = [program], set()
        while waiting:
            one = waiting.pop()
            if id(one) not in done:
                done.add(id(one))
                self._read(one.file.statements, "", ())
                waiting += one.uses.values()

    def _read(
        self, statements: Iterable[ast.Statement], above: str, inside: tuple[Place, ...]
    ) -> None:
        for statement in statements:
            place = (statement.span.source, statement.span.start)
            if isinstance(statement, ast.PieceDef):
                self._read(statement.body, "", inside)
            elif isinstance(statement, ast.Repeat):
                self._read(statement.body, statement.caption or above, (*inside, place))
            elif isinstance(statement, ast.If):
                self._read(statement.body, statement.caption or above, inside)
                self._read(statement.otherwise, statement.caption or above, inside)
            elif isinstance(statement, ast.Assign | ast.Require):
                continue  # no step: what stands above goes for the next
            else:
                self.repeats[place] = inside
                if above:
                    self.captions[place] = above
            above = ""


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
