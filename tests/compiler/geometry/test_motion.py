"""Rigid motions keep every distance and can be taken back."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oaktag.compiler.geometry import (
    IDENTITY,
    Arc,
    Cubic,
    GeometryError,
    Line,
    Motion,
    Path,
    carrying,
    reflection,
    rotation,
    translation,
)

coordinates = st.floats(-2000, 2000)
points = st.builds(complex, coordinates, coordinates)
angles = st.floats(-7, 7)


@st.composite
def motions(draw: st.DrawFn) -> Motion:
    turned = rotation(draw(points), draw(angles))
    if draw(st.booleans()):
        turned = turned.then(reflection(draw(points), draw(points) + 5000))
    return turned.then(translation(draw(points)))


@st.composite
def paths(draw: st.DrawFn) -> Path:
    a, b, c, d, e, centre = (draw(points) for _ in range(6))
    start = centre + 100 * cmath.exp(1j * draw(angles))
    arc = Arc(centre, start, draw(st.floats(-6, 6)))
    return Path([Line(a, b), Cubic(b, c, d, start), arc, Line(arc.end, e)])


@given(motions(), motions(), points)
def test_one_motion_then_another_moves_a_point_twice(
    first: Motion, second: Motion, p: complex
) -> None:
    assert first.then(second)(p) == pytest.approx(second(first(p)), abs=1e-8)


@given(motions(), points)
def test_the_inverse_brings_a_point_back(motion: Motion, p: complex) -> None:
    assert motion.inverse()(motion(p)) == pytest.approx(p, abs=1e-8)
    assert motion.then(motion.inverse())(p) == pytest.approx(p, abs=1e-8)


@given(motions(), points, points)
def test_a_direction_moves_as_the_difference_of_two_points(
    motion: Motion, p: complex, q: complex
) -> None:
    assert motion.direction(q - p) == pytest.approx(motion(q) - motion(p), abs=1e-8)


@given(motions(), paths())
def test_a_moved_path_keeps_its_length_and_its_enclosed_area(motion: Motion, path: Path) -> None:
    closed = path.joined(Path([Line(path.end, path.start)]))
    moved = closed.moved(motion)
    assert moved.length == pytest.approx(closed.length, abs=1e-8)
    sign = -1 if motion.flipped else 1
    assert moved.area() == pytest.approx(sign * closed.area(), rel=1e-9, abs=1e-5)


@given(motions(), paths(), st.floats(0, 1))
def test_a_place_on_a_moved_path_is_the_moved_place(
    motion: Motion, path: Path, share: float
) -> None:
    s = share * path.length
    assert path.moved(motion).point_at(s) == pytest.approx(motion(path.point_at(s)), abs=1e-6)


def test_ten_thousand_small_turns_keep_lengths() -> None:
    step = rotation(120 + 35j, 0.01234567)
    total = IDENTITY
    for _ in range(10_000):
        total = total.then(step)
    assert abs(total.turn) == pytest.approx(1, abs=1e-15)
    assert abs(total(1000 + 0j) - total(0j)) == pytest.approx(1000, abs=1e-9)
    assert total(0j) == pytest.approx(rotation(120 + 35j, 123.4567)(0j), abs=1e-6)


@given(points, points, points, angles)
def test_carrying_lays_a_segment_onto_another(
    a: complex, b: complex, c: complex, angle: float
) -> None:
    if abs(b - a) < 1e-3:
        return
    direction = cmath.exp(1j * angle)
    motion = carrying(a, b, c, c + 50 * direction)
    assert motion(a) == pytest.approx(c, abs=1e-9)
    assert motion(b) == pytest.approx(c + abs(b - a) * direction, abs=1e-8)
    assert not motion.flipped


def test_a_reflection_keeps_its_line_and_swaps_the_sides() -> None:
    mirror = reflection(10 + 0j, 10 + 5j)
    assert mirror(10 + 77j) == pytest.approx(10 + 77j)
    assert mirror(13 + 2j) == pytest.approx(7 + 2j)
    assert mirror.flipped
    assert mirror.then(mirror)(3 + 4j) == pytest.approx(3 + 4j)


def test_a_quarter_turn_is_anticlockwise() -> None:
    assert rotation(1 + 1j, math.pi / 2)(2 + 1j) == pytest.approx(1 + 2j)


def test_motions_are_values() -> None:
    assert translation(3j) == Motion(1, 3j)
    assert hash(translation(3j)) == hash(Motion(1, 3j))
    assert translation(3j) != Motion(1, 3j, True)
    assert IDENTITY(4 + 2j) == 4 + 2j


def test_one_point_gives_no_mirror_and_no_direction() -> None:
    with pytest.raises(GeometryError):
        reflection(1 + 1j, 1 + 1j)
    with pytest.raises(GeometryError):
        carrying(0j, 0j, 1j, 2j)
