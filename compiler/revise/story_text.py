"""The text that did a step: its lines as they stand in the file, and the comment above them."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from oaktag.lang import ast
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
    return Quote(_file(source.name, main), span.line, tuple(lines))


def captions(program: Program) -> dict[Place, str]:
    """The comments above `repeat`, `if` and the like, each for the first step it stands over."""
    found: dict[Place, str] = {}
    waiting, done = [program], set()
    while waiting:
        one = waiting.pop()
        if id(one) not in done:
            done.add(id(one))
            _captions(one.file.statements, "", found)
            waiting += one.uses.values()
    return found


def _captions(statements: Iterable[ast.Statement], above: str, found: dict[Place, str]) -> None:
    for statement in statements:
        if isinstance(statement, ast.PieceDef):
            _captions(statement.body, "", found)
        elif isinstance(statement, ast.Repeat | ast.If):
            caption = statement.caption or above
            _captions(statement.body, caption, found)
            if isinstance(statement, ast.If):
                _captions(statement.otherwise, caption, found)
        elif isinstance(statement, ast.Assign | ast.Require):
            continue  # no step: what stands above goes for the next
        elif above:
            found[statement.span.source, statement.span.start] = above
        above = ""


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _file(name: str, main: str) -> str:
    """A file as it lies from the one the story is told of; Oaktag's patterns by their own name."""
    if not name.startswith(os.path.join("oaktag", "stdlib", "")):
        name = os.path.relpath(name, os.path.dirname(main) or os.curdir)
    return name.replace(os.sep, "/")
