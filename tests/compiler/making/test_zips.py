"""Which zip for which opening."""

from __future__ import annotations

import pytest

from oaktag.compiler.making.materials import lignes
from oaktag.compiler.making.zips import TRADE_CM, needed_at_waist, trade_length

INCH = 25.4


@pytest.mark.parametrize("difference", [13, 14])
def test_a_nine_inch_zip_is_enough(difference: float) -> None:
    """Waist and hips 13 to 14 in apart: 15 to 16 in to get through, so 9 in is enough
    (threadsmagazine.com).
    """
    needed = needed_at_waist(25 * INCH, (25 + difference) * INCH)
    assert needed == pytest.approx((difference + 2) / 2 * INCH)
    assert needed <= 9 * INCH


def test_a_body_that_is_not_wider_at_the_hips_needs_none() -> None:
    assert needed_at_waist(1000, 900) == 0


@pytest.mark.parametrize(
    ("opening", "unit", "zip_"),
    [
        (180, "cm", 180),
        (185, "cm", 200),
        (180.4, "mm", 180),
        (90, "cm", 100),
        (8 * INCH, "in", 8 * INCH),
        (7.1 * INCH, "yd", 8 * INCH),
    ],
)
def test_the_next_length_in_the_trade(opening: float, unit: str, zip_: float) -> None:
    assert trade_length(opening, unit) == pytest.approx(zip_)


def test_no_zip_is_long_enough() -> None:
    assert trade_length(TRADE_CM[-1] * 10 + 1, "cm") is None


@pytest.mark.parametrize(("line", "size"), [(18, 11.6), (24, 15), (30, 19), (40, 25.5)])
def test_lines_of_buttons(line: int, size: float) -> None:
    """40 to the inch; the published millimetres are rounded (yourbuttonshop.blogspot.com)."""
    assert lignes(size) == line
