"""Parallel curves keep their distance."""

from __future__ import annotations

import cmath
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.compiler.geometry import (
    Arc,
    Cubic,
    GeometryError,
    Path,
    bowed_curve,
    chain,
    cross,
    fair_curve,
    line,
    offset,
    parallel,
    polyline,
    self_crossings,
)

distances = st.sampled_from([-25.0, -10.0, -1.0, 1.0, 5.0, 15.0])
SQUARE = polyline([0j, 100 + 0j, 100 + 100j, 100j, 0j])


@st.composite
def edges(draw: st.DrawFn) -> Path:
    """Edges of straight, bowed and fair stretches from left to right, with corners."""
    at = 0j
    parts = []
    for kind in draw(st.lists(st.sampled_from(["line", "bow", "fair"]), min_size=1, max_size=4)):
        to = at + complex(draw(st.floats(60, 150)), draw(st.floats(-40, 40)))
        if kind == "line":
            parts.append(line(at, to))
        elif kind == "bow":
            parts.append(bowed_curve(at, to, draw(st.sampled_from([1j, -1j])), 12))
        else:
            middle = (at + to) / 2 + 1j * draw(st.floats(-15, 15))
            parts.append(fair_curve([at, middle, to]))
        at = to
    return chain(parts)


def distances_of(made: Path, path: Path, count: int = 200) -> list[float]:
    return [path.nearest(made.point_at(made.length * k / count))[1] for k in range(count + 1)]


@given(edges(), distances)
@settings(max_examples=80, deadline=None)
def test_a_parallel_comes_nowhere_nearer_than_its_distance(path: Path, distance: float) -> None:
    made = offset(path, distance)
    assert min(distances_of(made, path)) >= abs(distance) - 0.02
    assert self_crossings(made, closed=False) == []


@given(st.lists(st.floats(-25, 25), min_size=2, max_size=5), distances)
@settings(max_examples=60, deadline=None)
def test_the_parallel_of_a_gentle_curve_keeps_its_distance(
    heights: list[float], distance: float
) -> None:
    path = fair_curve([complex(120 * k, height) for k, height in enumerate(heights)])
    made = offset(path, distance)
    assert distances_of(made, path) == pytest.approx([abs(distance)] * 201, abs=0.01)
    for share in (0, 0.5, 1):
        s = share * path.length
        beside = path.point_at(s) + 1j * path.tangent_at(s) * distance
        assert made.nearest(beside)[1] <= 0.01
    assert made.start == pytest.approx(path.start + 1j * path.start_direction * distance)
    assert made.end == pytest.approx(path.end + 1j * path.end_direction * distance)
    assert made.corners(1e-3) == ()


@given(st.tuples(*[st.floats(-60, 60)] * 4), distances)
@settings(max_examples=80, deadline=None)
def test_the_quick_parallel_of_one_curve_is_where_its_normals_end(
    handles: tuple[float, float, float, float], distance: float
) -> None:
    a, b, c, d = handles
    curve = Cubic(0j, complex(70 + a, b), complex(140 + c, d), 210 + 0j)
    if any(1 - distance * curve.curvature(k / 40) < 0.3 for k in range(41)):
        return  # Bent nearly as tight as the distance: `offset` takes over, and cuts loops out.
    made = parallel(curve, distance, 0.005)
    for k in range(41):
        beside = curve.point(k / 40) + 1j * curve.tangent(k / 40) * distance
        assert made.nearest(beside)[1] <= 0.005
    assert made.start == pytest.approx(1j * curve.tangent(0) * distance)
    assert made.end == pytest.approx(210 + 1j * curve.tangent(1) * distance)


def test_the_parallel_of_a_line_lies_to_its_left() -> None:
    assert offset(line(0j, 100 + 0j), 10) == line(10j, 100 + 10j)
    assert offset(line(0j, 100 + 0j), -10) == line(-10j, 100 - 10j)
    assert offset(SQUARE, 0) == SQUARE


