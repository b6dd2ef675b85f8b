"""Pieces that must not be turned over say which side is up; for all others it makes no difference.

The rule, common practice without a source: the pattern lies printed face up on the right side of
the cloth, so that one sees the garment from outside.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.making.facing_up import orders_of
from oaktag.compiler.sheet.lay_out import lay_out

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

SLANTED = """
piece front
  outline
    waist = origin to origin right 20 cm
    side = origin right 20 cm to origin right 26 cm down 60 cm
    hem = origin right 26 cm down 60 cm to origin down 60 cm
    centre = origin down 60 cm to origin
  grain along centre
"""
STRAIGHT = "\npiece front\n  strip 40 cm by 60 cm\n"


def orders(board: Board, text: str) -> list[str]:
    pattern = board.pattern(text)
    name = pattern.cuts[0].piece
    return orders_of(pattern, pattern.pieces[name])


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (f"{SLANTED}cut 1 front in main\n", "cut 1 in main, right side up"),
        (f"{SLANTED}cut 2 front in main\n", "cut 2 in main, right side up"),
        (f"{SLANTED}cut 2 front as pair in main\n", "cut 2 as a pair in main"),
        (f"{SLANTED}  fold on centre\ncut 1 front in main\n", "cut 1 on the fold in main"),
        (
            f"{SLANTED}  unfold along centre into left and right\ncut 1 front in main\n",
            "cut 1 in main",
        ),
        (f"{STRAIGHT}cut 1 front in main\n", "cut 1 in main"),
    ],
)
def test_only_what_is_no_mirror_image_of_itself_must_lie_right_side_up(
    board: Board, text: str, told: str
) -> None:
    assert orders(board, text) == [told]


@pytest.mark.parametrize(
    "odd",
    [
        "  notch on end at 10 cm from top\n",
        "  button at on base 10 cm from start up 5 cm size 15 mm\n",
        "  line pocket = on base 5 cm from start up 20 cm to on base 15 cm from start up 20 cm\n",
        "  dart tuck on top at 10 cm from start intake 3 cm length 9 cm\n",
        "allow 2 cm on front\nallow 4 cm on front.start, front.top\n",
    ],
)
def test_marks_lines_darts_and_allowances_on_one_side_alone_count_too(
    board: Board, odd: str
) -> None:
    found = orders(board, f"{STRAIGHT}{odd}cut 1 front in main\n")
    assert found == ["cut 1 in main, right side up"]


@pytest.mark.parametrize(
    ("degrees", "told"), [(90, ""), (0, ""), (45, ""), (60, ", right side up")]
)
def test_grain_that_runs_aslant_is_another_when_turned_over_but_for_the_true_bias(
    board: Board, degrees: int, told: str
) -> None:
    grain = f"  grain from origin to origin at {degrees} deg by 10 cm\n"
    assert orders(board, f"{STRAIGHT}{grain}cut 1 front in main\n") == [f"cut 1 in main{told}"]


def test_marks_alike_on_both_sides_leave_it_alike(board: Board) -> None:
    marks = (
        "  notch on end, start at 10 cm from top\n"
        "  drill at on base 1/4 from start up 20 cm\n"
        "  drill at on base 1/4 from end up 20 cm\n"
        "  dart left_dart on top at 1/4 from start intake 3 cm length 9 cm\n"
        "  dart right_dart on top at 1/4 from end intake 3 cm length 9 cm\n"
    )
    assert orders(board, f"{STRAIGHT}{marks}cut 1 front in main\n") == ["cut 1 in main"]


def test_a_lining_of_the_same_piece_lies_the_other_way_and_interfacing_says_nothing(
    board: Board,
) -> None:
    cloths = "main and lining and interfacing"
    assert orders(board, f"{SLANTED}cut 1 front in {cloths}\n") == [
        "cut 1 in main, right side up",
        "cut 1 in lining, wrong side up",
        "cut 1 in interfacing",
    ]
    own = f"{SLANTED}cut 1 front in lining\n"
    assert orders(board, own) == ["cut 1 in lining, right side up"]


def test_a_facing_turns_its_right_side_to_the_body(board: Board) -> None:
    facing = f"{SLANTED}piece facing_piece\n  facing on front.side deep 5 cm\n"
    cut = "cut 1 facing_piece in main\n"
    assert orders(board, facing + cut) == ["cut 1 in main, wrong side up"]
    assert orders(board, f"{facing}  mirror\n{cut}") == ["cut 1 in main, right side up"]


def test_the_label_says_it(board: Board) -> None:
    group = lay_out(board.pattern(f"{SLANTED}cut 1 front in main\n")).groups[1]
    assert "cut 1 in main, right side up" in [text.content for text in group.texts]
