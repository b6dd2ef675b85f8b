"""What was wrong with a file before anything was drawn, as drawing it has to know.

An instruction with a mistake in its names or figures is not tried. Where a line was not understood
at all, it may have given names or changed paper, so what comes after it is doubtful.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.doubts import MOST
from oaktag.lang import ast
from oaktag.lang.checking.check import lost_words
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from oaktag.lang.project.program import Program
    from oaktag.lang.source import Span

_HARMLESS = re.compile(  # what such a line says changes no paper that is there
    r"(pattern|revision|notches|measure|choose|use|piece|adjust|repeat|if|else|allow|sew|bind|fasten"
    r"|cut|require|notch)\b"
)
_WORD = re.compile(r"[^\W\d]\w*")


class Beforehand(Record):
    """failed: instructions with a mistake, by identity. words: of what could not be understood.

    unread: for pieces, by identity, where in the file their first line stands that was not
    understood. unsure: names that mean something else if such a line were right. margin: the words
    of each such line that stands at the margin. hopeless: there is so much that nothing should be
    drawn.
    """

    failed: frozenset[int] = frozenset()
    words: frozenset[str] = frozenset()
    unread: Mapping[int, int] = {}
    unsure: frozenset[str] = frozenset()
    margin: tuple[frozenset[str], ...] = ()
    hopeless: bool = False


NOTHING = Beforehand()


def beforehand(program: Program) -> Beforehand:
    """What is known of the mistakes of a file; those of files it uses are their own."""
    if program.sound:
        return NOTHING
    file = program.file
    spans = [
        one.span
        for one in program.diagnostics
        if one.severity == "error" and one.span is not None and one.span.source is file.source
    ]
    if not spans:
        return NOTHING
    nodes = sorted(_all(file.statements), key=lambda node: node.span.start)
    starts = [node.span.start for node in nodes]
    tops = [node.span.start for node in file.statements]
    failed: set[int] = set()
    words: set[str] = set()
    unread: dict[int, int] = {}
    lost: list[Span] = []
    inside: list[Span] = []
    for span in spans:
        words.update(_WORD.findall(span.text.partition("\n")[0]))
        at = bisect_right(starts, span.start) - 1
        if at >= 0 and span.start < _end(nodes[at]):
            failed.add(id(nodes[at]))
            continue
        lost.append(span)
        indent = _indent(span)
        if not tops or span.start < tops[0] or not indent:
            continue
        if not isinstance(nodes[at], ast.PieceDef) and indent > _indent(nodes[at].span):
            failed.add(id(nodes[at]))  # the line belongs to it
        top = file.statements[bisect_right(tops, span.start) - 1]
        if isinstance(top, ast.PieceDef):
            inside.append(span)
            first = min(span.start, unread.get(id(top), span.start))
            unread[id(top)] = min(first, _block_around(top, span))
        else:
            failed.add(id(top))
    # What a line of a piece may have given is doubtful with the paper of that piece.
    words |= lost_words(file.source, [span for span in lost if span not in inside])
    margin = [span for span in lost if not file.source.line(span.line).startswith(" ")]
    unsure: set[str] = set()
    for span in margin:
        line = file.source.line(span.line).partition("#")[0]
        if not _HARMLESS.match(line) and "=" not in line:
            unsure |= lost_words(file.source, [span])
    return Beforehand(
        frozenset(failed),
        frozenset(words),
        unread,
        frozenset(unsure),
        tuple(lost_words(file.source, [span]) for span in margin),
        len(spans) >= MOST,
    )


def _block_around(piece: ast.PieceDef, line: Span) -> int:
    """Where the `repeat` or `if` of a piece begins in which a line stands; else where it does.

    In another turn, what stands above the line comes after it.
    """
    for node in reversed(piece.body):
        if node.span.start < line.start:
            inside = isinstance(node, ast.Repeat | ast.If) and _indent(line) > _indent(node.span)
            return node.span.start - 1 if inside else line.start
    return line.start


def _indent(span: Span) -> int:
    line = span.source.line(span.line)
    return len(line) - len(line.lstrip())


def _all(statements: Sequence[ast.Statement]) -> Iterator[ast.Statement]:
    """Every instruction, with those inside pieces and blocks."""
    for node in statements:
        yield node
        if isinstance(node, ast.PieceDef | ast.Repeat):
            yield from _all(node.body)
        elif isinstance(node, ast.If):
            yield from _all((*node.body, *node.otherwise))


def _end(node: object) -> int:
    """Where an instruction ends, with the lines that belong to it but not those of its block."""
    if isinstance(node, tuple):
        return max((_end(item) for item in node), default=0)
    if not isinstance(node, ast.Node):
        return 0
    parts = (name for name in node.fields if name not in ("body", "otherwise", "span", "source"))
    return max(node.span.end, *(_end(getattr(node, name)) for name in parts), 0)
