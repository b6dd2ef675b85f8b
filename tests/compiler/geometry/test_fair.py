"""Fair curves, bowed curves and arcs."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from oaktag.compiler.geometry import (
    Arc,
    Cubic,
    GeometryError,
    Line,
    Path,
    arc_around,
    arc_through,
    bowed_curve,
    fair_curve,
    fitted,
    line,
    rotation,
)

coordinates = st.floats(-500, 500)
points = st.builds(complex, coordinates, coordinates)
angles = st.floats(-1.2, 1.2)


@st.composite
def rows(draw: st.DrawFn) -> list[complex]:
    """Points from left to right, as of an edge."""
    at = draw(points)
    row = [at]
    for _ in range(draw(st.integers(1, 6))):
        at += complex(draw(st.floats(20, 150)), draw(st.floats(-60, 60)))
        row.append(at)
    return row


@given(rows())
def test_a_fair_curve_passes_through_its_points_without_corners(row: list[complex]) -> None:
    path = fair_curve(row)
    assert [path.start, *(segment.end for segment in path.segments)] == row
    assert path.corners(1e-9) == ()


@given(rows(), angles, angles)
def test_a_fair_curve_leaves_and_arrives_as_told(
    row: list[complex], out: float, home: float
) -> None:
    leaving, arriving = 7 * cmath.exp(1j * out), 0.2 * cmath.exp(1j * home)
    path = fair_curve(row, leaving, arriving)
    assert path.start_direction == pytest.approx(leaving / 7, abs=1e-9)
    assert path.end_direction == pytest.approx(arriving / 0.2, abs=1e-9)
    assert path.corners(1e-9) == ()


@given(rows(), st.floats(-3, 3))
def test_a_turned_row_gives_the_turned_curve(row: list[complex], angle: float) -> None:
    motion = rotation(3 + 4j, angle)
    there = fair_curve([motion(p) for p in row]).flattened(1)
    here = fair_curve(row).moved(motion).flattened(1)
    assert there == pytest.approx(here, abs=1e-6)


def test_a_direction_at_an_inner_point_is_kept() -> None:
    path = fair_curve([0j, 100 + 20j, 200 + 0j], directions={1: 1 + 1j})
    assert path.tangent_at(path.segments[0].length) == pytest.approx(cmath.exp(0.25j * math.pi))
    assert path.corners(1e-9) == ()


def test_two_points_with_free_ends_give_a_straight_line() -> None:
    assert fair_curve([0j, 30 + 40j]) == line(0j, 30 + 40j)


def test_points_on_a_line_give_a_straight_line() -> None:
    path = fair_curve([0j, 30 + 0j, 50 + 0j, 90 + 0j])
    assert all(isinstance(segment, Line) for segment in path.segments)


def test_points_on_a_circle_give_nearly_that_circle() -> None:
    """Hobby's splines take a quarter circle within three ten-thousandths of its radius."""
    path = fair_curve([100 + 0j, 100j], leaving=1j, arriving=-1 + 0j)
    for k in range(101):
        assert abs(path.point_at(path.length * k / 100)) == pytest.approx(100, abs=0.03)


def test_the_handles_are_those_of_the_published_formula() -> None:
    """For theta = phi the velocity function of Hobby 1986 is 2 / (1 + cos theta) / 3 of the chord:
    the cosine terms sum to cos theta, since (sqrt 5 - 1)/2 + (3 - sqrt 5)/2 = 1."""
    theta = 0.7
    path = fair_curve([0j, 90 + 0j], cmath.exp(1j * theta), cmath.exp(-1j * theta))
    (segment,) = path.segments
    assert isinstance(segment, Cubic)
    assert abs(segment.first) == pytest.approx(90 * 2 / (1 + math.cos(theta)) / 3)


def test_mock_curvature_agrees_at_inner_points() -> None:
    """The condition of Hobby 1986 with tension 1, from the angles the curve came to: theta from a
    chord to the departure, phi from the arrival to a chord, chords of length d and e:
    (2 phi1 - theta0) / d = (2 theta1 - phi2) / e."""
    path = fair_curve([0j, 80 + 30j, 150 - 10j, 260 + 25j])
    for before, after in pairwise(path.segments):
        into, out = before.end - before.start, after.end - after.start
        theta0 = cmath.phase(before.tangent(0) / into)
        phi1 = cmath.phase(into / before.tangent(1))
        theta1 = cmath.phase(after.tangent(0) / out)
        phi2 = cmath.phase(out / after.tangent(1))
        assert (2 * phi1 - theta0) / abs(into) == pytest.approx((2 * theta1 - phi2) / abs(out))


