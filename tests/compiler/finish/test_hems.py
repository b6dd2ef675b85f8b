"""Hems, folded by arithmetic of the tests' own: turned up, they lie flush on the piece.

Widths after the American Sewing Guild's table of hems (asg.org): a straight or A-line skirt
2 to 3 in, a flared one 1/4 to 3/8 in, men's trousers 2 in, a shirt 3/8 to 5/8 in.
"""

from __future__ import annotations

import cmath
import math
import random
from typing import TYPE_CHECKING

import pytest
import shapely
from shapely import affinity

from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.finish.unfinished import FULLEST, unfinished
from oaktag.compiler.geometry import Arc, Cubic, Path, fair_curve, line, ring_area

if TYPE_CHECKING:
    from oaktag.compiler.paper.piece import Piece
    from tests.compiler.conftest import Board
    from tests.compiler.finish.conftest import Paper

EXACT = 0.02  # mm
INCH = 25.4
HEMS = [0.25 * INCH, 0.375 * INCH, 0.625 * INCH, 2 * INCH, 3 * INCH]


def hemmed(paper: Paper, piece: Piece, sides: dict[int, float], depth: float, hem: int) -> Path:
    allowances = [paper.allow(width, piece.edges[number]) for number, width in sides.items()]
    allowances.append(paper.allow(depth, piece.edges[hem]).changed(hem=True))
    cut = cut_line(piece, allowances)
    assert cut is not None
    return cut


def every_half_mm(path: Path) -> list[complex]:
    count = math.ceil(path.length * 2)
    return [path.point_at(path.length * k / count) for k in range(count)]


def half_plane(a: complex, b: complex, left: bool) -> shapely.Polygon:
    """What lies to one side of the line through two points."""
    way = (b - a) / abs(b - a)
    out = way * 1j * (1 if left else -1)
    corners = [a - way * 1e4, a + way * 1e4, a + way * 1e4 + out * 1e4, a - way * 1e4 + out * 1e4]
    return shapely.Polygon([(p.real, p.imag) for p in corners])


def reflected(shape: shapely.Geometry, a: complex, b: complex) -> shapely.Geometry:
    """Mirrored in the line through two points: turned level, turned over, turned back."""
    angle = math.degrees(cmath.phase(b - a))
    level = affinity.rotate(shape, -angle, origin=(a.real, a.imag))
    over = affinity.scale(level, 1, -1, origin=(a.real, a.imag))
    return affinity.rotate(over, angle, origin=(a.real, a.imag))


def folded_apart(paper: Paper, piece: Piece, cut: Path, hem: int, depth: float) -> float:
    """Turned up about its straight edge, the hem against the paper under it: mm they are apart."""
    edge = piece.edges[hem]
    inside_left = piece.signed_area > 0
    whole = paper.polygon(cut)
    flap = whole.intersection(half_plane(edge.start, edge.end, not inside_left))
    inward = (edge.end - edge.start) / abs(edge.end - edge.start) * piece.inward
    upper = half_plane(edge.start + inward * depth, edge.end + inward * depth, not inside_left)
    under = whole.intersection(half_plane(edge.start, edge.end, inside_left)).intersection(upper)
    up = reflected(flap, edge.start, edge.end)
    assert up.area > 0.5 * depth * edge.length
    return float(up.symmetric_difference(under).area / up.length)


