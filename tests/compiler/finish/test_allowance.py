"""The cut line: every edge set outward by its own width."""

from __future__ import annotations

import math
import random
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest
import shapely

from oaktag.compiler.finish.allowance import cut_line, widths
from oaktag.compiler.finish.corners import MITRE
from oaktag.compiler.geometry import Arc, Cubic, Path, line, ring_area, turning
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import Section

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Allowance
    from oaktag.compiler.paper.piece import Piece
    from tests.compiler.conftest import Board
    from tests.compiler.finish.conftest import Paper

PROGRAMS = File(__file__).parents[2] / "programs"
SQUARE = (0j, 100 + 0j, 100 + 100j, 100j)
EXACT = 0.02  # mm


def test_without_allowance_the_outline_is_cut(paper: Paper) -> None:
    square = paper.corners(*SQUARE)
    assert cut_line(square, []) is None
    assert cut_line(square, [paper.allow(0.0)]) is None


def test_another_pieces_allowance_is_none_of_ours(paper: Paper) -> None:
    square = paper.corners(*SQUARE)
    assert cut_line(square, [paper.allow(15.0).changed(piece="other")]) is None


@pytest.mark.parametrize("clockwise", [False, True])
def test_a_square_with_four_widths(paper: Paper, clockwise: bool) -> None:
    """Below 30, right 10, above 0, left 15: (100 + 10 + 15) by (100 + 30) by hand."""
    corners = SQUARE[::-1] if clockwise else SQUARE
    square = paper.corners(*corners)
    below = {0: (3, 2, 1, 0), 1: (0, 1, 2, 3)}
    order = [2, 1, 0, 3] if clockwise else below[1]
    allowances = [
        paper.allow(width, square.edges[number])
        for width, number in zip((30.0, 10.0, 0.0, 15.0), order, strict=True)
    ]
    cut = cut_line(square, allowances)
    assert cut is not None
    assert abs(ring_area(cut)) == pytest.approx(125 * 130, abs=1e-9)
    assert cut.box() == pytest.approx((-15, -30, 110, 100), abs=1e-9)
    assert (ring_area(cut) < 0) == clockwise
    assert len(cut.segments) == 4


def test_the_later_allowance_wins(paper: Paper) -> None:
    square = paper.corners(*SQUARE)
    right = square.edges[1]
    cut = cut_line(square, [paper.allow(40.0, right), paper.allow(10.0), paper.allow(25.0, right)])
    assert cut is not None
    assert cut.box() == pytest.approx((-10, -10, 125, 110))


def test_there_is_no_allowance_on_the_fold(paper: Paper) -> None:
    square = paper.corners(*SQUARE)
    folded = square.with_edge(square.edges[3], square.edges[3].changed(on_fold=True))
    cut = cut_line(folded, [paper.allow(15.0), paper.allow(15.0, folded.edges[3])])
    assert cut is not None
    assert cut.box() == pytest.approx((0, -15, 115, 115))


def test_at_a_neckline_the_cut_line_ends_on_the_line_of_the_fold(paper: Paper) -> None:
    """A V neck meets the fold at 150 degrees: the cut line goes straight on along the fold."""
    neck = 60 + 100j + 60j * math.tan(math.radians(60))
    piece = paper.corners(0j, 60 + 0j, neck, 100j)
    folded = piece.with_edge(piece.edges[3], piece.edges[3].changed(on_fold=True))
    cut = cut_line(folded, [paper.allow(10.0)])
    assert cut is not None
    left, _, _, _ = cut.box()
    assert left == pytest.approx(0.0, abs=1e-9)
    # 10 mm square to a line 30 degrees from the fold is 20 mm along the fold.
    assert cut.nearest(120j)[1] == pytest.approx(0.0, abs=1e-9)


def test_half_a_section_gets_its_own_width(paper: Paper) -> None:
    square = paper.corners(*SQUARE)
    zip_ = Section(Label("zip"), Label("e1"), 100 + 40j, 100 + 100j)
    square = square.changed(sections=(zip_,))
    named = square.edges[1].changed(label=Label("zip"))
    allowances = [paper.allow(10.0), paper.allow(25.0, named)]
    assert widths(square, square.edges[1], allowances) == [(0.0, 40.0, 10.0), (40.0, 100.0, 25.0)]
    cut = cut_line(square, allowances)
    assert cut is not None
    # By hand: 120 by 120 and, beside the section and its corner, 15 mm more over 70 mm.
    assert ring_area(cut) == pytest.approx(120 * 120 + 15 * 70)


