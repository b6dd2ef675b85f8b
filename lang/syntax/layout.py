"""Which line belongs to which.

An indented line belongs to the line above it: as a member where that line opens a block, else as
its continuation. What comes out is a tree of instructions (`Line`), each with the stretches of text
it is written in, and the list of `Row`s, the text line by line, from which `format` works.

Comments are kept: the lines of comment directly above an instruction are its caption, and a comment
behind the text stays with its row.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Diagnostic, error
from oaktag.lang.source import Span
from oaktag.lang.words import nearest

if TYPE_CHECKING:
    from oaktag.lang.source import Source

OPENERS = ("body", "use", "piece", "outline", "repeat", "if", "else")
DEEPEST = 20  # blocks within blocks
LONGEST = 1_000_000  # characters in a file

_FIRST_WORD = re.compile(r"([^\W\d]\w*)(?!\w)(?!\s*[=\[])")
_BEFORE_COMMENT = re.compile(r'(?:[^"#]|"[^"]*"?)*')


class Line:
    """One instruction: its stretches of text, what is indented below it, its caption."""

    __slots__ = ("caption", "depth", "indent", "members", "opens", "parts", "step", "word")

    def __init__(self, indent: int, depth: int, start: int, end: int, word: str) -> None:
        self.indent = indent
        self.depth = depth
        self.parts = [(start, end)]
        self.word = word
        self.opens = word in OPENERS
        self.members: list[Line] = []
        self.caption: str | None = None
        self.step = -1  # how far its members are indented, once there are any


class Row:
    """One line of the text. kind: `blank`, `comment`, `head` or `more` (a continuation)."""

    __slots__ = ("comment", "depth", "end", "indent", "kind", "start")

    def __init__(
        self, kind: str, indent: int, depth: int, start: int, end: int, comment: tuple[int, int]
    ) -> None:
        self.kind = kind
        self.indent = indent
        self.depth = depth
        self.start = start
        self.end = end
        self.comment = comment


class Layout:
    """The instructions at the margin, the rows, and what is wrong with the indentation."""

    __slots__ = ("diagnostics", "lines", "rows")

    def __init__(self) -> None:
        self.lines: list[Line] = []
        self.rows: list[Row] = []
        self.diagnostics: list[Diagnostic] = []


def lay_out(source: Source, words: frozenset[str] = frozenset()) -> Layout:
    """Splits a text into instructions. words: those that start an instruction; a first word that
    is none of them but nearly one that opens a block is taken for it.
    """
    layout = Layout()
    rows, found = layout.rows, layout.diagnostics
    text = source.text
    stack: list[Line] = []
    comments: list[Row] = []
    heads: dict[str, str] = {}  # a first word, and the one it is taken for
    tabs = False
    at, length = 0, len(text)
    while at < length:
        stop = text.find("\n", at)
        if stop < 0:
            stop = length
        whole = text[at:stop]
        bare = whole.rstrip()
        body = bare.lstrip()
        indent = len(bare) - len(body)
        start, end, at = at + indent, at + len(bare), stop + 1
        if not body:
            rows.append(Row("blank", 0, 0, start, start, (start, start)))
            comments = []
            continue
        if indent and bare[:indent].strip(" "):
            if not tabs:
                found.append(_not_spaces(source, start - indent, start))
            tabs = True
        comment = (end, end)
        if "#" in body:
            cut = _BEFORE_COMMENT.match(body)
            assert cut is not None
            if cut.end() < len(body):
                comment = (start + cut.end(), end)
                body = body[: cut.end()].rstrip()
                end = start + len(body)
        if not body:
            row = Row("comment", indent, 0, start, start, comment)
            row.depth = sum(1 for line in stack if line.opens and line.indent < indent)
            rows.append(row)
            comments.append(row)
            continue
        while stack and stack[-1].indent >= indent:
            stack.pop()
        if stack and not stack[-1].opens:
            stack[-1].parts.append((start, end))
            row = Row("more", indent, stack[-1].depth + 1, start, end, comment)
        else:
            line = Line(indent, len(stack), start, end, _first_word(body, words, heads))
            if not _place(source, line, stack, layout, quiet=tabs):
                # Too deep: said once; what stands there is not looked at.
                comments = []
                continue
            if comments:
                line.caption = " ".join(
                    text[slice(*above.comment)].lstrip("#").strip() for above in comments
                ).strip()
            stack.append(line)
            row = Row("head", indent, line.depth, start, end, comment)
        for above in comments:
            above.depth = row.depth
        comments = []
        rows.append(row)
    return layout


def _first_word(body: str, words: frozenset[str], heads: dict[str, str]) -> str:
    match = _FIRST_WORD.match(body)
    if not match:
        return ""
    word = match.group(1)
    if not words or word in words:
        return word
    if word not in heads:
        near = nearest(word, words)
        heads[word] = near if near in OPENERS else word
    return heads[word]


def _place(source: Source, line: Line, stack: list[Line], layout: Layout, *, quiet: bool) -> bool:
    """Puts an instruction where it belongs; whether it could be."""
    start, end = line.parts[0]
    here = Span(source, start, end)
    if not stack:
        if line.indent and not quiet:
            layout.diagnostics.append(
                error(
                    "indentation",
                    "this line is indented, but there is no line above that it could belong to",
                    here,
                    help="start it at the margin",
                )
            )
        layout.lines.append(line)
        return True
    above = stack[-1]
    if above.depth >= DEEPEST:
        if above.step < 0:
            layout.diagnostics.append(
                error(
                    "too-deep",
                    f"blocks are nested more than {DEEPEST} deep",
                    here,
                    help="give the inner part a piece or a pattern of its own",
                )
            )
            above.step = line.indent
        return False
    if above.step < 0:
        above.step = line.indent
    elif line.indent != above.step and not quiet:
        layout.diagnostics.append(
            error(
                "indentation",
                f"this line is indented by {_spaces(line.indent)}, but those beside it "
                f"by {above.step}",
                here,
                help=f"indent it by {_spaces(above.step)}",
            )
        )
        above.step = line.indent
    above.members.append(line)
    return True


def _spaces(count: int) -> str:
    return "1 space" if count == 1 else f"{count} spaces"


def _not_spaces(source: Source, start: int, end: int) -> Diagnostic:
    what = "a tab" if "\t" in source.text[start:end] else "a character that is not a plain space"
    return error(
        "tab",
        f"this line is indented with {what}",
        Span(source, start, end),
        help="put spaces in its place, two for each level",
    )
