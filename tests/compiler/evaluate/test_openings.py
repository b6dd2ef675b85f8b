"""Edges that are bound, and openings that close."""

from __future__ import annotations

import pytest

from tests.compiler.conftest import Board

SKIRT = """
piece front
  strip 48 cm by 60 cm
  section placket = end from on end 0 from top to on end 18 cm from top
piece back
  strip 48 cm by 60 cm
  fold on start
  section placket = end from on end 0 from top to on end 18 cm from top
"""


def test_a_binding_knows_its_edges_its_strip_and_its_caption(board: Board) -> None:
    pattern = board.pattern(
        SKIRT + "# in the colour of the river\nbind front.top then back.top with 8 mm in trim\n"
    )
    [binding] = pattern.bindings
    assert [side.name for side in binding.edges] == ["front.top", "back.top"]
    assert binding.sewn == pytest.approx(960)
    assert binding.double
    assert binding.cut_width == pytest.approx(32)  # 4 x finished width, common practice, no source
    assert (binding.cloth, binding.caption) == ("trim", "in the colour of the river")


def test_a_single_binding_is_cut_twice_its_width(board: Board) -> None:
    [binding] = board.pattern(SKIRT + "bind front.top with 8 mm single in trim\n").bindings
    assert not binding.double
    assert binding.cut_width == pytest.approx(16)  # 2 x finished width, common practice, no source


def test_an_opening_has_two_sides_or_closes_on_itself(board: Board) -> None:
    pattern = board.pattern(
        SKIRT
        + "fasten front.placket to back.placket with zip\n"
        + "fasten front.start with ties length 30 cm\n"
    )
    zip_, ties = pattern.closures
    assert [side.name for side in (*zip_.first, *zip_.second)] == [
        "front.placket",
        "back.placket",
    ]
    assert (zip_.kind, zip_.length) == ("zip", None)
    assert zip_.opening == pytest.approx(180)
    assert (ties.second, ties.kind, ties.length) == ((), "ties", 300)
    assert ties.opening == pytest.approx(600)


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("bind front.top with 0 cm in trim", "no-binding"),
        ("bind back.start with 1 cm in trim", "fold-edge"),
        ("fasten front.end to back.start with zip", "fold-edge"),
        ("fasten front.end with zip length 0 cm", "no-length"),
    ],
)
def test_what_cannot_be_bound_or_closed(board: Board, line: str, code: str) -> None:
    assert code in [item.code for item in board.wrong(SKIRT + line + "\n")]
