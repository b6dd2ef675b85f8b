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
    assert "38 cm from `centre`" in said.message


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
