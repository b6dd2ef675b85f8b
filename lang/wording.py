"""What is said about an instruction that cannot be read, in a pattern cutter's words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Diagnostic, Label, error
from oaktag.lang.layout import LONGEST
from oaktag.lang.source import Span
from oaktag.lang.tokens import is_misnamed_unit, unknown_unit
from oaktag.lang.words import NEVER_NAMES, nearest

if TYPE_CHECKING:
    from oaktag.lang.layout import Line
    from oaktag.lang.parse import Parser
    from oaktag.lang.source import Source
    from oaktag.lang.tokens import Token

# An instruction of each kind, as it could stand in a file.
EXAMPLES = {
    "adjust": "adjust opening from 0 cm to 20 cm until length(flounce.base) = 180 cm",
    "allow": "allow 1.5 cm on front, back.hem",
    "body": 'body "Ines"',
    "button": "button at placket size 18 mm",
    "buttonhole": "buttonhole at placket size 21 mm",
    "choose": "choose length = 60 cm from 40 cm to 90 cm",
    "close": "close waist_dart into flare",
    "curve": "curve yoke = waist_side curve to waist_centre bowed down 2 cm",
    "cut": "cut 2 back as pair in main",
    "dart": "dart waist_dart on waist at 9 cm from centre intake 3 cm length 10 cm",
    "divide": "divide along yoke_line into yoke and skirt",
    "drill": "drill at waist_dart.tip",
    "facing": "facing on front.neck deep 6 cm",
    "fold": "fold on centre",
    "fold-trim": "fold-trim waist_dart toward centre",
    "grain": "grain along centre",
    "halve": "halve along centre keeping right",
    "if": "if waist_girth < hip_girth",
    "join": "join back.shoulder to shoulder",
    "lengthen": "lengthen at hip_line by 4 cm",
    "line": "line flare = waist_dart.point down to hem",
    "measure": "measure waist_girth = 72 cm, hip_girth = 96 cm",
    "notch": "notch on side at 20 cm from waist",
    "overlap": "overlap flare by 2 cm at hem hinged on waist",
    "pattern": 'pattern "Straight skirt"',
    "piece": "piece front from block.front",
    "redraw": "redraw side = waist_side to hem_side",
    "repeat": "repeat i from 1 to 3",
    "require": "require sewn(front.side) = sewn(back.side) within 2 mm",
    "section": "section underlap = waist from end to on waist 3 cm from end",
    "sew": "sew front.side to back.side",
    "shorten": "shorten at hip_line by 4 cm",
    "spread": "spread flare by 4 cm at hem hinged on waist",
    "strip": "strip 74 cm by 8 cm",
    "text": 'text "centre front" at waist_centre',
    "trace": 'trace "front.svg" edges waist, side, hem, centre with centre = 68 cm',
    "true": "true hem",
    "unfold": "unfold along centre into right and left",
    "use": "use skirts.straight as block",
}

# What comes after a word, where a value, a point or a name is wanted.
_VALUE = {
    "at": "a distance or a fraction, like `3 cm` or `1/2`",
    "by": "a length or a share, like `4 cm` or `1/2`",
    "intake": "a length, like `3 cm`",
    "length": "a length, like `10 cm`",
    "within": "a length, like `2 mm`",
    "size": "a length, like `18 mm`",
    "deep": "a length, like `6 cm`",
    "easing": "a length, like `1 cm`",
    "ending": "a length, like `3 cm`",
    "bowed": "a direction and a length, like `down 4 cm`",
    "leaving": "a direction, like `down` or `square to side`",
    "arriving": "a direction, like `down` or `square to side`",
    "is": "a distance, like `4 cm`",
    "allow": "a length, like `1.5 cm`, or `none`",
    "cut": "how many, like `2`",
    "strip": "a length, like `74 cm`",
    "if": "a condition, like `waist_girth < hip_girth`",
    "require": "a condition, like `sewn(front.side) = sewn(back.side)`",
    "until": "what is to be equal, like `sewn(cap) = armhole`",
}
_NAME = {
    "on": "an edge, like `waist`",
    "along": "an edge or a line, like `centre`",
    "from": "an edge, like `waist`",
    "in": "a cloth, like `main`",
    "close": "a dart, like `waist_dart`",
    "spread": "a line, like `flare`",
    "overlap": "a line, like `flare`",
    "fold-trim": "a dart or a pleat, like `waist_dart`",
    "sew": "an edge, like `front.side`",
    "true": "an edge, like `hem`",
    "where": "an edge or a line, like `side`",
    "meets": "an edge or a line, like `hem`",
    "redraw": "an edge or a dart, like `side`",
    "join": "an edge of another piece, like `back.shoulder`",
    "measure": "a measure, like `waist_girth`",
    "use": "a pattern, like `skirts.straight` or `\"blocks/ines.oak\"`",
    "holding": "the part that stays still, like `left`",
    "toward": "a side, like `down` or `centre`",
    "midway": "a point, like `waist`",
    "to": "an edge or a point, like `hem`",
}
# Words that can follow any point; not worth naming when something more telling could follow.
_AFTER_ANY_POINT = frozenset(("AT", "TOWARD", "SQUARE", "AND", "OR"))
_COMPARISONS = frozenset(("=", "<", ">", "<=", ">="))


def stuck(
    source: Source, line: Line, words: list[Token], at: int, expected: list[str], parser: Parser
) -> Diagnostic:
    """What to say where the parser cannot go on: words[at] cannot stand there."""
    token = words[at]
    here = _place(source, words, at)
    shown = _shown(token)
    wanted = frozenset(expected)
    if token.kind == "word" and at and words[at - 1].kind == "number":
        number = words[at - 1]
        if is_misnamed_unit(token.text):
            return unknown_unit(number.text, token.text, Span(source, number.start, token.end))
    starts = parser.tables.words("piece_line") + parser.tables.words("file_line")
    if token.kind == "word" and token.text in starts:
        if any(token.start == start for start, _ in line.parts[1:]):
            return error(
                "indentation",
                f"`{token.text}` begins a new instruction, but is indented below another",
                here,
                labels=(Label(_place(source, words, 0), "it is read as part of this one"),),
                help="line it up with the instruction above",
            )
        if at == 1 and words[0].text in starts and "EQUAL" in wanted:
            pass
    if at == 1 and words[0].text in starts and wanted <= {"EQUAL", "LSQB"}:
        where = "an outline, where only edges stand" if _is_edge(expected) else "this block"
        return error(
            "misplaced",
            f"`{words[0].text}` does not belong here: each line is `NAME = …`",
            _place(source, words, 0),
            help="indent it less, to stand beside the head of this block" if where else "",
        )
    bracket = _bracket(source, words, at)
    if bracket:
        return bracket
    if token.text in _COMPARISONS and token.kind == "sign" and {"AND", "OR", "$END"} & wanted:
        if any(word.kind == "sign" and word.text in _COMPARISONS for word in words[:at]):
            return error(
                "chained-comparison",
                "two values are compared at a time",
                here,
                label="a second comparison",
                help="write it as two, like `1 < x and x < 3`",
            )
    if token.kind == "word" and token.text not in NEVER_NAMES:
        meant = nearest(token.text, _spelled(wanted, parser))
        if meant:
            return error(
                "unexpected",
                f"{shown} cannot stand here: did you mean `{meant}`?",
                here,
                help=_form(line, words),
            )
    comes = _comes(words, at, wanted, parser)
    if token.kind == "end":
        message = f"the instruction stops short: {comes}"
    elif token.kind == "word" and token.text in NEVER_NAMES and "NAME" in wanted:
        message = f"{shown} cannot be a name: {comes}"
    else:
        message = f"{shown} cannot stand here: {comes}"
    return error("unexpected", message, here, help=_form(line, words))


def no_instruction(
    source: Source, words: list[Token], start: str, starts: dict[str, frozenset[str]]
) -> Diagnostic:
    """The first word begins no instruction, or one that belongs elsewhere."""
    first = words[0]
    here = _place(source, words, 0)
    shown = _shown(first)
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
    meant = nearest(first.text, starts[start]) or nearest(
        first.text, frozenset().union(*starts.values())
    )
    question = f": did you mean `{meant}`?" if meant else ""
    return error(
        "no-instruction",
        f"{shown} is not an instruction{question}",
        here,
        help="" if meant else f"to give something a name, write `{_cut(first.text)} = …`",
    )


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


def in_order(found: list[Diagnostic], most: int) -> tuple[Diagnostic, ...]:
    """Sorted by place, each said once, and no more than a person can use."""
    found.sort(key=lambda one: one.span.start if one.span else -1)
    if len(found) > most:
        rest = Diagnostic(
            "error",
            "too-many",
            f"there is more wrong than these {most}: it is not listed",
            found[most].span,
        )
        return (*found[:most], rest)
    return tuple(found)


def _is_edge(expected: list[str]) -> bool:
    return "EQUAL" in expected


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


def _comes(words: list[Token], at: int, wanted: frozenset[str], parser: Parser) -> str:
    """What could stand at words[at], as a clause."""
    if at == 0:
        return "here comes a name" if wanted == {"NAME"} else "here comes a value, like `4 cm`"
    last = words[at - 1]
    after = f"after {_shown(last)} comes"
    if "QUANTITY" in wanted:
        place = "WHERE" in wanted
        said = None if place and last.text in ("at", "by", "from") else _VALUE.get(last.text)
        if not said and place:
            said = (
                "a value or a point, like `4 cm` or `waist down 4 cm`"
                if "NOT" in wanted
                else "a point, like `waist` or `waist down 4 cm`"
            )
        return f"{after} {said or 'a value, like `4 cm`'}"
    if "NAME" in wanted:
        said = _NAME.get(last.text, "a name")
        return f"{after} {said}"
    if "TEXT" in wanted and len(wanted) == 1:
        return f'{after} a text in quotes, like `"Skirt"`'
    said_words = _spelled(wanted - _AFTER_ANY_POINT, parser) or _spelled(wanted, parser)
    shown = [f"`{word}`" for word in sorted(said_words)]
    if not shown:
        shown = [f"`{sign}`" for sign in sorted(_signs(wanted, parser))][:4]
    if "$END" in wanted:
        if not shown or "$END" in wanted and not _spelled(wanted - _AFTER_ANY_POINT, parser):
            return f"the instruction could end after {_shown(last)}"
        shown.append("the end of the instruction")
    return f"{after} {_list(shown)}"


def _spelled(wanted: frozenset[str], parser: Parser) -> list[str]:
    return [
        word
        for word, name in parser.tables.literals.items()
        if name in wanted and word[0].isalpha()
    ]


def _signs(wanted: frozenset[str], parser: Parser) -> list[str]:
    return [
        word
        for word, name in parser.tables.literals.items()
        if name in wanted and not word[0].isalpha()
    ]


def _list(items: list[str]) -> str:
    if len(items) < 2:
        return "".join(items)
    return ", ".join(items[:-1]) + " or " + items[-1]


def _form(line: Line, words: list[Token]) -> str:
    example = EXAMPLES.get(words[0].text) if words and words[0].kind == "word" else None
    if example and not (len(words) > 1 and words[1].text == "="):
        return f"write it like `{example}`"
    return ""


def _place(source: Source, words: list[Token], at: int) -> Span:
    """Where to point; at the end of an instruction, just behind its last word."""
    token = words[at]
    return Span(source, token.start, token.end)


def _shown(token: Token) -> str:
    if token.kind == "end":
        return "the end"
    if token.kind == "text":
        return f'`"{_cut(token.text)}"`'
    return f"`{_cut(token.text)}`"


def _cut(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"
