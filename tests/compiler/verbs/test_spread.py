"""`spread`: lines open by what was asked, and the paper beside them is as it was."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.compiler.geometry import ring_area

CUT = "line cut = on waist 1/2 to on hem 1/2"


def across(opening, at="end"):
    """Straight across an opening, at its mouth or at its inner end."""
    return abs(getattr(opening.first, at) - getattr(opening.second, at))


def test_hinged_it_opens_by_the_chord_asked_and_stays_joined_at_the_hinge(board, look):
    panel = board.piece(f"{CUT}\nspread cut by 4 cm at hem hinged on waist")
    (cut,) = panel.openings
    assert across(cut) == pytest.approx(40, abs=1e-9)
    assert across(cut, "start") < 1e-9
    hem, waist = look.edge(panel, "hem"), look.edge(panel, "waist")
    # Conover, "Skirts" (1922), p. 17: one edge keeps its length, the other gains the opening.
    assert (waist.length, hem.length, hem.sewn) == pytest.approx((400, 440, 440), abs=1e-6)
    look.conserved(panel)


def test_without_hinge_both_ends_open_by_the_same(board, look):
    panel = board.piece(f"{CUT}\nspread cut by 4 cm")
    (cut,) = panel.openings
    assert across(cut) == pytest.approx(40, abs=1e-9)
    assert across(cut, "start") == pytest.approx(40, abs=1e-9)
    # Worked by hand: spread parallel, both edges gain the same.
    assert look.edge(panel, "hem").length == pytest.approx(440, abs=1e-6)
    assert look.edge(panel, "waist").length == pytest.approx(440, abs=1e-6)
    assert panel.area == pytest.approx(440 * 600)


def test_two_amounts_are_met_at_both_ends(board, look):
    panel = board.piece(f"{CUT}\nspread cut by 4 cm at hem and 1 cm at waist")
    (cut,) = panel.openings
    assert across(cut) == pytest.approx(40, abs=1e-9)
    assert across(cut, "start") == pytest.approx(10, abs=1e-9)
    look.conserved(panel)
    turned = board.piece(f"{CUT}\nspread cut by 1 cm at waist and 4 cm at hem")
    assert turned.area == pytest.approx(panel.area, rel=1e-12)
    assert look.edge(turned, "hem").length == pytest.approx(look.edge(panel, "hem").length)


@pytest.mark.parametrize(
    ("treatment", "sewn", "role"),
    [
        ("", 440, "seam"),
        ("as flare", 440, "seam"),
        ("as pleat", 400, "intake"),
        ("as box pleat", 400, "intake"),
        ("as inverted pleat", 400, "intake"),
        ("as dart", 400, "intake"),
        ("as gather", 400, "intake"),
    ],
)
def test_only_a_flare_lengthens_what_is_sewn(board, look, treatment, sewn, role):
    panel = board.piece(f"{CUT}\nspread cut by 4 cm at hem hinged on waist {treatment}")
    hem = look.edge(panel, "hem")
    assert hem.length == pytest.approx(440, abs=1e-6)
    assert hem.sewn == pytest.approx(sewn, abs=1e-6)
    assert [run.role for run in hem.runs] == ["seam", role, "seam"]
    assert look.edge(panel, "waist").sewn == pytest.approx(400, abs=1e-6)


def test_an_opening_keeps_the_name_of_its_line(board):
    panel = board.piece(
        f"{CUT}\nspread cut by 4 cm at hem hinged on waist as dart ending 3 cm short"
    )
    assert [str(item.label) for item in panel.openings] == ["cut"]
    assert not panel.lines
    (cut,) = panel.openings
    assert cut.kind == "dart"
    assert cut.ending == pytest.approx(30)
    assert abs(cut.tip - cut.point) == pytest.approx(30)


@settings(max_examples=40, deadline=None)
@given(
    waist=st.floats(0.25, 0.75),
    hem=st.floats(0.25, 0.75),
    bow=st.floats(-8, 8),
    outer=st.floats(0, 12),
    inner=st.floats(0, 12),
    whole=st.sampled_from(["hinged on waist", "and {inner} cm at waist", ""]),
)
def test_any_line_opens_as_asked_and_no_paper_is_lost(
    board, look, waist, hem, bow, outer, inner, whole
):
    side = "right" if bow > 0 else "left"
    panel = board.piece(
        f"""
        curve cut = on waist {waist:.4f} from centre curve to on hem {hem:.4f} from centre
          bowed {side} {abs(bow):.4f} cm
        line across = on centre 1/3 to on side 1/2
        spread cut by {outer:.4f} cm at hem {whole.format(inner=f"{inner:.4f}")}
        """
    )
    (cut,) = panel.openings
    assert across(cut) == pytest.approx(10 * round(outer, 4), abs=1e-8)
    expected = {"hinged on waist": 0.0, "": 10 * round(outer, 4)}.get(whole, 10 * round(inner, 4))
    assert across(cut, "start") == pytest.approx(expected, abs=1e-8)
    assert cut.first.length == pytest.approx(cut.second.length, abs=1e-6)
    look.conserved(panel)
    # The rigid parts: what is on each side of the opening.
    beside = [run for name in ("waist", "hem") for run in look.edge(panel, name).runs]
    kept = sum(run.length for run in beside if run.opening is None)
    assert kept == pytest.approx(800, abs=1e-6)
    drawn = look.edge(panel, "across")
    assert sum(run.length for run in drawn.runs if run.opening is None) == pytest.approx(
        abs(complex(400, 200 - 300)), abs=1e-6
    )


def test_several_lines_open_together_each_by_the_amount(board, look):
    panel = board.piece(
        """
        repeat i from 1 to 4
          line cut[i] = on waist i/5 from centre to on hem i/5 from centre
        spread cut[1..4] by 3 cm at hem hinged on waist
        """
    )
    assert [across(cut) for cut in panel.openings] == pytest.approx([30] * 4, abs=1e-8)
    # Conover, "Skirts" (1922), p. 17: the edge gains the sum of the openings.
    assert look.edge(panel, "hem").length == pytest.approx(400 + 4 * 30, abs=1e-6)
    assert look.edge(panel, "waist").length == pytest.approx(400, abs=1e-6)
    look.conserved(panel)


def test_lines_of_a_row_may_hinge_at_one_place(board, look):
    panel = board.piece(
        """
        line left_cut = top_right down 30 cm to on hem 1/2 from side
        line right_cut = top_right down 30 cm to on hem 1/4 from side
        spread left_cut, right_cut by 2 cm at hem hinged on side
        """
    )
    assert [across(cut) for cut in panel.openings] == pytest.approx([20, 20], abs=1e-8)
    assert look.edge(panel, "side").length == pytest.approx(600, abs=1e-6)
    assert look.edge(panel, "hem").length == pytest.approx(440, abs=1e-6)
    look.conserved(panel)


def test_lines_that_open_at_one_place_leave_a_pointed_part_between_them(board, look):
    panel = board.piece(
        """
        line left_cut = on waist 1/4 to on hem 1/2
        line right_cut = on waist 3/4 to on hem 1/2
        spread left_cut, right_cut by 2 cm at hem hinged on waist as pleat
        """
    )
    hem = look.edge(panel, "hem")
    assert [run.role for run in hem.runs] == ["seam", "intake", "intake", "seam"]
    assert [run.length for run in hem.runs] == pytest.approx([200, 20, 20, 200], abs=1e-6)
    look.conserved(panel)


@pytest.mark.parametrize("order", [("left_cut", "right_cut"), ("right_cut", "left_cut")])
def test_spreads_that_do_not_touch_may_come_in_either_order(board, look, order):
    panel = board.piece(
        f"""
        line left_cut = on waist 1/4 from centre to on hem 1/3 from centre
        line right_cut = on waist 3/4 from centre to on hem 2/3 from centre
        spread {order[0]} by 2 cm at hem hinged on waist
        spread {order[1]} by 2 cm at hem hinged on waist
        """
    )
    together = board.piece(
        """
        line left_cut = on waist 1/4 from centre to on hem 1/3 from centre
        line right_cut = on waist 3/4 from centre to on hem 2/3 from centre
        spread left_cut, right_cut by 2 cm at hem hinged on waist
        """
    )
    assert panel.area == pytest.approx(together.area, rel=1e-12)
    for name in ("waist", "side", "hem", "centre"):
        ends = look.edge(panel, name), look.edge(together, name)
        assert ends[0].start == pytest.approx(ends[1].start, abs=1e-8)
        assert ends[0].end == pytest.approx(ends[1].end, abs=1e-8)
        assert ends[0].length == pytest.approx(ends[1].length, abs=1e-8)


class TestWhatStays:
    """The part that carries the upper end of the grain, the outline's start, or what is held."""

    def moved(self, board, lines, tail="", on=None):
        panel = board.piece(f"{lines}\nspread cut by 4 cm {tail}", on or board.panel)
        corners = {name: look_up(panel, name) for name in ("top_left", "top_right")}
        return {name for name, at in corners.items() if abs(at - CORNERS[name]) > 1e-9}

    def test_the_part_with_the_start_of_the_outline(self, board):
        assert self.moved(board, CUT) == {"top_right"}

    def test_the_part_with_the_upper_end_of_the_grain(self, board):
        grain = "grain from top_right down 50 cm left 5 cm to top_right down 2 cm left 5 cm"
        assert self.moved(board, f"{grain}\n{CUT}") == {"top_left"}

    def test_a_slash_along_the_grain_leaves_the_start_of_the_outline(self, board):
        grain = "grain from on waist 1/2 to on hem 1/2"
        assert self.moved(board, f"{grain}\n{CUT}") == {"top_right"}

    @pytest.mark.parametrize("held", ["side", "top_right", "edge_line"])
    def test_what_is_held(self, board, held):
        line = "line edge_line = on side 1/3 left 10 cm to on side 1/3"
        assert self.moved(board, f"{line}\n{CUT}", f"holding {held}") == {"top_left"}

    def test_after_unfold_the_first_half(self, board, look):
        panel = board.piece(
            """
            unfold along centre into right and left
            spread centre by 4 cm as inverted pleat
            """
        )
        assert look.edge(panel, "right.side").start == pytest.approx(400 + 0j, abs=1e-9)
        assert look.edge(panel, "left.side").end == pytest.approx(-440 + 0j, abs=1e-9)

    def test_the_other_half_if_that_is_held(self, board, look):
        panel = board.piece(
            """
            unfold along centre into right and left
            spread centre by 4 cm as inverted pleat holding left
            """
        )
        assert look.edge(panel, "right.side").start == pytest.approx(440 + 0j, abs=1e-9)
        assert look.edge(panel, "left.side").end == pytest.approx(-400 + 0j, abs=1e-9)


