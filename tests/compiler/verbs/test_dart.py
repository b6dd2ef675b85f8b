"""`dart`: drawn on an edge or along a line; its legs are equal, and what is sewn is exact."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def legs(dart):
    return abs(dart.first.end - dart.point), abs(dart.second.end - dart.point)


def test_a_dart_square_to_a_straight_edge(board, look):
    panel = board.piece("dart tuck on waist at 15 cm from centre intake 3 cm length 12 cm")
    (dart,) = panel.openings
    assert dart.point == pytest.approx(150 - 120j, abs=1e-9)
    assert (dart.first.end, dart.second.end) == pytest.approx((135 + 0j, 165 + 0j), abs=1e-9)
    waist = look.edge(panel, "waist")
    assert (waist.length, waist.sewn) == pytest.approx((400, 370), abs=1e-9)
    assert [run.role for run in waist.runs] == ["seam", "intake", "seam"]
    assert panel.area == pytest.approx(240_000)


@settings(max_examples=40, deadline=None)
@given(
    at=st.floats(0.15, 0.85),
    intake=st.floats(0.5, 4),
    length=st.floats(5, 18),
    edge=st.sampled_from(["waist", "side"]),
)
def test_on_a_curved_edge_legs_are_equal_and_the_edge_stays(board, look, at, intake, length, edge):
    origin = "centre" if edge == "waist" else "waist"
    before = board.piece("", board.quarter)
    quarter = board.piece(
        f"dart tuck on {edge} at {at:.4f} from {origin} intake {intake:.4f} cm "
        f"length {length:.4f} cm",
        board.quarter,
    )
    (dart,) = quarter.openings
    assert legs(dart)[0] == pytest.approx(legs(dart)[1], abs=1e-9)
    drawn, sewn = look.edge(before, edge), look.edge(quarter, edge)
    assert sewn.length == pytest.approx(drawn.length, abs=1e-6)
    assert sewn.sewn == pytest.approx(drawn.length - 10 * round(intake, 4), abs=1e-6)
    assert quarter.area == pytest.approx(before.area, rel=1e-12)
    # `at` is the middle of the mouth, and the length is measured from there.
    middle = drawn.path.point_at(round(at, 4) * drawn.length)
    assert abs(dart.point - middle) == pytest.approx(10 * round(length, 4), abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(
    at=st.floats(0.3, 0.7),
    intake=st.floats(0.5, 4),
    length=st.floats(6, 15),
    aside=st.floats(-3, 3),
)
def test_to_a_point_aside_legs_are_made_equal_and_what_is_sewn_is_exact(
    board, look, at, intake, length, aside
):
    before = board.piece("", board.quarter)
    quarter = board.piece(
        f"""
        dart tuck on waist at {at:.4f} from centre intake {intake:.4f} cm
          to on waist {at:.4f} from centre down {length:.4f} cm right {aside:.4f} cm
        require tuck.intake = {intake:.4f} cm
        """,
        board.quarter,
    )
    (dart,) = quarter.openings
    assert legs(dart)[0] == pytest.approx(legs(dart)[1], abs=1e-9)
    waist = look.edge(quarter, "waist")
    assert waist.sewn == pytest.approx(
        look.edge(before, "waist").length - 10 * round(intake, 4), abs=1e-6
    )
    look.conserved(quarter)
    assert (waist.start, waist.end) == pytest.approx(
        (look.edge(before, "waist").start, look.edge(before, "waist").end), abs=1e-9
    )


def test_beside_a_corner_only_the_other_leg_moves(board, look):
    panel = board.piece(
        """
        dart tuck on waist at 1.5 cm from centre intake 3 cm
          to on waist 2.5 cm from centre down 12 cm
        """
    )
    (dart,) = panel.openings
    assert dart.first.end == pytest.approx(0j, abs=1e-9)
    assert legs(dart)[0] == pytest.approx(legs(dart)[1], abs=1e-9)
    assert look.edge(panel, "waist").sewn == pytest.approx(370, abs=1e-6)
    look.conserved(panel)


def test_the_mouth_is_measured_on_the_edge_as_drawn(board):
    """The second dart does not lose what the first takes in."""
    panel = board.piece(
        """
        dart one on waist at 1/3 from centre intake 3 cm length 12 cm
        dart two on waist at 2/3 from centre intake 3 cm length 12 cm
        """
    )
    one, two = (dart.point.real for dart in panel.openings)
    assert (one, two) == pytest.approx((400 / 3, 800 / 3), abs=1e-9)


def test_a_share_a_length_and_either_end_name_the_same_place(board):
    written = (
        "at 1/4 from centre",
        "at 10 cm from centre",
        "at 3/4 from side",
        "at 30 cm from side",
        "at 30 cm from top_right",
        "at 1/4",
    )
    for at in written:
        panel = board.piece(f"dart tuck on waist {at} intake 3 cm length 12 cm")
        assert panel.openings[0].point == pytest.approx(100 - 120j, abs=1e-9)


def test_what_a_dart_knows_of_itself(board):
    board.piece(
        """
        dart tuck on waist at 1/2 intake 3 cm length 12 cm ending 2 cm short
        require tuck.intake = 3 cm
        require length(tuck.mouth) = 3 cm
        require distance(tuck.point, tuck.tip) = 2 cm
        require length(tuck.legs[1]) = length(tuck.legs[2])
        require length(tuck.legs) = 2 * length(tuck.legs[1])
        require length(tuck.legs[1]) = sqrt(12 cm * 12 cm + 1.5 cm * 1.5 cm)
        line across = tuck.tip to tuck.point
        """
    )


def test_on_a_section_of_an_edge(board):
    panel = board.piece(
        """
        section right_part = waist from on waist 20 cm from centre to top_right
        dart tuck on right_part at 5 cm from top_right intake 2 cm length 10 cm
        """
    )
    assert panel.openings[0].point == pytest.approx(350 - 100j, abs=1e-9)


def test_a_fish_eye_dart_lies_about_its_line(board):
    panel = board.piece(
        """
        line middle = top_left right 15 cm down 10 cm to top_left right 15 cm down 40 cm
        dart eye along middle intake 2.5 cm at on middle 1/3
        require eye.intake = 2.5 cm
        """
    )
    (eye,) = panel.openings
    assert (eye.first.start, eye.first.end) == pytest.approx((150 - 100j, 150 - 400j))
    widest = [side.segments[0].end for side in (eye.first, eye.second)]
    assert sorted(at.real for at in widest) == pytest.approx([137.5, 162.5])
    assert {at.imag for at in widest} == {-200.0}
    assert eye.first.length == pytest.approx(eye.second.length)
    assert eye.area == pytest.approx(25 * 300 / 2)
    assert panel.area == pytest.approx(240_000)
    assert [run.role for edge in panel.edges for run in edge.runs] == ["seam"] * 4


class TestRedrawn:
    """`redraw DART to P` moves the point; the legs stay equal and what is sewn stays."""

    DART = "dart tuck on waist at 1/2 intake 3 cm length 12 cm\n"

    @pytest.mark.parametrize("to", ["right 2 cm", "left 4 cm", "down 5 cm", "up 6 cm right 1 cm"])
    def test_legs_are_equal_again(self, board, look, to):
        panel = board.piece(f"{self.DART}redraw tuck to on waist 1/2 down 12 cm {to}")
        (dart,) = panel.openings
        assert legs(dart)[0] == pytest.approx(legs(dart)[1], abs=1e-9)
        assert look.edge(panel, "waist").sewn == pytest.approx(370, abs=1e-6)
        look.conserved(panel)

    def test_straight_below_nothing_else_moves(self, board):
        panel = board.piece(f"{self.DART}redraw tuck to top_left right 20 cm down 20 cm")
        (dart,) = panel.openings
        assert (dart.first.end, dart.second.end) == pytest.approx((185 + 0j, 215 + 0j), abs=1e-9)

    def test_a_trimmed_dart_is_to_be_trimmed_anew(self, board, look):
        panel = board.piece(
            f"{self.DART}fold-trim tuck toward centre\nredraw tuck to origin right 21 cm down 9 cm"
        )
        assert not panel.openings[0].trimmed
        assert panel.openings[0].first.start == pytest.approx(210 - 90j)
        look.conserved(panel)


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            "dart tuck on waist at 1/2 intake 3 cm length 70 cm",
            "the point of `tuck` falls 10 cm outside the paper: it is 70 cm long",
            "70 cm",
        ),
        (
            "dart tuck on waist at 1/2 intake 3 cm to top_left up 2 cm right 20 cm",
            "the point of `tuck` falls 2 cm outside the paper",
            "top_left up 2 cm right 20 cm",
        ),
        (
            "dart tuck on waist at 1 cm from centre intake 3 cm length 12 cm",
            "the mouth of `tuck`, 3 cm wide, does not fit there",
            "1 cm",
        ),
        (
            "dart one on waist at 1/2 intake 3 cm length 12 cm\n"
            "dart two on waist at 22 cm from centre intake 3 cm length 12 cm",
            "the mouth of `two`, 3 cm wide, does not fit there",
            "22 cm",
        ),
        (
            "dart tuck on waist at 45 cm from centre intake 3 cm length 12 cm",
            "`waist` is 40 cm long, so there is no place on it at 45 cm",
            "45 cm",
        ),
        (
            "dart tuck on waist at 1/2 from hem intake 3 cm length 12 cm",
            "neither end of `waist` lies on `hem`",
            "hem",
        ),
        (
            "dart tuck on waist at 1/2 intake 3 cm length 12 cm ending 12 cm short\n"
            "dart other on waist at 1/4 intake 3 cm length 12 cm ending 13 cm short",
            "`other` is 12.09 cm long, so its sewing cannot end 13 cm short of its point",
            "ending 13 cm short",
        ),
        (
            "dart tuck on waist at 1/2 intake 3 cm to on centre 2 cm from waist",
            "`tuck` runs so slantwise that equal legs would move an end of its mouth by",
            "dart tuck on waist at 1/2 intake 3 cm to on centre 2 cm from waist",
        ),
        (
            "line middle = top_left right 15 cm down 10 cm to top_left right 15 cm down 40 cm\n"
            "dart eye along middle intake 2 cm at top_left",
            "the widest place of `eye` lies 18.03 cm away from `middle`",
            "top_left",
        ),
        (
            "line middle = top_left right 15 cm down 10 cm to top_left right 15 cm down 40 cm\n"
            "dart eye along middle intake 2 cm at on middle 0",
            "the widest place of `eye` is an end of `middle`",
            "on middle 0",
        ),
        (
            "line middle = on centre 10 cm from waist to on centre 40 cm from waist\n"
            "dart eye along middle intake 2 cm at on middle 1/2",
            "`eye` runs 1 cm outside the paper",
            "middle",
        ),
    ],
)
def test_what_cannot_be_a_dart_is_said_where_it_stands(board, lines, message, place):
    wrong = board.mistake(lines)
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help


@pytest.mark.parametrize(
    ("part", "value"),
    [("intake", "0 cm"), ("intake", "-1 cm"), ("length", "0 cm"), ("length", "-1 cm")],
)
def test_a_dart_of_nothing_is_refused(board, part, value):
    amounts = {"intake": "3 cm", "length": "12 cm"} | {part: "much"}
    wrong = board.mistake(
        f"dart tuck on waist at 1/2 intake {amounts['intake']} length {amounts['length']}",
        head=f"much = {value}",
    )
    assert value in wrong.message
    assert "more than nothing" in wrong.message or "longer than nothing" in wrong.message
    assert wrong.span.text == "much"


def test_the_bust_dart_of_a_bodice_points_where_it_is_told(board):
    """A dart 7 cm wide and 25 cm long takes 16.1 degrees, worked by hand."""
    panel = board.piece("dart bust on side at 1/2 intake 7 cm length 24.754 cm")
    (dart,) = panel.openings
    angle = 2 * math.asin(dart.intake / 2 / dart.first.length)
    assert math.degrees(angle) == pytest.approx(16.1, abs=0.05)
