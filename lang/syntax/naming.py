"""What is said where a name is written as no name can be: with `-`, in two words, or as a word of
the language."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import error
from oaktag.lang.source import Span
from oaktag.lang.words import NEVER_NAMES, nearest

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.source import Source
    from oaktag.lang.syntax.tokens import Token

# Instructions whose second word is the name they give.
NAMING = frozenset(
    ("adjust", "choose", "curve", "dart", "line", "measure", "piece", "repeat", "section")
)
_BEFORE = re.compile(r"(?:[^\W\d]\w*-)+\Z")
_DASHED = re.compile(r"[^\W\d]\w*(?:-\w+)+")


def dashed(source: Source, words: list[Token], at: int) -> Diagnostic | None:
    """`waist-dart`, where the reading stopped at the `-` or beside it."""
    if not 0 < at < len(words) - 1 or words[at].text != "-":
        return None
    first, last = words[at - 1], words[at + 1]
    if first.kind != "word" or first.end != words[at].start or last.start != words[at].end:
        return None
    earlier = _BEFORE.search(source.text[max(0, first.start - 80) : first.start])
    start = first.start - len(earlier[0]) if earlier else first.start
    found = _DASHED.match(source.text, start)
    if found is None:
        return None
    return error(
        "dashed-name",
        f"`{found[0]}` is no name: names have `_` in place of `-`",
        Span(source, *found.span()),
        help=f"write `{found[0].replace('-', '_')}`, here and wherever it is named",
    )


def in_words(
    source: Source, words: list[Token], at: int, wanted: Sequence[str]
) -> Diagnostic | None:
    """`piece back panel`, `side seam = …`: a name in several words; words[at] is the second.

    wanted: the words that could stand there.
    """
    begins = at == 1 and _is_equal_next(words, at)
    lists = words[0].text == "measure" and words[at - 2].text in (",", "measure")
    gives = words[0].text in NAMING and (at == 2 or lists)
    if not (begins or gives) or words[at - 1].kind != "word":
        return None
    known = {*wanted, *NEVER_NAMES}
    last = at
    while words[last].kind in ("word", "number") and words[last].text not in known:
        if nearest(words[last].text, wanted):
            break
        last += 1
    if last == at:
        return None
    name = "_".join(word.text for word in words[at - 1 : last])
    if not name.isidentifier():
        return None
    here = Span(source, words[at - 1].start, words[last - 1].end)
    return error(
        "name-in-words",
        f"`{' '.join(here.text.split())}`: a name is one word",
        here,
        help=f"write `{name}`",
    )


def _is_equal_next(words: list[Token], at: int) -> bool:
    """Whether a `=` stands behind the words from words[at] on."""
    while words[at].kind in ("word", "number"):
        at += 1
    return words[at].text == "=" and words[at].kind == "sign"


def never(source: Source, words: list[Token], at: int) -> Diagnostic | None:
    """`piece to`, `dart in on waist`: a word of the language where a name is given."""
    word = words[at]
    if word.kind != "word" or word.text not in NEVER_NAMES:
        return None
    following = words[min(at + 1, len(words) - 1)]
    given = following.text in ("=", "[") and following.kind == "sign"
    if words[0].text in NAMING and at == 1:
        given = given or following.kind == "end" or following.text in NEVER_NAMES
    if not given:
        return None
    return error(
        "reserved-word",
        f"`{word.text}` is a word of the language and can never be a name",
        Span(source, word.start, word.end),
        help=f"choose another, or make it longer, like `{word.text}_1`",
    )