CORNERS = {"top_left": 0j, "top_right": 400 + 0j}


def look_up(piece, name):
    return next(point.at for point in piece.points if point.label.name == name)


def test_paper_let_in_at_a_corner_belongs_to_the_edge_that_was_named(board, look):
    line = "line cut = top_left to foot_right"
    at_hem = board.piece(f"{line}\nspread cut by 4 cm at hem hinged on centre")
    assert look.edge(at_hem, "hem").length == pytest.approx(440, abs=1e-6)
    assert look.edge(at_hem, "side").length == pytest.approx(600, abs=1e-6)
    at_side = board.piece(f"{line}\nspread cut by 4 cm at side hinged on centre")
    assert look.edge(at_side, "hem").length == pytest.approx(400, abs=1e-6)
    assert look.edge(at_side, "side").length == pytest.approx(640, abs=1e-6)


def test_drawn_lines_points_and_marks_travel_with_their_part(board, look):
    panel = board.piece(
        """
        line mark_line = on side 10 cm from waist to on side 10 cm from waist left 5 cm
        pocket = on side 20 cm from waist left 5 cm
        drill at pocket
        notch on side at 30 cm from waist
        spread cut by 4 cm at hem hinged on waist
        """,
        f"{board.panel}  {CUT}\n",
    )
    angle = 2 * math.asin(20 / 600)
    hinge = 200 + 0j

    def turned(place):
        return hinge + (place - hinge) * complex(math.cos(angle), math.sin(angle))

    assert look_up(panel, "pocket") == pytest.approx(turned(350 - 200j), abs=1e-9)
    drill, notch = panel.marks
    assert drill.at == pytest.approx(turned(350 - 200j), abs=1e-9)
    assert notch.at == pytest.approx(turned(400 - 300j), abs=1e-9)
    assert panel.outline.nearest(notch.at)[1] < 1e-9
    assert look.edge(panel, "mark_line").length == pytest.approx(50, abs=1e-9)


