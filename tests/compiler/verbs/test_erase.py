"""`erase`: construction lines go, the points found with them stay."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

LINES = """\
line slash = on waist 1/2 from centre to on hem 1/2 from centre
line across = on side 30 cm from waist to on centre 30 cm from waist
cross = where slash meets across
"""


def names(lines: str, board: Board) -> list[str]:
    return [str(line.label) for line in board.piece(lines, board.quarter).lines]


def test_the_lines_that_are_erased_are_gone_and_their_points_stay(board: Board) -> None:
    assert names(LINES, board) == ["hip_line", "slash", "across"]
    assert names(f"{LINES}erase slash, across", board) == ["hip_line"]
    piece = board.piece(f"{LINES}erase slash, across\ndrill at cross", board.quarter)
    whole = board.piece(LINES, board.quarter)
    assert piece.outline == whole.outline
    assert [point.label.name for point in piece.points] == [p.label.name for p in whole.points]
    (hole,) = piece.marks
    assert hole.at.real == pytest.approx(125, abs=30)


def test_a_line_along_which_a_dart_was_closed_is_an_opening_and_not_erased(board: Board) -> None:
    lines = f"{LINES}spread slash by 4 cm at hem hinged on waist\nerase slash"
    said = board.mistake(lines, board.quarter)
    assert said.message == "`slash` is an opening; `erase` wants a drawn line"


def test_the_name_of_an_erased_line_is_free_again(board: Board) -> None:
    again = f"{LINES}erase slash\nline slash = on waist 1/3 from centre to on hem 1/3 from centre"
    assert names(again, board) == ["hip_line", "across", "slash"]


def test_who_names_an_erased_line_hears_where_it_went(board: Board) -> None:
    said = board.mistake(f"{LINES}erase slash\nlengthen at slash by 2 cm", board.quarter)
    assert said.message.startswith("`slash` was erased on line ")
    assert said.help == "erase it after the last line that uses it"


def test_some_lines_of_a_row_are_erased_and_the_others_stay(board: Board) -> None:
    row = "repeat i from 1 to 4\n  line ray[i] = top to on hem i/5 from centre\n"
    assert names(f"{row}erase ray[2..3]", board) == ["hip_line", "ray[1]", "ray[4]"]
    each = f"{row}repeat i from 1 to 4\n  erase ray[i]\n"
    assert names(each, board) == ["hip_line"]
    lines = f"{row}erase ray[2..3]\nlengthen at ray[2] by 1 cm"
    assert "there is no `ray[2]`" in board.mistake(lines, board.quarter).message


def test_one_half_of_a_line_is_erased_and_the_other_needs_no_word_of_its_half(
    board: Board,
) -> None:
    unfolded = f"{LINES}unfold along centre into right and left\n"
    found = names(f"{unfolded}erase right.slash", board)
    assert "left.slash" in found
    assert "right.slash" not in found
    board.piece(f"{unfolded}erase right.slash\nrequire length(slash) > 50 cm", board.quarter)


def test_the_line_of_the_fold_is_erased_like_any_other(board: Board) -> None:
    assert "centre" not in names("unfold along centre into r and l\nerase centre", board)


def test_a_line_erased_under_an_if_is_there_where_it_does_not_hold(board: Board) -> None:
    lines = f"{LINES}if bare\n  erase across\nrequire length(across) > 1 cm"
    assert board.piece(lines, board.quarter, head="choose bare = no").area > 0
    said = board.mistake(lines, board.quarter, head="choose bare = yes")
    assert "it went with the `erase` of line" in said.message
