"""Names that an `if` may give or not: whether they are there is known when it is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

SLASHED = """\
choose turned = {turned}
piece front
  strip 20 cm by 30 cm
  if turned
    line slash = on base 1/2 from start to on top 1/2 from start
piece other from front
  line slash = on base 1/4 from start to on top 1/4 from start
require distance(on other.slash 0 from other.base, on other.start 0 from other.base) = 5 cm
"""


def test_a_line_drawn_only_under_an_if_leaves_its_name_free_where_the_if_does_not_hold(
    board: Board,
) -> None:
    board.pattern(SLASHED.format(turned="no"))
    (found,) = board.wrong(SLASHED.format(turned="yes"))
    assert found.message == "`slash` is on the paper already"
    assert found.span is not None
    assert found.span.line == 8


def test_a_line_of_a_block_that_this_choice_does_not_draw_can_be_drawn_by_who_copies_it(
    board: Board,
) -> None:
    pattern = board.pattern("""\
        measure bust_girth = 94 cm, waist_girth = 76 cm, back_waist_length = 41 cm
        measure back_width = 35.5 cm, neck_girth = 38 cm, shoulder_length = 12.4 cm
        use bodices.basic as block
        piece front from block.front
          line shoulder_line = bust_point to on shoulder 1/2 from neck
          close bust_dart into shoulder_line as dart
        require front.shoulder_line.intake > 4 cm
        """)
    assert [str(item.label) for item in pattern.pieces["front"].openings][-1] == "shoulder_line"


@pytest.mark.parametrize("chosen", ["yes", "no"])
def test_either_of_two_ifs_may_draw_a_line_of_one_name(board: Board, chosen: str) -> None:
    piece = board.piece(
        "if high\n"
        "  line across = on side 10 cm from waist to on centre 10 cm from waist\n"
        "if not high\n"
        "  line across = on side 30 cm from waist to on centre 30 cm from waist\n"
        "lengthen at across by 2 cm\n",
        head=f"choose high = {chosen}",
    )
    assert piece.area == pytest.approx(400 * 620)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("deep = 4 cm\n", 5),  # a value of the file
        ("piece deep\n  strip 1 cm by 2 cm\n", 5),
        ("piece panel\n  strip 4 cm by 9 cm\n  line deep = on base 1/2 to on top 1/2\n", 7),
        ("piece panel\n  strip 4 cm by 9 cm\n  deep = on base 1/2 up 1 cm\n", 7),
    ],
)
def test_a_name_of_the_file_given_under_an_if_that_holds_is_not_given_again(
    board: Board, text: str, line: int
) -> None:
    told = 'pattern "Test"\nchoose lined = {}\nif lined\n  deep = 3 cm\n' + text
    assert board.pattern(told.format("no"))
    (found,) = board.wrong(told.format("yes"))
    assert found.code in ("named-twice", "named-in-file")
    assert found.span is not None
    assert found.span.line == line


def test_a_value_in_a_piece_given_under_an_if_that_holds_is_not_given_again(board: Board) -> None:
    lines = "if length(waist) > 30 cm\n  deep = 3 cm\ndeep = 4 cm\n"
    assert board.mistake(lines).message == "`deep` is already there"


def test_a_name_that_is_sure_to_be_there_is_refused_before_anything_is_drawn(board: Board) -> None:
    lines = "if length(waist) > 30 cm\n  deep = 3 cm\nelse\n  deep = 4 cm\ndeep = 5 cm\n"
    assert board.mistake(lines).message == "`deep` is already there"


def test_a_piece_divided_only_under_an_if_goes_on_where_it_was_not(board: Board) -> None:
    lines = (
        "line across = on side 30 cm from waist to on centre 30 cm from waist\n"
        "if apart\n  divide along across into upper and lower\n"
        "lengthen at across by 2 cm\n"
    )
    assert board.piece(lines, head="choose apart = no").area == pytest.approx(400 * 620)
    assert board.mistake(lines, head="choose apart = yes").code == "after-divide"
