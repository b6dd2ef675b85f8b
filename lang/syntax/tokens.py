"""Words, numbers, quantities, texts and signs of one instruction."""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Diagnostic, error
from oaktag.lang.source import Span
from oaktag.lang.units import MILLIMETRES

if TYPE_CHECKING:
    from oaktag.lang.source import Source

MOST = 2000  # tokens in one instruction
LONGEST_NAME = 80

_UNIT = r"mm|cm|m|in|ft|yd|deg"
_DECIMAL = r"[0-9]+(?:\.[0-9]+)?"
# In order: a quantity, the slips made in writing one, a bare number, a word, a text, a sign.
_TOKEN = re.compile(
    rf"""
    [ \t]+
  | (?P<quantity>
        (?: [0-9]+[ \t]+[0-9]+/[0-9]+ | [0-9]+/[0-9]+ | {_DECIMAL} ) [ \t]* (?:{_UNIT}) (?!\w) )
  | (?P<comma>      [0-9]+,[0-9]+ [ \t]* (?:{_UNIT}) (?!\w) )
  | (?P<dots>       [0-9]+(?:\.[0-9]+){{2,}} (?:[ \t]*(?:{_UNIT})(?!\w))? )
  | (?P<open>       [0-9]+\.(?![.0-9]) (?:[ \t]*(?:{_UNIT})(?!\w))? )
  | (?P<vulgar>     (?:[0-9]+[ \t]*)?[¼½¾⅐-⅞] (?:[ \t]*(?:{_UNIT})(?!\w))? )
  | (?P<inches>     {_DECIMAL}(?:[ ]+[0-9]+/[0-9]+|/[0-9]+)?(?:"|'|[ ]?[″′]) )
  | (?P<degrees>    {_DECIMAL}[ \t]*[°º] )
  | (?P<mixed>      [0-9]+[ \t]+[0-9]+/[0-9]+(?![\w.]) )
  | (?P<attached>   {_DECIMAL}[^\W\d]\w* )
  | (?P<number>     {_DECIMAL} )
  | (?P<word>       [^\W\d]\w* )
  | (?P<text>       "[^"\n]*" )
  | (?P<unclosed>   "[^\n]* )
  | (?P<quotes>     [“”„‟«»‘’‚'`] (?:[^“”„‟«»‘’‚'`"\n]*[“”„‟«»‘’‚'`])? )
  | (?P<point>      \.[0-9]+ (?:[ \t]*(?:{_UNIT})(?!\w))? )
  | (?P<sign>       <=|>=|\.\.|[<>=+\-*/()\[\],.] )
  | (?P<stray>      . )
    """,
    re.VERBOSE | re.DOTALL,
)
_FOLD_TRIM = re.compile(r"fold-trim(?!\w)")

_MEANT = {
    "&": "and", "|": "or", "!": "not", "−": "-", "–": "-", "—": "-", "×": "*", "·": "*",
    "÷": "/", "≤": "<=", "≥": ">=",
    "，": ",", "．": ".", "：": "=", ":": "=", "＝": "=", "（": "(", "）": ")",
}  # fmt: skip
_HELP = {
    ";": "begin a new line for each instruction",
    "%": "write a share as a fraction, like `1/2`",
    "^": "write a square as a product, like `a * a`",
}
_ENDINGS = ":：;{"  # with which other languages end a line
_UNITS_MEANT = {
    "inch": "in", "inches": "in", "ins": "in", "foot": "ft", "feet": "ft", "yard": "yd",
    "yards": "yd", "yds": "yd", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm",
    "centimeters": "cm", "cms": "cm", "millimetre": "mm", "millimetres": "mm",
    "millimeter": "mm", "millimeters": "mm", "mms": "mm", "metre": "m", "metres": "m",
    "meter": "m", "meters": "m", "degree": "deg", "degrees": "deg", "degs": "deg",
}  # fmt: skip
UNITS_SAID = "lengths are in mm, cm, m, in, ft or yd, angles in deg"