def test_arcs_stay_arcs(paper: Paper) -> None:
    """A disc of radius 50 with 15 mm all round is a disc of radius 65."""
    halves = [Arc(0j, 50 + 0j, math.pi), Arc(0j, -50 + 0j, math.pi)]
    cut = cut_line(paper.of([Path((half,)) for half in halves]), [paper.allow(15.0)])
    assert cut is not None
    assert ring_area(cut) == pytest.approx(math.pi * 65**2, abs=1e-6)
    assert all(isinstance(segment, Arc) for segment in cut.segments)


def test_a_sharp_notch_is_trimmed_where_its_sides_meet(paper: Paper) -> None:
    """A V 60 wide and 60 deep, sides at 26.57 degrees: its cut line is less deep."""
    piece = paper.corners(0j, 200 + 0j, 200 + 100j, 130 + 100j, 100 + 40j, 70 + 100j, 100j)
    cut = cut_line(piece, [paper.allow(10.0)])
    assert cut is not None
    half = math.atan(30 / 60)
    assert cut.nearest(100 + (40 + 10 / math.sin(half)) * 1j)[1] == pytest.approx(0, abs=1e-9)
    ring = paper.polygon(cut)
    assert ring.is_valid
    mitred = paper.polygon(piece.outline).buffer(10.0, join_style="mitre", mitre_limit=10)
    assert ring.symmetric_difference(mitred).area < 1e-6


def test_a_corner_that_would_reach_too_far_is_cut_off(paper: Paper) -> None:
    """10 degrees: the mitre would reach 11.5 widths."""
    tip = 300 + 0j
    piece = paper.corners(-300 * math.tan(math.radians(5)) * 1j, tip, 300 * 0.0874886635j)
    cut = cut_line(piece, [paper.allow(10.0)])
    assert cut is not None
    assert cut.box()[2] == pytest.approx(300 + MITRE * 10, abs=1e-6)


@pytest.mark.parametrize("gap", [40.0, 18.0, 12.0])
def test_a_slot_too_narrow_for_its_allowances(paper: Paper, gap: float) -> None:
    """Two sides `gap` apart with 10 mm each need 20 mm and more."""
    left, right = 100 - gap / 2, 100 + gap / 2
    piece = paper.corners(
        0j, 200 + 0j, 200 + 100j, right + 100j, right + 20j, left + 20j, left + 100j, 100j
    )
    allowances = [paper.allow(10.0)]
    if gap > 20:
        assert cut_line(piece, allowances) is not None
        return
    with pytest.raises(PaperError) as wrong:
        cut_line(piece, allowances)
    assert wrong.value.code == "allowance-too-wide"
    width, most = wrong.value.lengths
    assert width == 10.0
    assert most == pytest.approx(gap / 2, abs=0.2)
    assert most < gap / 2
    assert cut_line(piece, [paper.allow(most)]) is not None


def test_allowances_that_close_over_a_hollow(paper: Paper) -> None:
    """A keyhole: the neck is closed by the allowances, the hollow behind it is not."""
    piece = paper.corners(
        0j, 200 + 0j, 200 + 200j, 104 + 200j, 104 + 150j, 160 + 150j, 160 + 40j, 40 + 40j,
        40 + 150j, 96 + 150j, 96 + 200j, 200j,
    )  # fmt: skip
    with pytest.raises(PaperError) as wrong:
        cut_line(piece, [paper.allow(6.0)])
    assert wrong.value.lengths[1] == pytest.approx(4.0, abs=0.2)


def widths_of(piece: Piece, chance: random.Random, paper: Paper) -> list[Allowance]:
    """One width all round, or some edges with their own."""
    allowances = [paper.allow(chance.choice([5.0, 10.0, 15.0, 20.0]))]
    if chance.random() < 0.5:
        for edge in piece.edges:
            if chance.random() < 0.6:
                allowances.append(paper.allow(chance.choice([0.0, 6.0, 15.0, 25.0]), edge))
    return allowances


