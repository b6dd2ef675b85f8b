"""Seams walked: lengths, the side that is eased, and notches along the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect import inspect
from oaktag.compiler.inspect.table import seam_table

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

STRIPS = """
piece long
  strip {long} cm by 20 cm
{notched_long}
piece short
  strip 50 cm by 20 cm
{notched_short}
"""


def strips(long: float, at_long: str = "", at_short: str = "") -> str:
    """Two strips with notches on their `base`, so many cm from the start."""

    def notches(places: str) -> str:
        return "\n".join(f"  notch on base at {at} cm from start" for at in places.split())

    return STRIPS.format(long=long, notched_long=notches(at_long), notched_short=notches(at_short))


def codes(board: Board, text: str) -> list[str]:
    return [one.code for one in inspect(board.pattern(text))]


SHORT_FIRST = "sew short.base from start to long.base from start"
LONG_FIRST = "sew long.base from start to short.base from start"


@pytest.mark.parametrize("sew", [SHORT_FIRST, LONG_FIRST])
def test_the_longer_side_is_eased_whichever_comes_first(board: Board, sew: str) -> None:
    assert codes(board, strips(51) + f"{sew} easing 1 cm") == []
    assert codes(board, strips(51) + f"{sew} easing 11 mm") == []  # within 1 mm
    assert codes(board, strips(51) + f"{sew} easing 12 mm") == ["unequal-seam"]
    assert codes(board, strips(51) + f"{sew} easing 5 mm") == ["unequal-seam"]
    assert codes(board, strips(80) + f"{sew} gathering") == []


def test_what_has_nothing_to_gather_is_told(board: Board) -> None:
    assert codes(board, strips(50) + f"{SHORT_FIRST} gathering") == ["nothing-gathered"]


@pytest.mark.parametrize(("long", "matches"), [(50.09, True), (50.11, False), (49.89, False)])
def test_a_millimetre_is_the_most(board: Board, long: float, matches: bool) -> None:
    assert codes(board, strips(long) + SHORT_FIRST) == ([] if matches else ["unequal-seam"])


@pytest.mark.parametrize("sew", [SHORT_FIRST, LONG_FIRST])
@pytest.mark.parametrize(
    ("at_long", "at_short", "meet"),
    [
        ("10", "10", True),  # no ease yet
        ("12", "10", True),  # all the ease before it
        ("11 33", "10 31", True),  # some before the first, the rest after it
        ("9", "10", False),  # the short side would have to be eased in
        ("14", "10", False),  # more than there is
        ("12 31", "10 30", False),  # all of it, and then some back
    ],
)
def test_ease_adds_up_along_the_seam(
    board: Board, sew: str, at_long: str, at_short: str, meet: bool
) -> None:
    found = codes(board, strips(52, at_long, at_short) + f"{sew} easing 2 cm")
    assert found == ([] if meet else ["notches-apart"])


def test_notches_of_a_gathered_seam_share_out_the_fullness(board: Board) -> None:
    assert codes(board, strips(90, "10 45 70", "8 25 42") + f"{SHORT_FIRST} gathering") == []
    found = codes(board, strips(90, "10 25", "8 27") + f"{SHORT_FIRST} gathering")
    assert found == ["notches-apart"]


def test_an_unequal_seam_says_where(board: Board) -> None:
    [said] = inspect(board.pattern(strips(53, "10 20 43", "10 20 40") + SHORT_FIRST))
    assert said.message == (
        "the two sides of this seam do not match: `short.base` is 50 cm as sewn, `long.base` is "
        "53 cm, a difference of +3 cm; from `start`, the first notches that do not meet are at "
        "40 cm of `short.base` and 43 cm of `long.base`"
    )
    assert said.label == "`long.base` is 3 cm too long"
    assert "`easing 3 cm`" in said.help
    assert "`gathering`" in said.help
    [said] = inspect(board.pattern(strips(53, "10 20", "10 20") + LONG_FIRST))
    assert "a difference of -3 cm; all notches meet, the last 20 cm from `start`" in said.message


def test_the_table_has_the_difference_with_its_sign(board: Board) -> None:
    """The ease taken off, whichever side has it; and how far sides may differ."""
    text = strips(50.05) + f"{SHORT_FIRST}\n{LONG_FIRST}\n"
    lines = seam_table(board.pattern(text))
    assert "+0.05 cm" in lines[1]
    assert "-0.05 cm" in lines[2]
    assert "1 mm" in lines[-1]
    assert "none  " in seam_table(board.pattern(strips(51) + f"{LONG_FIRST} easing 1 cm"))[1]


def test_chains_run_over_pieces_and_halves_on_the_fold(board: Board) -> None:
    """A band walked from the centre back: back, both halves of the front, back again."""
    text = """
    piece front
      strip 24 cm by 60 cm
      fold on start
    piece back
      strip 26 cm by 60 cm
    piece band
      strip 100 cm by 4 cm
      notch on base at 26 cm from start
      notch on base at 50 cm from start
      notch on base at 74 cm from start
    sew back.top from start then front.top from end then front.top from start then back.top from end
      to band.base from start
    """
    assert codes(board, text) == []
    assert codes(board, text.replace("at 26 cm", "at 27 cm")) == ["lone-notch"]
    assert codes(board, text.replace("then front.top from start ", "")) == ["unequal-seam"]


def test_an_edge_on_the_fold_is_sewn_to_nothing(board: Board) -> None:
    [wrong] = board.wrong(
        strips(50) + "piece half from long\n  fold on end\nsew half.end to short.end"
    )
    assert wrong.code == "fold-edge"
    assert wrong.span is not None
    assert wrong.span.text == "half.end"


def test_ease_is_not_negative(board: Board) -> None:
    [wrong] = board.wrong(strips(49) + f"{SHORT_FIRST} easing -1 cm")
    assert wrong.code == "negative-easing"


CUT = "cut {n} long in main\ncut 2 short in main\n"


def test_an_edge_is_sewn_as_often_as_it_is_cut(board: Board) -> None:
    text = strips(50) + "sew long.base to short.base\nsew long.base to short.top\n"
    assert codes(board, text + CUT.format(n=2)) == []
    assert codes(board, text + CUT.format(n=1)) == ["sewn-twice"]
    assert codes(board, text) == []  # how often it is cut is not said


def test_a_facing_or_a_lining_lies_on_a_seam_besides(board: Board) -> None:
    text = strips(50) + (
        "piece faced\n  facing on long.base deep 5 cm\n"
        "piece inner from long\n"
        "sew long.base to short.base\nsew long.base to faced.base\nsew long.base to inner.base\n"
    )
    cuts = "cut 1 long in main\ncut 1 short in main\ncut 1 faced in main\ncut 1 inner in lining\n"
    assert codes(board, text + cuts) == []


def test_the_same_seam_told_twice(board: Board) -> None:
    text = strips(50) + "sew long.base to short.base\nsew short.base to long.base\n"
    [said] = inspect(board.pattern(text))
    assert said.code == "sewn-twice"
    assert said.span is not None
    assert said.span.text == "sew short.base to long.base"


def test_a_piece_needs_a_second_one_or_a_fold_to_be_sewn_to_itself(board: Board) -> None:
    sew = "sew long.end to long.end\n"
    once = "cut 1 long in main\ncut 1 short in main"
    assert codes(board, strips(50) + sew + once) == ["sewn-to-itself"]
    assert codes(board, strips(50) + sew + "cut 2 long in main\ncut 1 short in main") == []
    folded = strips(50, "").replace(
        "by 20 cm\n\npiece short", "by 20 cm\n  fold on start\npiece short"
    )
    assert codes(board, folded + sew + once) == []


def test_a_piece_that_is_sewn_but_not_cut_is_noted_unless_it_is_only_walked(board: Board) -> None:
    sew = "sew sleeve.top from start to body.top from start\ncut 2 sleeve in main\n"
    sleeve = "piece sleeve\n  strip 40 cm by 60 cm\n"
    drawn = sleeve + "piece body\n  strip 40 cm by 50 cm\n"
    assert codes(board, drawn + sew) == ["not-cut"]
    other = 'pattern "Bodice"\npiece body\n  strip 40 cm by 50 cm\n'
    copied = f'use "bodice.oak" as bodice\n{sleeve}piece body from bodice.body\n'
    assert inspect(board.pattern(copied + sew, {"bodice.oak": other})) == ()
