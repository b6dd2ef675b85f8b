"""`join`: two pieces become one along a seam that disappears; what was divided is whole again."""

from __future__ import annotations

import textwrap

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.lang.diagnostics import render

YOKE = """\
curve yoke_line = on centre {centre} cm from waist curve to on side {side} cm from waist
divide along yoke_line into yoke and skirt
"""
BACK_TOGETHER = """\
piece upper from quarter.yoke
piece lower from quarter.skirt
piece again from upper
  join lower.yoke_line to yoke_line
piece from_below from lower
  join upper.yoke_line to yoke_line
"""


def indented(lines):
    return "".join(f"  {line}\n" for line in textwrap.dedent(lines).strip().splitlines())


def same_outline(one, other, shift=0j):
    """The greatest distance of either outline from the other, at many places."""
    count = 300
    return max(
        max(b.nearest(a.point_at(a.length * k / count) + s)[1] for k in range(count + 1))
        for a, b, s in ((one, other, shift), (other, one, -shift))
    )


def test_divided_and_joined_the_paper_is_as_it_was(board, look):
    text = board.quarter + indented(YOKE.format(centre=8, side=9)) + BACK_TOGETHER
    pieces = board.pattern(text).pieces
    whole = pieces["quarter"]
    for name in ("again", "from_below"):
        joined = pieces[name]
        assert joined.area == pytest.approx(whole.area, rel=1e-12)
        assert same_outline(joined.outline, whole.outline) < 1e-7
        for edge in ("waist", "side", "hem", "centre"):
            assert look.edge(joined, edge).length == pytest.approx(
                look.edge(whole, edge).length, rel=1e-12
            )
        assert look.edge(joined, "centre").on_fold
        assert not any(edge.label.name == "yoke_line" for edge in joined.edges)
        assert not any(edge.seam for edge in joined.edges)
        look.conserved(joined)


@settings(max_examples=20, deadline=None)
@given(
    centre=st.floats(4, 30),
    side=st.floats(4, 30),
    at=st.floats(0.3, 0.7),
    intake=st.floats(0.5, 4),
    length=st.floats(8, 16),
    bow=st.floats(-2, 2),
)
def test_with_a_dart_across_the_cut_too(board, look, centre, side, at, intake, length, bow):
    bowed = f" bowed {'up' if bow > 0 else 'down'} {abs(bow):.3f} cm" if abs(bow) > 0.01 else ""
    lines = f"""
dart tuck on waist at {at:.3f} from centre intake {intake:.3f} cm length {length:.3f} cm
curve yoke_line = on centre {centre:.3f} cm from waist
  curve to on side {side:.3f} cm from waist{bowed}
divide along yoke_line into yoke and skirt
"""
    drawn, wrong = board.result(board.quarter + indented(lines) + BACK_TOGETHER)
    if drawn is None:
        # The line may run into the dart and out again on the same side.
        assert {one.code for one in wrong} == {"through-opening"}, [render(one) for one in wrong]
        return
    whole = drawn.pieces["quarter"]
    (dart,) = whole.openings
    for name in ("again", "from_below"):
        joined = drawn.pieces[name]
        assert joined.area == pytest.approx(whole.area, rel=1e-9)
        assert same_outline(joined.outline, whole.outline) < 1e-6
        (found,) = joined.openings
        for one, other in ((found.first, dart.first), (found.second, dart.second)):
            assert same_outline(one, other) < 1e-6
        edges = ("waist", "side", "hem", "centre")
        assert [look.edge(joined, edge).sewn for edge in edges] == pytest.approx(
            [look.edge(whole, edge).sewn for edge in edges], rel=1e-9
        )


