"""What is needed besides cloth, against figures worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.making.materials import JOINING, materials

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

BODICE = """
measure waist_girth = 70 cm, hip_girth = 98 cm

piece front
  strip 40 cm by 30 cm
  fold on start
  button at on start 5 cm from top size 18 mm
  button at (on start 5 cm from top) right 10 cm size 18 mm
piece back
  origin_point = origin
  outline
    waist = origin to origin right 20 cm
    side = origin right 20 cm to origin right 20 cm down 30 cm
    hem = origin right 20 cm down 30 cm to origin down 30 cm
    centre = origin down 30 cm to origin
  section placket = centre from on centre 0 from waist to on centre 185 mm from waist
  buttonhole at (on side 5 cm from waist) left 2 cm size 21 mm

cut 1 front in main
cut 2 back as pair in main
"""


def test_strips_of_one_width_and_cloth_are_one_length(board: Board) -> None:
    pattern = board.pattern(
        BODICE
        + "bind front.top then back.hem with 1 cm in trim\n"
        + "bind back.side with 1 cm in trim\n"
        + "bind front.base with 5 mm single in silk\n"
    )
    trim, silk = materials(pattern).strips
    # Both: 40 + 20 cm, twice, since the front is on the fold and there are two backs; then two
    # sides of 30 cm. Each run has its joining.
    assert trim.runs == 4
    assert trim.length == pytest.approx(2 * 600 + 2 * 300 + 4 * JOINING)
    assert trim.cut == pytest.approx(40)
    assert trim.side == pytest.approx((2000 * 40) ** 0.5)
    # n = ceil(sqrt(2000 / 80)) = 5, side = 5 · 40 · √2 + half an inch
    assert trim.strips == 5
    assert trim.pieced == pytest.approx(5 * 40 * 2**0.5 + 12.7)
    assert (silk.cloth, silk.cut, silk.runs) == ("silk", pytest.approx(10), 2)


def test_a_zip_at_the_waist_is_proposed_and_held_against_the_hips(board: Board) -> None:
    [zip_] = materials(board.pattern(BODICE + "fasten back.placket with zip\n")).zips
    assert (zip_.opening, zip_.count, zip_.said) == ("back.placket", 1, False)
    assert zip_.long == pytest.approx(185)
    assert zip_.length == pytest.approx(200)
    assert zip_.needed == pytest.approx((980 - 700 + 50.8) / 2)


def test_a_zip_elsewhere_is_not_held_against_the_hips(board: Board) -> None:
    [zip_] = materials(board.pattern(BODICE + "fasten front.end with zip length 25 cm\n")).zips
    assert zip_.needed is None
    assert (zip_.length, zip_.said) == (250, True)


def test_other_closures_are_named_and_not_made_up(board: Board) -> None:
    found = materials(
        board.pattern(
            BODICE + "fasten back.placket with hooks\nfasten back.side with ties length 30 cm\n"
        )
    )
    hooks, ties = found.fastenings
    assert (hooks.kind, hooks.count, hooks.each) == ("hooks", 1, None)
    assert (ties.kind, ties.count, ties.each) == ("ties", 1, 300)
    assert found.zips == ()


def test_buttons_are_counted_as_they_will_be_there(board: Board) -> None:
    buttons, holes = materials(board.pattern(BODICE)).buttons
    # The one on the fold once, the other on both halves of the front; a hole on each back.
    assert (buttons.kind, buttons.count, buttons.size) == ("button", 3, 18)
    assert (holes.kind, holes.count, holes.pieces) == ("buttonhole", 2, ("back",))
