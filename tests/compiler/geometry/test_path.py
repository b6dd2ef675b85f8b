"""Paths: places along them, parts, joints and corners."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oaktag.compiler.geometry import (
    Arc,
    Cubic,
    GeometryError,
    Line,
    Path,
    chain,
    line,
    polyline,
)

coordinates = st.floats(-1000, 1000)
points = st.builds(complex, coordinates, coordinates)
shares = st.floats(0, 1)


@st.composite
def paths(draw: st.DrawFn) -> Path:
    at = draw(points)
    segments: list[Line | Arc | Cubic] = []
    for kind in draw(st.lists(st.sampled_from("lac"), min_size=1, max_size=5)):
        if kind == "l":
            segments.append(Line(at, draw(points)))
        elif kind == "a":
            segments.append(Arc(draw(points), at, draw(st.floats(-6, 6))))
        else:
            segments.append(Cubic(at, draw(points), draw(points), draw(points)))
        at = segments[-1].end
    return Path(segments)


SQUARE = polyline([0j, 100 + 0j, 100 + 100j, 100j, 0j])
HIP = Path([Line(0j, 100 + 0j), Arc(100 + 50j, 100 + 0j, math.pi / 2), Line(150 + 50j, 150 + 80j)])


@given(paths(), shares)
def test_the_two_paths_of_a_split_add_up_and_meet(path: Path, share: float) -> None:
    s = share * path.length
    before, after = path.split_at(s)
    assert (before.start, after.end) == (path.start, path.end)
    assert before.end == after.start == pytest.approx(path.point_at(s), abs=1e-8)
    assert before.length == pytest.approx(s, abs=2e-9)
    assert before.length + after.length == pytest.approx(path.length, abs=5e-9)


@given(paths(), shares, shares)
def test_a_part_is_as_long_as_the_places_are_apart(path: Path, a: float, b: float) -> None:
    s0, s1 = sorted((a * path.length, b * path.length))
    part = path.part(s0, s1)
    assert part.length == pytest.approx(s1 - s0, abs=5e-9)
    assert part.start == pytest.approx(path.point_at(s0), abs=1e-8)
    assert part.end == pytest.approx(path.point_at(s1), abs=1e-8)


@given(paths())
def test_the_reverse_has_the_same_length_and_the_opposite_area(path: Path) -> None:
    back = path.reversed()
    assert back.length == pytest.approx(path.length, abs=1e-8)
    assert back.area() == pytest.approx(-path.area(), rel=1e-9, abs=1e-5)
    assert back.reversed() == path


@given(paths())
def test_the_area_of_a_path_is_the_sum_over_its_segments(path: Path) -> None:
    total = sum(segment.area() for segment in path.segments)
    assert path.area() == pytest.approx(total, rel=1e-8, abs=1e-4)


@given(paths(), shares)
def test_the_nearest_place_to_a_point_of_the_path_lies_on_that_point(
    path: Path, share: float
) -> None:
    p = path.point_at(share * path.length)
    s, distance = path.nearest(p)
    assert distance <= 1e-7
    assert path.point_at(s) == pytest.approx(p, abs=1e-6)


def test_a_place_at_a_joint_is_exact() -> None:
    assert HIP.point_at(100) == 100 + 0j
    before, after = HIP.split_at(100 + 5e-10)
    assert before == line(0j, 100 + 0j)
    assert after.segments == HIP.segments[1:]
    assert HIP.part(0, HIP.length) == HIP
    assert HIP.part(100, HIP.length - 30).segments == HIP.segments[1:2]


def test_the_tangent_at_a_corner_is_the_one_after_it_unless_before_is_asked() -> None:
    assert SQUARE.tangent_at(100) == 1j
    assert SQUARE.tangent_at(100, before=True) == 1
    assert SQUARE.tangent_at(0, before=True) == 1
    assert SQUARE.tangent_at(400) == -1j


def test_corners_are_the_joints_that_turn() -> None:
    assert SQUARE.corners() == (100, 200, 300)
    assert HIP.corners() == ()


def test_a_part_without_length_is_a_point() -> None:
    part = SQUARE.part(150, 150)
    assert (part.start, part.end, part.length) == (100 + 50j, 100 + 50j, 0)
    nothing, everything = SQUARE.split_at(0)
    assert nothing.length == 0
    assert everything == SQUARE


def test_a_part_shorter_than_a_joint_is_wide_is_a_point() -> None:
    part = SQUARE.part(100 - 6e-10, 100 + 6e-10)
    assert (part.start, part.end) == (100 + 0j, 100 + 0j)
    assert SQUARE.part(400, 400 + 5e-7).length == 0


def test_a_path_joins_small_gaps_and_refuses_large_ones() -> None:
    path = Path([Line(0j, 1 + 0j), Arc(1 + 1j, 1 + 5e-7j, math.pi / 2), Line(2 + 1j, 3 + 0j)])
    for before, after in pairwise(path.segments):
        assert before.end == after.start
    with pytest.raises(GeometryError, match="gap"):
        Path([Line(0j, 1 + 0j), Line(1 + 1e-3j, 2 + 0j)])
    with pytest.raises(GeometryError):
        Path([])


def test_segments_without_length_are_left_out() -> None:
    path = Path([Line(0j, 0j), Line(0j, 5 + 0j), Cubic(5 + 0j, 5 + 0j, 5 + 0j, 5 + 0j)])
    assert path == line(0j, 5 + 0j)
    assert Path([Line(3j, 3j)]).length == 0


def test_a_whole_circle_is_not_without_length() -> None:
    circle = Path([Arc(0j, 10 + 0j, 2 * math.pi)])
    assert circle.closed
    assert circle.area() == pytest.approx(100 * math.pi)


def test_a_place_off_the_path_is_refused() -> None:
    with pytest.raises(GeometryError, match="not on a path"):
        SQUARE.point_at(400.1)
    with pytest.raises(GeometryError):
        SQUARE.part(-1, 3)
    with pytest.raises(GeometryError, match="forwards"):
        SQUARE.part(50, 20)
    assert SQUARE.point_at(400 + 1e-7) == 0j


def test_the_box_of_a_path_holds_all_its_segments() -> None:
    assert HIP.box() == pytest.approx((0, 0, 150, 80))


def test_a_chain_of_paths_is_one_path() -> None:
    whole = chain([line(0j, 1 + 0j), polyline([1 + 0j, 1 + 1j, 0 + 1j])])
    assert whole == polyline([0j, 1 + 0j, 1 + 1j, 1j])
    assert line(0j, 1 + 0j).joined(line(1 + 0j, 2j)).length == pytest.approx(1 + math.sqrt(5))


def test_flattening_keeps_both_ends_and_every_joint() -> None:
    row = HIP.flattened(0.01)
    assert row[0] == HIP.start
    assert row[-1] == HIP.end
    assert 100 + 0j in row
    assert SQUARE.flattened(0.01) == (0j, 100 + 0j, 100 + 100j, 100j, 0j)


def test_the_ring_of_a_metre_far_from_the_origin_keeps_its_area() -> None:
    ring = polyline([p + 1e5 + 1e5j for p in (0j, 1000 + 0j, 1000 + 1000j, 1000j, 0j)])
    assert ring.area() == pytest.approx(1e6, abs=1e-6)
