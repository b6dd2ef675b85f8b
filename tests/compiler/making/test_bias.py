"""Bias strips against published worked examples."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oaktag.compiler.making.bias import pieced_side, square_side, strips_needed

QUARTER_INCH = 0.25


@pytest.mark.parametrize(
    ("length", "width", "side"),
    [(100, 3.5, 18.71), (250, 2, 22.36)],  # inches, quiltersquestiontime.com
)
def test_the_square_for_a_length(length: float, width: float, side: float) -> None:
    assert square_side(length, width) == pytest.approx(side, abs=0.005)


@pytest.mark.parametrize(
    ("side", "width", "length"),
    # 20 in: mydecozo.co.uk; 36 in: sew-whats-new.com, "18 yards"; 12 in: the same rule
    [(20, 2, 200), (36, 2, 648), (12, 2, 72)],
)
def test_the_square_that_gives_a_length(side: float, width: float, length: float) -> None:
    assert square_side(length, width) == pytest.approx(side)


def test_strips_and_the_square_they_come_from() -> None:
    """98 in at 1 in: 7 strips from a square of 10.4 in (thebuttonship.blogspot.com)."""
    count = strips_needed(98, 1)
    assert count == 7
    assert pieced_side(count, 1, QUARTER_INCH) == pytest.approx(10.4, abs=0.005)


@given(st.floats(10, 50_000), st.floats(5, 200))
def test_there_is_never_too_little(length: float, width: float) -> None:
    """n strips across a square hold 2 w n² of binding; one fewer would not do."""
    count = strips_needed(length, width)
    assert 2 * width * count**2 >= length - 1e-6
    assert count == 1 or 2 * width * (count - 1) ** 2 < length
    assert pieced_side(count, width, 0) == pytest.approx(count * width * math.sqrt(2))
