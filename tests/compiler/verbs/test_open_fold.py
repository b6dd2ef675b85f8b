"""`open`: what lay on the fold is cut, and nothing on the paper moves."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.finish.allowance import cut_line

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

FRONT = """\
measure bust_girth = 94 cm, waist_girth = 76 cm, back_waist_length = 41 cm
measure back_width = 35.5 cm, neck_girth = 38 cm, shoulder_length = 12.4 cm
use bodices.basic as block
piece front from block.front
"""


def test_a_front_opened_at_the_fold_is_the_same_paper_with_that_edge_cut(board: Board) -> None:
    whole, opened = (board.piece(lines, board.quarter) for lines in ("", "open centre"))
    assert opened.outline == whole.outline
    assert [edge.on_fold for edge in whole.edges] == [False, False, False, True]
    assert not any(edge.on_fold for edge in opened.edges)


def test_a_basic_front_opened_gets_a_button_stand_and_is_cut_as_a_pair(board: Board) -> None:
    pattern = board.pattern(f"""{FRONT}\
  open centre
  line middle = on centre 0 from neck to on centre 0 from waist
  redraw centre = (on centre 0 from neck) left 2 cm to (on centre 0 from waist) left 2 cm
  buttons 5 along middle from on middle 2 cm from neck to on middle 3 cm from waist size 15 mm
allow 1 cm on front
allow 4 cm on front.centre as hem
fasten front.centre with buttons
cut 2 front as pair in main
""")
    front, block = pattern.pieces["front"], pattern.names[("block", None)].pieces["front"]  # type: ignore[union-attr]
    centre = next(edge for edge in front.edges if edge.label.name == "centre")
    assert front.area == pytest.approx(block.area + 20 * centre.length)
    around = cut_line(front, pattern.allowances)
    assert around is not None
    # Over the fold there is no allowance; an opened edge has its own.
    left = min(place.real for place in around.flattened(0.1))
    assert left == pytest.approx(centre.start.real - 40)


def test_an_edge_that_is_cut_is_not_opened_again(board: Board) -> None:
    said = board.mistake("open side", board.quarter)
    assert said.message == "`side` does not lie on the fold, so it is cut already"
    assert said.help == "`centre` lies on the fold"
    assert board.mistake("open centre\nopen centre", board.quarter).help == "take this line out"


def test_an_opened_edge_may_be_sewn_and_bound(board: Board) -> None:
    said = "bind quarter.centre with 1 cm in trim\n"
    (found,) = board.wrong(board.quarter + said)
    assert found.help.endswith("take this one off the fold in its piece: `open centre`")
    assert board.pattern(board.quarter + "  open centre\n" + said).bindings


def test_an_edge_on_the_fold_is_not_moved_off_it_by_drawing_it_anew(board: Board) -> None:
    wider = "redraw centre = foot left 2 cm to top left 2 cm"
    found = board.mistake(wider, board.quarter)
    assert "moves it up to 2 cm away" in found.message
    assert "`open centre`" in found.help
    # Opened it may be, and laid on the fold again; along its own line it may be drawn as before.
    opened = board.piece(f"open centre\n{wider}\nfold on centre", board.quarter)
    assert opened.edges[-1].on_fold
    same = board.piece("redraw centre = top to foot", board.quarter)
    assert same.edges[-1].on_fold


def test_only_an_edge_is_opened_and_the_word_stays_a_name(board: Board) -> None:
    said = board.mistake("open hip_line", board.quarter)
    assert said.message == "`hip_line` is a drawn line; `open` wants an edge"
    piece = board.piece("open = 4 cm\nopen centre\nnotch on side at open from waist", board.quarter)
    assert not piece.edges[-1].on_fold
