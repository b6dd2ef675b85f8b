"""Corners of allowances: mitred, squared, blunted; and who decides where neighbours differ."""

from __future__ import annotations

import itertools
import math
import random
from typing import TYPE_CHECKING

import pytest
import shapely

from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.finish.corners import FLATTEST, MITRE
from oaktag.compiler.finish.unfinished import unfinished
from oaktag.compiler.geometry import ring_area, turning
from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from oaktag.compiler.paper.piece import Piece
    from tests.compiler.conftest import Board
    from tests.compiler.finish.conftest import Paper


def panel(paper: Paper, top_right: complex, clockwise: bool = False) -> Piece:
    """Base, side, top and back; the side goes up from 200 to the upper right corner."""
    corners = [0j, 200 + 0j, top_right, 300j]
    return paper.corners(*(corners[:1] + corners[:0:-1] if clockwise else corners))


@pytest.mark.parametrize("clockwise", [False, True])
@pytest.mark.parametrize("lean", [-80.0, -20.0, 0.0, 20.0, 80.0])
def test_a_squared_seam_ends_square_where_it_meets_its_neighbour_s_cut_line(
    paper: Paper, lean: float, clockwise: bool
) -> None:
    """By hand: led on by 10 mm square to the top, that is 10 / sin of the corner along the seam."""
    top_right = 200 + lean + 300j
    piece = panel(paper, top_right, clockwise)
    side = piece.edges[2 if clockwise else 1]
    cut = cut_line(piece, [paper.allow(10.0), paper.allow(25.0, side).changed(corners="squared")])
    assert cut is not None
    way = (top_right - 200) / abs(top_right - 200)
    out = -1j * way
    met = top_right + way * 10 / way.imag
    for share in (0.0, 0.3, 0.7, 1.0):
        assert cut.nearest(met + out * 25 * share)[1] < 1e-9
    # Nothing of the seam's allowance lies beyond it.
    beyond = [p for p in cut.flattened(0.1) if ((p - met) / way).real > 1e-6 and p.real > met.real]
    assert beyond == []
    assert (ring_area(cut) > 0) == (not clockwise)


@pytest.mark.parametrize("lean", [-100.0, -40.0, 30.0, 110.0])
def test_the_squared_allowances_of_two_joined_pieces_match(paper: Paper, lean: float) -> None:
    """A princess seam into an armhole: whatever the angle, pressed open both end alike.

    The two top edges make one line; turned over about the seam, the allowance of each piece lies
    on the other piece, both as long.
    """
    top = 200 + lean + 300j
    left = paper.corners(0j, 200 + 0j, top, 300j)
    right = paper.corners(200 + 0j, 420 + 0j, 420 + 300j, top)
    lines = []
    for piece, number in ((left, 1), (right, 3)):
        seam = paper.allow(15.0, piece.edges[number]).changed(corners="squared")
        cut = cut_line(piece, [paper.allow(10.0), seam])
        assert cut is not None
        lines.append(paper.polygon(cut))
    way = (top - 200) / abs(top - 200)

    def ends(shape: shapely.Polygon) -> list[float]:
        """How far along the seam its allowance reaches, on its outer edge."""
        along = [((complex(x, y) - 200) / way).real for x, y in shape.exterior.coords
                 if abs(abs(((complex(x, y) - 200) / way).imag) - 15) < 1e-6]  # fmt: skip
        return sorted(along)

    assert ends(lines[0])[-1] == pytest.approx(ends(lines[1])[-1], abs=1e-6)


def test_without_a_word_corners_are_mitred(paper: Paper) -> None:
    piece = panel(paper, 240 + 300j)
    plain = cut_line(piece, [paper.allow(10.0)])
    said = cut_line(piece, [paper.allow(10.0).changed(corners="mitred")])
    assert plain == said
    assert plain is not None
    assert len(plain.segments) == 4


def test_of_two_that_say_it_the_later_line_decides(paper: Paper) -> None:
    piece = panel(paper, 260 + 300j)
    side = paper.allow(10.0, piece.edges[1]).changed(corners="squared")
    top = paper.allow(10.0, piece.edges[2])
    corner = 260 + 300j
    way = (corner - 200) / abs(corner - 200)
    # Halfway along the square end of the one, and of the other.
    square_to_side = corner + way * 10 / way.imag - 5j * way
    square_to_top = corner + 10 / way.imag + 5j
    ends = {
        "squared": (square_to_side, square_to_top),
        "mitred": (square_to_side, None),
    }
    for word, (of_side, of_top) in ends.items():
        other = top.changed(corners=word)
        for said, place in (([other, side], of_side), ([side, other], of_top)):
            cut = cut_line(piece, [paper.allow(10.0), *said])
            assert cut is not None
            if place is not None:
                assert cut.nearest(place)[1] < 1e-9, (word, said)
            else:
                assert min(cut.nearest(p)[1] for p in (square_to_side, square_to_top)) > 0.9


