"""`adjust`: the value that makes a condition hold, or both end values where there is none."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from oaktag.compiler.evaluate.adjusting import root
from oaktag.compiler.paper.quantity import Quantity

FLOUNCE = """\
choose slashes = {slashes}
adjust opening from {low} to {high} until length(flounce.base) = {sweep}
piece flounce
  strip 72 in by 12 in
  repeat i from 1 to slashes
    line slash[i] = on base i/(slashes + 1) from start
      to on top i/(slashes + 1) from start
  spread slash[1..slashes] by opening at base hinged on top
"""


def flounce(slashes=6, low="0 in", high="9 in", sweep="112 in"):
    return FLOUNCE.format(slashes=slashes, low=low, high=high, sweep=sweep)


def value(pattern, name):
    found = pattern.names[(name, None)]
    assert isinstance(found, Quantity)
    return found.amount


@pytest.mark.parametrize("slashes", [1, 6, 24])
def test_an_edge_is_swept_to_a_given_total(board, look, slashes):
    """The base gains what each slash opens: 40 inches shared by them all."""
    pattern = board.pattern(
        flounce(slashes, high="42 in" if slashes == 1 else "9 in")
        if slashes > 1
        else flounce(slashes, high="20 in", sweep="90 in")
    )
    total = 112 if slashes > 1 else 90
    assert look.edge(pattern.pieces["flounce"], "base").length == pytest.approx(
        total * 25.4, abs=1e-5
    )
    assert value(pattern, "opening") == pytest.approx((total - 72) * 25.4 / slashes, abs=1e-5)


def test_the_condition_may_stand_on_either_side_and_in_any_amount(board):
    text = """
adjust {name} from {low} to {high} until {condition}
piece panel
  strip 30 cm by {width}
"""
    for name, low, high, condition, width, found in (
        ("wide", "1 cm", "90 cm", "area(panel) = 30 cm * 20 cm", "wide", 200),
        ("wide", "1 cm", "90 cm", "30 cm * 20 cm = area(panel)", "wide", 200),
        ("share", "0", "9", "length(panel.end) = 20 cm", "5 cm * share", 4),
        ("lean", "1 deg", "80 deg", "length(panel.end) = 15 cm", "30 cm * sin(lean)", 30),
    ):
        pattern = board.pattern(
            text.format(name=name, low=low, high=high, condition=condition, width=width)
        )
        assert value(pattern, name) == pytest.approx(found, abs=1e-4)


def test_it_is_the_same_root_that_scipy_finds(board):
    """The cap of a sleeve as high as its length asks for."""
    text = """
adjust cap from 4 cm to 20 cm until length(sleeve.front_cap) = 24 cm
piece sleeve
  crown = origin
  pit = crown right 16 cm down cap
  outline
    front_cap = crown curve to pit leaving right arriving right
    under = pit to pit down 20 cm
    hem = pit down 20 cm to crown down cap down 20 cm
    middle = crown down cap down 20 cm to crown
"""
    found = value(board.pattern(text), "cap")

    def apart(cap):
        drawn = board.pattern(
            text.split("until")[0].replace("adjust cap from 4 cm to 20 cm ", "")
            + f"cap = {cap!r} mm\n"
            + text[text.index("piece") :]
        )
        return drawn.pieces["sleeve"].edges[0].length - 240

    assert found == pytest.approx(brentq(apart, 40, 200, xtol=1e-9), abs=1e-5)


def test_one_adjust_inside_another(board, look):
    """Length and width of a band, each depending on the other."""
    text = """
adjust long from 1 cm to 90 cm until length(band.base) + length(band.end) = 50 cm
adjust wide from 1 cm to 90 cm until area(band) = 400 cm * 1 cm
piece band
  strip long by wide
"""
    pattern = board.pattern(text)
    long, wide = value(pattern, "long"), value(pattern, "wide")
    assert long + wide == pytest.approx(500, abs=0.01)
    assert long * wide == pytest.approx(40_000, abs=1)
    assert look.edge(pattern.pieces["band"], "base").length == long


def test_a_later_adjust_may_need_the_value_of_an_earlier_one(board):
    text = """
adjust first from 1 cm to 90 cm until length(a.base) = 30 cm
adjust second from 1 cm to 90 cm until length(b.base) = length(a.base) + 12 cm
piece a
  strip 2 * first by 4 cm
piece b
  strip first + second by 4 cm
