"""Measures no body has."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.evaluate.plausible import RANGES
from oaktag.lang.project.chart import chart_body

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

CHART = Path(__file__).parents[3] / "stdlib" / "charts" / "en13402_women.csv"


@pytest.mark.parametrize(
    ("given", "help"),
    [
        ("7.2 cm", "did you mean 72 cm?"),
        ("720 cm", "did you mean 72 cm?"),
        ("28 cm", "was it measured in inches: 28 in?"),
        ("2 mm", "measure again; if it is right, leave it"),
    ],
)
def test_a_slip_is_told_with_what_was_meant(board: Board, given: str, help: str) -> None:
    _, said = board.result(
        f"measure waist_girth = {given}\npiece band\n  strip waist_girth by 4 cm\n"
    )
    assert [(one.severity, one.code, one.help) for one in said] == [
        ("warning", "implausible", help)
    ]


@pytest.mark.parametrize("given", ["45 cm", "72 cm", "28 in", "160 cm"])
def test_children_and_large_bodies_are_bodies(board: Board, given: str) -> None:
    _, said = board.result(
        f"measure waist_girth = {given}\npiece band\n  strip waist_girth by 4 cm\n"
    )
    assert said == ()


def test_a_measure_of_a_used_pattern_is_told_of_where_it_is_used(board: Board) -> None:
    band = 'pattern "Band"\nmeasure waist_girth\npiece band\n  strip waist_girth by 4 cm\n'
    _, said = board.result(
        'use "band.oak" as other\npiece band from other.band\n',
        {"band.oak": band},
        waist_girth=7200.0,
    )
    [one] = said
    assert (one.code, one.help) == ("implausible", "did you mean 72 cm?")
    assert one.span is not None
    assert one.span.text == '"band.oak"'


def test_every_size_of_the_chart_lies_well_within() -> None:
    text = CHART.read_text(encoding="utf-8")
    sizes = [line.split(",")[0] for line in text.splitlines() if line and line[0] != "#"][1:]
    assert len(sizes) == 12
    for size in sizes:
        for name, (amount, _) in chart_body(text, CHART.name, size).values.items():
            low, high = RANGES.get(name, (0.0, 1e9))
            assert low * 1.25 <= amount <= high / 1.25, (size, name, amount)
