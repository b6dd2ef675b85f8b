"""Meetings: crossings, touches, shared stretches, rays and circles.

The outside oracle is shapely (GEOS), on finely flattened curves.
"""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from oaktag.compiler.geometry import (
    Arc,
    Cubic,
    GeometryError,
    Line,
    Path,
    circle_meetings,
    cross,
    fair_curve,
    line,
    line_meetings,
    meetings,
    polyline,
    ray_meetings,
)

coordinates = st.integers(-400, 400)
points = st.builds(complex, coordinates, coordinates)
lines = st.builds(Line, points, points)
arcs = st.builds(
    lambda centre, radius, angle, sweep: Arc(centre, centre + cmath.rect(radius, angle), sweep),
    points,
    st.integers(5, 400),
    st.floats(-3, 3),
    st.floats(-6.2, -0.1) | st.floats(0.1, 6.2),
)


def turns_back_on_a_line(curve: Cubic) -> bool:
    """A cubic that runs to and fro along one line shares stretches with itself."""
    steps = (curve.first - curve.start, curve.second - curve.first, curve.end - curve.second)
    return all(cross(a, b) == 0 for a in steps for b in steps)


cubics = st.builds(Cubic, points, points, points, points).filter(
    lambda curve: not turns_back_on_a_line(curve)
)
single_paths = (lines | arcs | cubics).filter(lambda s: s.length > 1).map(lambda s: Path([s]))

SQUARE = polyline([0j, 100 + 0j, 100 + 100j, 100j, 0j])
ARCH = Path([Cubic(0j, 0 + 80j, 100 + 80j, 100 + 0j)])


def drawn(path: Path) -> shapely.LineString:
    return shapely.LineString([(p.real, p.imag) for p in path.flattened(1e-5)])


def shared_points(first: Path, second: Path) -> list[complex]:
    shared = shapely.intersection(drawn(first), drawn(second))
    return [complex(g.x, g.y) for g in shapely.get_parts(shared) if g.geom_type == "Point"]


@given(single_paths, single_paths)
@settings(max_examples=120, deadline=None)
def test_paths_meet_where_shapely_says(first: Path, second: Path) -> None:
    found = meetings(first, second)
    expected = shared_points(first, second)
    # A touch may be two points, one or none on flattened curves: only clear crossings count.
    for p in expected:
        s, u = first.nearest(p)[0], second.nearest(p)[0]
        angle = cmath.phase(first.tangent_at(s) / second.tangent_at(u))
        if abs(math.sin(angle)) > 0.02:
            assert min((abs(hit.point - p) for hit in found), default=math.inf) < 0.01
    for hit in found:
        angle = cmath.phase(first.tangent_at(hit.first_at) / second.tangent_at(hit.second_at))
        if abs(math.sin(angle)) > 0.02 and expected:
            at_an_end = hit.first_at in (0, first.length) or hit.second_at in (0, second.length)
            assert at_an_end or min(abs(hit.point - p) for p in expected) < 0.01


@given(single_paths, single_paths)
@settings(max_examples=150, deadline=None)
def test_a_meeting_lies_on_both_paths(first: Path, second: Path) -> None:
    found = meetings(first, second)
    assert [hit.first_at for hit in found] == sorted(hit.first_at for hit in found)
    for hit in found:
        assert first.point_at(hit.first_at) == pytest.approx(hit.point, abs=1e-6)
        assert second.point_at(hit.second_at) == pytest.approx(hit.point, abs=1e-6)


@given(single_paths, single_paths)
@settings(max_examples=100, deadline=None)
def test_the_meetings_are_the_same_seen_from_the_other_path(first: Path, second: Path) -> None:
    there = sorted((hit.second_at, hit.first_at) for hit in meetings(first, second))
    back = [(hit.first_at, hit.second_at) for hit in meetings(second, first)]
    assert len(there) == len(back)
    for one, other in zip(there, back, strict=True):
        assert one == pytest.approx(other, abs=1e-2)


def test_two_lines_cross_once() -> None:
    (hit,) = meetings(line(0j, 10 + 10j), line(10j, 10 + 0j))
    assert hit.point == pytest.approx(5 + 5j, abs=1e-12)
    assert hit.first_at == pytest.approx(5 * math.sqrt(2), abs=1e-12)


def test_a_line_through_a_joint_meets_the_path_there_once() -> None:
    (hit,) = meetings(polyline([0j, 50 + 0j, 100 + 30j]), line(50 - 10j, 50 + 10j))
    assert (hit.first_at, hit.second_at) == (50, 10)
    found = meetings(SQUARE, line(-50 - 50j, 150 + 150j))
    assert [hit.first_at for hit in found] == pytest.approx([0, 200])


def test_the_joint_of_a_closed_path_is_met_once() -> None:
    (hit,) = meetings(line(-10 + 10j, 10 - 10j), SQUARE)
    assert hit.second_at == 0


