"""The one canonical layout of a file.

- Two spaces for each level; a continuation stands two spaces deeper than its instruction. Lines are
  neither joined nor split.
- One space between words and round `= < > <= >= + - *`; none inside brackets, before a comma,
  round the dots of a name or a range, after the minus of a negative value. A division stays tight
  where it was written tight (`neck_girth/5`), as does the bracket behind a word (`max(a, b)`).
- Quantities as written, with one space before the unit: `4cm` becomes `4 cm`.
- Comments stay where they are, on the level of the line below them; one behind an instruction is
  set off by two spaces.
- At most one empty line in a row, none at the beginning and the end; one line end at the end.

The meaning never changes: same words, same order, same lines. A row with a slip in writing is only
indented.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Mistake
from oaktag.lang.syntax import wording
from oaktag.lang.syntax.layout import LONGEST, lay_out
from oaktag.lang.syntax.tokens import tokens
from oaktag.lang.words import RESERVED

if TYPE_CHECKING:
    from oaktag.lang.source import Source
    from oaktag.lang.syntax.layout import Row
    from oaktag.lang.syntax.tokens import Token

_FIGURES_AND_UNIT = re.compile(r"(.*?)[ \t]*([a-z]+)")
# Words that can stand before a negative value; a minus behind any other word takes away.
_BEFORE_VALUES = RESERVED.union(
    ("leaving", "arriving", "bowed", "intake", "length", "within", "size", "deep", "easing"),
    ("ending", "is", "strip", "if", "require", "until", "allow"),
)


def formatted(source: Source) -> str:
    """The text in canonical layout; raises Mistake if its indentation cannot be read."""
    if len(source.text) > LONGEST:
        raise Mistake(wording.too_big(source))
    layout = lay_out(source)
    if layout.diagnostics:
        raise Mistake(*layout.diagnostics)
    out: list[str] = []
    for row in layout.rows:
        if row.kind == "blank":
            if out and out[-1]:
                out.append("")
            continue
        comment = _comment(source.text[slice(*row.comment)])
        if row.kind == "comment":
            out.append("  " * row.depth + comment)
            continue
        text = "  " * row.depth + _row(source, row)
        out.append(f"{text}  {comment}" if comment else text)
    while out and not out[-1]:
        out.pop()
    return "\n".join(out) + "\n" if out else ""


def _comment(text: str) -> str:
    """With a space after its `#`."""
    if len(text) > 1 and text[1] not in "# \t!":
        return f"# {text[1:]}"
    return text


def _row(source: Source, row: Row) -> str:
    words, wrong = tokens(source, [(row.start, row.end)])
    if wrong:
        return source.text[row.start : row.end]
    out: list[str] = []
    before: Token | None = None
    negative = False  # whether the token before is the minus of a negative value
    for token in words[:-1]:
        if before is None:
            negative = token.text == "-" and source.text[token.end : token.end + 1] != " "
        else:
            if not negative and _spaced(source.text, before, token):
                out.append(" ")
            negative = token.kind == "sign" and token.text == "-" and _opens_value(source, before)
            if negative and before.kind == "word" and token.end < len(source.text):
                # `leaving -20 deg`, but `length - 20 cm`: as it was written.
                negative = source.text[token.end] != " " and source.text[token.start - 1] == " "
        out.append(_written(source, token))
        before = token
    return "".join(out)


def _written(source: Source, token: Token) -> str:
    text = source.text[token.start : token.end]
    if token.kind == "quantity":
        parts = _FIGURES_AND_UNIT.fullmatch(text)
        assert parts is not None
        return " ".join(parts.group(1).split()) + " " + parts.group(2)
    return text


def _opens_value(source: Source, before: Token) -> bool:
    """Whether a minus behind this token belongs to a negative value."""
    if before.kind == "sign":
        return before.text not in (")", "]")
    return before.kind == "word" and before.text in _BEFORE_VALUES


def _spaced(text: str, before: Token, token: Token) -> bool:
    """Whether a space stands between two tokens."""
    if token.kind == "sign":
        if token.text in (")", "]", ",", ".", ".."):
            return False
        if token.text == "[":
            return before.kind != "word" or before.text in RESERVED
        if token.text == "(" and before.kind == "word":
            return before.end != token.start or before.text in RESERVED
        if token.text == "/":
            return not _tight(text, token)
    if before.kind == "sign":
        if before.text in ("(", "[", ".", ".."):
            return False
        if before.text == "/":
            return not _tight(text, before)
    return True


def _tight(text: str, stroke: Token) -> bool:
    """Whether a division is written without spaces."""
    return not text[stroke.start - 1].isspace() and not text[stroke.end : stroke.end + 1].isspace()
