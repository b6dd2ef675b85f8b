"""What is said about an instruction that cannot be read, in a pattern cutter's words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Diagnostic, Label, error
from oaktag.lang.source import Span
from oaktag.lang.syntax.examples import EXAMPLES, NAME_AFTER, OTHER_WORDS, VALUE_AFTER
from oaktag.lang.syntax.layout import LONGEST
from oaktag.lang.syntax.naming import dashed, in_words, never
from oaktag.lang.syntax.tokens import is_misnamed_unit, unknown_unit
from oaktag.lang.words import NEVER_NAMES, WAYS, nearest

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.lang.source import Source
    from oaktag.lang.syntax.lalr import Stuck
    from oaktag.lang.syntax.layout import Line
    from oaktag.lang.syntax.tables import Tables
    from oaktag.lang.syntax.tokens import Token

# Words that can follow any point, and bring something only together with what is behind them.
_AFTER_ANY_POINT = frozenset(("AT", "TOWARD", "SQUARE", "AND", "OR"))
# Words after which a value comes; read as names where they cannot stand.
_BEFORE_VALUE = frozenset(
    ("intake", "length", "within", "size", "deep", "easing", "ending", "leaving", "arriving")
)
_COMPARISONS = frozenset(("=", "<", ">", "<=", ">="))


def stuck(
    source: Source, line: Line, words: list[Token], where: Stuck, tables: Tables
) -> Diagnostic:
    """What to say where the parser cannot go on: words[where.at] cannot stand there."""
    at, wanted = where.at, where.wanted
    token = words[at]
    before = words[at - 1] if at else token
    if (
        before.kind == "word"
        and before.text in _BEFORE_VALUE
        and where.earlier
        and "NAME" in where.earlier
        and token.kind in ("number", "quantity")
    ):
        # `at intake 3 cm`: not the length is wrong here, but the word before it.
        at, wanted = at - 1, where.earlier
        token, before = before, words[at - 1] if at else before
    here = Span(source, token.start, token.end)
    is_name = token.kind == "word" and token.text not in NEVER_NAMES
    if token.kind == "word" and before.kind == "number" and is_misnamed_unit(token.text):
        return unknown_unit(before.text, token.text, Span(source, before.start, token.end))
    instructions = (*tables.words("piece_line"), *tables.words("file_line"))
    begins_row = any(token.start == start for start, _ in line.parts[1:])
    if is_name and begins_row and token.text in instructions:
        return error(
            "indentation",
            f"`{token.text}` begins a new instruction, but is indented below another",
            here,
            labels=(Label(_whole(source, words[0]), "it is read as part of this one"),),
            help="line it up with the instruction above"
            if line.word or line.within != "outline"
            else "start it further left, below the `o` of `outline`",
        )
    if at == 1 and words[0].text in instructions and wanted <= {"EQUAL", "LSQB"}:
        return error(
            "misplaced",
            f"`{words[0].text}` does not belong here: each line of this block is `NAME = …`",
            _whole(source, words[0]),
            help="indent it less, to stand beside the head of the block",
        )
    for one, other in ((before, token), (token, words[min(at + 1, len(words) - 1)])):
        if _is_sign(one, ("/",)) and _is_sign(other, ("/",)) and one.end == other.start:
            return _remark(source, one)
    if token.text == before.text == "=" and before.end == token.start:
        both = Span(source, before.start, token.end)
        return error("unexpected", "`==` means nothing here", both, help="write `=`")
    if words[0].text == "bind" and before.kind == "quantity" and before.unit == "in" and is_name:
        both = Span(source, before.start, token.end)
        return error(
            "read-as-inches",
            f"{_shown(before)} is read as inches, so no `in` is left before the cloth",
            both,
            help=f"write `{before.text} in {token.text}` if inches are meant, else give the width "
            f"its unit, like `8 mm in {token.text}`",
        )
    wrong = (
        dashed(source, words, at)
        or dashed(source, words, at - 1)
        or ("NAME" in wanted and never(source, words, at))
        or in_words(source, words, at, _spelled(wanted, tables))
        or _bracket(source, words, at)
        or _chain(source, words, at, wanted)
    )
    if wrong:
        return wrong
    comes = _comes(line, words, at, wanted, tables)
    shown = _shown(token)
    if token.kind == "end":
        message = f"the instruction stops short: {comes}"
    else:
        meant = nearest(token.text, _spelled(wanted, tables)) if is_name else ""
        message = f"{shown} cannot stand here: " + (f"did you mean `{meant}`?" if meant else comes)
    return error("unexpected", message, here, help=_form(words))


def no_instruction(
    source: Source, words: list[Token], start: str, starts: dict[str, frozenset[str]]
) -> Diagnostic:
    """The first word begins no instruction, or one that belongs elsewhere."""
    first = words[0]
    here = _whole(source, first)
    shown = _shown(first)
    if _is_sign(first, ("/",)) and _is_sign(words[1], ("/",)):
        return _remark(source, first)
    if first.kind != "word":
        return error(
            "no-instruction",
            f"an instruction begins with a word, not with {shown}",
            here,
            help="indent the line, if it goes on from the one above",
        )
    for other, those in starts.items():
        if other != start and first.text in those:
            if other == "piece_line":
                return error(
                    "misplaced",
                    f"`{first.text}` belongs inside a piece",
                    here,
                    help="indent it below the `piece` line",
                )
            return error(
                "misplaced",
                f"`{first.text}` does not belong inside a piece",
                here,
                help="let it begin at the margin",
            )
    wrong = never(source, words, 0) or dashed(source, words, 1)
    if wrong:
        return wrong
    if first.text in NEVER_NAMES:
        return error(
            "no-instruction",
            f"{shown} cannot begin an instruction",
            here,
            help="indent the line, if it goes on from the one above",
        )
    if words[1].kind in ("number", "quantity") and len(words) == 3:
        return error(
            "no-instruction",
            f"{shown} is not an instruction",
            here,
            help=f"to give a value, write `{first.text} = {words[1].text}`",
        )
    if first.text in OTHER_WORDS:
        example = EXAMPLES[OTHER_WORDS[first.text]]
        return error(
            "no-instruction",
            f"{shown} is not an instruction",
            here,
            help=f"write it like `{example}`",
        )
    meant = nearest(first.text, starts[start]) or nearest(
        first.text, frozenset().union(*starts.values())
    )
    wrong = None if meant else in_words(source, words, 1, ())
    if wrong:
        return wrong
    question = f": did you mean `{meant}`?" if meant else ""
    return error(
        "no-instruction",
        f"{shown} is not an instruction{question}",
        here,
        help="" if meant else f"to give something a name, write `{first.text} = …`",
    )


def _remark(source: Source, first: Token) -> Diagnostic:
    """`// a panel`: a remark as others write it."""
    end = source.text.find("\n", first.start)
    end = len(source.text) if end < 0 else end
    words = source.text[first.start : end].lstrip("/").strip()
    return error(
        "remark",
        "a remark begins with `#`, not with `//`",
        Span(source, first.start, first.start + 2),
        help=f"write `# {words[:60]}`" if words else "write `#`",
    )


def gathered(found: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Lines that all belong into the piece above them, told of once."""
    told: list[Diagnostic] = []
    last = 0
    for one in found:
        line = one.span.line if one.span is not None else 0
        stray = one.code == "misplaced" and one.message.endswith("belongs inside a piece")
        if stray and last and line == last + 1:
            told[-1] = told[-1].changed(
                help="indent it and the lines below it that draw the piece, below the `piece` line"
            )
        else:
            told.append(one)
        last = line if stray else 0
    return told