"""
    pattern = board.pattern(text)
    assert value(pattern, "first") == pytest.approx(150, abs=1e-5)
    assert value(pattern, "second") == pytest.approx(270, abs=1e-5)


def test_a_used_pattern_is_not_drawn_again_for_each_trial(board, monkeypatch):
    from oaktag.compiler.evaluate import program

    drawn = []
    real = program._Work._use

    def counted(self, statement):
        drawn.append(statement.alias.name)
        real(self, statement)

    monkeypatch.setattr(program._Work, "_use", counted)
    board.pattern(
        'use "block.oak" as block\n'
        "adjust wide from 1 cm to 90 cm until area(band) = area(block.part)\n"
        "piece band\n  strip 10 cm by wide\n",
        files={"block.oak": 'pattern "Block"\npiece part\n  strip 10 cm by 8 cm\n'},
    )
    assert drawn == ["block"]


def test_it_may_adjust_a_choice_of_a_used_pattern(board):
    pattern = board.pattern(
        "adjust deep from 1 cm to 90 cm until area(band) = 12 cm * 10 cm\n"
        'use "block.oak" as block\n  deep = deep\npiece band from block.part\n',
        files={
            "block.oak": 'pattern "Block"\nchoose deep = 5 cm\npiece part\n  strip 10 cm by deep\n'
        },
    )
    assert value(pattern, "deep") == pytest.approx(120, abs=1e-5)


def test_an_end_that_cannot_be_drawn_is_no_hindrance(board):
    """Opened by nine inches the flounce would lie on itself; the answer lies before that."""
    shut_out = board.wrong(
        flounce(high="9 in").replace(
            "adjust opening from 0 in to 9 in until length(flounce.base) = 112 in",
            "opening = 20 in",
        )
    )
    assert "on itself" in shut_out[0].message
    pattern = board.pattern(flounce(high="20 in"))
    assert value(pattern, "opening") == pytest.approx(40 * 25.4 / 6, abs=1e-5)


# ---------------------------------------------------------------- no solution


def test_without_solution_both_end_values_are_shown(board):
    (wrong,) = board.wrong(flounce(high="2 in"))
    assert wrong.code == "no-solution"
    assert wrong.message == (
        "no `opening` between 0 in and 2 in brings both sides together: at 0 in they are 72 in and "
        "112 in; at 2 in they are 84 in and 112 in"
    )
    assert wrong.span.text == "length(flounce.base) = 112 in"
    assert wrong.help == "widen the range, or change what is asked for"


def test_an_end_that_cannot_be_drawn_is_said(board):
    """What can be drawn at the far end is shown instead."""
    (wrong,) = board.wrong(flounce(high="48 in", sweep="400 in"))
    assert wrong.code == "no-solution"
    assert "at 0 in they are 72 in and 400 in; at 48 in the pieces cannot be drawn; at " in (
        wrong.message
    )
    assert wrong.message.endswith("and 400 in")


def test_where_nothing_can_be_drawn_the_reason_is_given(board):
    (wrong,) = board.wrong(flounce(low="50 in", high="60 in"))
    assert wrong.code != "no-solution"
    assert wrong.help


def test_a_jump_is_no_solution(board):
    """A count in steps never comes to just that."""
    (wrong,) = board.wrong(
        """
        adjust wide from 1 cm to 90 cm until round(length(band.base), 10 cm) = 35 cm
        piece band
          strip wide by 4 cm
        """
    )
    assert wrong.code == "no-solution"
    assert "at 1 cm they are 0 cm and 35 cm" in wrong.message
    assert "at 90 cm they are 90 cm and 35 cm" in wrong.message


def test_what_is_wrong_with_a_piece_is_told_once(board):
    text = flounce().replace("hinged on top", "hinged on start")
    found = board.wrong(text)
    assert len(found) == 1, [one.message for one in found]


def test_a_piece_it_needs_that_is_wrong_by_itself_is_told_once(board):
    found = board.wrong(
        """
        adjust wide from 1 cm to 90 cm until area(band) = area(other)
        piece band
          strip wide by 4 cm
        piece other
          strip 0 cm by 4 cm
        """
    )
    assert len(found) == 1, [one.message for one in found]
    assert found[0].span.text == "0 cm"


def test_a_measure_that_is_missing_is_told_once(board):
    found = board.wrong(
        """
        measure arm
        adjust wide from 1 cm to 90 cm until area(band) = 30 cm * 30 cm
        piece band
          strip wide by arm
        """
    )
    assert [one.message for one in found] == ["no body gives `arm`, and it has no default"]


# ---------------------------------------------------------------- the search itself


@settings(max_examples=200)
@given(
    at=st.floats(0.01, 0.99),
    bend=st.floats(-3, 3),
    cut=st.floats(0, 1),
    size=st.sampled_from([1.0, 1e3, -50.0]),
)
def test_a_root_is_found_in_few_trials_though_ends_are_missing(at, bend, cut, size):
    """Of a curve that rises throughout, defined to just beyond its root or nearly so."""
    asked = []
    last = at + (1 - at) * cut

    def function(x):
        asked.append(x)
        if x > last + 0.05:
            return None
        return size * ((x - at) + bend / 4 * (math.sin(3 * x) - math.sin(3 * at)) / 3)

    found = root(function, 0.0, 1.0)
    assert found is not None
    assert abs(function(found)) <= 1e-3
    assert len(asked) <= 45


def test_a_straight_line_takes_four_trials():
    asked = []

    def function(x):
        asked.append(x)
        return 7 * x - 3

    assert root(function, 0.0, 1.0) == pytest.approx(3 / 7)
    assert len(asked) <= 4