def test_lines_that_share_a_stretch_meet_at_its_two_ends() -> None:
    found = meetings(line(0j, 10 + 0j), line(15 + 0j, 4 + 0j))
    assert [hit.first_at for hit in found] == [4, 10]
    assert [hit.second_at for hit in found] == [11, 5]


def test_parallel_lines_do_not_meet() -> None:
    assert meetings(line(0j, 10 + 0j), line(0.001j, 10 + 0.001j)) == []
    assert meetings(line(0j, 10 + 0j), line(10.001 + 0j, 20 + 0j)) == []


def test_end_to_end_is_a_meeting() -> None:
    (hit,) = meetings(line(0j, 10 + 0j), line(10 + 0j, 20 + 5j))
    assert (hit.first_at, hit.second_at, hit.point) == (10, 0, 10 + 0j)


def test_straight_curves_meet_as_lines_do() -> None:
    first = Path([Cubic(0j, 1 + 0j, 8 + 0j, 10 + 0j)])
    found = meetings(first, Path([Cubic(4 + 0j, 5 + 0j, 6 + 0j, 15 + 0j)]))
    assert [hit.first_at for hit in found] == pytest.approx([4, 10], abs=1e-9)
    assert [hit.second_at for hit in found] == pytest.approx([0, 6], abs=1e-9)
    (hit,) = meetings(first, line(3 - 1j, 3 + 1j))
    assert (hit.first_at, hit.second_at) == pytest.approx((3, 1), abs=1e-9)


def test_arcs_that_share_a_stretch_meet_at_its_two_ends() -> None:
    first = Path([Arc(0j, 50 + 0j, 2.0)])
    second = Path([Arc(0j, 50 * cmath.exp(3j), -2.0)])
    found = meetings(first, second)
    assert [hit.first_at for hit in found] == pytest.approx([50, 100])


@pytest.mark.parametrize("scale", [0.01, 1, 1000])
def test_curves_that_share_a_stretch_meet_at_its_two_ends(scale: float) -> None:
    curve = Cubic(0j, 40 * scale + 90j * scale, 60 * scale - 90j * scale, 100 * scale + 0j)
    found = meetings(Path([curve.part(0, 0.6)]), Path([curve.part(0.3, 1).reversed()]))
    assert [hit.point for hit in found] == pytest.approx(
        [curve.point(0.3), curve.point(0.6)], abs=1e-7
    )


def test_a_line_touches_a_circle_at_one_point() -> None:
    circle = Path([Arc(0j, -100j, 2 * math.pi)])
    (hit,) = meetings(line(-50 + 100j, 50 + 100j), circle)
    assert hit.point == pytest.approx(100j, abs=1e-6)
    assert meetings(line(-50 + 100.001j, 50 + 100.001j), circle) == []
    assert len(meetings(line(-50 + 99.999j, 50 + 99.999j), circle)) == 2


def test_a_line_touches_the_top_of_an_arch() -> None:
    (hit,) = meetings(ARCH, line(-10 + 60j, 110 + 60j))
    assert hit.point == pytest.approx(50 + 60j, abs=1e-9)
    assert meetings(ARCH, line(-10 + 60.001j, 110 + 60.001j)) == []


def test_circles_touch_from_outside_and_from_inside() -> None:
    circle = Path([Arc(0j, 10j, 2 * math.pi)])
    (outside,) = meetings(circle, Path([Arc(30 + 0j, 30 + 20j, 2 * math.pi)]))
    assert outside.point == pytest.approx(10, abs=1e-6)
    (inside,) = meetings(circle, Path([Arc(4 + 0j, 4 + 6j, 2 * math.pi)]))
    assert inside.point == pytest.approx(10, abs=1e-6)


touching_points = st.builds(complex, st.floats(-300, 300), st.floats(-300, 300))


@given(cubics, st.floats(0.2, 0.8), touching_points, touching_points, st.floats(50, 800))
@settings(max_examples=100, deadline=None)
def test_two_cubics_made_to_touch_meet_where_they_touch(
    curve: Cubic, t: float, start: complex, handle: complex, speed: float
) -> None:
    assume(curve.length > 20 and abs(curve.derivative(t)) > 20)
    touch, along = curve.point(t), curve.tangent(t)
    # The cubic from start with that handle which passes the touch at its middle, alongside.
    total = 8 * touch - start - 3 * handle
    slope = 4 / 3 * speed * along + start + handle
    second = (total - slope) / 2
    other = Cubic(start, handle, second, slope - second)
    # Nearly equal curvatures leave the place of the touch open.
    assume(abs(curve.curvature(t) - other.curvature(0.5)) > 1e-3)
    found = meetings(Path([curve]), Path([other]))
    assert min((abs(hit.point - touch) for hit in found), default=math.inf) < 1e-6


