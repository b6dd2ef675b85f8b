"""`true` over darts and pleats: the edge flows as it is sewn, and what was trimmed fits again."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

SMOOTH = 1e-3  # radians

ONE = "dart tuck on waist at {at} from centre intake {intake} cm length {length} cm\n"


def sewn_line(edge, openings):
    """The runs of an edge laid one behind the other as sewn, as functions from paper to there.

    Worked out by turning everything behind a dart about its point until the legs meet.
    """
    lie = [lambda place: place]
    laid = []
    for run in edge.runs:
        if run.role == "seam":
            laid.append((run, lie[0]))
            continue
        dart = next(item for item in openings if item.label == run.opening)
        turn = (dart.first.end - dart.point) / (dart.second.end - dart.point)
        turn /= abs(turn)

        def beyond(place, before=lie[0], point=dart.point, turn=turn):
            return before(point + (place - point) * turn)

        lie[0] = beyond
    return laid


def corners(edge, openings):
    """The turns of the sewn line at its folds, in radians."""
    laid = sewn_line(edge, openings)
    found = []
    for (run, lie), (following, lie_following) in pairwise(laid):
        away = abs(lie(run.path.end) - lie_following(following.path.start))
        assert away < 1e-6  # the legs are equal
        out = lie(run.path.end) - lie(run.path.end - run.path.end_direction)
        onward = lie_following(following.path.start + following.path.start_direction)
        onward -= lie_following(following.path.start)
        found.append(abs(cmath.phase(onward / out)))
    return found


def off_seam(edge, openings):
    """How far the folded layers of darts pressed toward the first leg lie off the sewn line."""
    laid = sewn_line(edge, openings)
    line = [lie(run.path.point_at(run.length * k / 400)) for run, lie in laid for k in range(401)]
    worst = 0.0
    place = 0
    for number, run in enumerate(edge.runs):
        if run.role == "seam":
            place += 1
            continue
        dart = next(item for item in openings if item.label == run.opening)
        before = laid[place - 1][1]
        leg = (dart.first.end - dart.point) / dart.first.length
        turn = (dart.first.end - dart.point) / (dart.second.end - dart.point)
        (tip,) = (at for at in run.path.corners(0.05))
        assert number
        for k in range(101):
            at = run.length * k / 100
            spot = run.path.point_at(at)
            if at <= tip:  # the layer next to the first leg, folded over it
                spot = dart.point + leg**2 * (spot - dart.point).conjugate()
            else:  # the layer beyond, carried along with the second leg
                spot = dart.point + (spot - dart.point) * turn / abs(turn)
            worst = max(worst, distance(before(spot), line))
    return worst


def distance(place, line):
    """From a chain of points."""
    best = math.inf
    for a, b in pairwise(line):
        along = b - a
        t = ((place - a) * along.conjugate()).real / abs(along) ** 2 if along else 0.0
        best = min(best, abs(place - a - along * min(max(t, 0.0), 1.0)))
    return best


@settings(max_examples=15, deadline=None)
@given(
    at=st.floats(0.3, 0.7),
    intake=st.floats(1, 5),
    length=st.floats(8, 18),
    within=st.sampled_from(["", "within 2 mm", "within 1 cm"]),
    quarter=st.booleans(),
)
def test_a_trimmed_dart_is_trimmed_again(board, look, at, intake, length, within, quarter):
    on = board.quarter if quarter else board.panel
    intake = min(intake, 3) if quarter else intake
    drawn = ONE.format(at=f"{at:.3f}", intake=f"{intake:.2f}", length=f"{length:.2f}")
    lines = f"{drawn}fold-trim tuck toward centre\ntrue waist {within}"
    piece = board.piece(lines, on)
    waist = look.edge(piece, "waist")
    assert max(corners(waist, piece.openings)) < SMOOTH
    (dart,) = piece.openings
    assert dart.trimmed
    assert dart.first.length == pytest.approx(dart.second.length, abs=1e-6)
    assert off_seam(waist, piece.openings) < 0.02
    look.conserved(piece)


def test_several_darts_make_one_sewn_line(board, look):
    lines = (
        "repeat i from 1 to 3\n"
        "  dart tuck[i] on waist at i/4 from centre intake 2.5 cm length 12 cm\n"
        "fold-trim tuck[1..3] toward centre\n"
    )
    before, after = board.piece(lines), board.piece(lines + "true waist")
    angle = 2 * math.atan(1.25 / 12)
    assert corners(look.edge(before, "waist"), before.openings) == pytest.approx([angle] * 3)
    waist = look.edge(after, "waist")
    assert max(corners(waist, after.openings)) < SMOOTH
    assert off_seam(waist, after.openings) < 0.02
    assert waist.start == look.edge(before, "waist").start
    assert waist.end == look.edge(before, "waist").end
    look.conserved(after)


def test_truing_before_or_after_trimming_is_the_same(board, look):
    drawn = ONE.format(at="1/2", intake=3, length=12)
    one = board.piece(f"{drawn}true waist\nfold-trim tuck toward centre")
    other = board.piece(f"{drawn}fold-trim tuck toward centre\ntrue waist")
    assert one.area == pytest.approx(other.area, rel=1e-9)
    for a, b in zip(look.edge(one, "waist").runs, look.edge(other, "waist").runs, strict=True):
        assert a.length == pytest.approx(b.length, abs=1e-6)


@pytest.mark.parametrize("treatment", ["pleat", "box pleat", "inverted pleat"])
def test_tapering_pleats_flow_when_folded(board, look, treatment):
    """Of each pleat the turn is shared by both sides; folded, the edge is straight again, trued."""
    side = " toward centre" if treatment == "pleat" else ""
    lines = (
        "line fold[1] = on waist 1/3 from centre to on hem 1/3 from centre\n"
        "line fold[2] = on waist 2/3 from centre to on hem 2/3 from centre\n"
        f"spread fold[1..2] by 5 cm at waist and 2 cm at hem as {treatment}\n"
        f"fold-trim fold[1..2]{side}\n"
    )
    before = board.piece(lines)
    after = board.piece(lines + "true waist, hem")
    # The edges were straight and square to the folds: there was nothing to blend.
    for name in ("waist", "hem"):
        assert look.edge(after, name).sewn == pytest.approx(look.edge(before, name).sewn, abs=1e-9)
    assert after.area == pytest.approx(before.area, rel=1e-9)


def test_pleats_in_a_cornered_waist(board, look):
    """The corner is taken out between the pleats as folded, and the pleats are led to it."""
    on = board.panel.replace(
        "waist = top_left to top_right",
        "waist = top_left to top_left right 20 cm up 3 cm, to top_right",
    )
    lines = (
        "line open = on waist 1/2 from centre to on hem 1/2 from centre\n"
        "spread open by 6 cm as box pleat\nfold-trim open\n"
    )
    before, after = board.piece(lines, on), board.piece(lines + "true waist", on)
    (old,), (new,) = before.openings, after.openings
    tops = [max((side.start, side.end), key=lambda p: p.imag) for side in (old.first, new.first)]
    # The peak of the waist, where the pleat lies, has come down, by no more than five millimetres.
    assert 1 < tops[0].imag - tops[1].imag <= 5 + 1e-6
    assert new.first.length == pytest.approx(new.second.length, abs=1e-9)
    assert look.edge(after, "hem").runs == look.edge(before, "hem").runs
    look.conserved(after)


# ---------------------------------------------------------------- edges that are sewn


def test_an_edge_that_is_sewn_keeps_its_length(board, look):
    """A closed dart leaves a corner; blended freely the seam would lose a millimetre and more."""
    text = f"""{board.quarter}  dart tuck on waist at 1/2 from centre intake 4 cm length 12 cm
  line flare = tuck.point down to hem
  close tuck into flare
