"""`unfold` and `halve`: the half becomes whole, and back; everything keeps its names."""

from __future__ import annotations

import pytest

DRESSED = """
dart waist_dart on waist at 1/2 from centre intake 3 cm length 12 cm
pocket = hip_side left 5 cm
drill at pocket
notch on side at 20 cm from waist double
notch on hem at 1/2
section opening = side from on side 2 cm from waist to on side 20 cm from waist
"""
UNFOLD = "unfold along centre into right and left\n"


def names(things):
    return [str(thing.label) for thing in things]


def test_the_whole_has_every_edge_once_and_the_fold_as_a_line(board, look):
    skirt = board.piece(UNFOLD, board.quarter)
    assert names(skirt.edges) == [
        "right.waist",
        "right.side",
        "right.hem",
        "left.hem",
        "left.side",
        "left.waist",
    ]
    assert names(skirt.lines) == ["right.hip_line", "left.hip_line", "centre"]
    half = board.piece("", board.quarter)
    assert skirt.area == pytest.approx(2 * half.area, rel=1e-12)
    (ring,) = skirt.steps[-1].let_in
    assert abs(ring.area()) == pytest.approx(half.area, rel=1e-12)
    look.conserved(skirt)


def test_edges_that_touched_the_fold_are_whole(board, look):
    skirt = board.piece(UNFOLD, board.quarter)
    half = board.piece("", board.quarter)
    for name in ("waist", "hem"):
        assert look.edge(skirt, name).length == pytest.approx(
            2 * look.edge(half, name).length, rel=1e-12
        )
        assert look.edge(skirt, f"right.{name}").length == look.edge(half, name).length
    assert look.edge(skirt, "hip_line").length == pytest.approx(500)


def test_the_image_is_the_mirror_image(board, look):
    skirt = board.piece(DRESSED + UNFOLD, board.quarter)
    for name in ("waist", "side", "hem"):
        right, left = look.edge(skirt, f"right.{name}"), look.edge(skirt, f"left.{name}")
        for share in (0, 0.2, 0.5, 0.9, 1):
            at = right.path.point_at(right.length * share)
            there = left.path.point_at(left.length * (1 - share))
            assert there == pytest.approx(-at.conjugate(), abs=1e-9)
    right_dart, left_dart = skirt.openings
    assert left_dart.point == pytest.approx(-right_dart.point.conjugate(), abs=1e-9)
    assert left_dart.first.end == pytest.approx(-right_dart.second.end.conjugate(), abs=1e-9)
    drills = [mark.at for mark in skirt.marks if mark.kind == "drill"]
    assert drills[1] == pytest.approx(-drills[0].conjugate(), abs=1e-9)


def test_what_was_drawn_is_reached_under_both_names(board):
    skirt = board.piece(
        DRESSED
        + UNFOLD
        + """
require distance(right.pocket, left.pocket) = 40 cm
require length(right.opening) = 18 cm and length(left.opening) = 18 cm
require right.waist_dart.intake = 3 cm and left.waist_dart.intake = 3 cm
require sewn(waist) = sewn(right.waist) + sewn(left.waist)
require length(waist) = sewn(waist) + 6 cm
require length(centre) = 60 cm
""",
        board.quarter,
    )
    assert skirt.halves == ("right", "left")


@pytest.mark.parametrize("name", ["side", "waist_dart", "pocket", "opening"])
def test_a_plain_name_that_is_there_twice_is_a_mistake(board, name):
    use = {
        "side": "true side",
        "waist_dart": "fold-trim waist_dart toward centre",
        "pocket": "drill at pocket",
        "opening": "x = length(opening)",
    }[name]
    wrong = board.mistake(DRESSED + UNFOLD + use, board.quarter)
    assert "twice" in wrong.message
    assert f"`right.{name}`" in wrong.help
    assert f"`left.{name}`" in wrong.help
    assert wrong.span.text == name


def test_a_mark_on_the_fold_stays_one_and_points_along_it(board):
    skirt = board.piece(
        "notch at on waist 0 from centre\ndrill at on centre 1/2\n" + UNFOLD, board.quarter
    )
    notch, drill = skirt.marks
    assert notch.direction == pytest.approx(-1j, abs=1e-9)
    assert drill.at == pytest.approx(-300j)


def test_text_is_not_mirrored(board):
    skirt = board.piece('text "front" at hip_side left 10 cm\n' + UNFOLD, board.quarter)
    assert [mark.text for mark in skirt.marks] == ["front"]


def test_the_outline_still_begins_where_it_began(board):
    for edge, first in (("centre", "right.waist"), ("side", "right.waist"), ("hem", "right.waist")):
        panel = board.piece(f"unfold along {edge} into right and left", board.panel)
        assert str(panel.edges[0].label) == first
        assert panel.edges[0].start == 0j


def test_unfolded_along_its_first_edge(board, look):
    panel = board.piece("unfold along waist into front and back", board.panel)
    assert panel.area == pytest.approx(2 * 240_000)
    assert look.edge(panel, "side").length == pytest.approx(1200)
    look.conserved(panel)


def test_unfolded_twice_it_is_four_times_as_much(board, look):
    panel = board.piece(
        """
        unfold along centre into right and left
        unfold along hem into upper and lower
        require length(upper.waist) = 80 cm
        require length(lower.right.side) = 60 cm
        require length(right.side) = 120 cm
        require length(upper.centre) = 60 cm
        """
    )
    assert panel.area == pytest.approx(4 * 240_000)
    assert panel.halves == ("upper", "lower", "right", "left")
    look.conserved(panel)


