"""What is wrong is said in the units of the file, at the place, with the way out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.lang.diagnostics import render

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

INCHES = """\
piece panel
  top_left = origin
  top_right = origin right 16 in
  foot_right = top_right down 24 in
  foot_left = top_left down 24 in
  outline
    waist = top_left to top_right
    side = top_right to foot_right
    hem = foot_right to foot_left
    centre = foot_left to top_left
"""


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (
            "spread cut by 1 in at hem hinged on side",
            "`cut` does not end on `side`, so it cannot be hinged there: it ends 8 in away",
        ),
        (
            "dart tuck on waist at 1/2 intake 1 1/4 in length 25 1/2 in",
            "the point of `tuck` falls 1 1/2 in outside the paper: it is 25 1/2 in long",
        ),
        (
            "spread cut by 50 in at hem hinged on waist",
            "an opening of 50 in is wider than a line 24 in long can open",
        ),
        (
            "notch on waist at 16 3/8 in",
            "`waist` is 16 in long as sewn, so a notch at 16 3/8 in falls off it",
        ),
        (
            "drill at origin left 1/4 in",
            "this drill lies 1/4 in off the paper",
        ),
    ],
)
def test_a_file_in_inches_is_answered_in_inches(board, line, message):
    wrong = board.mistake(f"line cut = on waist 1/2 to on hem 1/2\n{line}", INCHES)
    assert wrong.message == message


def test_a_file_in_millimetres_is_answered_in_millimetres(board):
    on = board.panel.replace("40 cm", "400 mm").replace("60 cm", "600 mm")
    wrong = board.mistake("dart tuck on waist at 1/2 intake 30 mm length 700 mm", on)
    assert wrong.message == "the point of `tuck` falls 100 mm outside the paper: it is 700 mm long"


def test_a_mistake_on_paper_looks_like_one_in_writing(board):
    wrong = board.mistake(
        "line cut = on waist 1/2 to on hem 1/2\nspread cut by 2 cm at hem hinged on side"
    )
    assert render(wrong) == (
        "error: `cut` does not end on `side`, so it cannot be hinged there: it ends 20 cm away\n"
        "   pattern.oak:14\n"
        "14 |   spread cut by 2 cm at hem hinged on side\n"
        "   |                                       ----\n"
        "   try: lead the line to `side`, or hinge it on the edge it ends on"
    )


def test_what_is_wrong_in_each_piece_is_said_in_one_run(board):
    found = board.wrong(
        f"{board.panel}  spread centre_line by 2 cm\n"
        f"{board.panel.replace('piece panel', 'piece other')}"
        "  dart tuck on waist at 1/2 intake 3 cm length 70 cm\n"
    )
    assert [one.span.text for one in found] == ["centre_line", "70 cm"]
    found = board.wrong(
        f"{board.panel}  dart tuck on waist at 1/2 intake 3 cm length 70 cm\n"
        f"{board.panel.replace('piece panel', 'piece other')}"
        "  dart tuck on side at 1/2 intake 3 cm length 50 cm\n"
    )
    assert [one.span.text for one in found] == ["70 cm", "50 cm"]


@pytest.mark.parametrize(
    ("expression", "message"),
    [
        (
            "1 cm / (length(waist) / 40 cm - 1)",
            "this cannot be divided: what it is divided by is nothing",
        ),
        ("1 cm * sqrt(0 - length(waist) / 1 cm)", "this has no value"),
        ("1 cm * (asin(length(waist) / 1 cm) / 1 deg)", "this has no value"),
        ("1 cm * (1000000000 * 1000000000)", "this comes to"),
    ],
)
def test_figures_that_come_to_nothing(board, expression, message):
    wrong = board.mistake(f"amount = {expression}")
    assert wrong.message.startswith(message)
    assert wrong.help == "look at the figures in it"
    assert wrong.span.text in expression


# ---------------------------------------------------------------- what a first user met


def test_a_mistake_in_a_row_says_in_which_turn(board):
    found = board.mistake("repeat i from 1 to 9\n  notch on waist at i * 7 cm from centre\n")
    assert [label.text for label in found.labels] == ["in the turn where `i` is 6"]


def test_of_turns_within_turns_each_is_said(board):
    lines = """
    repeat i from 1 to 2
      repeat j from 1 to 9
        notch on waist at i * j * 6 cm from centre
    """
    found = board.mistake(lines)
    assert [label.text for label in found.labels] == [
        "in the turn where `j` is 7",
        "in the turn where `i` is 1",
    ]


def test_of_pieces_that_all_fail_the_first_is_told(board):
    text = """
    repeat i from 1 to 4
      piece panel[i]
        strip 10 cm by 10 cm
        notch on base at (i + 8) * 2 cm from start
    """
    (found,) = board.wrong(text)
    assert found.labels[-1].text == "in the turn where `i` is 1"


def test_a_choice_out_of_range_is_wrong_where_it_is_set(board):
    block = (
        'pattern "Block"\nchoose wide = 20 cm from 10 cm to 30 cm\n'
        "piece panel\n  strip wide by 10 cm\n"
    )
    (found,) = board.wrong(
        'use "block.oak" as block\n  wide = 4 cm\npiece panel from block.panel\n',
        {"block.oak": block},
    )
    assert found.code == "out-of-range"
    assert (found.span.source.name, found.span.text) == ("pattern.oak", "4 cm")
    assert [label.span.source.name for label in found.labels] == ["block.oak"]


def test_what_an_untaken_if_would_have_named(board):
    found = board.mistake(
        "if wide\n  line middle = on waist 1/2 to on hem 1/2\nspread middle by 4 cm\n",
        head="choose wide = no",
    )
    assert found.message == "there is no `middle` for this body and these choices"
    assert "under an `if` that does not hold" in found.help


def test_what_a_step_has_taken_away(board):
    found = board.mistake("""
    dart waist_dart on waist at 1/2 intake 2 cm length 12 cm
    line flare = waist_dart.point down to hem
    close waist_dart into flare
    redraw waist_dart to on hem 1/2
    """)
    assert found.message.startswith(
        "`waist_dart` is no longer there: it went with the `close` of line"
    )


AS_WRITTEN = """\
pattern "Sash"
choose button = 15 mm from 10 mm to 22 mm
choose length = 60 cm from 40 cm to 90 cm
piece sash
  strip length by 8 cm
  notch on base at {at} from start
  button at on base 4 cm from start size button
bind sash.base with {wide} in main
"""


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (
            ("at {at}", "at 700 mm"),
            "`base` is 600 mm long as sewn, so a notch at 700 mm falls off it",
        ),
        (("with {wide}", "with 0 mm"), "a binding 0 mm wide binds nothing"),
        (("with {wide}", "with 0 in"), "a binding 0 in wide binds nothing"),
    ],
)
def test_lengths_are_told_in_the_unit_in_which_they_are_written(
    board: Board, edit: tuple[str, str], said: str
) -> None:
    assert edit[0] in AS_WRITTEN
    text = AS_WRITTEN.replace(*edit).format(at="4 cm", wide="8 mm")
    assert said in " ".join(one.message for one in board.mistakes("", on=text))
