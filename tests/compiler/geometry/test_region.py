"""Rings: inside and outside, their own crossings, and what lies between two paths.

The outside oracle is shapely (GEOS), on finely flattened rings.
"""

from __future__ import annotations

import cmath
import math

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
    bowed_curve,
    chain,
    contains,
    fair_curve,
    interior_point,
    lenses,
    line,
    polyline,
    ring_area,
    self_crossings,
)

coordinates = st.integers(-300, 300)
points = st.builds(complex, coordinates, coordinates)
SQUARE = polyline([0j, 100 + 0j, 100 + 100j, 100j, 0j])


@st.composite
def rings(draw: st.DrawFn) -> Path:
    """Star-shaped rings of straight, bowed and fair edges."""
    count = draw(st.integers(3, 7))
    corners = [draw(st.floats(60, 200)) * cmath.exp(2j * math.pi * k / count) for k in range(count)]
    parts = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        kind = draw(st.sampled_from("lbf"))
        if kind == "l":
            parts.append(line(a, b))
        elif kind == "b":
            parts.append(bowed_curve(a, b, draw(st.sampled_from([a + b, -a - b])), abs(b - a) / 20))
        else:
            parts.append(fair_curve([a, (a + b) / 2 * draw(st.floats(0.9, 1.1)), b]))
    return chain(parts)


def drawn(ring: Path) -> shapely.Polygon:
    return shapely.Polygon([(p.real, p.imag) for p in ring.flattened(1e-4)])


@given(rings())
@settings(max_examples=60, deadline=None)
def test_a_ring_has_the_area_shapely_finds(ring: Path) -> None:
    assert ring_area(ring) == pytest.approx(drawn(ring).area, abs=1e-4 * ring.length)
    assert ring_area(ring.reversed()) == pytest.approx(-ring_area(ring))


@given(rings(), points)
@settings(max_examples=300, deadline=None)
def test_a_point_is_inside_where_shapely_says(ring: Path, p: complex) -> None:
    assume(ring.nearest(p)[1] > 1e-3)
    assert contains(ring, p) == drawn(ring).contains(shapely.Point(p.real, p.imag))
    assert contains(ring.reversed(), p) == contains(ring, p)


@given(rings(), st.floats(0, 1))
@settings(max_examples=100, deadline=None)
def test_the_boundary_counts_as_inside(ring: Path, share: float) -> None:
    s = share * ring.length
    p = ring.point_at(s)
    assert contains(ring, p)
    out = -1j * ring.tangent_at(s)
    if ring.nearest(p + 0.01 * out)[1] > 0.005:
        assert not contains(ring, p + 0.01 * out)


def test_a_level_through_corners_does_not_mislead() -> None:
    diamond = polyline([10 + 0j, 10j, -10 + 0j, -10j, 10 + 0j])
    assert contains(diamond, 0j)
    assert not contains(diamond, -11 + 0j)
    assert not contains(diamond, -5 + 10j)
    assert not contains(diamond, 20 + 0j)
    assert contains(diamond, 10j)
    circle = Path([Arc(0j, 10 + 0j, 2 * math.pi)])
    for p in (0j, 9.9j, -9.9 + 0j, 10 + 0j):
        assert contains(circle, p)
    for p in (-11 + 0j, 9.9 + 9.9j, -5 + 10j, -5 - 10j, 10.1 + 0j):
        assert not contains(circle, p)


def test_an_open_path_has_no_inside() -> None:
    with pytest.raises(GeometryError, match="closed"):
        contains(line(0j, 10 + 0j), 0j)


@given(rings())
@settings(max_examples=60, deadline=None)
def test_a_ring_that_shapely_calls_valid_has_no_crossings(ring: Path) -> None:
    # Curves may come within the flattening of each other: those are for neither to decide.
    assume(drawn(ring).is_valid == drawn(ring).buffer(0).is_valid)
    assert (self_crossings(ring, closed=True) == []) == drawn(ring).is_valid


@given(st.lists(points, min_size=4, max_size=7, unique=True))
@settings(max_examples=100, deadline=None)
def test_a_zigzag_crosses_itself_where_shapely_says(row: list[complex]) -> None:
    path = polyline(row)
    simple = shapely.LineString([(p.real, p.imag) for p in row]).is_simple
    found = self_crossings(path, closed=False)
    assert (found == []) == simple
    for s0, s1, p in found:
        assert s0 < s1
        assert path.point_at(s0) == pytest.approx(p, abs=1e-6)
        assert path.point_at(s1) == pytest.approx(p, abs=1e-6)


def test_a_figure_of_eight_crosses_itself_once() -> None:
    eight = polyline([0j, 100 + 100j, 100 + 0j, 100j, 0j])
    ((s0, s1, p),) = self_crossings(eight, closed=True)
    assert p == pytest.approx(50 + 50j)
    assert (s0, s1) == pytest.approx((50 * math.sqrt(2), 100 + 150 * math.sqrt(2)))
    assert self_crossings(SQUARE, closed=True) == []
    assert len(self_crossings(SQUARE, closed=False)) == 1


