"""Points: every form on the language page, as requirements in the language itself."""

from __future__ import annotations

import pytest


def holds(board, *requirements, lines="", on=None):
    """Draws the piece; a requirement that does not hold fails the test with both values."""
    body = "\n".join([lines, *(f"require {one}" for one in requirements)])
    return board.piece(body, on or board.panel)


def test_moved_in_a_direction_one_after_the_other(board):
    holds(
        board,
        "distance(origin, top_right) = 40 cm",
        "origin right 40 cm down 60 cm = foot_right",
        "foot_right up 60 cm left 40 cm = origin",
        "origin right 12 cm up 1.25 cm = origin up 1.25 cm right 12 cm",
        "origin down -3 cm = origin up 3 cm",
    )


def test_toward_another_point_by_a_share_or_a_length(board):
    holds(
        board,
        "(top_left toward top_right by 1/4) = origin right 10 cm",
        "(top_left toward top_right by 4 cm) = origin right 4 cm",
        "(top_left toward foot_right by 1/2) = midway top_left and foot_right",
        "(top_left toward top_right by 3/2) = origin right 60 cm",
    )


def test_at_an_angle_anticlockwise_from_right(board):
    holds(
        board,
        "origin at 0 deg by 4 cm = origin right 4 cm",
        "origin at 90 deg by 4 cm = origin up 4 cm",
        "origin at -90 deg by 4 cm = origin down 4 cm",
        "distance(origin at 30 deg by 4 cm, origin up 2 cm) = 4 cm * cos(30 deg)",
        "angle(top_right, top_left, origin at -30 deg by 5 cm) = 30 deg",
    )


def test_square_to_an_edge_goes_into_the_paper(board):
    holds(
        board,
        "on waist 1/2 square to waist 4 cm = origin right 20 cm down 4 cm",
        "on side 1/2 square to side 4 cm = on side 1/2 left 4 cm",
        "on hem 1/2 square to hem 4 cm = on hem 1/2 up 4 cm",
        "on centre 1/2 square to centre 4 cm = on centre 1/2 right 4 cm",
        # From a point that lies inside the paper, too.
        "origin right 10 cm down 20 cm square to waist 4 cm = origin right 10 cm down 24 cm",
        "(on waist 1/4 square to waist to hem) = on hem 1/4 from centre",
    )


def test_square_to_a_drawn_line_reaches_what_lies_on_either_side(board):
    lines = "line hip = on centre 20 cm from waist to on side 20 cm from waist"
    holds(
        board,
        "(on hip 1/4 square to hip to waist) = on waist 1/4 from centre",
        "(on hip 1/4 square to hip to hem) = on hem 1/4 from centre",
        lines=lines,
    )


def test_along_an_edge_from_either_end(board):
    holds(
        board,
        "on side 9 cm from waist = top_right down 9 cm",
        "on side 9 cm from hem = foot_right up 9 cm",
        "on side 9 cm from foot_right = foot_right up 9 cm",
        "on side 9 cm = top_right down 9 cm",
        "on side 1/3 from hem = foot_right up 20 cm",
        "on side 0 = top_right",
        "on side 1 = foot_right",
    )


def test_along_an_edge_with_intake_as_sewn(board):
    lines = "dart tuck on waist at 1/2 intake 4 cm length 12 cm"
    holds(
        board,
        "on waist 18 cm from centre = origin right 18 cm",
        "on waist 19 cm from centre = origin right 23 cm",
        "on waist 17 cm from side = origin right 23 cm",
        "on waist 19 cm from side = origin right 17 cm",
        "on waist 1/4 from centre = origin right 9 cm",
        "on waist 36 cm from centre = top_right",
        lines=lines,
    )


def test_along_a_drawn_line(board):
    lines = "line hip = on centre 20 cm from waist to on side 20 cm from waist"
    holds(
        board,
        "on hip 10 cm from centre = origin right 10 cm down 20 cm",
        "on hip 10 cm from side = origin right 30 cm down 20 cm",
        "on hip 10 cm = on hip 1/4",
        lines=lines,
    )


def test_where_two_lines_meet(board):
    lines = """
line hip = on centre 20 cm from waist to on side 20 cm from waist
line grainline = on waist 1/2 to on hem 1/2
"""
    holds(
        board,
        "where side meets hem = foot_right",
        "where waist meets centre = origin",
        "where hip meets grainline = origin right 20 cm down 20 cm",
        "where grainline meets hem = on hem 1/2",
        lines=lines,
    )


def test_where_a_line_is_so_far_from_a_point(board):
    holds(
        board,
        "(where side is 50 cm from origin) = top_right down 30 cm",
        "(where waist is 15 cm from origin) = origin right 15 cm",
    )


def test_dropped_until_it_meets(board):
    holds(
        board,
        "(origin right 15 cm down to hem) = origin right 15 cm down 60 cm",
        "(origin right 15 cm down 5 cm right to side) = top_right down 5 cm",
        "(on hem 1/2 up to waist) = on waist 1/2",
        "(on centre 1/2 right to side) = on side 1/2",
    )
    panel = board.piece("line flare = origin right 15 cm down to hem")
    (flare,) = panel.lines
    assert (flare.start, flare.end) == (150, 150 - 600j)


def test_midway_and_origin(board):
    holds(
        board,
        "(midway top_left and foot_right) = origin right 20 cm down 30 cm",
        "(midway top_left and (midway top_left and top_right)) = origin right 10 cm",
    )


def test_points_travel_with_the_paper(board):
    holds(
        board,
        "distance(pocket, top_right) = 20 cm",
        "distance(pocket, top_left) > 44 cm",
        lines="""
pocket = top_right down 20 cm
line cut = on waist 1/2 to on hem 1/2
spread cut by 4 cm
""",
    )


@pytest.mark.parametrize(
    ("point", "message", "place"),
    [
        (
            "on side 61 cm from waist",
            "`side` is 60 cm long, so there is no point on it at 61 cm",
            "61 cm",
        ),
        ("on side 5/4 from waist", "", "5/4"),
        ("on side 9 cm from centre", "neither end of `side` lies on `centre`", "centre"),
        ("where waist meets hem", "`waist` and `hem` do not meet", "where waist meets hem"),
        (
            "where side is 30 cm from origin",
            "no point of `side` is 30 cm from there: the nearest is 40 cm away",
            "where side is 30 cm from origin",
        ),
        (
            "where hem is 61 cm from (origin right 20 cm)",
            "2 points of `hem` are 61 cm from there",
            "where hem is 61 cm from (origin right 20 cm)",
        ),
        (
            "(origin right 15 cm up to hem)",
            "going up from there never meets `hem`",
            "origin right 15 cm up to hem",
        ),
        (
            "top_left toward top_left by 3 cm",
            "the two points are the same, so there is no way between them",
            "top_left toward top_left by 3 cm",
        ),
    ],
)
def test_points_that_are_not_there(board, point, message, place):
    wrong = board.mistake(f"there = {point}")
    assert wrong.message.startswith(message)
    assert place in wrong.span.text or wrong.span.text in place
    assert wrong.help


def test_a_line_met_twice_is_not_clear(board):
    wrong = board.mistake(
        """
        curve wave = on centre 1/4 curve to on centre 3/4 bowed right 10 cm
        line across = on waist 1/8 from centre to on hem 1/8 from centre
        there = where wave meets across
        """
    )
    assert wrong.message == "`wave` and `across` meet 2 times"
    assert wrong.help