@given(cubics, st.floats(0.05, 0.95), points)
@settings(max_examples=100, deadline=None)
def test_a_line_through_a_point_of_a_curve_meets_it_there(
    curve: Cubic, t: float, start: complex
) -> None:
    p = curve.point(t)
    assume(abs(p - start) > 1)
    assume(abs(math.sin(cmath.phase(curve.tangent(t) / (p - start)))) > 1e-3)
    found = meetings(Path([curve]), line(start, p + (p - start)))
    assert min((abs(hit.point - p) for hit in found), default=math.inf) < 1e-6


def test_a_curve_and_its_smooth_continuation_meet_at_the_joint_only() -> None:
    smooth = fair_curve([0j, 100 + 30j, 200 - 20j, 300 + 10j])
    first, second = smooth.split_at(smooth.length / 2)
    (hit,) = meetings(first, second)
    assert (hit.first_at, hit.second_at) == pytest.approx((first.length, 0))


@pytest.mark.parametrize("size", [0.01, 1.0, 1e5])
def test_sizes_from_a_hundredth_of_a_millimetre_to_a_hundred_metres(size: float) -> None:
    curve = Path([Cubic(0j, 0.2 * size + 0.6j * size, 0.8 * size - 0.6j * size, size + 0j)])
    found = meetings(curve, line(-0.1 * size + 0.01j * size, 1.1 * size - 0.01j * size))
    # By symmetry one crossing is the middle of both.
    assert len(found) == 3
    assert found[1].point == pytest.approx(size / 2, abs=1e-9 * max(1, size))


def test_a_ray_finds_what_lies_ahead_in_order() -> None:
    found = ray_meetings(50 + 50j, 2j, SQUARE)
    assert found == [(50, 250, 50 + 100j)]
    both = line_meetings(50 + 50j, 2j, SQUARE)
    assert [distance for distance, _, _ in both] == pytest.approx([-50, 50])
    assert [s for _, s, _ in both] == pytest.approx([50, 250])


def test_a_ray_from_the_edge_itself_starts_at_nothing() -> None:
    found = ray_meetings(50 + 0j, 1j, SQUARE)
    assert [distance for distance, _, _ in found] == pytest.approx([0, 100], abs=1e-12)


def test_a_ray_through_corners_meets_each_once() -> None:
    found = ray_meetings(-50 - 50j, 1 + 1j, SQUARE)
    assert [s for _, s, _ in found] == pytest.approx([0, 200])


def test_a_ray_along_an_edge_meets_the_ends_of_the_edge() -> None:
    found = ray_meetings(-50 + 0j, 1 + 0j, SQUARE)
    assert [distance for distance, _, _ in found] == pytest.approx([50, 150])


@given(st.floats(-3, 3), cubics)
@settings(max_examples=100, deadline=None)
def test_a_ray_meets_a_curve_where_a_long_line_does(angle: float, curve: Cubic) -> None:
    direction = cmath.exp(1j * angle)
    path = Path([curve])
    found = ray_meetings(1 + 2j, direction, path)
    expected = meetings(line(1 + 2j, 1 + 2j + 3000 * direction), path)
    assert [d for d, _, _ in found] == pytest.approx([hit.first_at for hit in expected], abs=1e-4)


@given(st.floats(-1e-6, 1e-6), st.floats(1e-4, 1), st.floats(-3, 3))
@settings(max_examples=200, deadline=None)
def test_a_ray_past_a_joint_at_a_shallow_angle_meets_the_path_once(
    off: float, slant: float, turn: float
) -> None:
    direction = cmath.exp(1j * turn)
    path = polyline([p * direction for p in (-100 - 100j * slant, 1j * off, 100 + 30j * slant)])
    assert len(line_meetings(-200 * direction, direction, path)) == 1


def test_a_ray_needs_a_direction() -> None:
    with pytest.raises(GeometryError):
        ray_meetings(0j, 0j, SQUARE)


@given(points, st.integers(1, 500), single_paths)
@settings(max_examples=200, deadline=None)
def test_a_circle_meets_a_path_at_its_radius(centre: complex, radius: int, path: Path) -> None:
    found = circle_meetings(centre, radius, path)
    assert [s for s, _ in found] == sorted(s for s, _ in found)
    for s, p in found:
        assert abs(p - centre) == pytest.approx(radius, abs=1e-6)
        assert path.point_at(s) == pytest.approx(p, abs=1e-7)
    (segment,) = path.segments
    assume(not isinstance(segment, Arc) or segment.centre != centre)
    row = [abs(path.point_at(path.length * k / 300) - centre) - radius for k in range(301)]
    crossed = sum((a < 0) != (b < 0) for a, b in pairwise(row))
    assert len(found) >= crossed


def test_a_circle_meets_a_square_eight_times() -> None:
    assert len(circle_meetings(50 + 50j, 55, SQUARE)) == 8
    assert len(circle_meetings(50 + 50j, 50, SQUARE)) == 4
    assert len(circle_meetings(50 + 50j, 50 * math.sqrt(2), SQUARE)) == 4
    assert circle_meetings(50 + 50j, 49, SQUARE) == []
