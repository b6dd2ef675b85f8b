"""Notches of a seam: which of them have a partner."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

BAND = """
piece band
  strip 80 cm by 4 cm
  notch on base at {at} from start
sew panel.waist from centre then panel.waist from side to band.base from start
"""


@pytest.mark.parametrize("at", ["0 cm", "40 cm", "80 cm"])
def test_a_notch_that_meets_a_joint_or_an_end_has_its_partner_there(board: Board, at: str) -> None:
    assert inspect(board.pattern(board.panel + BAND.format(at=at))) == ()


def test_a_notch_beside_the_joint_is_alone(board: Board) -> None:
    (said,) = inspect(board.pattern(board.panel + BAND.format(at="38 cm")))
    assert said.code == "lone-notch"
    assert "38 cm from `start`" in said.message


def test_a_notch_where_two_edges_join_is_one_notch(board: Board) -> None:
    """At the joint it lies on both edges of the piece, and is met once."""
    text = board.skirt + (
        "  notch at on centre 0 from waist\n"
        "piece band\n"
        "  strip sewn(quarter.waist) by 4 cm\n"
        "  notch on base at 1/2 from start\n"
        "sew quarter.left.waist then quarter.right.waist to band.base from start\n"
    )
    said = [one for one in inspect(board.pattern(text)) if one.code != "untrimmed"]
    assert said == []


GODET = """
piece godet
  outline
    l = origin to origin right 6 cm down 40 cm
    hem = origin right 6 cm down 40 cm to origin left 6 cm down 40 cm
    r = origin left 6 cm down 40 cm to origin
"""


def apart(board: Board, text: str) -> list[str]:
    found = inspect(board.pattern(text))
    return [one.message for one in found if one.code in ("notches-apart", "lone-notch")]


@pytest.mark.parametrize(
    ("seam", "told"),
    [
        (
            "godet.l to godet.r",
            "on `godet.l` it is 30.45 cm from where `godet.l` and `godet.r` meet",
        ),
        (
            "godet.r to godet.l",
            "on `godet.r` it is 12 cm from `hem`, on `godet.l` 10 cm from `hem`",
        ),
    ],
)
def test_sides_that_meet_in_a_tip_are_walked_alike(board: Board, seam: str, told: str) -> None:
    alike = f"{GODET}  notch on l, r at 10 cm from hem\nsew {seam}\n"
    assert apart(board, alike) == []
    unlike = "  notch on l at 10 cm from hem\n  notch on r at 12 cm from hem\n"
    (said,) = apart(board, f"{GODET}{unlike}sew {seam}\n")
    assert told in said


def test_neighbours_of_one_name_meet_at_the_end_if_none_meet_at_the_start(board: Board) -> None:
    """The side of a skirt begins at its waist, that of the yoke's lining at its edge."""
    lining = (
        "piece lining\n  outline\n"
        "    hem = origin to origin right 40 cm\n"
        "    side = origin right 40 cm to origin right 40 cm up 60 cm\n"
        "    edge = origin right 40 cm up 60 cm to origin up 60 cm\n"
        "    centre = origin up 60 cm to origin\n"
        "  notch on side at 10 cm from hem\n"
    )
    panel = f"{board.panel}  notch on side at 10 cm from hem\n"
    assert apart(board, f"{panel}{lining}sew panel.side to lining.side\n") == []
    assert apart(board, f"{panel}{lining}sew lining.side to panel.side\n") == []


def test_a_distance_is_told_from_the_end_of_its_own_edge(board: Board) -> None:
    band = "piece band\n  strip 60 cm by 4 cm\n  notch on base at 12 cm from start\n"
    panel = f"{board.panel}  notch on side at 10 cm from waist\n"
    (said,) = apart(board, f"{panel}{band}sew panel.side to band.base from start\n")
    assert "on `panel.side` it is 10 cm from `waist`, on `band.base` 12 cm from `start`" in said


def test_single_notches_that_meet_double_ones_are_told_once_with_their_places(
    board: Board,
) -> None:
    text = (
        "piece one\n  strip 30 cm by 20 cm\n"
        "  notch on end at 4 cm from top\n  notch on end at 7 cm from top\n"
        "piece other from one\n"
        "piece third\n  strip 30 cm by 20 cm\n"
        "  notch on end at 4 cm from top double\n  notch on end at 7 cm from top double\n"
        "sew one.end to third.end\n"
    )
    said = [one for one in inspect(board.pattern(text)) if one.code == "unlike-notches"]
    assert [one.message for one in said] == [
        "2 single notches meet double ones, 7 cm from `top` and 4 cm from `top`: single on "
        "`one.end`, double on `third.end`"
    ]
    assert "both sides of a seam get the same notch" in said[0].help
    one = text.replace("at 7 cm from top double", "at 7 cm from top")
    said = [item for item in inspect(board.pattern(one)) if item.code == "unlike-notches"]
    assert [item.message for item in said] == [
        "a single notch meets a double one, 4 cm from `top`: single on `one.end`, double on "
        "`third.end`"
    ]
