"""Lines, arcs and cubics: lengths, areas, parts, boxes and nearest points.

The outside oracle is scipy: scipy.integrate.quad for lengths and areas, scipy.optimize for the
nearest point.
"""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from oaktag.compiler.geometry import Arc, Cubic, Line, Segment

coordinates = st.floats(-1000, 1000)
points = st.builds(complex, coordinates, coordinates)
shares = st.floats(0, 1)

lines = st.builds(Line, points, points)
arcs = st.builds(
    lambda centre, radius, angle, sweep: Arc(centre, centre + cmath.rect(radius, angle), sweep),
    points,
    st.floats(0.01, 2000),
    st.floats(-4, 4),
    st.floats(0.01, 2 * math.pi) | st.floats(-2 * math.pi, -0.01),
)
cubics = st.builds(Cubic, points, points, points, points)
segments = lines | arcs | cubics

# Ordinary and awkward cubics, by what is awkward about them.
CURVES = {
    "gentle": Cubic(0j, 100 + 20j, 200 + 20j, 300 + 0j),
    "s-shaped": Cubic(0j, 150 + 200j, 50 - 200j, 200 + 0j),
    "looped": Cubic(0j, 300 + 200j, -100 + 200j, 200 + 0j),
    "cusped": Cubic(0j, 100 + 100j, 0 + 100j, 100 + 0j),
    "nearly cusped": Cubic(0j, 100 + 100.0001j, 0 + 100j, 100 + 0j),
    "with no first handle": Cubic(0j, 0j, 50 + 80j, 100 + 0j),
    "with no second handle": Cubic(0j, 50 + 80j, 100 + 0j, 100 + 0j),
    "with no handles": Cubic(0j, 0j, 100 + 30j, 100 + 30j),
    "doubling back on a line": Cubic(0j, 200 + 0j, -100 + 0j, 100 + 0j),
    "tiny": Cubic(0j, 0.003 + 0.004j, 0.007 + 0.004j, 0.01 + 0j),
    "huge": Cubic(0j, 3e4 + 4e4j, 7e4 + 4e4j, 1e5 + 0j),
    "far away": Cubic(1e5 + 1e5j, 100100 + 100050j, 100200 + 100050j, 100300 + 1e5j),
}
awkward = pytest.mark.parametrize("curve", CURVES.values(), ids=CURVES.keys())


def stops_of(curve: Cubic) -> list[float]:
    """Where the curve runs slowest, once or twice: quadrature needs telling of a sharp bend."""
    speeds = [abs(curve.derivative(k / 1000)) for k in range(1001)]
    stops = {0.0, 1.0, 0.25, 0.5, 0.75}
    for at, speed in enumerate(speeds):
        if speed > min(speeds[max(at - 1, 0) : at + 2]):
            continue
        found = minimize_scalar(
            lambda t: abs(curve.derivative(t)),
            bounds=(max(0, at - 1) / 1000, min(1000, at + 1) / 1000),
            method="bounded",
            options={"xatol": 1e-14},
        )
        stops.add(float(found.x))
        for width in (1e-2, 1e-4, 1e-6):
            stops |= {float(found.x) - width, float(found.x) + width}
    return sorted(t for t in stops if 0 <= t <= 1)


def quadrature(curve: Cubic) -> float:
    """Length by scipy.integrate.quad; with its full output it does not warn of rounding."""
    stops = stops_of(curve)
    return sum(
        quad(
            lambda t: abs(curve.derivative(t)), low, high, epsabs=1e-11, epsrel=1e-12, full_output=1
        )[0]
        for low, high in pairwise(stops)
        if high > low
    )


@awkward
def test_length_of_a_cubic_is_what_scipy_integrates(curve: Cubic) -> None:
    assert curve.length == pytest.approx(quadrature(curve), abs=2e-9, rel=1e-13)


@given(cubics)
@example(Cubic(37.25 + 37.25j, 37.25 - 213j, 37.25 + 105j, 37.25 - 213j))  # turns back twice
@settings(max_examples=60, deadline=None)
def test_length_of_any_cubic_is_what_scipy_integrates(curve: Cubic) -> None:
    assert curve.length == pytest.approx(quadrature(curve), abs=5e-9)


