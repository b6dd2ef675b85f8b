"""Shapes that are their own mirror image, and shapes that are nearly so."""

from __future__ import annotations

import cmath
import math

import pytest

from oaktag.compiler.geometry import Motion, Path, chain, line, polyline
from oaktag.compiler.geometry.symmetry import carries, mirrors


def ring(*places: complex) -> Path:
    return polyline([*places, places[0]])


RECTANGLE = ring(0j, 30 + 0j, 30 + 10j, 10j)
ISOSCELES = ring(0j, 20 + 0j, 10 + 35j)
SCALENE = ring(0j, 20 + 0j, 3 + 35j)
PARALLELOGRAM = ring(0j, 30 + 0j, 38 + 10j, 8 + 10j)
TURNED = [Motion(cmath.rect(1, math.radians(angle)), 400 - 70j) for angle in (0, 17, 45, 123)]


@pytest.mark.parametrize("turn", TURNED)
@pytest.mark.parametrize(
    ("shape", "axes"), [(RECTANGLE, 2), (ISOSCELES, 1), (SCALENE, 0), (PARALLELOGRAM, 0)]
)
def test_a_shape_has_its_axes_however_it_lies(shape: Path, axes: int, turn: Motion) -> None:
    for way in (shape, shape.reversed()):
        assert len(list(mirrors(way.moved(turn), (), 0.01))) == axes


def test_a_square_shows_its_axes_along_and_across_a_given_way() -> None:
    square = ring(0j, 10 + 0j, 10 + 10j, 10j)
    assert len(list(mirrors(square, [1j], 0.01))) == 2
    assert len(list(mirrors(square, [1 + 1j, 2 + 2j], 0.01))) == 2
    assert len(list(mirrors(square, [2 + 1j], 0.01))) == 0


def test_within_a_tolerance_a_shape_may_miss_its_image() -> None:
    nearly = ring(0j, 200 + 0j, 200 + 100j, -0.8 + 100j)
    assert not list(mirrors(nearly, (), 0.1))
    assert list(mirrors(nearly, (), 1.0))


def test_paths_are_carried_to_each_other_and_not_only_each_to_itself() -> None:
    left, right = line(2 + 2j, 6 + 8j), line(28 + 2j, 24 + 8j)
    axis = next(motion for motion in mirrors(RECTANGLE, (), 0.01) if abs(motion(0j) - 30) < 1e-9)
    assert carries(axis, [left, right], 0.01)
    assert not carries(axis, [left], 0.01)
    assert not carries(axis, [chain([line(2 + 2j, 6 + 9j)]), right], 0.01)
