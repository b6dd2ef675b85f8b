"""`facing` and `strip`: pieces made along an edge, or by their length and width."""

from __future__ import annotations

import math

import pytest
import shapely

BODICE = """\
piece front
  neck_point = origin
  pit = neck_point left 7 cm down 8 cm
  waist_centre = pit down 35 cm
  shoulder_point = neck_point at -22 deg by 12 cm
  underarm = pit down 14 cm right 24 cm
  waist_side = waist_centre right 23 cm
  outline
    shoulder = neck_point to shoulder_point
    armhole = shoulder_point curve to underarm
      leaving square to shoulder arriving right
    side = underarm to waist_side
    waist = waist_side to waist_centre
    centre = waist_centre to pit
    neck = pit curve to neck_point leaving right arriving up
  fold on centre
  grain along centre
  notch on neck at 1/3
"""


def faced(board, edge, deep, more=""):
    pieces = board.pattern(f"{BODICE}{more}piece made\n  facing on {edge} deep {deep} cm\n").pieces
    return pieces["made"], pieces[edge.split(".")[0]]


def polygon(piece):
    points = piece.outline.flattened(0.001)
    return shapely.Polygon([(place.real, place.imag) for place in points])


def strip_beside(piece, path, deep):
    """The paper of a piece no farther than so deep from a line, worked out by shapely."""
    line = shapely.LineString([(place.real, place.imag) for place in path.flattened(0.001)])
    near = line.buffer(deep, quad_segs=400)
    return near.intersection(polygon(piece))


@pytest.mark.parametrize(("edge", "deep"), [("neck", 5), ("armhole", 4), ("shoulder", 3)])
def test_it_is_the_paper_beside_the_edge(board, edge, deep):
    """Against shapely's buffer of the edge, cut out of the piece.

    At the ends shapely's round cap leaves out a corner, or takes in paper behind the end; where the
    neighbours are square to the edge nothing of either is left.
    """
    made, front = faced(board, f"front.{edge}", deep)
    found = next(item for item in front.edges if item.label.name == edge)
    there = strip_beside(front, found.path, deep * 10)
    differs = polygon(made).symmetric_difference(there).area
    ends = 2 * (deep * 10) ** 2 * (1 - math.pi / 4)
    assert differs < ends
    assert differs < 0.06 * made.area


def test_its_edges_follow_the_piece(board, look):
    made, front = faced(board, "front.neck", 5)
    assert [str(edge.label) for edge in made.edges] == ["base", "end", "top", "start"]
    assert look.edge(made, "base").path == look.edge(front, "neck").path
    for name, beside in (("start", "centre"), ("end", "shoulder")):
        outline = look.edge(front, beside).path
        edge = look.edge(made, name).path
        assert max(outline.nearest(place)[1] for place in edge.flattened(0.1)) < 1e-6
    top, base = look.edge(made, "top").path, look.edge(made, "base").path
    for k in range(5, 96):
        away = base.nearest(top.point_at(top.length * k / 100))[1]
        assert away == pytest.approx(50, abs=0.02)
    look.conserved(made)


def test_fold_grain_and_notches_come_with_it(board):
    made, front = faced(board, "front.neck", 5)
    assert [str(edge.label) for edge in made.edges if edge.on_fold] == ["start"]
    assert made.grain == front.grain
    (notch,) = made.marks
    assert str(notch.edge) == "base"
    assert made.outline.nearest(notch.at)[1] < 1e-6


def test_the_whole_neck_of_an_unfolded_front(board, look):
    half, _ = faced(board, "front.neck", 5)
    whole, _ = faced(
        board,
        "whole.neck",
        5,
        "piece whole from front\n  unfold along centre into right and left\n",
    )
    assert whole.area == pytest.approx(2 * half.area, rel=1e-6)
    assert not any(edge.on_fold for edge in whole.edges)
    assert look.edge(whole, "end").length == pytest.approx(look.edge(whole, "start").length)


def test_an_edge_that_runs_over_the_start_of_the_outline(board, look):
    """The waist of an unfolded skirt is its first edge and its last."""
    text = board.quarter + (
        "  unfold along centre into right and left\n"
        "piece made\n  facing on quarter.waist deep 4 cm\n"
    )
    pieces = board.pattern(text).pieces
    made = pieces["made"]
    assert look.edge(made, "base").length == pytest.approx(
        look.edge(pieces["quarter"], "waist").length, rel=1e-12
    )
    assert made.area == pytest.approx(40 * look.edge(made, "base").length, rel=0.05)


def test_a_facing_is_worked_with_like_any_piece(board, look):
    text = (
        f"{BODICE}piece made\n  facing on front.neck deep 5 cm\n"
        "  unfold along start into one and other\n  line cut = on one.base 1/2 to on one.top 1/2\n"
        "  spread cut by 2 cm at top hinged on base\n  true top\n"
    )
    made = board.pattern(text).pieces["made"]
    look.conserved(made)


@pytest.mark.parametrize(
    ("line", "message", "place"),
    [
        ("facing on front.neck deep 20 cm", "the piece is less than 20 cm deep", "20 cm"),
        ("facing on front.neck deep 0 cm", "a facing is deeper than nothing: this is 0 cm", "0 cm"),
        (
            "facing on front.neck deep 0 cm - 2 cm",
            "a facing is deeper than nothing: this is -2 cm",
            "0 cm - 2 cm",
        ),
        ("facing on front.nape deep 4 cm", "the piece `front` has no `nape`", "nape"),
        ("facing on darted.waist deep 4 cm", "`waist` has a dart or pleat on it", "darted.waist"),
        ("facing on front deep 4 cm", "`front` is a piece", "front"),
    ],
)
def test_what_cannot_be_faced_is_said_where_it_stands(board, line, message, place):
    text = (
        f"{BODICE}piece darted from front\n  dart tuck on waist at 1/2 intake 3 cm length 12 cm\n"
        f"piece made\n  {line}\n"
    )
    wrong = board.wrong(text)[0]
    assert wrong.message.startswith(message), wrong.message
    assert wrong.span.text == place


def test_a_piece_has_one_beginning(board):
    for line in ("facing on front.neck deep 4 cm", "strip 10 cm by 4 cm"):
        found = board.wrong(f"{BODICE}piece made from front\n  {line}\n")
        assert found[0].span.text.startswith(line.split()[0])


# ---------------------------------------------------------------- strips


def test_a_strip_is_a_rectangle_with_its_grain_along(board, look):
    made = board.pattern("piece band\n  strip 74 cm by 4 cm\n").pieces["band"]
    assert made.outline.box() == (0, 0, 740, 40)
    assert [str(edge.label) for edge in made.edges] == ["base", "end", "top", "start"]
    assert made.grain.end - made.grain.start == 740
    look.conserved(made)


@pytest.mark.parametrize(("length", "width"), [("0 cm", "4 cm"), ("10 cm", "-4 cm")])
def test_a_strip_without_length_or_width(board, length, width):
    (wrong,) = board.wrong(f"l = {length}\nw = {width}\npiece band\n  strip l by w\n")
    assert "above nothing" in wrong.message
    assert wrong.span.text == ("l" if length.startswith("0") else "w")
