"""Paths and outlines: legs that join smoothly, directions, and what does not close."""

from __future__ import annotations

import cmath
import math

import pytest

from oaktag.lang.diagnostics import render


def line_of(board, path, extra=""):
    panel = board.piece(f"{extra}\ncurve drawn = {path}")
    return panel.lines[-1].path


def heading(vector):
    return math.degrees(cmath.phase(vector))


A, B = "origin right 5 cm down 20 cm", "origin right 35 cm down 20 cm"


def test_straight_legs(board):
    path = line_of(board, f"{A} to {B}, to {B} down 10 cm, to {A} down 10 cm")
    assert path.length == pytest.approx(700)
    assert len(path.corners()) == 2


def test_an_arc_around_a_centre_or_through_a_point(board):
    around = line_of(board, f"{A} arc to {B} around origin right 20 cm down 20 cm")
    assert around.length == pytest.approx(math.pi * 150)
    through = line_of(board, f"{A} arc to {B} through origin right 20 cm down 5 cm")
    assert through.length == pytest.approx(math.pi * 150)
    assert through.point_at(through.length / 2) == pytest.approx(200 - 50j)


def test_a_curve_leaves_and_arrives_as_told(board):
    path = line_of(board, f"{A} curve to {B} leaving up arriving 45 deg")
    assert heading(path.start_direction) == pytest.approx(90)
    assert heading(path.end_direction) == pytest.approx(45)
    path = line_of(board, f"{A} curve to {B} leaving toward foot_left arriving toward foot_right")
    assert heading(path.start_direction) == pytest.approx(heading(complex(-50, -400)))
    assert heading(path.end_direction) == pytest.approx(heading(complex(50, -400)))


def test_square_to_an_edge_is_taken_the_way_the_curve_goes(board):
    path = line_of(board, f"on centre 1/3 curve to {B} leaving square to centre")
    assert heading(path.start_direction) == pytest.approx(0)
    path = line_of(board, f"{A} curve to on side 1/3 arriving square to side")
    assert heading(path.end_direction) == pytest.approx(0)
    path = line_of(board, f"{B} curve to on centre 1/3 arriving square to centre")
    assert abs(heading(path.end_direction)) == pytest.approx(180)


def test_a_curve_goes_through_points(board):
    path = line_of(board, f"{A} curve to {B} through origin right 15 cm down 15 cm")
    assert path.nearest(150 - 150j)[1] < 1e-9
    assert path.corners(1e-6) == ()
    path = line_of(
        board,
        f"{A} curve to {B} through origin right 15 cm down 15 cm and origin right 25 cm down 15 cm",
    )
    assert path.nearest(250 - 150j)[1] < 1e-9


@pytest.mark.parametrize(
    ("bow", "sign"),
    [("down 4 cm", -1), ("up 4 cm", 1), ("toward origin 4 cm", 1), ("90 deg 4 cm", 1)],
)
def test_bowed_by_its_greatest_distance_from_the_chord(board, bow, sign):
    path = line_of(board, f"{A} curve to {B} bowed {bow}")
    heights = [path.point_at(path.length * k / 400).imag + 200 for k in range(401)]
    assert max(heights, key=abs) == pytest.approx(sign * 40, abs=1e-3)


def test_legs_of_one_line_join_smoothly(board):
    path = line_of(board, f"{A} curve to {B}, to {B} down 20 cm, curve to {A} down 20 cm")
    assert path.corners(1e-6) == ()
    # An end that is told where to go may make a corner.
    path = line_of(board, f"{A} curve to {B} arriving right, to {B} down 20 cm")
    assert len(path.corners()) == 1


def test_a_curve_with_nothing_said_is_straight(board):
    path = line_of(board, f"{A} curve to {B}")
    assert path.length == pytest.approx(300)


@pytest.mark.parametrize(
    ("path", "message", "place"),
    [
        (f"{A} to {A}", "this leg begins and ends at the same point", f"to {A}"),
        (f"{A} curve to {B} bowed right 4 cm", "`right` runs along the line between the ends", ""),
        (
            f"{A} curve to {B} leaving up bowed down 4 cm",
            "with these directions at its ends the curve cannot bow 4 cm to that side",
            f"curve to {B} leaving up bowed down 4 cm",
        ),
        (f"{A} curve to {B} bowed up depth", "a curve cannot be bowed by -4 cm", "depth"),
        (
            f"{A} arc to {B} around origin",
            "an arc keeps its distance from its centre, but it starts 20.62 cm and ends 40.31 cm",
            "",
        ),
        (f"{A} arc to {B} through {A} right 40 cm", "", ""),
        (f"{A} to origin right 2000 m", "this point lies more than 1 km from the origin", ""),
        (
            f"{A} curve to {B} through {B}",
            "this curve meets one point twice in a row",
            f"curve to {B} through {B}",
        ),
    ],
)
def test_paths_that_cannot_be_drawn(board, path, message, place):
    wrong = board.mistake(f"curve drawn = {path}", head="depth = -4 cm")
    assert wrong.message.startswith(message)
    if place:
        assert wrong.span.text == place
    assert wrong.help