@awkward
def test_area_under_a_cubic_is_what_scipy_integrates(curve: Cubic) -> None:
    def swept(t: float) -> float:
        return (curve.point(t).conjugate() * curve.derivative(t)).imag / 2

    expected = quad(swept, 0, 1, epsabs=1e-9, epsrel=1e-11, full_output=1)[0]
    assert curve.area() == pytest.approx(expected, rel=1e-9, abs=1e-8)


@given(arcs)
@settings(max_examples=50, deadline=None)
def test_length_and_area_of_an_arc_are_what_scipy_integrates(arc: Arc) -> None:
    length = quad(lambda t: abs(arc.derivative(t)), 0, 1)[0]
    area = quad(lambda t: (arc.point(t).conjugate() * arc.derivative(t)).imag / 2, 0, 1)[0]
    assert arc.length == pytest.approx(length, rel=1e-11)
    assert arc.area() == pytest.approx(area, rel=1e-7, abs=1e-4)


def test_a_cubic_with_even_handles_on_its_chord_is_as_long_as_the_chord() -> None:
    assert Cubic(0j, 100 + 100j, 200 + 200j, 300 + 300j).length == pytest.approx(300 * math.sqrt(2))


def test_a_full_circle_has_its_circumference_and_area() -> None:
    circle = Arc(10 + 20j, 40 + 20j, 2 * math.pi)
    assert circle.end == circle.start
    assert circle.length == pytest.approx(60 * math.pi, abs=1e-12)
    assert circle.area() == pytest.approx(900 * math.pi, abs=1e-9)
    assert circle.box() == pytest.approx((-20, -10, 40, 50), abs=1e-12)
    assert circle.reversed().area() == pytest.approx(-900 * math.pi, abs=1e-9)


@given(segments, shares)
def test_the_two_parts_of_a_split_add_up(segment: Segment, t: float) -> None:
    before, after = segment.split(t)
    assert (before.start, after.end) == (segment.start, segment.end)
    assert before.end == after.start
    assert before.length + after.length == pytest.approx(segment.length, abs=2e-9)
    assert before.area() + after.area() == pytest.approx(segment.area(), rel=1e-9, abs=1e-5)
    assert before.length == pytest.approx(segment.length_to(t), abs=1e-9)


@given(segments, shares, shares, shares)
def test_a_part_runs_over_the_same_points(segment: Segment, a: float, b: float, c: float) -> None:
    low, high = min(a, b), max(a, b)
    part = segment.part(low, high)
    assert part.point(c) == pytest.approx(segment.point(low + c * (high - low)), abs=1e-8)


@given(segments, shares)
def test_a_length_is_found_again_on_the_segment(segment: Segment, share: float) -> None:
    wanted = share * segment.length
    t = segment.parameter_at(wanted)
    assert 0 <= t <= 1
    assert segment.length_to(t) == pytest.approx(wanted, abs=1e-10, rel=1e-12)


@awkward
@pytest.mark.parametrize("share", [0, 1e-9, 0.1, 0.5, 0.77, 1])
def test_a_length_is_found_again_on_an_awkward_cubic(curve: Cubic, share: float) -> None:
    wanted = share * curve.length
    assert curve.length_to(curve.parameter_at(wanted)) == pytest.approx(
        wanted, abs=1e-10, rel=1e-13
    )


@given(segments, shares)
def test_the_reverse_runs_back_over_the_same_points(segment: Segment, t: float) -> None:
    back = segment.reversed()
    assert back.point(1 - t) == pytest.approx(segment.point(t), abs=1e-8)
    assert back.length == pytest.approx(segment.length, abs=2e-9)
    assert back.area() == pytest.approx(-segment.area(), rel=1e-9, abs=1e-6)
    assert back.reversed() == segment


@given(segments)
def test_the_box_holds_the_segment_and_touches_it_on_every_side(segment: Segment) -> None:
    left, bottom, right, top = segment.box()
    row = [segment.point(k / 400) for k in range(401)]
    slack = 1e-9
    assert all(left - slack <= p.real <= right + slack for p in row)
    assert all(bottom - slack <= p.imag <= top + slack for p in row)
    # 400 samples of a curve miss its summit by no more than this.
    gap = 1e-9 + segment.length * 2e-2
    assert min(p.real for p in row) - left <= gap
    assert min(p.imag for p in row) - bottom <= gap
    assert right - max(p.real for p in row) <= gap
    assert top - max(p.imag for p in row) <= gap