def test_a_plain_line_that_comes_later_takes_the_corners_away_with_the_width(paper: Paper) -> None:
    piece = panel(paper, 260 + 300j)
    squared = paper.allow(10.0, piece.edges[1]).changed(corners="squared")
    plain = cut_line(piece, [paper.allow(10.0)])
    assert cut_line(piece, [squared, paper.allow(10.0)]) == plain


def test_beside_the_fold_and_at_inner_corners_nothing_is_squared(paper: Paper) -> None:
    piece = paper.corners(0j, 200 + 0j, 200 + 100j, 100 + 100j, 100 + 300j, 20 + 300j)
    folded = piece.with_edge(piece.edges[5], piece.edges[5].changed(on_fold=True))
    squared = [paper.allow(10.0), paper.allow(10.0, folded.edges[2]).changed(corners="squared")]
    cut = cut_line(folded, squared)
    assert cut is not None
    assert cut.nearest(110 + 110j)[1] < 1e-9
    top = cut_line(folded, [paper.allow(10.0), squared[1].changed(edges=(folded.edges[4],))])
    assert top is not None
    fold = folded.edges[5]
    assert all(
        ((p - fold.start) / (fold.end - fold.start)).imag > -1e-9 for p in top.flattened(0.1)
    )


def test_a_corner_that_is_nearly_straight_is_no_end_of_a_seam(paper: Paper) -> None:
    turn = FLATTEST * 0.9
    tip = 200 + 100 * complex(math.cos(turn), math.sin(turn))
    piece = paper.corners(0j, 200 + 0j, tip, tip + 200j, 200j)
    squared = paper.allow(10.0, piece.edges[0]).changed(corners="squared")
    plain = paper.allow(10.0, piece.edges[0])
    base = paper.allow(10.0)
    cuts = [cut_line(piece, [base, item]) for item in (plain, squared)]
    at_corner = [cut.nearest(200 - 10j)[1] for cut in cuts if cut]
    assert at_corner[0] == at_corner[1]


@pytest.mark.parametrize("width", [6.0, 10.0, 25.0])
def test_a_very_sharp_mitre_is_blunted_at_three_widths(paper: Paper, width: float) -> None:
    """10 degrees: the mitre would reach 11.5 widths."""
    half = 300 * math.tan(math.radians(5))
    piece = paper.corners(-1j * half, 300 + 0j, 1j * half)
    cut = cut_line(piece, [paper.allow(width)])
    assert cut is not None
    assert cut.box()[2] == pytest.approx(300 + MITRE * width, abs=1e-6)


@pytest.mark.parametrize("bend", [0j, 25j, -20j])
def test_within_an_edge_a_step_is_square_to_the_seam(board: Board, bend: complex) -> None:
    shape = "to" if not bend else "curve to"
    way = "" if not bend else f" bowed {'up' if bend.imag > 0 else 'down'} {abs(bend.imag)} mm"
    pattern = board.pattern(
        f"""
        pattern "Step"
        piece panel
          outline
            top = origin {shape} origin right 40 cm{way}
            right = origin right 40 cm to origin right 40 cm down 30 cm
            foot = origin right 40 cm down 30 cm to origin down 30 cm
            left = origin down 30 cm to origin
          section zip = top from on top 15 cm from left to where top meets right
        allow 1 cm on panel
        allow 3 cm on panel.zip
        """
    )
    piece = pattern.pieces["panel"]
    cut = cut_line(piece, pattern.allowances)
    assert cut is not None
    top = piece.edges[0].path
    at, out = top.point_at(150.0), 1j * top.tangent_at(150.0)
    for wide in (10.0, 20.0, 30.0):
        assert cut.nearest(at + out * wide)[1] < 0.01
    for place in (149.0, 151.0):
        at, out = top.point_at(place), 1j * top.tangent_at(place)
        assert cut.nearest(at + out * (10.0 if place < 150 else 30.0))[1] < 0.01


