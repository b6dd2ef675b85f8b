"""`repeat`, `if`, indexed names, values and names of a piece."""

from __future__ import annotations

import pytest


def test_rows_of_lines_by_number(board):
    board.piece(
        """
        repeat i from 1 to 3
          line pin[i] = on waist i/4 from centre down to hem
        require count(pin) = 3
        require length(pin[2]) = 60 cm
        require (on pin[2] 0) = origin right 20 cm
        """
    )


def test_names_without_number_last_one_turn(board):
    panel = board.piece(
        """
        repeat i from 1 to 3
          place = on waist i/4 from centre
          line cut = place down to hem
          spread cut by 1 cm as pleat
        """
    )
    assert panel.area == pytest.approx(430 * 600)
    # The paper let in stays, the names are gone.
    assert len(panel.openings) == 3
    assert not [point for point in panel.points if point.label.name == "place"]
    wrong = board.mistake(
        """
        repeat i from 1 to 3
          line cut = on waist i/4 from centre down to hem
        spread cut by 1 cm
        """
    )
    assert wrong.span.text == "cut"


def test_what_two_repeats_leave_behind_is_not_mixed_up(board, look):
    """The pleats of the first row lie closed when the second is folded, each under its own side."""
    panel = board.piece(
        """
        repeat i from 1 to 2
          line cut = on waist 5 cm * i from centre to on hem 5 cm * i from centre
          spread cut by 1 cm as pleat
          fold-trim cut toward centre
        repeat i from 1 to 2
          line cut = on waist 5 cm * i + 20 cm from centre to on hem 5 cm * i + 20 cm from centre
          spread cut by 3 cm as pleat
          fold-trim cut toward centre
        """
    )
    assert len({opening.label for opening in panel.openings}) == 4
    assert look.edge(panel, "waist").sewn == pytest.approx(400, abs=1e-6)
    assert panel.area == pytest.approx(480 * 600, rel=1e-9)


def test_a_point_of_a_turn_travels_with_the_paper(board):
    board.piece(
        """
        repeat i from 1 to 1
          place = on side 1/2
          line cut = on waist 1/2 to on hem 1/2
          spread cut by 4 cm
          require place = on side 1/2
        """
    )


def test_repeats_within_repeats(board):
    panel = board.piece(
        """
        repeat i from 1 to 2
          repeat j from 1 to 3
            drill at origin right i * 10 cm down j * 10 cm
        """
    )
    assert [mark.at for mark in panel.marks] == [
        complex(100 * i, -100 * j) for i in (1, 2) for j in (1, 2, 3)
    ]


def test_a_repeat_that_goes_down_is_not_done(board):
    panel = board.piece("repeat i from 1 to 0\n  drill at origin right i * 1 cm")
    assert panel.marks == ()


@pytest.mark.parametrize(("choice", "marks"), [("yes", 1), ("no", 2)])
def test_if_and_else(board, choice, marks):
    panel = board.piece(
        """
        if short
          drill at origin
        else
          drill at origin
          drill at top_right
        """,
        head=f"choose short = {choice}",
    )
    assert len(panel.marks) == marks


def test_pieces_in_rows(board):
    pattern = board.pattern(
        """\
repeat i from 1 to 3
  piece gore[i]
    strip 10 cm * i by 4 cm
require area(gore[2]) = 20 cm * 4 cm
require length(gore[3].base) = 30 cm
"""
    )
    assert list(pattern.pieces) == ["gore[1]", "gore[2]", "gore[3]"]


def test_a_piece_is_a_value(board):
    """A copy leaves what it was copied from as it was, and takes its history along."""
    pattern = board.pattern(
        f"{board.panel}"
        "piece front from panel\n"
        "  line cut = on waist 1/2 to on hem 1/2\n"
        "  spread cut by 4 cm\n"
        "piece back from panel\n"
        "  require length(waist) = 40 cm\n"
    )
    areas = [round(piece.area) for piece in pattern.pieces.values()]
    assert areas == [240_000, 264_000, 240_000]
    assert [step.verb for step in pattern.pieces["front"].steps] == ["outline", "line", "spread"]


def test_a_name_means_the_paper_first_then_the_file(board):
    board.pattern(
        f"width = 12 cm\n{board.panel}piece band\n"
        "  strip width by length(panel.hem) / 10\n"
        "  require length(base) = 12 cm\n"
        "  require length(end) = 4 cm\n"
    )


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (
            "repeat i from 1 to 2\n  line one[1] = origin to foot_right",
            "`one[1]` is on the paper already",
        ),
        ("repeat i from 1 to 2\n  spot[1] = origin", "`spot[1]` is on the paper already"),
        (
            "repeat i from 1 to 2\n  dart tuck[3] on waist at i/3 intake 1 cm length 9 cm",
            "`tuck[3]` is",
        ),
        ("repeat i from 1 to 20000\n  drill at origin", "this repeats 20,000 times"),
        (
            "repeat i from 1 to 200\n  repeat j from 1 to 200\n    drill at origin",
            "this file asks for more than 20,000 instructions, or draws too much on one piece",
        ),
        ("repeat i from 1 to 3/2\n  drill at origin", "`3/2` is no whole number"),
        ("line one[2] = origin to foot_right\ndrill at on one[3] 1/2", "there is no `one[3]`"),
        (
            "repeat i from 1 to 3\n  line one[i] = on waist i/4 down to hem\n"
            "drill at on one[4] 1/2",
            "there is no `one[4]`",
        ),
    ],
)
def test_rows_that_do_not_work(board, lines, message):
    found = board.mistakes(lines)
    assert found[0].message.startswith(message), [one.message for one in found]
    assert len(found) == 1


def test_a_requirement_shows_both_values_in_the_units_of_the_file(board):
    wrong = board.mistake('require length(waist) = 39 cm within 2 mm "the waist must fit"')
    assert wrong.message == "the waist must fit"
    assert wrong.label == "40 cm and 39 cm, 1 cm apart"
    wrong = board.mistake(
        "require length(waist) > 16 in\nnotch on waist at 4 in",
        board.panel.replace("40 cm", "10 in").replace("60 cm", "20 in"),
    )
    assert wrong.message == "this is required: length(waist) > 16 in"
    assert wrong.label == "10 in and 16 in, 6 in apart"


def test_within_a_piece_a_requirement_sees_that_step(board):
    board.piece(
        """
        require length(hem) = 40 cm
        line cut = on waist 1/2 to on hem 1/2
        spread cut by 4 cm at hem hinged on waist
        require length(hem) = 44 cm
        """
    )