def test_curvature_nearly_agrees_at_inner_points_of_a_gentle_curve() -> None:
    path = fair_curve([0j, 100 + 10j, 200 + 12j, 300 + 5j])
    for before, after in pairwise(path.segments):
        assert before.curvature(1) == pytest.approx(after.curvature(0), rel=0.05)


def test_a_curve_refuses_points_in_one_place_and_empty_directions() -> None:
    with pytest.raises(GeometryError):
        fair_curve([0j])
    with pytest.raises(GeometryError, match="same place"):
        fair_curve([0j, 1 + 0j, 1 + 0j, 2 + 0j])
    with pytest.raises(GeometryError):
        fair_curve([0j, 1 + 0j], leaving=0j)


def rise(path: Path, a: complex, b: complex, side: complex) -> tuple[float, float]:
    """Lowest and highest distance from the chord, to the given side, at many places."""
    normal = 1j * (b - a) / abs(b - a)
    if (normal.conjugate() * side).real < 0:
        normal = -normal
    heights = [(normal.conjugate() * (p - a)).real for p in path.flattened(1e-7 * abs(b - a))]
    return min(heights), max(heights)


@given(st.floats(20, 600), st.floats(0.01, 0.9), st.sampled_from([1j, -1j, 3 + 0.5j]))
def test_a_bowed_curve_with_free_ends_is_the_arc_of_that_rise(
    chord: float, share: float, side: complex
) -> None:
    depth = share * chord
    path = bowed_curve(10 + 5j, 10 + chord + 5j, side, depth)
    (arc,) = path.segments
    assert isinstance(arc, Arc)
    # Radius from chord and sagitta, a school formula: (c²/4 + h²) / 2h.
    assert arc.radius == pytest.approx((chord**2 / 4 + depth**2) / (2 * depth))
    middle = arc.point(0.5) - (10 + chord / 2 + 5j)
    assert middle == pytest.approx(math.copysign(depth, side.imag) * 1j, abs=1e-9)
    assert path.end == pytest.approx(
        arc.centre + (arc.start - arc.centre) * cmath.exp(1j * arc.sweep), abs=1e-8
    )


@given(st.floats(0.05, 1.0), st.floats(0.05, 1.0), st.floats(0.05, 0.35))
@settings(deadline=None)
def test_a_bowed_curve_with_both_directions_reaches_its_depth(
    out: float, home: float, share: float
) -> None:
    a, b, depth = 0j, 200 + 0j, 200 * share
    leaving, arriving = cmath.exp(-1j * out), cmath.exp(1j * home)
    try:
        path = bowed_curve(a, b, -1j, depth, leaving, arriving)
    except GeometryError:
        # Flat directions and a deep bow would need handles longer than the chord.
        assert depth / 200 > 0.3 * max(math.sin(out), math.sin(home))
        return
    assert path.box()[1] == pytest.approx(-depth, abs=1e-9)
    assert path.start_direction == pytest.approx(leaving)
    assert path.end_direction == pytest.approx(arriving)


@given(st.floats(0.0, 0.9), st.floats(0.02, 0.3))
@settings(deadline=None)
def test_a_bowed_curve_with_one_direction_reaches_its_depth(out: float, share: float) -> None:
    a, b, depth = 0j, 200 + 0j, 200 * share
    path = bowed_curve(a, b, 1j, depth, leaving=cmath.exp(1j * out))
    assert path.box()[3] == pytest.approx(depth, abs=1e-9)
    assert path.start_direction == pytest.approx(cmath.exp(1j * out))
    back = bowed_curve(b, a, 1j, depth, arriving=-cmath.exp(1j * out))
    assert back.box()[3] == pytest.approx(depth, abs=1e-9)


def test_a_bowed_curve_says_when_it_cannot() -> None:
    with pytest.raises(GeometryError, match="cannot bow"):
        bowed_curve(0j, 100 + 0j, 1j, 10, leaving=1 - 1j, arriving=1 + 1j)
    with pytest.raises(GeometryError, match="overshoot"):
        bowed_curve(0j, 100 + 0j, 1j, 80, leaving=10 + 1j, arriving=10 - 1j)
    with pytest.raises(GeometryError):
        bowed_curve(0j, 0j, 1j, 10)
    with pytest.raises(GeometryError):
        bowed_curve(0j, 100 + 0j, 5 + 0j, 10)
    with pytest.raises(GeometryError):
        bowed_curve(0j, 100 + 0j, 1j, -1)
    assert bowed_curve(0j, 100 + 0j, 1j, 0) == line(0j, 100 + 0j)