@pytest.mark.parametrize("depth", HEMS)
@pytest.mark.parametrize("seed", range(12))
def test_a_straight_hem_lies_flush_on_tapered_and_flared_sides(
    paper: Paper, seed: int, depth: float
) -> None:
    """A-line, sleeve, trouser leg: sides slanting up to 30 degrees, curved or straight."""
    chance = random.Random(seed)
    width, height = chance.uniform(120, 400), chance.uniform(300, 600)
    lean = [chance.uniform(-0.5, 0.5) * min(0.3 * width / 100, 1) for _ in range(2)]
    top_left = height * (1j + lean[0] * 0.35)
    top_right = width + height * (1j - lean[1] * 0.35)
    rise = chance.uniform(-0.1, 0.1) * width * 1j
    right = line(width + rise, top_right)
    left = line(top_left, 0j)
    if chance.random() < 0.5:
        right = fair_curve([width + rise, (width + rise + top_right) / 2 + 8, top_right])
        left = fair_curve([top_left, top_left / 2 + 10, 0j])
    paths = [line(0j, width + rise), right, line(top_right, top_left), left]
    if chance.random() < 0.5:
        paths = [path.reversed() for path in reversed(paths)]
        hem, sides = 3, {0: 10.0, 1: 15.0, 2: 25.0}
    else:
        hem, sides = 0, {1: 15.0, 2: 10.0, 3: 0.0}
    piece = paper.of(paths)
    cut = hemmed(paper, piece, sides, depth, hem)
    assert folded_apart(paper, piece, cut, hem, depth) < 0.002


@pytest.mark.parametrize("lean", [-0.45, -0.1, 0.0, 0.2, 0.6])
def test_each_end_of_a_straight_hem_falls_on_the_cut_line_of_its_side(
    paper: Paper, lean: float
) -> None:
    """Straight sides, 15 and 25 mm wide, a hem 50 mm deep: the cut lines worked out by hand."""
    top_left, top_right = 300j - 300 * lean, 400 + 300j + 300 * lean
    piece = paper.corners(0j, 400 + 0j, top_right, top_left)
    cut = hemmed(paper, piece, {1: 15.0, 2: 10.0, 3: 25.0}, 50.0, 0)
    for corner, along, width in ((400 + 0j, top_right - 400, 15.0), (0j, top_left, 25.0)):
        way = along / abs(along)
        out = way * (-1j if corner else 1j)
        for deep in (1.0, 20.0, 49.9):
            # Where the cut line of the side passes that high, and its mirror image.
            foot = corner + out * width
            place = foot + way * (deep - foot.imag) / way.imag
            assert cut.nearest(place)[1] < 1e-6
            assert cut.nearest(place.conjugate())[1] < 1e-6


def test_next_to_the_fold_a_hem_goes_straight_on(paper: Paper) -> None:
    piece = paper.corners(0j, 200 + 0j, 230 + 300j, 300j)
    folded = piece.with_edge(piece.edges[3], piece.edges[3].changed(on_fold=True))
    cut = hemmed(paper, folded, {1: 15.0, 2: 10.0}, 50.0, 0)
    assert cut.box()[0] == pytest.approx(0.0, abs=1e-9)
    assert cut.box()[1] == pytest.approx(-50.0)
    assert folded_apart(paper, folded, cut, 0, 50.0) < 1e-6


def test_hems_in_a_row_are_one_hem(paper: Paper) -> None:
    """Two edges in one line, both hemmed, are cut like one."""
    one = paper.corners(0j, 200 + 0j, 230 + 300j, 300j)
    two = paper.corners(0j, 80 + 0j, 200 + 0j, 230 + 300j, 300j)
    hems = [paper.allow(40.0, two.edges[k]).changed(hem=True) for k in (0, 1)]
    cut = cut_line(two, [paper.allow(15.0), *hems])
    assert cut is not None
    whole = hemmed(paper, one, {1: 15.0, 2: 15.0, 3: 15.0}, 40.0, 0)
    assert paper.polygon(cut).symmetric_difference(paper.polygon(whole)).area < 1e-6


def test_a_hem_deeper_than_its_side_follows_what_comes_behind_the_side(paper: Paper) -> None:
    """A side 30 mm high below an armhole that slants in: a hem of 60 mm lies flush on both."""
    piece = paper.corners(0j, 200 + 0j, 200 + 30j, 160 + 150j, 40 + 150j, 30j)
    cut = hemmed(paper, piece, dict.fromkeys(range(1, 6), 10.0), 60.0, 0)
    assert folded_apart(paper, piece, cut, 0, 60.0) < 1e-6


