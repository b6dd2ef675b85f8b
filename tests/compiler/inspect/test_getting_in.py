"""Openings and hems: the two rules of common practice, with figures worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

# A skirt of two straight panels, each half of it on the fold: 4 x 18 cm at the waist.
SKIRT = """
measure hip_girth = 96 cm, waist_to_hip = 20 cm
piece front
  outline
    waist = origin to origin right 18 cm
    side = origin right 18 cm to origin right 18 cm down {long} cm
    hem = origin right 18 cm down {long} cm to origin down {long} cm
    centre = origin down {long} cm to origin
  fold on centre
  grain along centre
  section open = side from on side 0 from {at} to on side {open} cm from {at}
  section shut = side from on side {open} cm from {at} to on side 0 from {other}
piece back from front
sew front.shut to back.shut
allow 1 cm on front, back
cut 1 front in main
cut 1 back in main
"""


def said(board: Board, text: str, code: str) -> list[str]:
    return [one.message for one in inspect(board.pattern(text)) if one.code == code]


def skirt(*, opening: float = 0.1, slit: float = 0.0, long: float = 60) -> str:
    at, other, open_by = ("hem", "waist", slit) if slit else ("waist", "hem", opening)
    return SKIRT.format(long=long, at=at, other=other, open=open_by)


@pytest.mark.parametrize(("opening", "enough"), [(10, False), (14, False), (14.6, True)])
def test_the_waist_opens_by_half_of_what_the_hips_have_more_and_an_inch(
    board: Board, opening: float, enough: bool
) -> None:
    """(96 - 72) / 2 + 2.54 = 14.54 cm."""
    found = said(board, skirt(opening=opening), "opening-small")
    assert bool(found) != enough
    assert all("it should open by 14.5 cm" in one for one in found)


def test_a_seam_that_is_open_all_along_is_opening_enough(board: Board) -> None:
    text = skirt().replace("sew front.shut to back.shut\n", "")
    assert said(board, text, "opening-small") == []


def test_a_fastened_opening_counts_though_the_whole_edge_is_sewn(board: Board) -> None:
    text = skirt(opening=15).replace("front.shut to back.shut", "front.side to back.side")
    assert len(said(board, text, "opening-small")) == 1
    assert said(board, text + "fasten front.open to back.open with zip\n", "opening-small") == []


def test_a_wide_or_gathered_waist_and_a_body_without_hips_are_left_alone(board: Board) -> None:
    assert said(board, skirt().replace("hip_girth = 96", "hip_girth = 70"), "opening-small") == []
    assert (
        said(board, skirt().replace("measure hip_girth = 96 cm,", "measure"), "opening-small") == []
    )
    band = (
        "piece band\n  strip 60 cm by 4 cm\ncut 1 band in main\n"
        "sew front.waist then front.waist then back.waist then back.waist to band.base gathering\n"
    )
    assert said(board, skirt() + band, "opening-small") == []


@pytest.mark.parametrize(("long", "narrow"), [(49, False), (50, True), (100, True)])
def test_a_hem_lets_her_take_a_step(board: Board, long: float, narrow: bool) -> None:
    """72 cm allow (72 - 38) / 2 apart, which 87 cm of leg reach 29.58 cm below the hips."""
    found = said(board, skirt(long=long), "hem-narrow")
    assert bool(found) == narrow


@pytest.mark.parametrize(("slit", "enough"), [(50, False), (50.4, True)])
def test_a_slit_counts_as_far_as_it_reaches(board: Board, slit: float, enough: bool) -> None:
    """A hem 80 cm below the hips, and 29.58 cm that it allows: 50.42 cm, told as 50.5."""
    found = said(board, skirt(long=100, slit=slit), "hem-narrow")
    assert bool(found) != (slit > 50.42)
    text = skirt(long=100)
    [told] = [one for one in inspect(board.pattern(text)) if one.code == "hem-narrow"]
    assert "a slit of 50.5 cm" in told.help
    assert enough or found


def test_waist_and_hem_are_known_by_how_they_are_called_and_turned_up(board: Board) -> None:
    text = skirt(long=100).replace("waist =", "waistline =").replace("from waist", "from waistline")
    text = text.replace("hem =", "foot =").replace("from hem", "from foot")
    assert len(said(board, text, "opening-small")) == 1
    assert said(board, text, "hem-narrow") == []
    hems = "allow 4 cm on front.foot, back.foot as hem\n"
    assert len(said(board, text + hems, "hem-narrow")) == 1


def test_trousers_and_blocks_are_left_alone(board: Board) -> None:
    text = skirt(long=100)
    assert said(board, text.replace("centre", "crotch"), "hem-narrow") == []
    assert said(board, text.replace("allow 1 cm on front, back\n", ""), "hem-narrow") == []