@given(points, st.floats(1, 500), st.floats(-3, 3), st.floats(0.1, 6.1), st.floats(0.1, 0.9))
def test_an_arc_through_three_points_of_an_arc_is_that_arc(
    centre: complex, radius: float, begin: float, sweep: float, share: float
) -> None:
    given_arc = Arc(centre, centre + cmath.rect(radius, begin), sweep)
    assume(abs(given_arc.end - given_arc.start) > 0.1 * radius)
    for arc in (given_arc, given_arc.reversed()):
        (found,) = arc_through(arc.start, arc.point(share), arc.end).segments
        assert isinstance(found, Arc)
        assert found.centre == pytest.approx(centre, abs=1e-6)
        assert found.sweep == pytest.approx(arc.sweep, abs=1e-8)
        assert found.point(0.37) == pytest.approx(arc.point(0.37), abs=1e-6)


def test_an_arc_through_points_on_a_line() -> None:
    assert arc_through(0j, 1 + 1j, 3 + 3j) == line(0j, 3 + 3j)
    with pytest.raises(GeometryError):
        arc_through(0j, 4 + 4j, 3 + 3j)
    with pytest.raises(GeometryError):
        arc_through(0j, 0j, 3 + 3j)


def test_an_arc_around_a_centre_goes_the_shorter_way() -> None:
    (arc,) = arc_around(10 + 0j, 10j, 0j).segments
    assert isinstance(arc, Arc)
    assert arc.sweep == pytest.approx(math.pi / 2)
    (back,) = arc_around(10j, 10 + 0j, 0j).segments
    assert isinstance(back, Arc)
    assert back.sweep == pytest.approx(-math.pi / 2)
    for a, b in ((10 + 0j, -10 + 0j), (-10 + 0j, 10 + 0j), (10j, -10j)):
        (half,) = arc_around(a, b, 0j).segments
        assert isinstance(half, Arc)
        assert half.sweep == pytest.approx(math.pi)


def test_an_arc_around_a_centre_wants_equal_radii() -> None:
    with pytest.raises(GeometryError, match="equally far"):
        arc_around(10 + 0j, 10.02j, 0j)
    (arc,) = arc_around(10 + 0j, 10.004j, 0j).segments
    assert isinstance(arc, Arc)
    assert (arc.start, arc.end) == (10 + 0j, 10.004j)
    assert abs(arc.end - arc.centre) == pytest.approx(arc.radius, abs=1e-12)
    with pytest.raises(GeometryError):
        arc_around(10 + 0j, 10 + 0j, 0j)


@given(rows(), st.sampled_from([0.1, 0.01, 0.001]))
@settings(max_examples=40, deadline=None)
def test_a_fitted_curve_stays_within_tolerance_of_its_points(
    row: list[complex], tolerance: float
) -> None:
    drawn = fair_curve(row)
    dense = [drawn.point_at(drawn.length * k / 200) for k in range(201)]
    path = fitted(dense, tolerance, drawn.start_direction, drawn.end_direction)
    assert (path.start, path.end) == (dense[0], dense[-1])
    assert path.start_direction == pytest.approx(drawn.start_direction)
    assert path.end_direction == pytest.approx(drawn.end_direction)
    assert path.corners(1e-6) == ()
    assert max(path.nearest(p)[1] for p in dense) <= tolerance
    assert len(path.segments) < len(dense) / 2


def test_a_quarter_circle_is_fitted_by_few_cubics() -> None:
    dense = [100 * cmath.exp(1j * math.pi / 2 * k / 90) for k in range(91)]
    path = fitted(dense, 0.01)
    assert len(path.segments) <= 4
    assert path.start_direction == pytest.approx(1j, abs=2e-3)
    assert path.length == pytest.approx(50 * math.pi, abs=0.02)


def test_two_points_are_fitted_by_a_line_and_one_by_nothing() -> None:
    assert fitted([0j, 5 + 0j, 5 + 0j], 0.1) == line(0j, 5 + 0j)
    with pytest.raises(GeometryError):
        fitted([0j, 0j], 0.1)
    with pytest.raises(GeometryError):
        fitted([], 0.1)