@pytest.mark.parametrize("turned", ["", "  mirror\n"])
@pytest.mark.parametrize("moved", ["", "  unfold along start into one and other\n"])
def test_a_piece_from_anywhere_is_laid_against_the_edge(board, look, turned, moved):
    """A band drawn elsewhere, mirrored or not, comes to lie along the waist of a panel."""
    length = "20 cm" if moved else "40 cm"
    text = f"""
{board.panel}
piece band
  strip {length} by 6 cm
{moved}{turned}
piece joined from panel
  join band.top to waist
"""
    drawn = board.pattern(text.replace("\n\n", "\n"))
    joined, panel, band = (drawn.pieces[name] for name in ("joined", "panel", "band"))
    assert joined.area == pytest.approx(panel.area + band.area, rel=1e-12)
    left, bottom, right, top = joined.outline.box()
    assert (left, bottom, right, top) == pytest.approx((0, -600, 400, 60), abs=1e-6)
    assert look.edge(joined, "base").length == pytest.approx(400)
    assert look.edge(joined, "band.base").length == pytest.approx(400)
    look.conserved(joined)


def test_what_lay_on_the_other_piece_comes_along(board, look):
    text = f"""{board.panel}  line slash = on waist 1/2 to on hem 1/2
  button at on hem 1/4 up 3 cm size 18 mm
piece band
  strip 40 cm by 6 cm
  hole = on base 1/4 up 3 cm
  drill at hole
  line slash = on base 1/2 to on top 1/2
  dart tuck on base at 1/4 intake 2 cm length 4 cm
  notch on start at 1/2
  notch on base at 3/4
piece joined from panel
  join band.top to waist
  redraw slash = origin to origin down 1 cm
"""
    wrong = board.wrong(text)
    assert wrong[0].span.text == "slash"  # two lines of that name: which is meant?
    joined = board.pattern(text.rsplit("  redraw", 1)[0]).pieces["joined"]
    assert [str(dart.label) for dart in joined.openings] == ["band.tuck"]
    assert {str(line.label) for line in joined.lines} == {"slash", "band.slash"}
    assert sorted(mark.kind for mark in joined.marks) == ["button", "drill", "notch", "notch"]
    for mark in joined.marks:
        if mark.kind == "notch":
            assert joined.outline.nearest(mark.at)[1] < 1e-6
    (hole,) = [point for point in joined.points if point.label.name == "hole"]
    (drill,) = [mark for mark in joined.marks if mark.kind == "drill"]
    assert hole.at == drill.at
    # The tuck can be worked with under its plain name.
    closed = board.pattern(
        text.rsplit("  redraw", 1)[0]
        + "  line out = tuck.point to on side 1/2\n  close tuck into out\n"
    ).pieces["joined"]
    look.conserved(closed)


def test_notches_of_the_seam_that_disappears_go(board):
    text = f"""{board.panel}  notch on waist at 10 cm
  notch on hem at 10 cm
piece band
  strip 40 cm by 6 cm
  notch on top at 10 cm
  section part = top from on top 1/4 to on top 1/2
piece joined from panel
  join band.top to waist
"""
    joined = board.pattern(text).pieces["joined"]
    assert [str(mark.edge) for mark in joined.marks] == ["hem"]
    assert joined.sections == ()


def test_shoulders_of_front_and_back_become_one_piece(board, look):
    """A yoke without shoulder seam: two bodices laid together at the shoulder."""
    text = """
piece {name}
  neck_point = origin
  outline
    shoulder = neck_point to neck_point right 11 cm down 4 cm
    armhole = neck_point right 11 cm down 4 cm curve to neck_point right 14 cm down 20 cm
      leaving square to shoulder
    across = neck_point right 14 cm down 20 cm to neck_point left 7 cm down 20 cm
    centre = neck_point left 7 cm down 20 cm to neck_point left 7 cm down {deep} cm
    neck = neck_point left 7 cm down {deep} cm curve to neck_point leaving right
  grain along centre
"""
    more = "piece yoke from front\n  join back.shoulder to shoulder\n"
    pieces = board.pattern(
        text.format(name="front", deep=8) + text.format(name="back", deep=2).lstrip("\n") + more
    ).pieces
    yoke = pieces["yoke"]
    assert yoke.area == pytest.approx(pieces["front"].area + pieces["back"].area, rel=1e-12)
    for edge in ("neck", "armhole"):
        both = sum(look.edge(pieces[name], edge).length for name in ("front", "back"))
        assert look.edge(yoke, edge).length == pytest.approx(both, rel=1e-12)
    assert yoke.grain == pieces["front"].grain
    look.conserved(yoke)