def test_a_curve_with_a_loop_crosses_itself() -> None:
    curve = Cubic(0j, 300 + 200j, -100 + 200j, 200 + 0j)
    ((s0, s1, p),) = self_crossings(Path([curve]), closed=False)
    assert p.real == pytest.approx(100)
    path = Path([curve])
    assert path.point_at(s0) == pytest.approx(path.point_at(s1), abs=1e-9)
    assert self_crossings(Path([Cubic(0j, 100 + 50j, 200 + 50j, 300 + 0j)]), closed=False) == []


def test_a_smooth_path_of_many_curves_does_not_cross_itself() -> None:
    path = fair_curve([0j, 80 + 30j, 150 - 10j, 260 + 25j, 300 + 100j])
    assert self_crossings(path, closed=False) == []
    back = chain([path, fair_curve([300 + 100j, 150 + 150j, 0j])])
    assert self_crossings(back, closed=True) == []


def test_the_lens_between_a_line_and_its_bowed_curve() -> None:
    """A segment of a circle: area r²(a - sin a)/2 for the sweep a."""
    old, new = line(0j, 200 + 0j), bowed_curve(0j, 200 + 0j, -1j, 30)
    ((ring, area),) = lenses(old, new)
    radius = (100**2 + 30**2) / 60
    sweep = 4 * math.atan(30 / 100)
    assert area == pytest.approx(radius**2 * (sweep - math.sin(sweep)) / 2)
    assert ring.area() == area
    # Bowed out to the right of travel: on an anticlockwise outline paper was let in.
    assert area > 0
    ((_, back),) = lenses(new, old)
    assert back == pytest.approx(-area)


def test_paths_that_cross_leave_a_lens_on_each_side() -> None:
    old = polyline([0j, 100 + 10j, 200 - 10j, 300 + 0j])
    found = lenses(old, line(0j, 300 + 0j))
    assert [area for _, area in found] == pytest.approx([750, -750])
    assert all(ring.closed for ring, _ in found)


@given(st.lists(st.floats(-40, 40), min_size=3, max_size=5), st.floats(-60, 60))
@settings(max_examples=80, deadline=None)
def test_the_lenses_add_up_to_the_whole_difference(heights: list[float], middle: float) -> None:
    last = 100 * (len(heights) + 1)
    inner = [complex(100 * (k + 1), h) for k, h in enumerate(heights)]
    old = fair_curve([0j, *inner, last + 0j])
    new = fair_curve([0j, last / 2 + 1j * middle, last + 0j])
    found = lenses(old, new)
    whole = chain([new, old.reversed()]).area()
    assert sum(area for _, area in found) == pytest.approx(whole, abs=1e-4)
    between = shapely.Polygon(
        [(p.real, p.imag) for p in (*new.flattened(1e-3), *reversed(old.flattened(1e-3)))]
    )
    covered = shapely.make_valid(between).area
    assert sum(abs(area) for _, area in found) == pytest.approx(covered, abs=2e-3 * last)


def test_the_same_path_twice_leaves_nothing_between() -> None:
    path = fair_curve([0j, 100 + 10j, 200 + 0j])
    assert lenses(path, path) == []
    assert lenses(line(0j, 200 + 0j), polyline([0j, 50 + 0j, 200 + 0j])) == []
    part_changed = polyline([0j, 50 + 0j, 100 + 20j, 150 + 0j, 200 + 0j])
    ((_, area),) = lenses(line(0j, 200 + 0j), part_changed)
    assert area == pytest.approx(-1000)
    with pytest.raises(GeometryError, match="same ends"):
        lenses(path, line(0j, 199 + 0j))


@given(rings())
@settings(max_examples=60, deadline=None)
def test_an_interior_point_is_inside_and_far_from_the_boundary(ring: Path) -> None:
    """The oracle is shapely's largest inscribed circle."""
    assume(drawn(ring).is_valid)
    p = interior_point(ring)
    assert contains(ring, p)
    radius = shapely.maximum_inscribed_circle(drawn(ring), tolerance=0.1).length
    left, bottom, right, top = ring.box()
    assert ring.nearest(p)[1] >= radius - min(right - left, top - bottom) / 25


def test_the_interior_point_of_a_square_is_its_middle() -> None:
    assert interior_point(SQUARE) == 50 + 50j
    horseshoe = polyline(
        [0j, 100 + 0j, 100 + 100j, 80 + 100j, 80 + 20j, 20 + 20j, 20 + 100j, 100j, 0j]
    )
    assert contains(horseshoe, interior_point(horseshoe))
    assert horseshoe.nearest(interior_point(horseshoe))[1] > 9
    assert isinstance(SQUARE.segments[0], Line)