def test_the_box_of_a_half_circle_is_tight() -> None:
    assert Arc(0j, 10 + 0j, math.pi).box() == pytest.approx((-10, 0, 10, 10), abs=1e-12)
    assert Arc(0j, 10 + 0j, -math.pi).box() == pytest.approx((-10, -10, 10, 0), abs=1e-12)


def test_the_box_of_an_arch_reaches_three_quarters_of_its_handles() -> None:
    assert Cubic(0j, 0 + 40j, 100 + 40j, 100 + 0j).box() == pytest.approx((0, 0, 100, 30))


@given(segments, points)
@settings(max_examples=150, deadline=None)
def test_no_sampled_point_is_nearer_than_the_nearest(segment: Segment, p: complex) -> None:
    t, distance = segment.nearest(p)
    assert abs(segment.point(t) - p) == pytest.approx(distance, abs=1e-8)
    assert distance <= min(abs(segment.point(k / 500) - p) for k in range(501)) + 1e-9


@given(cubics, points)
@settings(max_examples=40, deadline=None)
def test_the_nearest_point_of_a_cubic_is_what_scipy_minimises(curve: Cubic, p: complex) -> None:
    best = min(range(201), key=lambda k: abs(curve.point(k / 200) - p))
    found = minimize_scalar(
        lambda t: abs(curve.point(t) - p),
        bounds=(max(0, (best - 1) / 200), min(1, (best + 1) / 200)),
        method="bounded",
        options={"xatol": 1e-12},
    )
    assert curve.nearest(p)[1] <= found.fun + 1e-7


@given(segments, st.sampled_from([1.0, 0.1, 0.01]))
@settings(max_examples=60, deadline=None)
def test_a_flattened_segment_stays_within_tolerance(segment: Segment, tolerance: float) -> None:
    row = [segment.start, *segment.flattened(tolerance)]
    assert row[-1] == segment.end
    steps = [Line(a, b) for a, b in pairwise(row)]
    for k in range(51):
        p = segment.point(k / 50)
        assert min(step.nearest(p)[1] for step in steps) <= tolerance * (1 + 1e-6) + 1e-9


@given(segments, shares)
def test_a_tangent_has_size_one_and_points_along_the_curve(segment: Segment, t: float) -> None:
    assert abs(segment.tangent(t)) == pytest.approx(1)
    along = segment.derivative(t)
    if abs(along) > 1e-3:
        assert segment.tangent(t) == pytest.approx(along / abs(along), abs=1e-9)


def test_a_missing_handle_leaves_the_tangent_to_the_other() -> None:
    assert CURVES["with no first handle"].tangent(0) == pytest.approx((50 + 80j) / abs(50 + 80j))
    assert CURVES["with no second handle"].tangent(1) == pytest.approx((50 - 80j) / abs(50 - 80j))
    straight = (100 + 30j) / abs(100 + 30j)
    assert CURVES["with no handles"].tangent(0) == pytest.approx(straight)
    assert CURVES["with no handles"].tangent(1) == pytest.approx(straight)


@given(cubics, st.floats(0.05, 0.95))
def test_curvature_is_the_turning_of_the_tangent_per_length(curve: Cubic, t: float) -> None:
    assume(abs(curve.derivative(t)) > 50)
    h = 1e-5
    turned = cmath.phase(curve.tangent(t + h) / curve.tangent(t - h))
    travelled = curve.length_to(t + h) - curve.length_to(t - h)
    assert curve.curvature(t) == pytest.approx(turned / travelled, rel=1e-3, abs=1e-6)


def test_curvature_is_positive_to_the_left() -> None:
    assert Arc(0j, 20 + 0j, 1.0).curvature(0.5) == pytest.approx(1 / 20)
    assert Arc(0j, 20 + 0j, -1.0).curvature(0.5) == pytest.approx(-1 / 20)
    assert Line(0j, 1j).curvature(0.5) == 0
    assert Cubic(0j, 10 + 0j, 20 + 5j, 20 + 20j).curvature(0.5) > 0
    assert CURVES["with no first handle"].curvature(0) == -math.inf


def test_segments_are_values() -> None:
    assert Line(0j, 1j) == Line(0j, 1j) != Line(0j, 2j)
    assert Arc(0j, 1 + 0j, 1.0) == Arc(0j, 1 + 0j, 1.0)
    assert len({Cubic(0j, 1j, 2j, 3j), Cubic(0j, 1j, 2j, 3j), Line(0j, 3j)}) == 2
