"""Edges nobody sews, pieces nobody cuts, paper without grain."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

APRON = """
piece bib
  strip 30 cm by 20 cm
  section left = top from on top 0 from start to on top 10 cm from start
piece skirt
  strip 30 cm by 50 cm
  fold on start
sew bib.base to skirt.top
allow 1 cm on bib, skirt
"""


def told(board: Board, text: str, code: str) -> list[str]:
    return [one.message for one in inspect(board.pattern(text)) if one.code == code]


def loose(board: Board, more: str) -> list[str]:
    """Which edges of the apron are loose, as they are listed."""
    found = told(board, APRON + more, "loose-edge")
    return [message.partition(" is neither")[0].partition(" are neither")[0] for message in found]


def test_edges_with_which_nothing_is_done(board: Board) -> None:
    assert loose(board, "") == ["`end`, `top` and `start` of `bib`", "`base` and `end` of `skirt`"]


@pytest.mark.parametrize(
    ("more", "left"),
    [
        ("allow 2 cm on skirt.base as hem\n", ["`end` of `skirt`"]),
        ("allow none on skirt.base\n", ["`end` of `skirt`"]),
        ("bind skirt.base with 1 cm in trim\n", ["`end` of `skirt`"]),
        ("fasten skirt.end with buttons\n", ["`base` of `skirt`"]),
        ("sew skirt.end to skirt.end\n", ["`base` of `skirt`"]),
        ("allow 2 cm on skirt.base as hem\nallow 1 cm on skirt\n", ["`base` and `end` of `skirt`"]),
    ],
)
def test_what_accounts_for_an_edge(board: Board, more: str, left: list[str]) -> None:
    assert loose(board, f"allow none on bib\n{more}") == left


def test_a_part_of_an_edge_accounts_for_it(board: Board) -> None:
    more = "allow none on skirt, bib.end, bib.start\n"
    assert loose(board, more) == ["`top` of `bib`"]
    assert loose(board, f"{more}bind bib.left with 1 cm in trim\n") == []


def test_a_block_that_is_not_ready_to_cut_is_left_alone(board: Board) -> None:
    assert told(board, APRON.replace("allow 1 cm on bib, skirt\n", ""), "loose-edge") == []
    assert told(board, APRON.replace("sew bib.base to skirt.top\n", ""), "loose-edge") == []


def test_interfacing_and_the_inner_edge_of_a_facing_hang_free(board: Board) -> None:
    more = (
        "allow none on bib, skirt\npiece stay from bib\n"
        "piece faced\n  facing on skirt.top deep 5 cm\n"
        "sew skirt.top to faced.base\nallow 1 cm on stay, faced\n"
        "cut 1 bib in main\ncut 1 skirt in main\ncut 1 stay in interfacing\ncut 1 faced in main\n"
    )
    assert loose(board, more) == ["`start` of `faced`"]  # `end` lies on the fold, as in the skirt


CUT = "cut 1 panel in main\n"


@pytest.mark.parametrize(
    ("more", "told_of"),
    [
        ("", True),
        ("allow 1 cm on spare\nnotch on spare.top at 1/2 from start\n", True),
        ("piece copy from spare\ncut 1 copy in main\n", False),
        ("wide = length(spare.top)\n", False),
        ("cut 1 spare in lining\n", False),
        ("piece faced\n  facing on spare.top deep 4 cm\ncut 1 faced in main\n", False),
    ],
)
def test_a_piece_nobody_cuts(board: Board, more: str, told_of: bool) -> None:
    text = f"{board.panel}  grain along centre\npiece spare\n  strip 10 cm by 10 cm\n{CUT}{more}"
    found = [one for one in inspect(board.pattern(text)) if one.code == "nobody-cuts"]
    assert [one.span.text for one in found if one.span] == (["piece spare"] if told_of else [])


def test_a_divided_piece_is_of_use(board: Board) -> None:
    text = (
        f"{board.panel}  grain along centre\n  line across = on centre 1/2 to on side 1/2\n"
        "  divide along across into upper and lower\n"
        "piece yoke from panel.upper\npiece rest from panel.lower\n"
        "cut 1 yoke in main\ncut 1 rest in main\n"
    )
    assert told(board, text, "nobody-cuts") == []


def test_without_a_list_everything_is_cut(board: Board) -> None:
    text = f"{board.panel}piece spare\n  strip 10 cm by 10 cm\n"
    assert inspect(board.pattern(text)) == ()


def test_a_piece_that_is_cut_needs_a_grain(board: Board) -> None:
    [said] = inspect(board.pattern(board.panel + CUT))
    assert said.code == "no-grain"
    folded = board.panel + "  fold on centre\n" + CUT
    [said] = inspect(board.pattern(folded))
    assert said.help.startswith("add `grain along centre`")
    assert inspect(board.pattern(f"{board.panel}  grain along centre\n{CUT}")) == ()
