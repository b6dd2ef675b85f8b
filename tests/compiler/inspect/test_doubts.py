"""Steps that do nothing or something else than they seem to, and allowances that are too wide."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from tests.compiler.conftest import Board


def codes(board: Board, lines: str) -> list[str]:
    return [one.code for one in inspect(board.pattern(board.panel + lines))]


def test_a_spread_by_nothing(board: Board) -> None:
    line = "  line middle = on waist 1/2 to on hem 1/2\n"
    assert codes(board, f"{line}  spread middle by 0 cm\n") == ["by-nothing"]
    assert codes(board, f"{line}  overlap middle by 0 cm\n") == ["by-nothing"]
    assert codes(board, f"{line}  spread middle by 1 mm\n") == []


def test_a_row_of_no_members_is_nothing_to_speak_of(board: Board) -> None:
    """`repeat` with no turns and a row without members are meant to do nothing."""
    lines = "  repeat i from 1 to 0\n    line slash[i] = on waist i / 9 to on hem i / 9\n"
    assert codes(board, f"{lines}  spread slash[1..0] by 2 cm\n") == []


@pytest.mark.parametrize(("bow", "told"), [(1, False), (3, True)])
def test_grain_along_what_bends(board: Board, bow: float, told: bool) -> None:
    line = f"  curve sweep = on waist 1/2 curve to on hem 1/2 bowed right {bow} mm\n"
    found = codes(board, f"{line}  grain along sweep\n")
    assert found == (["bent-grain"] if told else [])


def test_grain_from_point_to_point_is_straight(board: Board) -> None:
    assert codes(board, "  grain from top_left to foot_left\n") == []


def test_a_second_fold(board: Board) -> None:
    assert codes(board, "  fold on centre\n") == []
    assert codes(board, "  fold on centre\n  fold on waist\n") == ["two-folds"]
    assert codes(board, "  fold on centre\n  fold on centre\n") == []


def test_another_fold_after_the_first_was_opened_is_no_second_one(board: Board) -> None:
    assert codes(board, "  fold on centre\n  open centre\n  fold on side\n") == []


def test_a_piece_on_the_fold_cut_as_a_pair(board: Board) -> None:
    cut = "cut 2 panel as pair in main and lining\n"
    found = inspect(board.pattern(f"{board.panel}  grain along centre\n  fold on centre\n{cut}"))
    (told,) = [one for one in found if one.code == "pair-on-fold"]
    assert told.severity == "warning"
    assert "each one that is cut is whole" in told.message
    assert "`open centre`" in told.help
    opened = f"  grain along centre\n  fold on centre\n  open centre\n{cut}"
    assert "pair-on-fold" not in codes(board, opened)
    single = "  grain along centre\n  fold on centre\ncut 2 panel in main\n"
    assert "pair-on-fold" not in codes(board, single)


@pytest.mark.parametrize(
    ("allow", "told"),
    [
        ("allow 41 cm on panel.side", True),
        ("allow 39 cm on panel.side", False),
        ("allow 61 cm on panel.hem", True),
        ("allow 59 cm on panel.hem", False),
        ("allow 41 cm on panel\nallow 1 cm on panel", False),
    ],
)
def test_an_allowance_wider_than_the_paper_behind_it(board: Board, allow: str, told: bool) -> None:
    assert codes(board, f"{allow}\n") == (["allowance-wider"] if told else [])


def test_the_way_out_of_a_wide_allowance_fits_all_edges_of_its_line(board: Board) -> None:
    """The panel is 40 cm by 60 cm, the belt 30 cm deep: 60 cm at the hem is not the answer."""
    text = f"{board.panel}piece belt\n  strip 80 cm by 30 cm\n"

    def told(lines: str) -> list[tuple[str, str]]:
        found = inspect(board.pattern(f"{text}{lines}\n"))
        return [(one.message, one.help) for one in found if one.code == "allowance-wider"]

    [(message, help_)] = told("allow 70 cm on panel")
    assert "on `panel." in message
    assert "which is 40 cm deep there" in message
    assert help_ == "allow less than 40 cm, or cut the piece deeper"
    assert told("allow 39 cm on panel") == []
    [(message, help_)] = told("allow 70 cm on panel, belt")
    assert "on `belt." in message
    assert help_ == "allow less than 30 cm, or cut the piece deeper"
    assert told("allow 29 cm on panel, belt") == []
    [(_, help_)] = told("allow 70 cm on panel.hem, panel.side")
    assert help_ == "allow less than 40 cm, or cut the piece deeper"
    assert len(told("allow 70 cm on panel\nallow 31 cm on belt")) == 2
