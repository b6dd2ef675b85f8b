"""Blending: corners go, ends and their directions stay, and no line strays too far."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.compiler.geometry import Cubic, Path, blended, chain, fair_curve, line, polyline


@st.composite
def cornered(draw: st.DrawFn) -> Path:
    at = 0j
    parts = []
    for kind in draw(st.lists(st.sampled_from("lfj"), min_size=2, max_size=5)):
        if kind == "j":
            # A jog, as between two pieces of an edge that slipped.
            to = at + complex(draw(st.floats(-1, 1)), draw(st.floats(0.2, 4)))
            parts.append(line(at, to))
        else:
            to = at + complex(draw(st.floats(30, 150)), draw(st.floats(-30, 30)))
            if kind == "l":
                parts.append(line(at, to))
            else:
                middle = (at + to) / 2 + 1j * draw(st.floats(-8, 8))
                parts.append(fair_curve([at, middle, to]))
        at = to
    return chain(parts)


def farthest(made: Path, path: Path) -> float:
    count = 400
    return max(
        *(path.nearest(made.point_at(made.length * k / count))[1] for k in range(count + 1)),
        *(made.nearest(path.point_at(path.length * k / count))[1] for k in range(count + 1)),
        *(made.nearest(path.point_at(s))[1] for s in path.marks),
    )


@given(cornered(), st.sampled_from([1.0, 5.0, 10.0]))
@settings(max_examples=40, deadline=None)
def test_a_blended_path_stays_within_and_keeps_its_ends(path: Path, within: float) -> None:
    made = blended(path, within)
    assert farthest(made, path) <= within + 1e-4
    assert (made.start, made.end) == (path.start, path.end)
    assert made.start_direction == pytest.approx(path.start_direction, abs=1e-9)
    assert made.end_direction == pytest.approx(path.end_direction, abs=1e-9)
    assert made.corners(1.01e-4) == ()


def test_a_blend_uses_what_it_is_allowed() -> None:
    """A right angle between long legs is cut as deep as said, to a hundredth of it."""
    path = polyline([0j, 1000 + 0j, 1000 + 1000j])
    for within in (1, 5, 20):
        made = blended(path, within)
        assert made.nearest(1000 + 0j)[1] == pytest.approx(within, rel=0.02)
        assert made.nearest(1000 + 0j)[1] <= within


def test_a_smooth_path_is_left_alone() -> None:
    path = fair_curve([0j, 100 + 20j, 200 - 5j])
    assert blended(path, 5) == path
    corner = polyline([0j, 100 + 0j, 100 + 100j])
    assert blended(corner, 0) == corner


def test_a_small_step_is_blended_over_as_one() -> None:
    made = blended(polyline([0j, 100 + 0j, 100 + 3j, 200 + 3j]), 5)
    assert len(made.segments) == 3
    heights = [p.imag for p in made.flattened(0.01)]
    assert heights == sorted(heights)


def test_a_zigzag_becomes_one_sweep_where_it_may() -> None:
    path = polyline([0j, 60 + 4j, 120 + 0j, 180 + 4j])
    assert len(blended(path, 5).segments) == 3
    assert len(blended(path, 0.1).segments) > 3


def test_neighbouring_corners_to_one_side_share_the_stretch_between_them() -> None:
    path = polyline([0j, 100 + 0j, 140 + 30j, 140 + 140j])
    made = blended(path, 40)
    assert made.corners(1e-6) == ()
    assert made.nearest(120 + 15j)[1] == pytest.approx(0, abs=1e-9)


def test_a_corner_is_blended_however_little_the_length_may_change() -> None:
    """Also between a short leg and a long one, where the blend has room on one side only."""
    path = polyline([0j, 300 + 0j, 360 + 13j, 418 + 39j, 650 + 150j])
    for change in (0.4, 0.25, 0.2, 0.05):
        made = blended(path, 4, change)
        assert made.corners(1.01e-4) == ()
        assert abs(made.length - path.length) <= 3 * change + 1e-4


def test_a_corner_is_blended_where_a_shorter_blend_hardly_changes_the_length_less() -> None:
    """A yoke line after its two darts were closed: three gentle curves, ten degrees apart."""
    path = Path(
        [
            Cubic(240.4 - 61.4j, 215.6 - 74.3j, 190.55 - 86.67j, 165.25 - 98.53j),
            Cubic(165.25 - 98.53j, 138.24 - 105.67j, 111.08 - 112.25j, 83.8 - 118.28j),
            Cubic(83.8 - 118.28j, 55.89 - 119.43j, 27.95 - 120j, -120j),
        ]
    )
    made = blended(path, 5.0, 0.3)
    assert made.corners(1e-3) == ()
    assert abs(made.length - path.length) <= 0.6 * (1 + 1e-6)