def test_a_hem_deeper_than_all_that_is_beside_it_goes_straight_on(paper: Paper) -> None:
    """A strip 40 high with 5 mm above: a hem of 50 mm ends as the sides do, led on."""
    piece = paper.corners(0j, 200 + 0j, 200 + 40j, 40j)
    cut = hemmed(paper, piece, {1: 10.0, 2: 5.0, 3: 10.0}, 50.0, 0)
    assert cut.box() == pytest.approx((-10, -50, 210, 45))
    assert abs(ring_area(cut)) == pytest.approx(220 * 95)


@pytest.mark.parametrize("radius", [250.0, 400.0, 900.0])
@pytest.mark.parametrize("depth", [0.25 * INCH, 30.0, 50.0])
def test_across_a_round_hem_each_point_lies_as_far_beyond_as_its_image_inside(
    paper: Paper, radius: float, depth: float
) -> None:
    """A sector with slanting sides: turned up square to its hem, the ends lie on the cut lines.

    The hem's edge is led straight on into the allowances. On a circle the image of a point at
    radius R + d is the point of its ray at R - d; beside the circle, its mirror image.
    """
    angle = 1.1
    ends = [radius * cmath.rect(1, turn) for turn in (0.0, angle)]
    hem = Path((Arc(0j, ends[0], angle),))
    inner = [0.4 * radius * cmath.rect(1, turn) for turn in (0.5, 0.8)]
    piece = paper.of(
        [hem, line(ends[1], inner[1]), line(inner[1], inner[0]), line(inner[0], ends[0])]
    )
    cut = hemmed(paper, piece, {1: 15.0, 2: 10.0, 3: 8.0}, depth, 0)
    found = {"beside the circle": 0, "on it": 0}
    for place in every_half_mm(cut):
        turned = place * cmath.rect(1, -angle)
        if place.imag < 0:
            away, image = place.real - radius, complex(2 * radius - place.real, place.imag)
        elif turned.imag > 0:
            away = turned.real - radius
            image = complex(2 * radius - turned.real, turned.imag) * cmath.rect(1, angle)
        else:
            away = abs(place) - radius
            image = place / abs(place) * (2 * radius - abs(place))
        if 0.01 < away < depth - 0.01:
            assert cut.nearest(image)[1] < EXACT
            found["on it" if 0 < cmath.phase(place) < angle else "beside the circle"] += 1
    assert found["beside the circle"] > 10
    assert found["on it"] > 10 or depth < 40
    assert cut.nearest((radius + depth) * cmath.rect(1, angle / 2))[1] < EXACT


def test_across_a_curve_that_is_no_circle_it_is_the_same(paper: Paper) -> None:
    """A shirt tail: feet found on a dense chain of points, by arithmetic of the test's own."""
    hem = Path((Cubic(0j, 60 - 50j, 190 - 60j, 260 + 10j),))
    piece = paper.of(
        [hem, line(260 + 10j, 240 + 300j), line(240 + 300j, 20 + 300j), line(20 + 300j, 0j)]
    )
    depth = 15.0
    cut = hemmed(paper, piece, {1: 10.0, 2: 10.0, 3: 12.0}, depth, 0)
    way = hem.start_direction, hem.end_direction
    dense = [hem.start - way[0] * k / 50 for k in range(4000, 0, -1)]
    dense += [hem.point_at(hem.length * k / 20000) for k in range(20001)]
    dense += [hem.end + way[1] * k / 50 for k in range(1, 4001)]
    fold = shapely.LineString([(p.real, p.imag) for p in dense])
    found = 0
    for place in every_half_mm(cut):
        away = fold.distance(paper.point(place))
        beyond = not paper.polygon(piece.outline).contains(paper.point(place))
        near_side = min(abs(place.real), abs(place.real - 260)) < 40 and place.imag < 40
        if beyond and near_side and 0.05 < away < depth - 0.05:
            foot = fold.interpolate(fold.project(paper.point(place)))
            image = 2 * complex(foot.x, foot.y) - place
            if image.imag > foot.y:
                assert cut.nearest(image)[1] < EXACT
                found += 1
    assert found > 2


