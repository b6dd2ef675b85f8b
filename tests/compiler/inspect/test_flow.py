"""Lines that run on over a seam: where the corners of both pieces must add up to 180 degrees."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

# The side slants by so many degrees; the hem is square to it, the waist level.
PANEL = """
piece {name}
  slant = {slant} deg
  outline
    {waist} = origin to origin right 20 cm
    side = origin right 20 cm to origin right 20 cm at slant - 90 deg by 40 cm
    hem = origin right 20 cm at slant - 90 deg by 40 cm curve to origin down 42 cm
      leaving square to side arriving left
    centre = origin down 42 cm to origin
  fold on centre
"""


def panels(front: float, back: float, waists: tuple[str, str] = ("waist", "waist")) -> str:
    pieces = (("front", front, waists[0]), ("back", back, waists[1]))
    return "".join(
        PANEL.format(name=name, slant=slant, waist=waist) for name, slant, waist in pieces
    )


SIDE = "sew front.side to back.side\n"


def breaks(board: Board, text: str) -> list[str]:
    return [one.message for one in inspect(board.pattern(text)) if one.code == "not-flowing"]


@pytest.mark.parametrize(
    ("front", "back", "told"),
    [
        (0, 0, False),
        (8, -8, False),  # what one leans the other leans too
        (2.9, 2.9, False),
        (3.1, 3.1, True),
        (12, 0, True),
        (-12, -2, True),
        (21, 21, False),  # a point that is meant
    ],
)
def test_the_waist_over_the_side(board: Board, front: float, back: float, told: bool) -> None:
    assert bool(breaks(board, panels(front, back) + SIDE)) == told


def test_it_says_both_corners_and_what_becomes_of_them(board: Board) -> None:
    [said] = breaks(board, panels(12, 4) + SIDE)
    assert "corners are 102 and 94 degrees, together 196 and not 180" in said
    assert said.endswith("a dent of 16 degrees")
    [said] = breaks(board, panels(-12, 0) + SIDE)
    assert said.endswith("a point of 12 degrees")


def test_only_edges_that_become_one_line_are_looked_at(board: Board) -> None:
    """Of another name they do if one is sewn to something behind the other."""
    text = panels(12, 4, ("waist", "top")) + SIDE
    assert breaks(board, text) == []
    band = "piece band\n  strip 40 cm by 4 cm\n"
    chain = "sew front.waist then back.top to band.base\n"
    assert len(breaks(board, text + band + chain)) == 1
    # Sewn to something of its own, each may have its own direction: a side over a waist seam.
    apart = "piece band\n  strip 20 cm by 4 cm\nsew front.waist to band.base\n"
    assert breaks(board, panels(12, 4) + SIDE + apart) == []


def test_a_seam_of_a_piece_with_itself(board: Board) -> None:
    """The two halves of a neck meet at the centre back: the corner there is square."""
    slanted = PANEL.format(name="back", slant=12, waist="waist").replace("  fold on centre\n", "")
    [said] = breaks(board, slanted + "sew back.side to back.side\n")
    assert "its corner is 102 degrees and not 90" in said
    assert breaks(board, slanted + "sew back.centre to back.centre\n") == []


def test_what_is_trued_flows(board: Board) -> None:
    text = panels(5, 5) + SIDE
    assert len(breaks(board, text)) == 1
    assert breaks(board, text + "true front.waist then back.waist within 1 cm\n") == []


@pytest.mark.parametrize("intake", [2, 4, 5, 6])
def test_the_corner_over_a_dart_is_the_angle_of_the_dart(board: Board, intake: float) -> None:
    """On a straight edge: twice the angle whose sine is half the intake over a leg."""
    dart = f"dart waist_dart on waist at 1/2 intake {intake} cm length 8 cm\n"
    piece = board.panel + f"  grain along centre\n  {dart}  fold-trim waist_dart toward centre\n"
    found = [one for one in inspect(board.pattern(piece)) if one.code == "dart-corner"]
    angle = 2 * math.degrees(math.atan(intake / 2 / 8))
    assert bool(found) == (angle > 40)
    assert all(f"{angle:.0f} degrees" in one.message for one in found)
