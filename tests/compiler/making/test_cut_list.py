"""The cut list against figures worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.making.cut_list import cut_list

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

SKIRT = """
piece front
  strip 25 cm by 60 cm
  fold on start
  grain along start
piece back
  strip 26 cm by 60 cm
  grain along start
piece band
  strip 80 cm by 8 cm
  grain along base

allow 1 cm on front, back, band

cut 1 front in main
cut 2 back as pair in main and lining
cut 1 band in main
cut 1 band in interfacing
"""


def test_pieces_by_cloth_with_their_sizes_and_areas(board: Board) -> None:
    main, lining, interfacing = cut_list(board.pattern(SKIRT))
    assert [cloth.cloth for cloth in (main, lining, interfacing)] == [
        "main",
        "lining",
        "interfacing",
    ]
    front, back, band = main.rows
    # There is no allowance on the fold, so 26 cm across; opened, the front is 52 cm by 62 cm.
    assert (front.piece, front.count, front.fold, front.pair) == ("front", 1, True, False)
    assert (front.along, front.across) == pytest.approx((620, 260))
    assert front.area == pytest.approx(520 * 620)
    assert (back.count, back.fold, back.pair) == (2, False, True)
    assert (back.along, back.across) == pytest.approx((620, 280))
    assert back.area == pytest.approx(2 * 620 * 280)
    # The grain of the band lies along it.
    assert (band.along, band.across) == pytest.approx((820, 100))
    assert main.area == pytest.approx(520 * 620 + 2 * 620 * 280 + 820 * 100)
    assert main.widest is front
    assert (lining.rows, lining.area) == ((back,), back.area)
    assert interfacing.area == pytest.approx(820 * 100)


def test_a_piece_on_the_bias_is_measured_along_its_grain(board: Board) -> None:
    [main] = cut_list(
        board.pattern(
            "piece square\n  strip 10 cm by 10 cm\n"
            "  grain from where base meets start to where end meets top\n"
            "cut 3 square in main\n"
        )
    )
    [row] = main.rows
    # Diagonally the square is √2 · 10 cm long and as wide.
    assert (row.along, row.across) == pytest.approx((141.421, 141.421), abs=0.001)
    assert row.area == pytest.approx(3 * 100 * 100)
    assert row.grained


def test_without_cut_lines_there_is_no_list(board: Board) -> None:
    assert cut_list(board.pattern(board.panel)) == ()