# ---------------------------------------------------------------- outlines


def test_an_open_outline_looks_as_the_language_page_shows_it(board):
    (wrong,) = board.wrong(
        """\
piece front
  waist_centre = origin
  waist_side = origin right 20 cm
  hip_side = waist_side right 4 cm down 20 cm
  hem_side = hip_side down 42 mm
  hem_centre = waist_centre down 40 cm
  outline
    waist = waist_centre to waist_side
    side = waist_side curve to hip_side arriving down
    hem = hem_side to hem_centre
    centre = hem_centre to waist_centre
"""
    )
    # The file says mm nowhere; this one has its lengths in cm but for one.
    assert render(wrong).replace(" \n", "\n") == (
        "error: the edge `side` does not reach the next one\n"
        "   pattern.oak:10\n"
        "10 |     side = waist_side curve to hip_side arriving down\n"
        "   |                                - ends at hip_side\n"
        "11 |     hem = hem_side to hem_centre\n"
        "   |           - `hem` starts at hem_side, 4.2 cm further on\n"
        "   try: add a leg, `side = waist_side curve to hip_side arriving down, to hem_side`"
    )


def test_the_last_edge_ends_at_the_first(board):
    (wrong,) = board.wrong(
        """\
piece front
  a = origin
  b = origin right 20 cm
  c = b down 20 cm
  outline
    waist = a to b
    side = b to c
    centre = c to a right 1 cm
"""
    )
    assert wrong.message == "the edge `centre` does not reach the next one"
    assert wrong.labels[0].text == "`waist` starts at a, 1 cm further on"
    assert wrong.help == "add a leg, `centre = c to a right 1 cm, to a`"


def test_a_crossing_outline_says_where(board):
    (wrong,) = board.wrong(
        """\
piece front
  a = origin
  b = origin right 20 cm
  c = b down 20 cm
  d = a down 20 cm
  outline
    waist = a to b
    side = b to d
    hem = d to c
    centre = c to a
"""
    )
    assert wrong.message == "`side` crosses `centre`"
    assert wrong.label == "14.14 cm from its start"
    assert wrong.labels[0].text == "14.14 cm from its start"
    assert wrong.help == (
        "walk round the piece in one direction, each edge from one corner to the next"
    )


def test_edges_may_use_each_others_directions(board, look):
    quarter = board.piece("", board.quarter)
    waist, side = look.edge(quarter, "waist"), look.edge(quarter, "side")
    turn = cmath.phase(side.path.start_direction / waist.path.end_direction)
    assert abs(turn) == pytest.approx(math.pi / 2, abs=1e-9)


def test_but_not_in_a_circle(board):
    found = board.wrong(
        """\
piece front
  a = origin
  b = origin right 20 cm
  c = b down 20 cm
  outline
    waist = a curve to b arriving square to side
    side = b curve to c leaving square to waist
    centre = c to a
"""
    )
    assert len(found) == 1
    assert found[0].message == (
        "these edges take their directions from each other in a circle: `waist`, `side`"
    )


@pytest.mark.parametrize(
    ("edges", "message"),
    [
        (["waist = a to b", "back = b to a"], "this outline has no area"),
        (["waist = a to b"], "one edge does not close an outline"),
    ],
)
def test_outlines_without_paper(board, edges, message):
    lines = "\n".join(f"    {edge}" for edge in edges)
    found = board.wrong(
        f"piece front\n  a = origin\n  b = origin right 20 cm\n  outline\n{lines}\n"
    )
    assert message in [one.message for one in found]


def test_an_outline_may_run_either_way_round(board, look):
    for order in (("a", "b", "c", "d"), ("d", "c", "b", "a")):
        p, q, r, s = order
        square = board.piece(
            "dart tuck on first at 1/2 intake 3 cm length 8 cm",
            f"""\
piece square
  a = origin
  b = origin right 20 cm
  c = b down 20 cm
  d = a down 20 cm
  outline
    first = {p} to {q}
    second = {q} to {r}
    third = {r} to {s}
    fourth = {s} to {p}
""",
        )
        assert square.area == pytest.approx(40_000)
        assert abs(square.openings[0].point.imag + 100) == pytest.approx(20)