piece trued from quarter
  true waist
piece band
  strip length(quarter.waist) by 4 cm
"""
    freely = board.pattern(text).pieces
    sewn = board.pattern(text + "sew trued.waist to band.base\n").pieces
    whole = look.edge(freely["quarter"], "waist").length
    assert abs(look.edge(freely["trued"], "waist").length - whole) > 1
    assert abs(look.edge(sewn["trued"], "waist").length - whole) <= 0.3 + 1e-6
    for pieces in (freely, sewn):
        assert look.edge(pieces["trued"], "waist").path.corners(SMOOTH) == ()


def test_many_corners_of_a_sewn_edge_change_it_by_less_than_a_seam_allows(board, look):
    text = """piece flounce
  strip 72 in by 12 in
  repeat i from 1 to 24
    line slash[i] = on base i/25 from start to on top i/25 from start
  spread slash[1..24] by 40 in / 24 at base hinged on top
  true top
piece skirt
  strip 72 in by 20 in
"""
    freely = board.pattern(text).pieces["flounce"]
    sewn = board.pattern(text + "sew flounce.top to skirt.base\n").pieces["flounce"]
    assert 72 * 25.4 - look.edge(freely, "top").length > 2
    assert 72 * 25.4 - look.edge(sewn, "top").length <= 0.9 + 1e-6
    assert look.edge(sewn, "top").path.corners(SMOOTH) == ()


def test_a_seam_made_by_divide_counts_as_sewn(board, look):
    text = f"""{board.quarter}  dart tuck on waist at 1/2 from centre intake 3 cm length 12 cm
  curve yoke_line = on centre 11 cm from waist
    curve to on side 9 cm from waist through tuck.point
  divide along yoke_line into yoke and skirt
piece yoke from quarter.yoke
  close tuck
  true yoke_line
piece skirt from quarter.skirt
"""
    pieces = board.pattern(text).pieces
    lengths = [look.edge(pieces[name], "yoke_line").sewn for name in ("yoke", "skirt")]
    assert lengths[0] == pytest.approx(lengths[1], abs=0.3 + 1e-6)