def test_a_drawn_line_that_was_cut_has_a_run_across_the_opening(board, look):
    panel = board.piece(
        """
        line cut = on waist 1/2 to on hem 1/2
        line across = on centre 1/2 to on side 1/2
        spread cut by 4 cm as pleat
        """
    )
    across_line = look.edge(panel, "across")
    assert [run.role for run in across_line.runs] == ["seam", "intake", "seam"]
    assert across_line.length == pytest.approx(440, abs=1e-6)
    assert across_line.sewn == pytest.approx(400, abs=1e-6)


def test_a_line_that_ends_a_hair_beside_the_edge_still_cuts_through(board, look):
    for off in (0.04, -0.04, 0.004, -0.004):
        panel = board.piece(
            f"""
            line cut = on waist 1/2 to foot_right left 20 cm down {off} mm
            spread cut by 4 cm at hem hinged on waist
            """
        )
        assert look.edge(panel, "hem").length == pytest.approx(440, abs=1e-6)
        look.conserved(panel)


def test_opened_by_nothing_it_stays_as_it_was(board, look):
    panel = board.piece(f"{CUT}\nspread cut by 0 cm at hem hinged on waist as pleat")
    assert panel.area == pytest.approx(240_000, rel=1e-12)
    assert [str(item.label) for item in panel.openings] == ["cut"]
    trimmed = board.piece(
        f"{CUT}\nspread cut by 0 cm at hem hinged on waist as pleat\nfold-trim cut toward centre"
    )
    assert trimmed.area == panel.area