def test_the_parallel_of_an_arc_is_an_arc_around_the_same_centre() -> None:
    arc = Path([Arc(0j, 50 + 0j, 1.5)])
    (inner,) = offset(arc, 10).segments
    (outer,) = offset(arc, -10).segments
    assert isinstance(inner, Arc)
    assert isinstance(outer, Arc)
    assert (inner.centre, inner.radius, inner.sweep) == pytest.approx((0, 40, 1.5))
    assert (outer.centre, outer.radius, outer.sweep) == pytest.approx((0, 60, 1.5))


def test_the_parallel_of_a_circle_is_a_circle() -> None:
    made = offset(Path([Arc(0j, 50 + 0j, 2 * math.pi)]), -10)
    assert made.closed
    assert made.area() == pytest.approx(math.pi * 60**2)


def test_an_arc_smaller_than_the_distance_vanishes() -> None:
    with pytest.raises(GeometryError):
        offset(Path([Arc(0j, 5 + 0j, 1.5)]), 6)
    # Between two lines it leaves them to meet.
    rounded = Path(
        [
            *line(-50 - 5j, -5j).segments,
            Arc(0j, -5j, math.pi / 2),
            *line(5 + 0j, 5 + 50j).segments,
        ]
    )
    made = offset(rounded, 20)
    assert [segment.end for segment in made.segments] == pytest.approx([-15 + 15j, -15 + 50j])


def test_a_square_shrinks_and_grows_with_sharp_corners() -> None:
    inner, outer = offset(SQUARE, 10), offset(SQUARE, -10)
    assert inner.closed and outer.closed
    assert inner.area() == pytest.approx(80 * 80)
    assert outer.area() == pytest.approx(120 * 120)


@given(st.lists(st.floats(80, 160), min_size=4, max_size=9), st.sampled_from([5.0, 10.0, 20.0]))
@settings(max_examples=60, deadline=None)
def test_a_ring_grows_as_shapely_buffers_it(radii: list[float], distance: float) -> None:
    """The oracle is shapely's buffer with mitred joints of the same limit."""
    count = len(radii)
    corners = [r * cmath.exp(2j * math.pi * k / count) for k, r in enumerate(radii)]
    ring = polyline([*corners, corners[0]])
    grown = offset(ring, -distance)
    drawn = shapely.Polygon([(p.real, p.imag) for p in corners])
    # Sharp corners beyond the limit are cut off differently: by less than this area each.
    sharp = sum(
        1 - cross((b - a) / abs(b - a), (c - b) / abs(c - b)) ** 2 < 0.75
        and ((b - a).conjugate() * (c - b)).real < 0
        for a, b, c in zip(
            corners, corners[1:] + corners[:1], corners[2:] + corners[:2], strict=True
        )
    )
    expected = drawn.buffer(distance, join_style="mitre", mitre_limit=4).area
    assert grown.area() == pytest.approx(expected, abs=1e-3 + sharp * 4 * distance**2)
    shrunk = offset(ring, distance)
    expected = drawn.buffer(-distance, join_style="mitre", mitre_limit=4).area
    assert shrunk.area() == pytest.approx(expected, abs=1e-3 + sharp * 4 * distance**2)


def test_a_spike_is_cut_off_and_not_drawn_out_without_end() -> None:
    spike = polyline([0j, 100 + 2j, 4j])
    made = offset(spike, -10)
    assert made.box()[2] < 100 + 10
    right_angle = polyline([0j, 100 + 0j, 100 + 100j])
    assert 110 - 10j in offset(right_angle, -10).flattened(1)


def test_a_curve_tighter_than_the_distance_loses_its_loop() -> None:
    bump = fair_curve([0j, 60 + 5j, 75 - 25j, 90 + 5j, 150 + 0j])
    made = offset(bump, 20)
    assert self_crossings(made, closed=False) == []
    assert min(distances_of(made, bump)) > 20 - 0.03


def test_nothing_is_left_inside_a_small_ring() -> None:
    with pytest.raises(GeometryError, match="nothing"):
        offset(polyline([0j, 10 + 0j, 10 + 10j, 10j, 0j]), 6)
