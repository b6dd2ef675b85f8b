"""`oaktag ask`."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result


# The dart has an intake of 1.6 cm and a length of 8 cm.
@pytest.mark.parametrize(
    ("expr", "value", "unit"),
    [
        ("length(panel.waist)", 100, "mm"),
        ("sewn(panel.waist)", 84, "mm"),
        ("panel.waist_dart.intake", 16, "mm"),
        ("area(panel)", 20000, "mm²"),
        ("panel.waist_dart.point", [50, -80], "mm"),
        ("panel.foot_right", [100, -200], "mm"),
        ("atan(1)", 45, "deg"),
        ("angle(panel.top_right, origin, panel.foot_left)", 90, "deg"),
        ("tucks", 2, ""),
        ("1/4", 0.25, ""),
        ("depth > 10 cm", True, ""),
        ("length(panel.side) = 20 cm", True, ""),
        ("not yes", False, ""),
    ],
)
def test_for_other_programs(
    oaktag: Callable[..., Result], expr: str, value: Any, unit: str
) -> None:
    result = oaktag("ask", "panel.oak", "--json", expr)
    assert result.exit_code == 0, result.stderr
    (answer,) = json.loads(result.stdout)
    assert list(answer) == ["expr", "value", "unit"]
    assert (answer["expr"], answer["unit"]) == (expr, unit)
    if isinstance(value, bool):
        assert answer["value"] is value
    else:
        assert answer["value"] == pytest.approx(value, abs=1e-6)


def test_in_the_units_of_the_file(oaktag: Callable[..., Result]) -> None:
    assert oaktag("ask", "panel.oak", "sewn(panel.waist)").stdout == "8.4 cm\n"
    assert oaktag("ask", "panel.oak", "depth > 10 cm").stdout == "yes\n"


def test_several_questions(oaktag: Callable[..., Result]) -> None:
    result = oaktag("ask", "panel.oak", "sewn(panel.waist)", "tucks")
    assert result.stdout == "sewn(panel.waist) = 8.4 cm\ntucks = 2\n"


def test_things_are_told_in_words(oaktag: Callable[..., Result]) -> None:
    assert "10 cm" in oaktag("ask", "panel.oak", "panel.waist").stdout


@pytest.mark.parametrize(
    ("expr", "words"),
    [
        ("sewn(panel.waits)", "`waist`"),
        ("4 +", "the question:1"),
        ("how long is the waist?", 'ask "length(panel.waist)" or "area(panel)"'),
        ("length of the zip", 'ask "length(panel.waist)" or "area(panel)"'),
        ("zip", 'ask "length(panel.waist)" or'),
        ("length(hem)", "write `panel.hem`"),
        ("", ""),
        ("4 cm + 1", "the question:1"),
        ("1/0", "the question:1"),
        ("\x00", ""),
    ],
)
def test_questions_that_are_wrong(oaktag: Callable[..., Result], expr: str, words: str) -> None:
    result = oaktag("ask", "panel.oak", "depth", expr)
    assert result.exit_code == 2
    assert result.stdout == "depth = 20 cm\n"  # the other question is answered all the same
    assert words in result.stderr
    assert "error:" in result.stderr


def test_a_pattern_that_is_wrong(oaktag: Callable[..., Result]) -> None:
    result = oaktag("ask", "broken.oak", "--json", "depth")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "broken.oak:9" in result.stderr


def test_a_body_is_not_asked(oaktag: Callable[..., Result]) -> None:
    result = oaktag("ask", "body.oak", "waist_girth")
    assert result.exit_code == 2
    assert "--body body.oak" in result.stderr