def too_big(source: Source) -> Diagnostic:
    """A text no person has written."""
    return Diagnostic(
        "error",
        "too-big",
        f"the file has {len(source.text):,} characters; at most {LONGEST:,} are read",
        file=source.name,
        help="divide it into several patterns and `use` them",
    )


def empty(source: Source) -> Diagnostic:
    """Nothing in the file but blank lines and comments."""
    return Diagnostic(
        "error",
        "empty-file",
        "the file is empty",
        file=source.name,
        help='begin with `pattern "Title"`',
    )


def _bracket(source: Source, words: list[Token], at: int) -> Diagnostic | None:
    """A bracket that is not closed, or closes nothing, if that is why the parser stopped."""
    token = words[at]
    opened: list[Token] = []
    for word in words[:at]:
        if word.kind == "sign":
            if word.text in "([":
                opened.append(word)
            elif word.text in ")]" and opened:
                opened.pop()
    if token.kind == "end" and opened:
        last = opened[-1]
        return error(
            "bracket",
            f"the bracket `{last.text}` is not closed",
            Span(source, last.start, last.end),
            help=f"close it with `{')' if last.text == '(' else ']'}`",
        )
    if token.kind == "sign" and token.text in (")", "]"):
        if not opened:
            return error(
                "bracket",
                f"the bracket `{token.text}` closes nothing",
                Span(source, token.start, token.end),
                help="take it out, or open it before",
            )
        if {"(": ")", "[": "]"}[opened[-1].text] != token.text:
            return error(
                "bracket",
                f"the bracket `{opened[-1].text}` is closed with `{token.text}`",
                Span(source, token.start, token.end),
                labels=(Label(Span(source, opened[-1].start, opened[-1].end), "opened here"),),
            )
    return None