@pytest.mark.parametrize("start", range(0, 300, 50))
def test_random_pieces(paper: Paper, start: int) -> None:
    """Valid, containing the piece, and at the right distance wherever no corner is near."""
    tried = refused = 0
    for seed in range(start, start + 50):
        piece = paper.random(seed)
        if piece is None:
            continue
        tried += 1
        allowances = widths_of(piece, random.Random(seed), paper)
        try:
            cut = cut_line(piece, allowances)
        except PaperError as wrong:
            # Rare: a bend tighter than 25 mm. What it says will fit does fit.
            refused += 1
            most = wrong.lengths[1]
            allowances = [item.changed(width=min(item.width, most)) for item in allowances]
            cut = cut_line(piece, allowances)
        assert cut is not None
        inner, outer = paper.polygon(piece.outline), paper.polygon(cut)
        assert outer.is_valid, (seed, shapely.is_valid_reason(outer))
        assert outer.buffer(0.006).contains(inner), seed
        check_bands(paper, piece, allowances, inner, outer, seed)
        if len(allowances) == 1:
            near = min(inner.exterior.distance(paper.point(p)) for p in cut.flattened(0.1))
            assert near > allowances[0].width - EXACT, seed
    assert tried > 40
    assert refused <= 2


def check_bands(
    paper: Paper,
    piece: Piece,
    allowances: list[Allowance],
    inner: shapely.Polygon,
    outer: shapely.Polygon,
    seed: int,
) -> None:
    """Between the cut line and the outline lies the band of each edge, and nothing else."""
    side = -1 if piece.signed_area > 0 else 1
    own = {edge.label: widths(piece, edge, allowances)[0][2] for edge in piece.edges}
    bands, corners = [inner.buffer(0.01)], []
    before = piece.edges[-1]
    for edge in piece.edges:
        wide = max(own[edge.label], own[before.label])
        turn = turning(before.path.end_direction, edge.path.start_direction)
        reach = wide / max(math.cos(turn / 2), 0.28) * 1.05
        reach += abs(own[edge.label] - own[before.label]) + 0.1
        corners.append(paper.point(edge.start).buffer(max(reach, 1.5 * wide)))
        before = edge
    near_corners = shapely.union_all(corners)
    for edge in piece.edges:
        width = own[edge.label]
        if width:
            line_ = paper.string(edge.path)
            least = line_.buffer(side * (width - 0.03), single_sided=True, quad_segs=32)
            assert least.difference(outer).difference(near_corners).area < 0.05, (seed, edge.label)
            bands.append(line_.buffer(side * (width + 0.03), single_sided=True, quad_segs=32))
    more = outer.difference(shapely.union_all(bands)).difference(near_corners).area
    assert more < 0.4, seed


def test_curves_keep_their_distance(paper: Paper) -> None:
    """Within 0.02 mm on S curves that bend less sharply than the allowance is wide."""
    for seed in range(40):
        chance = random.Random(seed)
        rise, fall = chance.uniform(10, 90), chance.uniform(10, 90)
        top = [200 + 150j, 140 + (150 + rise) * 1j, 60 + (150 - fall) * 1j, 150j]
        curve = Path((Cubic(*top),))
        piece = paper.of([line(0j, 200 + 0j), line(200 + 0j, top[0]), curve, line(150j, 0j)])
        cut = cut_line(piece, [paper.allow(15.0)])
        assert cut is not None
        exact = paper.string(curve, 0.0005)
        # Seen from the curve's own normals, away from its ends.
        for k in range(10, 91):
            place = curve.length * k / 100
            out = curve.point_at(place) - 15j * curve.tangent_at(place)
            if exact.distance(paper.point(out)) > 15 - 1e-4:
                assert cut.nearest(out)[1] < EXACT, (seed, k)


def test_a_trimmed_pleat_keeps_its_shape_in_the_allowance(board: Board, paper: Paper) -> None:
    """The draped side of the ferrywoman's skirt: a zigzag of six pleat layers with 15 mm."""
    text = (PROGRAMS / "ferry.oak").read_text(encoding="utf-8")
    pattern = board.pattern(text, waist_girth=720.0, hip_girth=960.0, waist_to_hip=200.0)
    front = pattern.pieces["front"]
    cut = cut_line(front, pattern.allowances)
    assert cut is not None
    outline, ring = paper.polygon(front.outline), paper.polygon(cut)
    assert ring.is_valid
    assert ring.contains(outline)
    (side,) = [edge for edge in front.edges if str(edge.label) == "right.side"]
    for run in side.runs:
        if run.role == "intake":
            middle = run.path.length / 4
            for place in (middle, 3 * middle):
                away = cut.nearest(run.path.point_at(place))[1]
                assert away == pytest.approx(15.0, abs=EXACT)