class Token:
    """kind: `word`, `number`, `quantity`, `text`, `sign` or `end` (of the instruction).

    value: the number, or the quantity in millimetres or degrees. text: as written, but names in
    NFC and texts without their quotes.
    """

    __slots__ = ("end", "kind", "start", "text", "unit", "value")

    def __init__(
        self, kind: str, text: str, start: int, end: int, value: float = 0.0, unit: str = ""
    ) -> None:
        self.kind = kind
        self.text = text
        self.start = start
        self.end = end
        self.value = value
        self.unit = unit


def tokens(source: Source, parts: list[tuple[int, int]]) -> tuple[list[Token], list[Diagnostic]]:
    """Splits the stretches of an instruction; says what is malformed, each slip once.

    The last token is the `end`, which has no length.
    """
    text = source.text
    out: list[Token] = []
    wrong: list[Diagnostic] = []
    match = _TOKEN.match
    for start, stop in parts:
        at = start
        while at < stop:
            found = match(text, at, stop)
            assert found is not None
            kind, end = found.lastgroup, found.end()
            if kind is None:
                at = end
                continue
            written = found.group()
            if kind == "word":
                if end < stop and text[end] > "\x7f":
                    end = _with_marks(text, end, stop)
                    written = text[at:end]
                if written == "fold" and not out and _FOLD_TRIM.match(text, at, stop):
                    written, end = "fold-trim", at + 9
                elif not written.isascii():
                    written = unicodedata.normalize("NFC", written)
                if len(written) > LONGEST_NAME:
                    wrong.append(_too_long(source, at, end))
                out.append(Token("word", written, at, end))
            elif kind == "sign":
                out.append(Token("sign", written, at, end))
            elif kind == "number":
                value = float(written)
                if value > 1e15:
                    wrong.append(_too_large(source, at, end))
                out.append(Token("number", written, at, end, value))
            elif kind == "quantity":
                token = _quantity(written, at, end)
                if token is None:
                    wrong.append(_by_nothing(source, at, end))
                elif not token.value < 1e15:
                    wrong.append(_too_large(source, at, end))
                else:
                    out.append(token)
            elif kind == "text":
                out.append(Token("text", written[1:-1], at, end))
            else:
                wrong.append(_malformed(source, kind, written, at, end))
            at = end
            if len(out) + len(wrong) > MOST:
                break
        if len(out) + len(wrong) > MOST:
            wrong.append(
                error(
                    "too-long",
                    "this instruction is too long to follow",
                    Span(source, parts[0][0], parts[0][1]),
                    help="divide it into several",
                )
            )
            break
    last = parts[-1][1]
    out.append(Token("end", "", last, last))
    return out, wrong


def _with_marks(text: str, at: int, stop: int) -> int:
    """The end of a word that goes on with accents written as characters of their own."""
    while at < stop:
        letter = text[at]
        if not (letter.isalnum() or letter == "_" or unicodedata.category(letter)[0] == "M"):
            break
        at += 1
    return at


def _quantity(written: str, start: int, end: int) -> Token | None:
    figures = written.rstrip("cdefgimnty \t")
    unit = written[len(figures) :].strip()
    value = 0.0
    for figure in figures.split():
        over, _, under = figure.partition("/")
        if under:
            if float(under) == 0:
                return None
            value += float(over) / float(under)
        else:
            value += float(over)
    return Token("quantity", written, start, end, value * MILLIMETRES.get(unit, 1.0), unit)


