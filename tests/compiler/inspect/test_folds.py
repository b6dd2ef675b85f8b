"""Darts and pleats that are not trimmed: told once a row, at the line that made them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

PLEATED = """
  repeat i from 1 to 3
    line fold[i] = on waist i * 10 cm from centre to on hem i * 10 cm from centre
  spread fold[1..3] by 4 cm as pleat
  fold_middle = on waist 1/2
"""


def test_a_row_of_pleats_is_told_of_once(board: Board) -> None:
    (said,) = inspect(board.pattern(board.panel + PLEATED))
    assert said.message == (
        "the pleats `fold[1]` to `fold[3]` of `panel` are not trimmed: folded, their paper will "
        "not reach the seam line"
    )
    assert said.help.startswith("add `fold-trim fold[1..3] toward EDGE`")
    assert said.span is not None
    assert said.span.text.startswith("spread fold")


def test_a_dart_is_told_of_where_it_is_drawn_not_where_it_is_named(board: Board) -> None:
    (said,) = inspect(
        board.pattern(
            board.panel
            + "  dart waist_dart on waist at 1/2 intake 2 cm length 12 cm\n"
            + "  line below = waist_dart.point down to hem\n"
        )
    )
    assert said.message.startswith("the dart `waist_dart` of `panel` is not trimmed")
    assert said.span is not None
    assert said.span.text.startswith("dart waist_dart")


def test_a_trimmed_dart_is_not_told_of(board: Board) -> None:
    lines = (
        "  dart waist_dart on waist at 1/2 intake 2 cm length 12 cm\n"
        "  fold-trim waist_dart toward centre\n"
    )
    assert inspect(board.pattern(board.panel + lines)) == ()
