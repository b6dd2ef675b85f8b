"""Arcs as cubics, measured against the circle."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oaktag.compiler.geometry import Arc, cubics


@given(
    st.floats(0.5, 5000),
    st.floats(0.01, 2 * math.pi),
    st.booleans(),
    st.sampled_from([0.1, 0.001]),
)
def test_they_keep_to_the_circle(
    radius: float, sweep: float, clockwise: bool, tolerance: float
) -> None:
    centre = complex(12, -7)
    arc = Arc(centre, centre + radius, -sweep if clockwise else sweep)
    made = cubics(arc, tolerance)
    assert made[0].start == arc.start
    assert made[-1].end == pytest.approx(arc.end)
    far = max(abs(abs(one.point(k / 64) - centre) - radius) for one in made for k in range(65))
    assert far <= tolerance * (1 + 1e-6) + 1e-9
    assert sum(one.length for one in made) == pytest.approx(arc.length, abs=8 * tolerance)


def test_no_more_of_them_than_needed() -> None:
    """A quarter of a circle of 1 mm by one cubic is off by 0.00027 mm."""
    assert len(cubics(Arc(0j, 1 + 0j, math.pi / 2), 0.0003)) == 1
    assert len(cubics(Arc(0j, 1 + 0j, math.pi / 2), 0.0002)) == 2