def test_the_step_holds_the_paper_let_in(board):
    panel = board.piece(f"{CUT}\nspread cut by 4 cm at hem hinged on waist")
    step = panel.steps[-1]
    assert step.span.text == "spread cut by 4 cm at hem hinged on waist"
    (ring,) = step.let_in
    assert abs(ring_area(ring)) == pytest.approx(20 * math.sqrt(600**2 - 20**2), rel=1e-9)
    assert step.cut_away == ()


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            """
            line cut = on waist 1/2 to on hem 1/2
            line other = on centre 1/2 to on side 1/2
            spread cut, other by 2 cm
            """,
            "`cut` and `other` cross, 30 cm along `cut`",
            "cut",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nline short = on waist 1/4 to origin down 9 cm "
            "right 9 cm\nspread cut, short by 2 cm",
            "`short` ends 9 cm away from the edge of the paper",
            "short",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nspread cut by 2 cm at hem hinged on side",
            "`cut` does not end on `side`, so it cannot be hinged there: it ends 20 cm away",
            "side",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nspread cut by 2 cm at side hinged on waist",
            "`cut` does not open at `side`: its end is 20 cm away",
            "2 cm at side",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nspread cut by 2 cm at hem hinged on hem",
            "`cut` would have to stay joined at `hem` and open at `hem`, but only one of its ends "
            "lies there",
            "hem",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\n"
            "spread cut by 2 cm at hem and 1 cm at waist hinged on waist",
            "opened by two amounts, a line is hinged at neither end",
            "waist",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2 up 5 cm\nspread cut by 2 cm",
            "`cut` ends 5 cm away from the edge of the paper",
            "cut",
        ),
        (
            "curve cut = on waist 1/2 curve to on hem 1/2 bowed right 25 cm\n"
            "spread cut by 2 cm at hem hinged on waist",
            "`cut` leaves the paper 24.67 cm from its start",
            "cut",
        ),
        (
            "line cut = on waist 0 to on waist 1\nspread cut by 2 cm",
            "`cut` runs along the edge of the paper",
            "cut",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nspread cut by 2 cm\nspread cut by 2 cm",
            "`cut` is open already",
            "cut",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nspread cut, cut by 2 cm",
            "`cut` is named twice here",
            "cut",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nspread cut by 1.3 m at hem hinged on waist",
            "an opening of 1.3 m is wider than a line 0.6 m long can open",
            "1.3 m at hem",
        ),
        (
            "dart tuck on waist at 1/2 intake 3 cm length 12 cm\n"
            "line cut = on centre 5 cm from waist to on side 5 cm from waist\nspread cut by 2 cm",
            "`cut` runs through `tuck`",
            "cut",
        ),
        (
            "dart tuck on waist at 1/2 intake 3 cm length 12 cm\n"
            "line cut = on hem 1/2 to top_left right 20 cm\nspread cut by 2 cm",
            "`cut` ends on paper that is folded away, in the mouth of `tuck`",
            "cut",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\nspread cut by 2 cm as dart",
            "`cut` opens at both ends, so it has no point as a dart has",
            "as dart",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\n"
            "spread cut by 2 cm at hem hinged on waist as dart ending 60 cm short",
            "`cut` is 60 cm long, so its sewing cannot end 60 cm short of its point",
            "as dart ending 60 cm short",
        ),
    ],
)
def test_what_cannot_be_opened_is_said_where_it_stands(board, lines, message, place):
    wrong = board.mistake(lines)
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help


def test_an_opening_that_would_lay_the_paper_on_itself_is_refused(board):
    wrong = board.mistake(
        """
        repeat i from 1 to 8
          line cut[i] = on waist i/9 from centre to on hem i/9 from centre
        spread cut[1..8] by 55 cm at hem hinged on waist
        """
    )
    assert wrong.message.startswith("opened this far, the paper would lie on itself")
    assert wrong.code == "crosses-itself"
