"""`true`: the joints of an edge become one smooth line, within a distance, its ends kept."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

SMOOTH = 1e-3  # radians
OPENED = """
line flare = on waist 1/2 to on hem 1/2
spread flare by {wide} cm at hem hinged on waist
"""


def farthest(one, other):
    """How far any place of the one line is from the other."""
    count = 300
    return max(other.nearest(one.point_at(one.length * k / count))[1] for k in range(count + 1))


@settings(max_examples=25, deadline=None)
@given(
    places=st.lists(st.floats(0.1, 0.9), min_size=1, max_size=4, unique=True),
    wide=st.floats(0.3, 6),
    within=st.sampled_from(["", "within 1 mm", "within 5 mm", "within 2 cm"]),
)
def test_it_flows_within_the_limit_between_the_same_ends(board, look, places, wide, within):
    places = sorted({round(place, 2) for place in places})
    lines = "\n".join(
        f"line cut[{i}] = on waist {place} from centre to on hem {place} from centre"
        for i, place in enumerate(places, 1)
    )
    opened = f"{lines}\nspread cut[1..{len(places)}] by {wide:.3f} cm at hem hinged on waist"
    before = board.piece(opened)
    after = board.piece(f"{opened}\ntrue hem {within}")
    old, new = look.edge(before, "hem").path, look.edge(after, "hem").path
    limit = {"within 1 mm": 1, "within 2 cm": 20}.get(within, 5)
    assert len(old.corners(SMOOTH)) == len(places) * 2
    assert new.corners(SMOOTH) == ()
    assert (new.start, new.end) == (old.start, old.end)
    assert max(farthest(old, new), farthest(new, old)) <= limit + 1e-3
    if not within:
        assert new.length == pytest.approx(old.length, abs=1)
    look.conserved(after)


def test_an_edge_without_corners_is_left_alone(board, look):
    for on in (board.panel, board.quarter):
        before, after = board.piece("", on), board.piece("true hem, side", on)
        assert after.edges == before.edges
        assert after.steps[-1].verb == "true"


def test_across_both_halves_of_an_unfolded_piece(board, look):
    """The corner where the halves meet goes too; each half keeps its own share of the hem."""
    on = board.skirt.replace("foot_side = foot right 25 cm", "foot_side = foot right 25 cm up 2 cm")
    before = board.piece("", on)
    (corner,) = look.edge(before, "hem").path.corners(SMOOTH)
    assert corner == pytest.approx(look.edge(before, "right.hem").length)
    skirt = board.piece("true hem", on)
    assert look.edge(skirt, "hem").path.corners(SMOOTH) == ()
    right, left = look.edge(skirt, "right.hem"), look.edge(skirt, "left.hem")
    assert right.end == left.start
    assert right.end.real == pytest.approx(0, abs=1e-9)
    assert right.length == pytest.approx(left.length, abs=1e-3)
    # The fold is led to the new hem, so that the skirt can be halved again.
    halved = board.piece("true hem\nhalve along centre keeping right", on)
    assert [str(edge.label) for edge in halved.edges] == ["waist", "side", "hem", "centre"]
    assert look.edge(halved, "hem").length == pytest.approx(right.length, abs=1e-6)
    look.conserved(halved)


def test_across_a_dart_the_sewn_edge_flows(board, look):
    """Two darts drawn on a straight waist leave corners in the sewn line; truing takes them out."""
    drawn = "dart tuck on waist at 1/2 from centre intake 3 cm length 12 cm\n"
    before, after = board.piece(drawn), board.piece(drawn + "true waist within 5 mm")

    def corner(panel):
        """Between the sewn lines on both sides of the closed dart, in radians."""
        (dart,) = panel.openings
        seams = [run for run in look.edge(panel, "waist").runs if run.role == "seam"]
        shut = (dart.first.end - dart.point) / (dart.second.end - dart.point)
        return abs(cmath.phase(seams[1].path.start_direction * shut / seams[0].path.end_direction))

    assert corner(before) == pytest.approx(2 * math.atan(1.5 / 12), abs=1e-9)
    assert corner(after) < SMOOTH
    (dart,) = after.openings
    assert dart.first.length == pytest.approx(dart.second.length, abs=1e-6)
    look.conserved(after)


def test_notches_and_lines_that_ended_on_the_edge_follow(board, look):
    panel = board.piece(
        f"""
        {OPENED.format(wide=8).strip().splitlines()[0]}
        line other = on waist 1/3 down to hem
        spread flare by 8 cm at hem hinged on waist
        notch on hem at 25 cm from centre
        true hem within 1 cm
        """
    )
    hem = look.edge(panel, "hem").path
    (notch,) = panel.marks
    assert hem.nearest(notch.at)[1] < 1e-6
    assert hem.nearest(look.edge(panel, "other").end)[1] < 1e-6


def test_the_hem_of_an_a_line_skirt_is_one_sweep(board, look):
    """Two darts closed one after the other leave a zigzag of corners; a cutter draws one curve."""
    back = board.piece(
        """
        repeat i from 1 to 2
          dart tuck[i] on waist at i/3 from centre intake 2.5 cm length 13 cm
          line flare[i] = tuck[i].point down to hem
          close tuck[i] into flare[i]
        true hem within 5 mm
        """,
        board.quarter,
    )
    hem = look.edge(back, "hem").path
    bends = []
    for k in range(101):
        at, t = hem.located(hem.length * k / 100)
        bends.append(hem.segments[at].curvature(t))
    # It bends one way; against it less than a circle of 5 m would.
    against = min(max(bends), -min(bends))
    assert against < 1 / 5000
    assert max(max(bends), -min(bends)) > 1 / 2000


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            "section part = hem from on hem 1/4 to on hem 3/4\ntrue part",
            "`part` is a part of an edge, and this is done to a whole edge",
            "part",
        ),
    ],
)
def test_what_cannot_be_trued_is_said_where_it_stands(board, lines, message, place):
    wrong = board.mistake(lines)
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help


@pytest.mark.parametrize("limit", ["0 mm", "-2 mm"])
def test_within_nothing_is_refused(board, limit):
    wrong = board.mistake("true hem within limit", head=f"limit = {limit}")
    assert wrong.message.startswith("`within` is a distance above nothing")
    assert wrong.span.text == "limit"