def _malformed(source: Source, kind: str, written: str, start: int, end: int) -> Diagnostic:
    """One clear error for a slip in writing."""
    here = Span(source, start, end)
    tidy = _cut(" ".join(written[:200].split()))
    if kind == "comma":
        return error(
            "decimal-comma",
            f"`{tidy}`: decimals are written with a point",
            here,
            help=f"write `{tidy.replace(',', '.')}`",
        )
    if kind == "dots":
        whole, part, *_ = tidy.split(".")
        unit = tidy.lstrip("0123456789.")
        return error(
            "malformed-number",
            f"`{tidy}` has more than one decimal point",
            here,
            help=f"keep one, like `{whole}.{part}{unit}`",
        )
    if kind == "open":
        return error(
            "malformed-number",
            f"`{tidy}` has nothing after its decimal point",
            here,
            help=f"write `{tidy.replace('.', '', 1)}`",
        )
    if kind == "point":
        return error(
            "malformed-number",
            f"`{tidy}` has nothing before its decimal point",
            here,
            help=f"write `0{tidy}`",
        )
    if kind == "vulgar":
        return error(
            "malformed-number",
            f"`{tidy}`: fractions are written with a stroke",
            here,
            help=f"write `{_stroked(tidy)}`",
        )
    if kind == "inches":
        unit = "in" if written[-1] in '"″' else "ft"
        return error(
            "unknown-unit",
            f"`{tidy}` has no unit that can be read: {UNITS_SAID}",
            here,
            help=f"write `{tidy[:-1].strip()} {unit}`",
        )
    if kind == "degrees":
        return error(
            "unknown-unit",
            f"`{tidy}`: angles are written with deg",
            here,
            help=f"write `{tidy[:-1].strip()} deg`",
        )
    if kind == "mixed":
        whole, _, part = tidy.partition(" ")
        return error(
            "missing-unit",
            f"`{tidy}` has no unit",
            here,
            help=f"write `{tidy} in` for a length, `{whole} + {part}` for a number",
        )
    if kind == "attached":
        figures = re.match(_DECIMAL, written)
        assert figures is not None
        number, name = figures.group(), written[figures.end() :]
        return unknown_unit(number, name, here)
    if kind == "unclosed":
        helped = 'end it with `"` on the same line'
        if re.search(r"[0-9] *$", source.text[max(0, start - 20) : start]):
            helped += "; inches are written `in`"
        return error("unclosed-text", "this text is not closed", here, help=helped)
    if kind == "quotes":
        return error(
            "odd-quotes",
            f"{_cut(written)} has quotes that cannot be read",
            here,
            help='texts stand between straight double quotes, like `"Skirt"`',
        )
    if not written.isprintable() or written.isspace():
        what = "an unusual space" if written.isspace() else "a character that cannot be seen"
        return error(
            "stray-character",
            f"here stands {what} (U+{ord(written):04X})",
            here,
            help="take it out, or put a plain space",
        )
    meant = _MEANT.get(written, "")
    if written in _ENDINGS and _ends_row(source.text, end):
        help = f"leave out the `{written}`"
    else:
        help = f"write `{meant}`" if meant else _HELP.get(written, "take it out")
    return error("stray-character", f"`{written}` means nothing here", here, help=help)


def _ends_row(text: str, at: int) -> bool:
    """Whether nothing but a remark follows on this line."""
    stop = text.find("\n", at)
    return not text[at : stop if stop >= 0 else len(text)].partition("#")[0].strip()


def unknown_unit(number: str, name: str, here: Span) -> Diagnostic:
    """`4 inches`, `12cmm`."""
    meant = _UNITS_MEANT.get(name.lower(), "")
    if not meant and name.lower() in MILLIMETRES:
        meant = name.lower()
    return error(
        "unknown-unit",
        f"`{_cut(name)}` is not a unit: {UNITS_SAID}",
        here,
        help=f"write `{number} {meant}`" if meant else "",
    )


def is_misnamed_unit(name: str) -> bool:
    return name.lower() in _UNITS_MEANT or name.lower() in MILLIMETRES


def _stroked(tidy: str) -> str:
    """`1½ in` as `1 1/2 in`."""
    out = ""
    for letter in tidy:
        spelled = unicodedata.normalize("NFKC", letter).replace("\u2044", "/")
        out += f" {spelled} " if "/" in spelled else letter
    return " ".join(out.split())


def _too_long(source: Source, start: int, end: int) -> Diagnostic:
    return error(
        "long-name",
        f"this name has more than {LONGEST_NAME} letters",
        Span(source, start, end),
        help="shorten it",
    )


def _too_large(source: Source, start: int, end: int) -> Diagnostic:
    here = Span(source, start, end)
    return error("large-number", "this number is too large", here, help="write a smaller one")


def _by_nothing(source: Source, start: int, end: int) -> Diagnostic:
    return error(
        "malformed-number",
        "a fraction cannot have 0 below its stroke",
        Span(source, start, end),
        help="write another figure below it, like `1/2`",
    )


def _cut(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"