@pytest.mark.parametrize("start", range(0, 120, 40))
def test_squared_corners_of_random_pieces(paper: Paper, start: int) -> None:
    """Between the bands of the edges and the squares at their ends, built by shapely, no gap."""
    tried = 0
    for seed in range(start, start + 40):
        piece = paper.random(seed)
        if piece is None:
            continue
        chance = random.Random(seed)
        number = chance.randrange(len(piece.edges))
        allowances = [
            paper.allow(10.0),
            paper.allow(15.0, piece.edges[number]).changed(corners="squared"),
        ]
        cut = cut_line(piece, allowances)
        assert cut is not None
        ring = paper.polygon(cut)
        assert ring.is_valid, seed
        assert ring.buffer(0.006).contains(paper.polygon(piece.outline)), seed
        edge, side = piece.edges[number].path, -1 if piece.signed_area > 0 else 1
        band = paper.string(edge, 2e-5).buffer(side * 14.97, single_sided=True, quad_segs=32)
        inner = [
            paper.point(item.path.start).buffer(45)
            for before, item in zip([piece.edges[-1], *piece.edges], piece.edges, strict=False)
            if turning(before.path.end_direction, item.path.start_direction) * -side < 0
        ]
        lost = band.difference(ring)
        assert lost.difference(shapely.union_all(inner)).area < 0.05, seed
        tried += 1
    assert tried > 30


NARROW = """
pattern "Slash"
piece panel
  outline
    top = origin to origin right 20 cm
    right = origin right 20 cm to origin right 20 cm down 30 cm
    foot = origin right 20 cm down 30 cm to origin right {half_right} cm down 30 cm
    slash_right = origin right {half_right} cm down 30 cm to origin right 10 cm down 15 cm
    slash_left = origin right 10 cm down 15 cm to origin right {half_left} cm down 30 cm
    rest = origin right {half_left} cm down 30 cm to origin down 30 cm
    left = origin down 30 cm to origin

allow 1 cm on panel
allow {width} mm on panel.slash_left, panel.slash_right
allow 2 cm on panel.top
"""


def test_allowances_that_overlap_in_a_narrow_slash_are_told_at_their_line(board: Board) -> None:
    """3 cm wide and 15 deep: 6 mm from both sides meet 6 / sin of half its angle above the tip."""
    pattern = board.pattern(NARROW.format(half_right=11.5, half_left=8.5, width=6))
    (told,) = unfinished(pattern)
    assert (told.severity, told.code) == ("warning", "allowances-overlap")
    assert told.span is not None
    assert told.span.text == "allow 6 mm on panel.slash_left, panel.slash_right"
    assert f"{6 / math.tan(math.atan(1.5 / 15)) / 10:.3g} cm" in told.message
    assert "panel.slash_right" in told.message
    assert "panel.slash_left" in told.message


def test_a_wide_slash_needs_no_word(board: Board) -> None:
    assert unfinished(board.pattern(NARROW.format(half_right=18, half_left=2, width=6))) == ()


def test_an_allowance_without_room_is_told_at_the_line_that_gave_it(board: Board) -> None:
    """A slot 12 mm wide whose bottom gets 15 mm by the second of three lines."""
    pattern = board.pattern(
        """
        pattern "Slot"
        piece panel
          outline
            foot = origin to origin right 20 cm
            right = origin right 20 cm to origin right 20 cm up 20 cm
            top = origin right 20 cm up 20 cm to origin right 11 cm up 20 cm
            down = origin right 11 cm up 20 cm to origin right 11 cm up 5 cm
            bottom = origin right 11 cm up 5 cm to origin right 98 mm up 5 cm
            back = origin right 98 mm up 5 cm to origin right 98 mm up 20 cm
            rest = origin right 98 mm up 20 cm to origin up 20 cm
            left = origin up 20 cm to origin
        allow 5 mm on panel
        allow 15 mm on panel.down, panel.bottom, panel.back
        allow 1 cm on panel.foot
        """
    )
    (told,) = unfinished(pattern)
    assert (told.severity, told.code) == ("error", "allowance-too-wide")
    assert told.span is not None
    assert told.span.text == "allow 15 mm on panel.down, panel.bottom, panel.back"
    assert "panel.down" in told.message
    assert "at most 5.9 mm" in told.help
    assert [item.code for item in inspect(pattern) if item.severity == "error"] == []


def test_every_piece_is_the_same_walked_the_other_way(paper: Paper) -> None:
    """Hem, squares and steps of a piece and of the same piece drawn clockwise."""
    corners = [0j, 200 + 0j, 250 + 300j, 120 + 340j, -40 + 300j]
    for hem, squared in itertools.permutations(range(5), 2):
        shapes = []
        for clockwise in (False, True):
            piece = paper.corners(*(corners[:1] + corners[:0:-1] if clockwise else corners))
            own = {n: 4 - n if clockwise else n for n in range(5)}
            cut = cut_line(
                piece,
                [
                    paper.allow(12.0),
                    paper.allow(20.0, piece.edges[own[squared]]).changed(corners="squared"),
                    paper.allow(40.0, piece.edges[own[hem]]).changed(hem=True),
                ],
            )
            assert cut is not None
            shapes.append(paper.polygon(cut))
        assert shapes[0].symmetric_difference(shapes[1]).area < 1e-6, (hem, squared)
