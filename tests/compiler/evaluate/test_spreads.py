"""Spreads one after another and across each other: paper stays rigid and none of it is lost."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
import shapely.ops
from hypothesis import assume, given, settings
from hypothesis import strategies as st

GRID = [(x, y) for x in range(3, 40, 6) for y in range(3, 60, 8)]
DOTS = "\n".join(f"drill at origin right {x} cm down {y} cm" for x, y in GRID)


def parts(lines):
    """Which part of a panel, 40 by 60 cm, each dot lies on, cut along lines by shapely."""
    pieces = [shapely.box(0, -600, 400, 0)]
    for line in lines:
        cut = shapely.LineString([(place.real, place.imag) for place in line.flattened(0.01)])
        pieces = [part for piece in pieces for part in shapely.ops.split(piece, cut).geoms]
    found = []
    for x, y in GRID:
        dot = shapely.Point(10 * x, -10 * y)
        near = min(piece.boundary.distance(dot) for piece in pieces)
        inside = [number for number, piece in enumerate(pieces) if piece.contains(dot)]
        found.append(inside[0] if inside and near > 0.5 else None)
    return found


def moved_rigidly(before, after, part_of):
    """Whether dots of one part keep their distances from each other."""
    old, new = ([mark.at for mark in piece.marks] for piece in (before, after))
    assert len(old) == len(new) == len(part_of)
    for i, part in enumerate(part_of):
        for j in range(i):
            if part is not None and part == part_of[j]:
                assert abs(new[i] - new[j]) == pytest.approx(abs(old[i] - old[j]), abs=1e-7)


ROWS = st.lists(st.floats(0.1, 0.9), min_size=1, max_size=4, unique=True).map(
    lambda places: sorted({round(place, 2) for place in places})
)


@settings(max_examples=25, deadline=None)
@given(
    places=ROWS,
    lean=st.floats(-0.08, 0.08),
    wide=st.floats(0.2, 4),
    how=st.sampled_from(["hinged on waist", "", "hinged on hem"]),
    treatment=st.sampled_from(["flare", "pleat", "gather", "box pleat"]),
    across=st.floats(0.2, 0.8),
    slant=st.floats(-0.15, 0.15),
    second=st.floats(0.3, 5),
    hinge=st.sampled_from(["hinged on centre", "hinged on side", ""]),
    bow=st.floats(-3, 3),
)
def test_a_spread_across_an_earlier_one(
    board, look, places, lean, wide, how, treatment, across, slant, second, hinge, bow
):
    """Paper is conserved, every part moves rigidly, and the earlier openings lead on across."""
    assume(min(places) + lean > 0.03 and max(places) + lean < 0.97)
    edge = {"hinged on waist": " at hem", "hinged on hem": " at waist"}.get(how, "")
    cuts = "\n".join(
        f"line cut[{i}] = on waist {place:.3f} from centre to on hem {place + lean:.3f} from centre"
        for i, place in enumerate(places, 1)
    )
    bowed = f" bowed {'down' if bow > 0 else 'up'} {abs(bow):.2f} cm" if abs(bow) > 0.05 else ""
    first = (
        f"{DOTS}\n{cuts}\nspread cut[1..{len(places)}] by {wide:.3f} cm{edge} {how} as {treatment}"
    )
    opens = {"hinged on centre": " at side", "hinged on side": " at centre"}.get(hinge, "")
    then = (
        f"\ncurve over = on centre {across:.3f} from waist "
        f"curve to on side {across + slant:.3f} from waist{bowed}\n"
        f"spread over by {second:.3f} cm{opens} {hinge}"
    )
    drawn = [board.piece(text) for text in (first + then.split("spread")[0], first + then)]
    before, after = drawn
    look.conserved(after)
    flat = board.piece(f"{DOTS}\n{cuts}")
    lines = [look.edge(flat, f"cut[{i}]").path for i in range(1, len(places) + 1)]
    moved_rigidly(flat, before, parts(lines))
    # Seen from the opened panel, the second cut: which dots lie above it, which below?
    over = look.edge(before, "over").path
    height = [
        over.point_at(over.nearest(mark.at)[0]).imag - mark.at.imag
        if over.nearest(mark.at)[1] > 0.5
        else None
        for mark in before.marks
    ]
    part_of = [
        None if part is None or side is None else (part, side > 0)
        for part, side in zip(parts(lines), height, strict=True)
    ]
    moved_rigidly(flat, after, part_of)
    sewn = [look.edge(piece, name).sewn for piece in drawn for name in ("waist", "hem")]
    assert sewn[:2] == pytest.approx(sewn[2:], rel=1e-9)
    assert len(after.openings) == len(places) + 1
    for opening in after.openings:
        for side in (opening.first, opening.second):
            for k in range(21):
                place = side.point_at(side.length * k / 20)
                assert shapely_contains(after, place)


def shapely_contains(piece, place):
    ring = shapely.Polygon([(p.real, p.imag) for p in piece.outline.flattened(0.01)])
    return ring.buffer(0.05).contains(shapely.Point(place.real, place.imag))


@pytest.mark.parametrize("treatment", ["pleat", "box pleat", "inverted pleat"])
@pytest.mark.parametrize("hinge", ["", "hinged on centre"])
def test_a_pleat_that_was_cut_across_still_folds_at_both_mouths(board, look, treatment, hinge):
    """Its paper is folded again by plain arithmetic: layers must end on the sewn line."""
    at = " at side" if hinge else ""
    toward = " toward centre" if treatment == "pleat" else ""
    panel = board.piece(
        f"""
        line fold[1] = on waist 1/3 from centre to on hem 1/3 from centre
        line fold[2] = on waist 2/3 from centre to on hem 2/3 from centre
        spread fold[1..2] by 4 cm as {treatment}
        line over = on centre 30 cm from waist to on side 24 cm from waist
        spread over by 7 cm{at} {hinge}
        fold-trim fold[1..2]{toward}
        """
    )
    for name in ("waist", "hem"):
        edge = look.edge(panel, name)
        assert edge.sewn == pytest.approx(400, abs=1e-6)
        for run in edge.runs:
            if run.role == "intake":
                # Square pleats on a straight edge need no point: the paper ends on the edge.
                line = edge.path.start, edge.path.end
                assert off(run.path, line) < 1e-6
                assert run.length == pytest.approx(40, abs=1e-6)
    look.conserved(panel)


def off(path, line):
    start, end = line
    chord = (end - start) / abs(end - start)
    return max(abs(((p - start) / chord).imag) for p in path.flattened(0.01))


def test_a_dart_is_not_cut_across(board):
    wrong = board.mistake(
        """
        dart tuck on waist at 1/2 from centre intake 4 cm length 20 cm
        line over = on centre 10 cm from waist to on side 10 cm from waist
        spread over by 5 cm
        """
    )
    assert wrong.message == "`over` runs through `tuck`"
    assert "close `tuck` first" in wrong.help
    assert wrong.span.text == "over"


def test_three_rounds_of_spreading(board, look):
    """Down, across, and down again through all that was let in."""
    panel = board.piece(
        """
        line one = on waist 1/2 to on hem 1/2
        spread one by 8 cm at hem hinged on waist
        line two = on centre 1/2 to on side 1/2
        spread two by 6 cm at side hinged on centre
        line three = on waist 1/4 from centre to on hem 1/4 from centre
        spread three by 5 cm at hem and 2 cm at waist
        line four = on side 1/4 from waist to on centre 1/4 from waist
        spread four by 2 cm
        true hem, waist, side, centre
        """
    )
    look.conserved(panel)
    for name in ("hem", "waist", "side", "centre"):
        assert look.edge(panel, name).path.corners(1e-3) == ()


@settings(max_examples=20, deadline=None)
@given(
    outer=st.floats(0.5, 9),
    inner=st.floats(0, 9),
    start=st.floats(0.2, 0.8),
    end=st.floats(0.2, 0.8),
    bow=st.floats(-4, 4),
)
def test_unequal_at_the_two_ends_along_any_line(board, look, outer, inner, start, end, bow):
    bowed = f" bowed {'right' if bow > 0 else 'left'} {abs(bow):.2f} cm" if abs(bow) > 0.05 else ""
    panel = board.piece(
        f"""
        curve cut = on waist {start:.3f} from centre curve to on hem {end:.3f} from centre{bowed}
        spread cut by {outer:.3f} cm at hem and {inner:.3f} cm at waist
        """
    )
    (opening,) = panel.openings
    ends = [
        sorted((opening.first.start, opening.first.end), key=lambda p: p.imag),
        sorted((opening.second.start, opening.second.end), key=lambda p: p.imag),
    ]
    low, high = (abs(a - b) for a, b in zip(*ends, strict=True))
    assert low == pytest.approx(round(outer, 3) * 10, abs=1e-6)
    assert high == pytest.approx(round(inner, 3) * 10, abs=1e-6)
    assert opening.first.length == pytest.approx(opening.second.length, rel=1e-12)
    look.conserved(panel)


def test_a_straight_hem_slashed_ever_finer_comes_to_the_slice_of_a_ring(board):
    """Area and corner of the flounce against the exact figures; the error falls as the square.

    Every slash opens by an equal share of the same angle, so that only the polygon differs from
    the ring: an n-sided polygon in a circle differs from it by pi^2 / 6n^2 of its area or less.
    """
    length, depth, angle = 720.0, 120.0, math.radians(120)
    errors = []
    for count in (4, 8, 16, 32):
        opening = 2 * depth * math.sin(angle / count / 2)
        piece = board.pattern(
            f"""
            piece flounce
              strip 72 cm by 12 cm
              repeat i from 1 to {count}
                line cut[i] = on base (i - 1/2) / {count} from start
                  to on top (i - 1/2) / {count} from start
              spread cut[1..{count}] by {opening!r} mm at base hinged on top
            """
        ).pieces["flounce"]
        radius = length / angle
        exact = angle / 2 * ((radius + depth) ** 2 - radius**2)
        errors.append(exact - piece.area)
        turned = piece.edges[1].path.start_direction / -piece.edges[3].path.start_direction
        assert abs(math.atan2(turned.imag, turned.real)) == pytest.approx(angle, abs=1e-9)
    for coarse, fine in pairwise(errors):
        assert coarse / fine == pytest.approx(4, rel=0.05)
    assert 0 < errors[-1] < 0.001 * length * depth
