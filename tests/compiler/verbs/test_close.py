"""`close`: a dart shuts, and its line opens by the same angle."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

DART = "dart tuck on waist at 1/2 intake 3 cm length 12 cm\n"
FLARE = "line flare = tuck.point down to hem\n"


def angle(opening):
    """Between the chords of the two sides, in radians."""
    first = opening.first.end - opening.first.start
    second = opening.second.end - opening.second.start
    return abs(cmath.phase(first / second))


def opening(piece, name):
    return next(item for item in piece.openings if str(item.label) == name)


def test_the_mouth_leaves_the_edge_and_what_is_sewn_stays(board, look):
    before = board.piece(DART)
    after = board.piece(f"{DART}{FLARE}close tuck into flare")
    assert look.edge(before, "waist").length == pytest.approx(400, abs=1e-6)
    assert look.edge(before, "waist").sewn == pytest.approx(370, abs=1e-6)
    assert look.edge(after, "waist").length == pytest.approx(370, abs=1e-6)
    assert look.edge(after, "waist").sewn == pytest.approx(370, abs=1e-6)
    assert [str(item.label) for item in after.openings] == ["flare"]
    look.conserved(after)


def test_the_line_opens_by_the_angle_of_the_dart(board, look):
    before = board.piece(DART)
    after = board.piece(f"{DART}{FLARE}close tuck into flare")
    assert angle(after.openings[0]) == pytest.approx(angle(before.openings[0]), abs=1e-12)


def test_the_mouth_of_a_moved_dart_is_as_wide_as_its_radius_makes_it(board):
    """A dart swings about the bulge (M. Erwin, "Practical Dress Design", p. 42). Worked by hand:
    7 cm at 25 cm is 16.1 degrees, and 4.48 cm at 16 cm."""
    # Legs of 25 cm: 3.5 cm to each side of a middle of 24.754 cm.
    panel = board.piece("dart bust on side at 16 cm from waist intake 7 cm length 24.754 cm")
    dart = panel.openings[0]
    assert dart.first.length == pytest.approx(250, abs=0.01)
    assert math.degrees(angle(dart)) == pytest.approx(16.1, abs=0.05)
    at_16 = board.piece(
        """
        dart bust on side at 16 cm from waist intake 7 cm length 24.754 cm
        line cut = bust.point up to waist
        close bust into cut as dart
        """
    )
    (moved,) = at_16.openings
    assert moved.first.length == pytest.approx(160, abs=1e-6)
    assert moved.intake == pytest.approx(44.8, abs=0.05)
    assert moved.intake == pytest.approx(2 * 160 * math.sin(angle(dart) / 2), abs=1e-6)


def test_an_a_line_gains_at_the_hem_what_the_dart_gives(board, look):
    """Worked by hand: dart 2 x 12 cm (9.53 degrees), 45 cm below it: 7.47 cm."""
    panel = board.piece(
        """
        dart tuck on waist at 1/2 intake 2 cm length 12 cm
        line flare = tuck.point down to hem
        close tuck into flare
        """,
        board.panel.replace("down 60 cm", "down 57 cm"),
    )
    (flare,) = panel.openings
    assert math.degrees(angle(flare)) == pytest.approx(9.53, abs=0.005)
    assert flare.intake == pytest.approx(74.7, abs=0.1)
    assert look.edge(panel, "hem").length == pytest.approx(400 + flare.intake, abs=1e-6)
    assert look.edge(panel, "waist").sewn == pytest.approx(380, abs=1e-6)


@pytest.mark.parametrize("share", ["1/2", "1/3", "0.9", "1"])
def test_a_share_is_of_the_angle_still_open(board, look, share):
    whole = angle(board.piece(DART).openings[0])
    part = eval(share)
    panel = board.piece(f"{DART}{FLARE}close tuck by {share} into flare")
    assert angle(opening(panel, "flare")) == pytest.approx(whole * part, abs=1e-12)
    if part < 1:
        assert angle(opening(panel, "tuck")) == pytest.approx(whole * (1 - part), abs=1e-12)
        assert look.edge(panel, "waist").sewn == pytest.approx(370, abs=1e-6)
    else:
        assert [str(item.label) for item in panel.openings] == ["flare"]
    look.conserved(panel)


def test_two_shares_of_a_half_leave_a_quarter(board, look):
    whole = angle(board.piece(DART).openings[0])
    panel = board.piece(
        f"""
        {DART}
        line flare = tuck.point down to hem
        line other = tuck.point to on side 1/2
        close tuck by 1/2 into flare
        close tuck by 1/2 into other as dart
        """
    )
    assert angle(opening(panel, "flare")) == pytest.approx(whole / 2, abs=1e-12)
    assert angle(opening(panel, "other")) == pytest.approx(whole / 4, abs=1e-12)
    assert angle(opening(panel, "tuck")) == pytest.approx(whole / 4, abs=1e-12)
    look.conserved(panel)


@pytest.mark.parametrize("share", ["", "by 1/2"])
def test_several_lines_open_by_equal_shares(board, look, share):
    whole = angle(board.piece(DART).openings[0])
    panel = board.piece(
        f"""
        {DART}
        line toward_hem = tuck.point down to hem
        line toward_side = tuck.point to on side 1/2
        curve toward_centre = on centre 1/3 curve to tuck.point bowed down 2 cm
        close tuck {share} into toward_hem, toward_side, toward_centre
        """
    )
    each = whole / 3 / (2 if share else 1)
    for name in ("toward_hem", "toward_side", "toward_centre"):
        assert angle(opening(panel, name)) == pytest.approx(each, abs=1e-12)
    look.conserved(panel)


def test_without_line_the_point_must_lie_on_an_edge(board, look):
    quarter = board.piece(
        """
        dart tuck on waist at 1/2 intake 3 cm to on hem 1/2
        close tuck
        """
    )
    assert not quarter.openings
    assert look.edge(quarter, "waist").length == pytest.approx(370, abs=1e-6)
    assert look.edge(quarter, "hem").length == pytest.approx(400, abs=1e-6)
    # The hem has a corner where the two parts turned.
    (corner,) = look.edge(quarter, "hem").path.corners()
    assert corner == pytest.approx(200, abs=1e-6)
    look.conserved(quarter)


def test_darts_may_close_one_after_the_other_or_together(board, look):
    drawn = """
        repeat i from 1 to 2
          dart tuck[i] on waist at i/3 intake 2 cm length 12 cm
          line flare[i] = tuck[i].point down to hem
        """
    together = board.piece(drawn + "close tuck[1..2] into flare[1..2]")
    apart = board.piece(drawn + "close tuck[1] into flare[1]\n        close tuck[2] into flare[2]")
    for panel in (together, apart):
        look.conserved(panel)
        assert look.edge(panel, "waist").length == pytest.approx(360, abs=1e-6)
    assert together.area == pytest.approx(apart.area, rel=1e-12)
    for name in ("waist", "side", "hem", "centre"):
        assert look.edge(together, name).end == pytest.approx(look.edge(apart, name).end, abs=1e-8)


@pytest.mark.parametrize(
    ("treatment", "sewn"),
    [("", True), ("as flare", True), ("as dart", False), ("as pleat", False), ("as gather", False)],
)
def test_what_opens_is_sewn_only_as_a_flare(board, look, treatment, sewn):
    panel = board.piece(f"{DART}{FLARE}close tuck into flare {treatment}")
    hem = look.edge(panel, "hem")
    assert hem.length == pytest.approx(400 + panel.openings[0].intake, abs=1e-6)
    assert hem.sewn == pytest.approx(hem.length if sewn else 400, abs=1e-6)


def test_a_dart_moved_may_end_short_of_its_point(board):
    panel = board.piece(f"{DART}{FLARE}close tuck into flare as dart ending 5 cm short")
    (dart,) = panel.openings
    assert dart.kind == "dart"
    assert abs(dart.tip - dart.point) == pytest.approx(50)
    # The tip lies in the middle of the dart.
    assert abs(dart.tip - dart.first.point_at(50)) == pytest.approx(
        abs(dart.tip - dart.second.point_at(50)), abs=1e-9
    )


@settings(max_examples=25, deadline=None)
@given(
    at=st.floats(0.3, 0.7),
    intake=st.floats(0.5, 6),
    length=st.floats(8, 30),
    to=st.floats(0.1, 0.9),
    bow=st.floats(-3, 3),
    edge=st.sampled_from(["hem", "side", "centre"]),
)
def test_closed_and_opened_again_the_paper_is_as_it_was(
    board, look, at, intake, length, to, bow, edge
):
    """A dart moved to another place and back again."""
    side = "up" if bow > 0 else "down"
    if edge == "hem":
        side = "left" if bow > 0 else "right"
    drawn = (
        f"dart tuck on waist at {at:.4f} intake {intake:.4f} cm length {length:.4f} cm\n"
        f"curve there = tuck.point curve to on {edge} {0.4 + to / 2:.4f} from waist_end "
        f"bowed {side} {abs(bow):.4f} cm\n"
    ).replace("from waist_end", "" if edge == "hem" else "from waist")
    before = board.piece(drawn)
    mouth = before.openings[0].first.end
    moved = board.piece(f"{drawn}close tuck into there as dart")
    look.conserved(moved)
    back = board.piece(
        f"{drawn}place = on waist {mouth.real:.9f} mm\n"
        "close tuck into there as dart\nline again = there.point to place\n"
        "close there into again as dart"
    )
    look.conserved(back)
    assert back.area == pytest.approx(before.area, rel=1e-9)
    for name in ("waist", "side", "hem", "centre"):
        assert look.edge(back, name).sewn == pytest.approx(look.edge(before, name).sewn, abs=1e-6)
    assert opening(back, "again").intake == pytest.approx(before.openings[0].intake, abs=1e-5)


def test_what_lies_between_dart_and_line_turns_with_the_paper(board, look):
    panel = board.piece(
        f"""
        {DART}
        line flare = tuck.point down to hem
        pocket = on side 1/2 left 5 cm
        line across = on centre 1/2 to on side 1/2
        close tuck into flare
        """
    )
    turn = angle(panel.openings[0])
    point = panel.openings[0].point
    assert point == pytest.approx(200 - 120j, abs=1e-9)
    pocket = next(item.at for item in panel.points if item.label.name == "pocket")
    # The part with the outline's start (top_left) stays, the other turns clockwise.
    assert pocket == pytest.approx(point + (350 - 300j - point) * cmath.rect(1, turn), abs=1e-9)
    assert look.edge(panel, "across").length == pytest.approx(
        400 + 2 * 180 * math.sin(turn / 2), abs=1e-6
    )


def test_a_dart_that_touches_the_start_of_the_outline_closes(board, look):
    panel = board.piece(
        """
        dart tuck on waist at 15 mm from centre intake 3 cm length 12 cm
        line flare = tuck.point down to hem
        close tuck into flare
        """
    )
    assert look.edge(panel, "waist").length == pytest.approx(370, abs=1e-6)
    look.conserved(panel)


def test_a_trimmed_dart_closes_flat(board, look):
    panel = board.piece(
        f"{DART}fold-trim tuck toward centre\n{FLARE}close tuck into flare", board.panel
    )
    assert look.edge(panel, "waist").length == pytest.approx(370, abs=1e-6)
    look.conserved(panel)


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            "line flare = on waist 1/2 to on hem 1/2\n"
            "spread flare by 2 cm at hem hinged on waist\nclose flare",
            "`flare` is not a dart, so it cannot be closed",
            "flare",
        ),
        (
            "line middle = top_left right 20 cm down 20 cm to top_left right 20 cm down 40 cm\n"
            "dart eye along middle intake 2 cm at on middle 1/2\nclose eye",
            "`eye` is pointed at both ends, so it has no mouth at which it could close",
            "eye",
        ),
        (
            f"{DART}close tuck",
            "the point of `tuck` lies 12 cm inside the paper, so closing it must open a line",
            "tuck",
        ),
        (
            f"{DART}line flare = tuck.point down 2 cm to tuck.point down 40 cm\n"
            "close tuck into flare",
            "none of these lines starts at the point of `tuck`: the nearest is 2 cm away",
            "flare",
        ),
        (
            f"{DART}line flare = tuck.point to tuck.point down 40 cm\nclose tuck into flare",
            "`flare` ends 8 cm away from the edge of the paper",
            "flare",
        ),
        (
            f"{DART}line flare = tuck.point down to hem\n"
            "line stray = on waist 1/4 down to hem\nclose tuck into flare, stray",
            "`stray` starts at the point of none of these darts",
            "stray",
        ),
        (
            f"{DART}line up_again = tuck.point to top_left right 20 cm\nclose tuck into up_again",
            "`up_again` ends on paper that is folded away, in the mouth of `tuck`",
            "up_again",
        ),
        (
            f"{DART}line flare = tuck.point down to hem\nclose tuck into flare, flare",
            "`flare` is named twice here",
            "flare",
        ),
        (
            f"{DART}line flare = tuck.point down to hem\n"
            "close tuck into flare as dart ending 50 cm short",
            "`flare` is 48 cm long, so its sewing cannot end 50 cm short of its point",
            "as dart ending 50 cm short",
        ),
        (
            f"{DART}curve one = tuck.point curve to on hem 1/4 bowed left 8 cm\n"
            "curve two = tuck.point curve to on hem 3/4 bowed right 8 cm\n"
            "close tuck into one, two",
            "`one` and `two` meet again",
            "one",
        ),
    ],
)
def test_what_cannot_be_closed_is_said_where_it_stands(board, lines, message, place):
    wrong = board.mistake(lines)
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help


@pytest.mark.parametrize("share", ["0", "-1/2", "1.01"])
def test_more_than_there_is_or_nothing_cannot_be_closed(board, share):
    wrong = board.mistake(f"{DART}{FLARE}close tuck by part into flare", head=f"part = {share}")
    assert wrong.message == "the share that is closed lies between 0 and 1"
    assert wrong.span.text == "part"