def test_edges_that_are_nearly_alike_join_with_all_their_paper(board, look):
    """Half a millimetre of difference is paper let in, or cut away, and counted as that."""
    for bow in ("up 0.6 mm", "down 0.6 mm"):
        text = f"""{board.panel}
piece band
  strip 40 cm by 6 cm
  redraw base = on start 0 from base curve to on end 0 from base bowed {bow}
piece joined from panel
  join band.base to hem
"""
        joined = board.pattern(text.replace("\n\n", "\n")).pieces["joined"]
        look.conserved(joined)
        step = joined.steps[-1]
        sliver = 2 / 3 * 400 * 0.6  # a shallow arc; under it lies two thirds of its box
        if bow.startswith("up"):
            assert step.area_cut_away == 0
            assert len(step.let_in) == 2
            assert abs(step.let_in[1].area()) == pytest.approx(sliver, rel=1e-4)
        else:
            (cut,) = step.cut_away
            assert abs(cut.area()) == pytest.approx(sliver, rel=1e-4)


@pytest.mark.parametrize(
    ("band", "lines", "message", "place"),
    [
        (
            "strip 38 cm by 6 cm",
            "join band.top to waist",
            "`waist` and `band.top` have different lengths: 40 cm and 38 cm, 2 cm apart",
            "band.top",
        ),
        (
            "strip 40 cm by 6 cm\n  redraw base = on start 0 from base curve to on end 0 from base "
            "bowed up 4 mm",
            "join band.base to hem",
            "`hem` and `band.base` have different lines: laid on each other they are up to 0.39 cm",
            "band.base",
        ),
        (
            "strip 42 cm by 6 cm\n  dart tuck on top at 1/2 intake 2 cm length 3 cm",
            "join band.top to waist",
            "`waist` and `band.top` have different lengths: 40 cm and 42 cm",
            "band.top",
        ),
        (
            "strip 40 cm by 6 cm\n  dart tuck on top at 1/2 intake 2 cm length 3 cm",
            "join band.top to waist",
            "`top` has a dart or pleat on it, so it cannot be joined",
            "band.top",
        ),
        (
            "strip 40 cm by 6 cm",
            "line across = on side 1/2 to on centre 1/2\njoin band.top to across",
            "`across` is a drawn line; `to` wants an edge",
            "across",
        ),
        (
            "strip 20 cm by 6 cm\n  section part = top from on top 0 to on top 1/2",
            "join band.part to waist",
            "`part` is a part of an edge",
            "band.part",
        ),
        (
            "strip 40 cm by 6 cm\n  section part = top from on top 0 to on top 1",
            "join band.part to waist",
            "`part` is a part of an edge",
            "band.part",
        ),
    ],
)
def test_what_cannot_be_joined_is_said_with_both_lengths(board, band, lines, message, place):
    text = f"piece band\n  {band}\n{board.panel}{indented(lines)}"
    (wrong,) = board.wrong(text)
    assert wrong.message.startswith(message), wrong.message
    assert wrong.span.text == place
    assert wrong.help


def test_pieces_that_would_lie_on_each_other(board):
    """A hook whose arm reaches over the place where the other piece comes to lie."""
    text = """
piece hook
  outline
    mouth = origin to origin right 10 cm
    back = origin right 10 cm to origin right 15 cm up 20 cm
    over = origin right 15 cm up 20 cm to origin left 10 cm up 20 cm
    end = origin left 10 cm up 20 cm to origin left 10 cm up 25 cm
    top = origin left 10 cm up 25 cm to origin right 20 cm up 25 cm
    outer = origin right 20 cm up 25 cm to origin right 20 cm down 10 cm
    foot = origin right 20 cm down 10 cm to origin down 10 cm
    front = origin down 10 cm to origin
piece block
  strip 10 cm by {length} cm
piece joined from hook
  join block.base to mouth
"""
    board.pattern(text.format(length=19))
    (wrong,) = board.wrong(text.format(length=21))
    assert wrong.message.startswith("joined this way, the pieces would lie on each other")
    assert "cm from the start of" in wrong.message
    assert wrong.help.startswith("join them at another edge")
