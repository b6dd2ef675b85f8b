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
_OF_NAMES = ("body", "use", "outline")  # each line below them is `NAME = …`
DEEPEST = 20  # blocks within blocks
LONGEST = 1_000_000  # characters in a file

_FIRST_WORD = re.compile(r"([^\W\d]\w*)(?!\w)(?!\s*[=\[])")
_GIVES = re.compile(r"[^\W\d]\w*\s*[=\[]")
_BEFORE_COMMENT = re.compile(r'(?:[^"#]|"[^"]*"?)*')


class Line:
    """One instruction: its stretches of text, what is indented below it, its caption."""

    __slots__ = (
        "caption", "depth", "indent", "members", "opens", "other", "parts", "step", "within",
        "word",
    )  # fmt: skip

    def __init__(
        self, indent: int, depth: int, start: int, end: int, word: str, within: str = ""
    ) -> None:
        self.indent = indent
        self.depth = depth
        self.parts = [(start, end)]
        self.word = word
        self.within = within  # the word of the block it stands in
        self.opens = word in OPENERS
        self.members: list[Line] = []
        self.caption: str | None = None
        self.step = -1  # how far its members are indented, once there are any
        self.other = -1  # how far one of them is that stands out of line


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
            if "\t" in bare[:indent]:
                indent = _meant(bare[:indent], stack)
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
        if _back_in_line(stack, indent, body, words):
            stack.pop()
        if stack and not stack[-1].opens:
            stack[-1].parts.append((start, end))
            row = Row("more", indent, stack[-1].depth + 1, start, end, comment)
        else:
            word = _first_word(body, words, heads)
            within = stack[-1].word if stack else ""
            line = Line(indent, len(stack), start, end, word, within)
            if within in _OF_NAMES and word in words and not tabs:
                stack = _beside(source, line, stack, layout)
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
                    f"lines stand below lines, more than {DEEPEST} deep",
                    here,
                    help="give the inner part a piece or a pattern of its own",
                )
            )
            above.step = line.indent
        return False
    if above.step < 0:
        above.step = line.indent
    elif line.indent not in (above.step, above.other) and not quiet:
        layout.diagnostics.append(
            error(
                "indentation",
                f"this line is indented by {_spaces(line.indent)}, but those beside it "
                f"by {above.step}",
                here,
                help=f"indent it by {_spaces(above.step)}",
            )
        )
        above.other = line.indent
    above.members.append(line)
    return True


def _back_in_line(stack: list[Line], indent: int, body: str, words: frozenset[str]) -> bool:
    """Whether a line below one that stands too far left begins an instruction of its own."""
    if len(stack) < 2 or stack[-1].opens:
        return False
    above, line = stack[-2], stack[-1]
    if not line.indent == above.other < above.step == indent:
        return False
    word = _FIRST_WORD.match(body)
    return word[1] in words if word else _GIVES.match(body) is not None


def _beside(source: Source, line: Line, stack: list[Line], layout: Layout) -> list[Line]:
    """The blocks an instruction stands in that is indented below one that holds only names, and by
    less than those: it is meant to stand beside that block.
    """
    head = stack[-1]
    if head.step < 0 or line.indent >= head.step:
        return stack
    start, end = line.parts[0]
    others = f"by {head.indent}" if head.indent else "not at all"
    layout.diagnostics.append(
        error(
            "indentation",
            f"this line is indented by {_spaces(line.indent)}, but the lines beside it {others}",
            Span(source, start, end),
            help=f"indent it by {_spaces(head.indent)}"
            if head.indent
            else "start it at the margin",
        )
    )
    line.indent, line.depth, line.within = head.indent, head.depth, head.within
    return stack[:-1]


def _meant(written: str, stack: list[Line]) -> int:
    """By how many spaces a line should be indented that is indented with tabs, one for a level."""
    level = written.count("\t") + written.count(" ") // 2
    if len(stack) < level:
        return (stack[-1].indent if stack else 0) + 2
    above = stack[level - 1]
    return above.step if above.opens and above.step >= 0 else above.indent + 2


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
