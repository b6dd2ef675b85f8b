"""The canonical layout: keeps meaning and comments, reaches a fixed point."""

from __future__ import annotations

from pathlib import Path

import pytest

from oaktag.lang.diagnostics import Mistake
from oaktag.lang.source import Source
from oaktag.lang.syntax.format import formatted
from oaktag.lang.syntax.parse import parse

ROOT = Path(__file__).parents[2]
PROGRAMS = sorted((ROOT / "tests" / "programs").glob("*.oak"))


def fmt(text: str) -> str:
    return formatted(Source("test.oak", text))


@pytest.mark.parametrize("program", PROGRAMS, ids=lambda program: program.stem)
def test_the_programs_of_the_page_are_in_canonical_layout(program: Path) -> None:
    text = program.read_text(encoding="utf-8")
    assert fmt(text) == text


def test_an_untidy_file() -> None:
    untidy = (
        '\n\npattern   "Untidy"#by hand\n\n\n\nmeasure waist_girth=72cm ,hip_girth =  96   cm\n'
        "piece   front   # the front\n"
        "     #drawn\n"
        "     a=p down 1  1/2in*-n-  -3 cm\n"
        "     b  =waist/ 2+hip/3 - max( 1,2 )-x . y [ 1 .. 3 ]\n\n\n"
        "     # on its own\n\n"
        "     dart d on  e at 1/2\n"
        "                 intake 3cm length (a+b)\n"
        "         # still the dart\n"
        "         ending 3cm   short\n"
        "     curve c=p curve to q leaving -20deg\n"
        "     # the end of the piece\n\n"
        "# finishing\n"
        "allow 1.5cm   on a ,b  \n\n\n"
        "# the end\n\n"
    )
    tidy = (
        'pattern "Untidy"  # by hand\n\nmeasure waist_girth = 72 cm, hip_girth = 96 cm\n'
        "piece front  # the front\n"
        "  # drawn\n"
        "  a = p down 1 1/2 in * -n - -3 cm\n"
        "  b = waist / 2 + hip/3 - max(1, 2) - x.y[1..3]\n\n"
        "  # on its own\n\n"
        "  dart d on e at 1/2\n"
        "    intake 3 cm length (a + b)\n"
        "    # still the dart\n"
        "    ending 3 cm short\n"
        "  curve c = p curve to q leaving -20 deg\n"
        "  # the end of the piece\n\n"
        "# finishing\n"
        "allow 1.5 cm on a, b\n\n"
        "# the end\n"
    )
    assert fmt(untidy) == tidy
    assert fmt(tidy) == tidy
    assert parse(Source("a", untidy)) == parse(Source("b", tidy))


def test_minus() -> None:
    assert fmt("x = a -b\n") == "x = a - b\n"
    assert fmt("x = a-b - -c\n") == "x = a - b - -c\n"
    assert fmt("x = (-a) * - b\n") == "x = (-a) * -b\n"
    assert fmt("x = a\n  - 3 cm\n") == "x = a\n  - 3 cm\n"
    assert fmt("curve c = p curve to q arriving -3 deg") == (
        "curve c = p curve to q arriving -3 deg\n"
    )
    assert fmt("x = length - 3 cm\n") == "x = length - 3 cm\n"


def test_brackets_and_texts() -> None:
    assert fmt("x = max( a , b [ 1 ] )\n") == "x = max(a, b[1])\n"
    assert fmt("spread e by(a + b)\n") == "spread e by (a + b)\n"
    assert fmt('text "two  spaces # here"at p\n') == 'text "two  spaces # here" at p\n'
    assert fmt("fold-trim   d\n") == "fold-trim d\n"
    assert fmt("x = fold-trim\n") == "x = fold - trim\n"


def test_comments() -> None:
    assert fmt("#a\n##b\n#\n#!c\n") == "# a\n##b\n#\n#!c\n"
    assert fmt("x = 1     # a\n") == "x = 1  # a\n"


def test_empty() -> None:
    assert fmt("") == ""
    assert fmt("\n  \n\n") == ""


def test_a_slip_in_writing_is_left_as_it_is() -> None:
    assert fmt("piece p\n     x = 2,5  cm\n     y=1\n") == "piece p\n  x = 2,5  cm\n  y = 1\n"


@pytest.mark.parametrize("text", ["\tx = 1\n", "piece p\n    x = 1\n  y = 1\n", " x = 1\n"])
def test_indentation_that_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(Mistake):
        fmt(text)
