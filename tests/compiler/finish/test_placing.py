"""Labels find room, and the grain is drawn where it can be read."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest
import shapely
from shapely.geometry import LineString, box

from oaktag.compiler.finish.grain import CLEAR, grain_line
from oaktag.compiler.finish.placing import calmest_place
from oaktag.compiler.paper.mark import Grain

if TYPE_CHECKING:
    from tests.compiler.finish.conftest import Paper

MUCH = 1e6


def block(place: complex, wide: float, high: float) -> shapely.Polygon:
    """The rectangle of a label: half its width and height are given."""
    return box(place.real - wide, place.imag - high, place.real + wide, place.imag + high)


def test_the_largest_label_in_a_rectangle() -> None:
    outline = [0j, 200 + 0j, 200 + 50j, 50j, 0j]
    place, scale = calmest_place(outline, [], 2.0, 1.0, MUCH)
    assert scale == pytest.approx(25.0, rel=0.04)
    assert place.imag == pytest.approx(25.0, abs=1.5)
    assert abs(place.real - 100) <= 200 / 2 - 2 * scale + 1e-9


def test_with_enough_room_it_stands_in_the_middle() -> None:
    outline = [0j, 400 + 0j, 400 + 900j, 900j, 0j]
    place, scale = calmest_place(outline, [], 20.0, 5.0, 4.0)
    assert scale >= 4.0
    assert abs(place - (200 + 450j)) < 40


def test_no_room_is_said() -> None:
    assert calmest_place([0j, 100 + 0j, 200 + 0j, 0j], [], 2.0, 1.0, MUCH)[1] == 0.0


@pytest.mark.parametrize("seed", range(40))
def test_against_a_search_of_the_whole_piece(paper: Paper, seed: int) -> None:
    """Shapely finds no label a tenth larger on a grid of 1,600 places, and ours fits."""
    piece = paper.random(seed)
    if piece is None:
        pytest.skip("a crossing outline")
    chance = random.Random(seed)
    outline = piece.outline.flattened(0.5)
    obstacles = [
        [complex(chance.uniform(-150, 150), chance.uniform(-150, 150)) for _ in range(2)]
        for _ in range(chance.randint(0, 4))
    ]
    place, scale = calmest_place(outline, obstacles, 3.0, 1.0, MUCH)
    free = paper.polygon(piece.outline, 0.5)
    lines = [LineString([(p.real, p.imag) for p in line]) for line in obstacles]
    clear = shapely.union_all([free.exterior, *lines])
    ours = block(place, 3 * scale, scale)
    assert free.buffer(1e-6).contains(ours.centroid)
    assert not clear.intersects(ours.buffer(-1e-6, join_style="mitre"))
    left, bottom, right, top = free.bounds
    larger = [
        block(complex(left + (right - left) * i / 40, bottom + (top - bottom) * j / 40), w, h)
        for i in range(41)
        for j in range(41)
        for w, h in [(3.3 * scale, 1.1 * scale)]
    ]
    assert not any(free.contains(one) and not clear.intersects(one) for one in larger)


def test_a_grain_that_lies_inside_is_drawn_as_given(paper: Paper) -> None:
    piece = paper.corners(0j, 200 + 0j, 200 + 300j, 300j)
    given = piece.changed(grain=Grain(50 + 40j, 60 + 200j))
    assert grain_line(given) == (50 + 40j, 60 + 200j)
    assert grain_line(piece) is None


@pytest.mark.parametrize("edge", range(4))
def test_a_grain_along_an_edge_moves_into_the_paper(paper: Paper, edge: int) -> None:
    piece = paper.corners(0j, 200 + 0j, 220 + 300j, 10 + 280j)
    side = piece.edges[edge]
    drawn = grain_line(piece.changed(grain=Grain(side.start, side.end)))
    assert drawn is not None
    start, end = drawn
    way, given = end - start, side.end - side.start
    assert abs((way * given.conjugate()).imag) < 1e-6 * abs(way) * abs(given)
    assert (way * given.conjugate()).real > 0
    inner = paper.polygon(piece.outline).buffer(-CLEAR)
    assert inner.contains(LineString([(start.real, start.imag), (end.real, end.imag)]))
    assert abs(way) > 0.5 * abs(given)


def test_the_grain_keeps_off_what_is_drawn(paper: Paper) -> None:
    piece = paper.corners(0j, 200 + 0j, 200 + 300j, 300j)
    piece = piece.changed(grain=Grain(0j, 300j))
    words = [(20 + 100j, 90 + 100j)]
    free, avoiding = grain_line(piece), grain_line(piece, words)
    assert free is not None
    assert avoiding is not None
    assert free[0].real < 90 < avoiding[0].real


def test_the_grain_of_a_crescent_stays_on_it(paper: Paper) -> None:
    """A deep hollow: the straight line between its horns lies off the paper."""
    piece = paper.corners(0j, 300 + 0j, 300 + 200j, 250 + 40j, 50 + 40j, 200j)
    drawn = grain_line(piece.changed(grain=Grain(200j, 300 + 200j)))
    assert drawn is not None
    line = LineString([(p.real, p.imag) for p in drawn])
    assert paper.polygon(piece.outline).contains(line)
