"""`overlap`: paper is taken out as `spread` would let it in."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.compiler.geometry import ring_area

CUT = "line cut = on waist 1/2 to on hem 1/2"


def test_a_parallel_overlap_takes_out_a_strip(board, look):
    panel = board.piece(f"{CUT}\noverlap cut by 4 cm")
    assert panel.area == pytest.approx(360 * 600, rel=1e-9)
    assert look.edge(panel, "waist").length == pytest.approx(360, abs=1e-6)
    assert look.edge(panel, "hem").length == pytest.approx(360, abs=1e-6)
    look.conserved(panel)


def test_hinged_it_takes_out_a_wedge(board, look):
    panel = board.piece(f"{CUT}\noverlap cut by 4 cm at hem hinged on waist")
    # The moving part turns about the hinge by the angle whose chord at the hem is 4 cm; the wedge
    # is as long as the paper there.
    angle = 2 * math.asin(20 / 600)
    assert panel.area == pytest.approx(240_000 - 600 * 600 * math.tan(angle) / 2, rel=1e-9)
    assert look.edge(panel, "waist").length == pytest.approx(400, abs=1e-6)
    side = look.edge(panel, "side")
    assert side.length == pytest.approx(600, abs=1e-6)
    # The side has turned by that angle toward the middle.
    way = (side.end - side.start) / 600
    assert math.atan2(way.imag, way.real) == pytest.approx(-math.pi / 2 - angle, abs=1e-9)
    look.conserved(panel)


def test_the_line_stays_drawn_and_nothing_is_open(board, look):
    panel = board.piece(f"{CUT}\noverlap cut by 4 cm at hem hinged on waist")
    assert not panel.openings
    cut = look.edge(panel, "cut")
    assert (cut.start, cut.end) == pytest.approx((200 + 0j, 200 - 600j), abs=1e-9)
    assert all(run.opening is None for edge in panel.edges for run in edge.runs)


@settings(max_examples=25, deadline=None)
@given(
    waist=st.floats(0.3, 0.7),
    hem=st.floats(0.3, 0.7),
    bow=st.floats(-4, 4),
    amount=st.floats(0.1, 4),
    hinge=st.sampled_from(["", "at hem hinged on waist", "at waist hinged on hem"]),
)
def test_what_a_spread_let_in_an_overlap_takes_out(board, look, waist, hem, bow, amount, hinge):
    side = "right" if bow > 0 else "left"
    line = (
        f"curve cut = on waist {waist:.4f} from centre curve to on hem {hem:.4f} from centre "
        f"bowed {side} {abs(bow):.4f} cm"
    )
    opened = board.piece(f"{line}\nspread cut by {amount:.4f} cm {hinge}")
    # The first side of the opening, drawn again, is where the paper that was let in begins.
    back = board.piece(
        f"""
        {line}
        {line.replace("cut", "again")}
        spread cut by {amount:.4f} cm {hinge}
        overlap again by {amount:.4f} cm {hinge}
        """
    )
    assert opened.area > 240_000
    assert back.area == pytest.approx(240_000, rel=1e-6)
    for name in ("waist", "side", "hem", "centre"):
        assert look.edge(back, name).length == pytest.approx(
            look.edge(board.piece(""), name).length, rel=1e-6
        )
    look.conserved(back)


def test_curved_lines_taken_out_beside_slanted_edges_lose_no_paper(board, look):
    quarter = board.piece(
        """
        curve high = on centre 1/2 curve to on side 1/3 bowed up 3 cm
        overlap high by 4 cm
        """,
        board.quarter.replace("  fold on centre\n", ""),  # it bends the centre
    )
    look.conserved(quarter)
    assert look.edge(quarter, "hem").length == pytest.approx(250, abs=1e-6)


def test_several_lines_are_taken_out_together(board, look):
    panel = board.piece(
        """
        repeat i from 1 to 3
          line cut[i] = on waist i/4 from centre to on hem i/4 from centre
        overlap cut[1..3] by 2 cm at hem hinged on waist
        """
    )
    assert look.edge(panel, "waist").length == pytest.approx(400, abs=1e-6)
    look.conserved(panel)
    parallel = board.piece(
        """
        repeat i from 1 to 3
          line cut[i] = on waist i/4 from centre to on hem i/4 from centre
        overlap cut[1..3] by 2 cm
        """
    )
    assert parallel.area == pytest.approx(340 * 600, rel=1e-9)
    assert [str(line.label) for line in parallel.lines] == ["cut[1]", "cut[2]", "cut[3]"]
    assert [line.start.real for line in parallel.lines] == pytest.approx([100, 180, 260])


def test_what_lies_on_the_strip_goes_with_it(board):
    panel = board.piece(
        f"""
        {CUT}
        drill at on waist 21 cm from centre down 10 cm
        drill at on waist 30 cm from centre down 10 cm
        overlap cut by 4 cm
        """
    )
    (kept,) = panel.marks
    assert kept.at == pytest.approx(260 - 100j, abs=1e-9)


@pytest.mark.parametrize("amount", ["0 cm", "0.0001 mm", "0.01 mm"])
@pytest.mark.parametrize("hinge", ["", "at hem hinged on waist"])
def test_by_next_to_nothing_it_stays_next_to_what_it_was(board, look, amount, hinge):
    panel = board.piece(f"{CUT}\noverlap cut by {amount} {hinge}")
    assert panel.area == pytest.approx(240_000, rel=1e-4)
    assert look.edge(panel, "cut").length == pytest.approx(600)
    look.conserved(panel)


def test_the_step_holds_the_paper_taken_out(board):
    panel = board.piece(f"{CUT}\noverlap cut by 4 cm")
    (strip,) = panel.steps[-1].cut_away
    assert abs(ring_area(strip)) == pytest.approx(40 * 600, rel=1e-9)
    assert panel.steps[-1].let_in == ()


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (f"{CUT}\noverlap cut by 25 cm", "`cut` has less paper beside it than is to be taken out"),
        (
            "line one = on waist 1/2 from centre to on hem 1/2 from centre\n"
            "line two = on waist 3/5 from centre to on hem 3/5 from centre\n"
            "overlap one, two by 5 cm",
            "`one` has less paper beside it than is to be taken out",
        ),
        (
            f"{CUT}\noverlap cut by 25 cm at hem hinged on waist",
            "`cut` has less paper beside it than is to be taken out",
        ),
    ],
)
def test_more_than_there_is_cannot_be_taken_out(board, lines, message):
    wrong = board.mistake(lines)
    assert wrong.message == message
    assert wrong.help == "take out less"