def test_a_hem_that_says_squared_ends_square(paper: Paper) -> None:
    piece = paper.corners(0j, 200 + 0j, 260 + 300j, -60 + 300j)
    allowances = [
        paper.allow(15.0),
        paper.allow(50.0, piece.edges[0]).changed(hem=True, corners="squared"),
    ]
    cut = cut_line(piece, allowances)
    assert cut is not None
    # Where the side's cut line meets the line of the hem: 15 mm square to a side of that slant.
    end = 200 + 15 / math.cos(math.atan(60 / 300))
    assert cut.nearest(end + 0j)[1] < 1e-9
    assert cut.nearest(end - 25j)[1] < 1e-9
    assert cut.nearest(end - 50j)[1] < 1e-9


def test_a_hem_decides_its_ends_whatever_its_neighbours_say(paper: Paper) -> None:
    piece = paper.corners(0j, 200 + 0j, 260 + 300j, -60 + 300j)
    hem = paper.allow(50.0, piece.edges[0]).changed(hem=True)
    plain = [paper.allow(15.0), hem, paper.allow(15.0, piece.edges[1])]
    squared = [*plain[:2], plain[2].changed(corners="squared")]
    lower = half_plane(100j, 100 + 100j, left=False)
    cuts = [cut_line(piece, allowances) for allowances in (plain, squared)]
    shapes = [paper.polygon(cut).intersection(lower) for cut in cuts if cut]
    assert shapes[0].symmetric_difference(shapes[1]).area < 1e-6


HALF_CIRCLE = """
pattern "Bent"
piece skirt
  outline
    waist = origin right {inner} cm arc to origin down {inner} cm around origin
    centre = origin down {inner} cm to origin down {outer} cm
    hem = origin down {outer} cm arc to origin right {outer} cm around origin
    side = origin right {outer} cm to origin right {inner} cm
allow 1 cm on skirt
allow {depth} cm on skirt.hem as hem
"""


def test_a_deep_hem_on_a_round_skirt_is_to_be_eased_in(board: Board) -> None:
    """A quarter circle of 35 cm: 4 cm deep, the edge is pi/2 * 8 = 12.57 cm longer, by hand."""
    pattern = board.pattern(HALF_CIRCLE.format(inner=10, outer=35, depth=4))
    (told,) = unfinished(pattern)
    assert (told.severity, told.code) == ("note", "bent-hem")
    assert "12.57 cm longer" in told.message
    assert f"{round(math.pi / 2 * 31, 2)} cm long" in told.message
    assert told.span is not None
    assert told.span.text.startswith("allow 4 cm on skirt.hem")
    assert "at most 1.6 cm deep" in told.help
    # What it proposes is within a tenth.
    assert 2 * 1.6 / (35 - 1.6) <= FULLEST < 2 * 1.7 / (35 - 1.7)


def test_a_narrow_hem_on_a_round_skirt_needs_no_word(board: Board) -> None:
    """Flared, 1/4 to 3/8 in, says the table of the American Sewing Guild; of a circle, 1/4."""
    for depth in (0.635, 0.95):
        assert unfinished(board.pattern(HALF_CIRCLE.format(inner=10, outer=35, depth=depth))) == ()


def test_a_hem_deeper_than_its_edge_is_bent_lies_on_no_line(board: Board) -> None:
    (told,) = unfinished(board.pattern(HALF_CIRCLE.format(inner=2, outer=6, depth=6)))
    assert "which is no line any more" in told.message


def test_a_hollow_hem_is_clipped_and_stretched(board: Board) -> None:
    pattern = board.pattern(
        """
        pattern "Hollow"
        piece flap
          outline
            top = origin to origin right 30 cm
            right = origin right 30 cm to origin right 30 cm down 30 cm
            hem = origin right 30 cm down 30 cm arc to origin down 30 cm
              through origin right 15 cm down 20 cm
            left = origin down 30 cm to origin
        allow 1 cm on flap
        allow 4 cm on flap.hem as hem
        """
    )
    (told,) = unfinished(pattern)
    assert "shorter" in told.message
    assert told.help.startswith("clip and stretch it")
