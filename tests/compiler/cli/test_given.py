"""--body, --chart, --size and --set."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result


# The panel is an eighth of the waist wide.
@pytest.mark.parametrize(
    ("given", "width"),
    [
        ((), "10 cm"),
        (("--body", "body.oak"), "12 cm"),
        (("--chart", "chart.csv", "--size", "large"), "11 cm"),
        (("--set", "waist_girth = 40 cm"), "5 cm"),
        (("--set", "waist_girth=16in"), "5.08 cm"),
        (("--set", "waist_girth=16in", "--body", "body.oak"), "5.08 cm"),
    ],
)
def test_bodies(oaktag: Callable[..., Result], given: tuple[str, ...], width: str) -> None:
    result = oaktag("ask", "panel.oak", "length(panel.waist)", *given)
    assert (result.exit_code, result.stdout) == (0, f"{width}\n")


@pytest.mark.parametrize(
    ("setting", "expr", "value"),
    [
        ("depth=12 cm", "length(panel.side)", "12 cm"),
        ("depth = 12 cm + 5 mm", "length(panel.side)", "12.5 cm"),
        ("tucks=3", "tucks", "3"),
    ],
)
def test_choices(oaktag: Callable[..., Result], setting: str, expr: str, value: str) -> None:
    assert oaktag("ask", "panel.oak", expr, "--set", setting).stdout == f"{value}\n"


def test_several_choices(oaktag: Callable[..., Result]) -> None:
    result = oaktag("ask", "panel.oak", "depth * tucks", "--set", "tucks=3", "--set", "depth=12 cm")
    assert result.stdout == "36 cm\n"


def test_a_build_tells_what_was_set(oaktag: Callable[..., Result]) -> None:
    """For the files bear the same name, whatever was set."""
    given = ("--set", "depth=12 cm", "--set", "tucks=3", "--set", "waist_girth=40 cm")
    lines = oaktag("build", "panel.oak", *given).stdout.splitlines()
    assert lines[:2] == ["Panel", "set: depth 12 cm, tucks 3, waist girth 40 cm"]
    assert "set:" not in oaktag("build", "panel.oak").stdout


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("--set", "depht=12 cm"), "did you mean `depth`?"),
        (("--set", "zzz=12 cm"), "`depth`, `tucks`, `waist_girth`"),
        (("--set", "depth=12"), "12 has no unit; write --set depth=12cm"),
        (("--set", "tucks=2.5"), "`tucks` is a whole number, and this is a number"),
        (("--set", "depth=12 cm +"), "--set depth=12 cm +: "),
        (("--set", "depth=waist_girth"), "waist_girth"),
        (("--set", "depth=1/0 * 1 cm"), "--set depth=1/0 * 1 cm: "),
        (("--set", "depth"), 'one pair of quotes, like --set "depth = 60 cm"'),
        (("--set", "depth", "=", "60", "cm"), 'one pair of quotes, like --set "depth = 60 cm"'),
        (
            ("--set", "tucks=abc"),
            "`tucks` is a whole number, and abc is none; write a value like 2",
        ),
        (("--set", "depth=2+2"), "and this is a whole number; write a value like 20 cm"),
        (("--set", "=3"), "write --set NAME=VALUE"),
        (("--set", "depth=1 cm", "--set", "depth=2 cm"), "`depth` is set twice"),
        (("--size", "large"), "--chart CSV is missing"),
        (("--chart", "chart.csv"), "--size NAME is missing"),
        (("--chart", "chart.csv", "--size", "large", "--body", "body.oak"), "not both"),
        (("--body", "bodi.oak"), "there is no file `bodi.oak`; did you mean `body.oak`?"),
        (("--body", "body"), "did you mean `body.oak`?"),
        (("--body", "sizes/body.oak"), "there is no folder `sizes` either"),
        (("--chart", "no.csv", "--size", "large"), "no file or folder `no.csv`"),
        (("--body", "no.oak"), "no.oak"),
    ],
)
def test_calls_that_are_wrong(
    oaktag: Callable[..., Result], given: tuple[str, ...], words: str
) -> None:
    result = oaktag("check", "panel.oak", *given)
    assert result.exit_code == 2
    assert words in result.stderr
    assert result.stdout == ""


def test_a_choice_out_of_its_range(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "panel.oak", "--set", "depth=50 cm")
    assert result.exit_code == 1
    assert "`depth` is 50 cm, but it goes from 10 cm to 40 cm" in result.stdout
    result = oaktag("check", "panel.oak", "--set", "depth=500 mm")
    assert "`depth` is 500 mm, but it goes from 10 cm to 40 cm" in result.stdout
    told = oaktag("build", "panel.oak", "--set", "depth=15 in").stdout.splitlines()
    assert told[1] == "set: depth 15 in"


def test_a_size_that_the_chart_lacks(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "panel.oak", "--chart", "chart.csv", "--size", "medium")
    assert result.exit_code == 1
    assert "no size `medium`" in result.stdout
    assert "there are `small`, `large`" in result.stdout
    told = oaktag("check", "panel.oak", "--chart", "en13402_women", "--size", "14").stdout
    assert "try: there are the sizes 1 to 12\n" in told
    told = oaktag("check", "panel.oak", "--chart", "chart.csv", "--size", "larg").stdout
    assert "try: choose `large`; there are `small`, `large`\n" in told


def test_a_chart_that_is_no_text(oaktag: Callable[..., Result]) -> None:
    Path("chart.csv").write_bytes(b"\xff\xfe\x00")
    result = oaktag("check", "panel.oak", "--chart", "chart.csv", "--size", "large")
    assert result.exit_code == 1
