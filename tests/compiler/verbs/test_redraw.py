"""`redraw`: a new line between two places of the outline."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def test_straightened_between_its_corners(board, look):
    before = board.piece("", board.quarter)
    quarter = board.piece("redraw side = waist_side to foot_side", board.quarter)
    side = look.edge(quarter, "side")
    assert side.length == pytest.approx(abs(complex(40, 612)), abs=1e-9)
    assert side.path.corners() == ()
    step = quarter.steps[-1]
    assert step.area_cut_away > 0
    assert step.area_let_in == 0
    assert quarter.area == pytest.approx(before.area - step.area_cut_away, rel=1e-9)


def test_flared_beyond_its_end_the_hem_is_led_on(board, look):
    quarter = board.piece(
        "redraw side = waist_side curve to hip_side, to foot_side right 6 cm", board.quarter
    )
    hem = look.edge(quarter, "hem")
    assert hem.length == pytest.approx(310, abs=1e-9)
    assert hem.start == pytest.approx(310 - 600j)
    assert hem.path.corners() == ()
    assert quarter.steps[-1].area_let_in > 0
    look.conserved(quarter)


def test_both_ends_off_the_outline_extend_both_neighbours(board, look):
    panel = board.piece("redraw hem = foot_right down 5 cm right 4 cm to foot_left down 5 cm")
    assert look.edge(panel, "side").length == pytest.approx(600 + abs(40 - 50j), abs=1e-6)
    assert look.edge(panel, "centre").length == pytest.approx(650, abs=1e-9)
    assert look.edge(panel, "hem").length == pytest.approx(440, abs=1e-9)
    assert panel.area == pytest.approx(240_000 + 400 * 50 + 40 * 50 / 2)
    look.conserved(panel)


def test_reshaped_inside_the_rest_stays(board, look):
    panel = board.piece(
        """
        redraw side = on side 10 cm from waist curve to on side 30 cm from waist bowed left 2 cm
        """
    )
    side = look.edge(panel, "side")
    assert [run.length for run in side.runs][::2] == pytest.approx([100, 300], abs=1e-9)
    assert side.path.point_at(100) == pytest.approx(400 - 100j, abs=1e-9)
    assert panel.steps[-1].area_cut_away == pytest.approx(240_000 - panel.area, rel=1e-9)
    look.conserved(panel)


@pytest.mark.parametrize(
    "path",
    [
        "foot_right to foot_left down 5 cm",
        "foot_left down 5 cm to foot_right",
    ],
)
def test_drawn_from_either_end_it_is_the_same(board, look, path):
    panel = board.piece(f"redraw hem = {path}")
    hem = look.edge(panel, "hem")
    assert (hem.start, hem.end) == pytest.approx((400 - 600j, -650j), abs=1e-9)
    assert panel.area == pytest.approx(240_000 + 400 * 50 / 2)
    assert [str(edge.label) for edge in panel.edges] == ["waist", "side", "hem", "centre"]


@settings(max_examples=25, deadline=None)
@given(
    start=st.floats(0, 0.4),
    end=st.floats(0.6, 1),
    bow=st.floats(-5, 5),
    drop=st.floats(-3, 3),
)
def test_what_is_let_in_and_cut_away_is_the_difference(board, look, start, end, bow, drop):
    side = "up" if bow > 0 else "down"
    panel = board.piece(
        f"""
        redraw hem = on hem {start:.4f} from centre
          curve to on hem {end:.4f} from centre bowed {side} {abs(bow):.4f} cm
        redraw hem = foot_right curve to foot_left down {drop:.4f} cm leaving left
        """
    )
    look.conserved(panel)


def test_an_edge_of_two_halves_stays_two_halves(board, look):
    skirt = board.piece(
        "redraw hem = right.foot_side curve to left.foot_side bowed down 4 cm", board.skirt
    )
    right, left = look.edge(skirt, "right.hem"), look.edge(skirt, "left.hem")
    assert right.end == left.start == pytest.approx(-640j, abs=1e-6)
    assert right.length == pytest.approx(left.length, abs=1e-6)
    assert look.edge(skirt, "centre").length == pytest.approx(640, abs=1e-6)
    look.conserved(skirt)
    back = board.piece(
        "redraw hem = right.foot_side curve to left.foot_side bowed down 4 cm\n"
        "halve along centre keeping right",
        board.skirt,
    )
    assert look.edge(back, "hem").length == pytest.approx(right.length, abs=1e-6)
    assert [str(edge.label) for edge in back.edges] == ["waist", "side", "hem", "centre"]


def test_one_half_alone_may_be_redrawn(board, look):
    skirt = board.piece(
        "redraw right.side = right.waist_side curve to right.hip_side, "
        "to right.foot_side right 5 cm",
        board.skirt,
    )
    assert look.edge(skirt, "right.hem").length == pytest.approx(300, abs=1e-6)
    assert look.edge(skirt, "left.hem").length == pytest.approx(250, abs=1e-6)
    look.conserved(skirt)


def test_notches_and_lines_that_ended_on_the_edge_follow(board, look):
    panel = board.piece(
        """
        notch on hem at 1/2
        line flare = on waist 1/4 down to hem
        redraw hem = foot_right down 5 cm to foot_left down 5 cm
        """
    )
    (notch,) = panel.marks
    assert notch.at == pytest.approx(200 - 650j, abs=1e-9)
    assert notch.direction == pytest.approx(1j, abs=1e-9)
    assert look.edge(panel, "flare").end == pytest.approx(100 - 650j, abs=1e-9)
    shorter = board.piece(
        """
        line flare = on waist 1/4 down to hem
        redraw hem = on side 55 cm from waist to on centre 55 cm from waist
        """
    )
    assert look.edge(shorter, "flare").end == pytest.approx(100 - 550j, abs=1e-9)


def test_an_opened_flare_may_be_redrawn_over(board, look):
    panel = board.piece(
        """
        line flare = on waist 1/2 to on hem 1/2
        spread flare by 4 cm at hem hinged on waist
        redraw hem = on side 58 cm from waist curve to foot_left leaving left
        """
    )
    look.conserved(panel)


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            "dart tuck on waist at 1/2 intake 3 cm length 12 cm\n"
            "redraw waist = on waist 10 cm from centre to on waist 30 cm from centre",
            "the new line cuts into the mouth of `tuck`",
            "on waist 10 cm from centre to on waist 30 cm from centre",
        ),
        (
            "redraw hem = on hem 1/2 to on hem 1/2 from centre",
            "this leg begins and ends at the same point",
            "to on hem 1/2 from centre",
        ),
        (
            "redraw hem = foot_right up 10 cm left 5 cm to foot_left up 70 cm left 5 cm",
            "redrawn this way the outline does not work: its outline crosses itself",
            "redraw hem = foot_right up 10 cm left 5 cm to foot_left up 70 cm left 5 cm",
        ),
        (
            "fold on centre\nredraw hem = foot_right to foot_left down 5 cm left 5 cm",
            "`centre` is not straight, so it cannot lie on a fold: it bows by",
            "foot_right to foot_left down 5 cm left 5 cm",
        ),
        (
            "section part = hem from on hem 1/4 to on hem 3/4\n"
            "redraw part = foot_right to foot_left",
            "`part` is a part of an edge, and this is done to a whole edge",
            "part",
        ),
    ],
)
def test_what_cannot_be_redrawn_is_said_where_it_stands(board, lines, message, place):
    wrong = board.mistake(lines)
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help