def test_a_yoke_unfolded_along_its_upper_edge(board, look):
    """As a waistband is: the fold is long, the halves are its sides."""
    band = board.piece(
        "unfold along top into outer and facing", "piece band\n  strip 70 cm by 4 cm\n"
    )
    assert names(band.edges) == [
        "outer.base",
        "outer.end",
        "facing.end",
        "facing.base",
        "facing.start",
        "outer.start",
    ]
    assert look.edge(band, "end").length == pytest.approx(80)
    assert look.edge(band, "facing.base").length == pytest.approx(700)


# ---------------------------------------------------------------- and back


@pytest.mark.parametrize("kept", ["right", "left"])
def test_halved_again_it_is_the_half(board, look, kept):
    half = board.piece(DRESSED, board.quarter)
    back = board.piece(f"{DRESSED}{UNFOLD}halve along centre keeping {kept}", board.quarter)
    assert sorted(names(back.edges)) == sorted(names(half.edges))
    assert names(back.lines) == names(half.lines)
    assert names(back.openings) == names(half.openings)
    assert names(back.sections) == names(half.sections)
    assert names(back.points) == names(half.points)
    assert [(mark.kind, mark.double) for mark in back.marks] == [
        (mark.kind, mark.double) for mark in half.marks
    ]
    assert [edge.on_fold for edge in back.edges if str(edge.label) == "centre"] == [True]
    assert back.halves == ()
    assert back.area == pytest.approx(half.area, rel=1e-9)
    for edge in half.edges:
        again = look.edge(back, str(edge.label))
        assert again.length == pytest.approx(edge.length, abs=1e-9)
        assert again.sewn == pytest.approx(edge.sewn, abs=1e-9)
        assert [run.role for run in again.runs][:: 1 if kept == "right" else -1] == [
            run.role for run in edge.runs
        ]
    look.conserved(back)


def test_the_half_that_was_drawn_comes_back_to_the_last_digit(board):
    half = board.piece(DRESSED, board.quarter)
    back = board.piece(f"{DRESSED}{UNFOLD}halve along centre keeping right", board.quarter)
    for part in ("edges", "lines", "openings", "points", "marks", "sections", "grain", "halves"):
        assert getattr(back, part) == getattr(half, part), part


def test_the_half_that_is_cut_off_may_have_been_changed(board, look):
    back = board.piece(
        """
        close left.waist_dart into left_flare
        halve along centre keeping right
        """,
        f"{board.skirt}  line left_flare = left.waist_dart.point down to hem\n",
    )
    half = board.piece("", board.quarter)
    assert look.edge(back, "hem").length == pytest.approx(look.edge(half, "hem").length, abs=1e-6)
    assert names(back.openings) == ["waist_dart"]


def test_grain_on_the_half_that_goes_is_mirrored(board):
    skirt = board.piece(
        f"grain from hip_side left 5 cm down 20 cm to hip_side left 5 cm\n{UNFOLD}"
        "halve along centre keeping left",
        board.quarter,
    )
    assert skirt.grain.end == pytest.approx(-200 - 200j, abs=1e-9)


def test_unfolded_twice_it_is_halved_twice(board, look):
    panel = board.piece(
        """
        unfold along centre into right and left
        unfold along hem into upper and lower
        halve along hem keeping lower
        halve along centre keeping left
        """
    )
    assert panel.area == pytest.approx(240_000)
    assert sorted(names(panel.edges)) == ["centre", "hem", "side", "waist"]
    assert panel.halves == ()


def test_a_copy_of_the_whole_keeps_its_halves(board):
    pattern = board.pattern(
        f"{board.skirt}piece front from quarter\n"
        "  line flare = left.waist_dart.point down to hem\n"
        "  close left.waist_dart into flare\n"
        "  require sewn(right.waist) = sewn(left.waist)\n"
    )
    assert names(pattern.pieces["quarter"].openings) == ["right.waist_dart", "left.waist_dart"]
    assert names(pattern.pieces["front"].openings) == ["right.waist_dart", "flare"]


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            "redraw centre = top curve to foot bowed left 2 cm\n" + UNFOLD,
            "`centre` is not straight, so it cannot lie on a fold: it bows by 2 cm",
            "centre",
        ),
        (
            "unfold along side into right and left",
            "`side` is not straight, so it cannot lie on a fold: it bows by",
            "side",
        ),
        (
            UNFOLD + "unfold along right.side into right and other",
            "`right` is already there",
            "right",
        ),
        (UNFOLD + "halve along centre keeping front", "no half of this piece is called", "front"),
        (
            UNFOLD + "line other = on waist 1/3 to on hem 2/3\nhalve along other keeping right",
            "",
            "",
        ),
    ],
)
def test_what_cannot_be_unfolded_or_halved(board, lines, message, place):
    if not message:
        # Another straight line than the fold: what is kept is what lies on that side of it.
        assert board.piece(lines, board.quarter).area < 2 * board.piece("", board.quarter).area
        return
    on = board.quarter.replace("  fold on centre\n", "")
    wrong = board.mistake(lines, on)
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help


def test_paper_that_reaches_over_the_fold_is_refused(board):
    wrong = board.mistake(
        "unfold along centre into right and left",
        """\
piece panel
  a = origin
  b = a right 40 cm
  c = b down 60 cm
  d = a down 30 cm
  e = d left 10 cm down 30 cm
  outline
    waist = a to b
    side = b to c
    hem = c to e
    lower = e to d
    centre = d to a
""",
    )
    assert wrong.message == (
        "the paper reaches 10 cm over the line of `centre`, so it would lie on itself when unfolded"
    )