def _chain(
    source: Source, words: list[Token], at: int, wanted: frozenset[str]
) -> Diagnostic | None:
    """`1 < x < 3`."""
    if not _is_sign(words[at], _COMPARISONS) or not wanted & {"AND", "OR", "$END", "RPAR"}:
        return None
    first = next((word for word in words[1:at] if _is_sign(word, _COMPARISONS)), None)
    if first is None:
        return None
    return error(
        "chained-comparison",
        "two values are compared at a time",
        _whole(source, words[at]),
        label="a second comparison",
        labels=(Label(_whole(source, first), "the first"),),
        help="write it as two, like `1 < x and x < 3`",
    )


def _comes(line: Line, words: list[Token], at: int, wanted: frozenset[str], tables: Tables) -> str:
    """What could stand at words[at], as a clause."""
    if at == 0:
        return "here comes a name" if wanted == {"NAME"} else "here comes a value, like `4 cm`"
    last = words[at - 1]
    after = f"after {_shown(last)}"
    both = f"{words[0].text} {last.text}"
    if at > 1 and words[at - 2].text == "bowed" and last.kind == "quantity" and last.unit != "deg":
        return f"after `bowed` comes {VALUE_AFTER['bowed']}"
    if "QUANTITY" in wanted and last.text in WAYS:
        return f"{after} comes a distance, like `4 cm`{', or `to` and an edge' * ('TO' in wanted)}"
    if "QUANTITY" in wanted:
        if "WHERE" not in wanted or last.text not in ("at", "by", "from", "length"):
            said = VALUE_AFTER.get(both) or VALUE_AFTER.get(last.text)
            if said:
                return f"{after} comes {said}"
        if "WHERE" not in wanted or _is_sign(last, _COMPARISONS - {"="}):
            is_name = last.kind == "word" and last.text not in NEVER_NAMES
            return f"{after} comes a {'distance' if is_name else 'value'}, like `4 cm`"
        if "NOT" in wanted:
            return f"{after} comes a value or a point, like `4 cm` or `waist down 4 cm`"
        return f"{after} comes a point, like `waist` or `waist down 4 cm`"
    if "NAME" in wanted:
        return f"{after} comes {NAME_AFTER.get(both) or NAME_AFTER.get(last.text) or 'a name'}"
    if wanted == {"QUOTED"}:
        return f'{after} comes a text in quotes, like `"Skirt"`'
    shown = [f"`{word}`" for word in sorted(_spelled(wanted - _AFTER_ANY_POINT, tables))]
    if last.kind == "number" and words[at].kind == "word":
        shown.insert(0, "a unit, like `cm`")
    if "$END" in wanted:
        if shown:
            return f"{after} comes {_list([*shown, 'the end of the instruction'])}"
        return f"the instruction is complete with {_shown(last)}"
    signs = [f"`{sign}`" for sign in ("=", ")", "]", "[") if tables.literals[sign] in wanted]
    if signs[:1] == ["`=`"]:
        shown.insert(0, signs[0])
    shown = shown or [f"`{word}`" for word in sorted(_spelled(wanted, tables))] or signs[:1]
    return f"{after} comes {_list(shown)}"


def _is_sign(token: Token, signs: Iterable[str]) -> bool:
    return token.kind == "sign" and token.text in signs


def _spelled(wanted: frozenset[str], tables: Tables) -> list[str]:
    """The words among these terminals."""
    return [word for word, name in tables.literals.items() if name in wanted and word[0].isalpha()]


def _list(items: list[str]) -> str:
    return ", ".join(items[:-1]) + " or " + items[-1] if len(items) > 1 else "".join(items)


def _form(words: list[Token]) -> str:
    """How an instruction of this kind is written."""
    example = EXAMPLES.get(words[0].text) if words[0].kind == "word" else None
    return f"write it like `{example}`" if example and not _is_sign(words[1], ("=",)) else ""


def _whole(source: Source, token: Token) -> Span:
    return Span(source, token.start, token.end)


def _shown(token: Token) -> str:
    text = token.text if len(token.text) <= 40 else token.text[:39] + "…"
    return f'`"{text}"`' if token.kind == "text" else f"`{text}`"
