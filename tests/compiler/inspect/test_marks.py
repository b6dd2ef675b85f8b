"""Buttons and buttonholes over the edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect import inspect

if TYPE_CHECKING:
    from oaktag.lang.diagnostics import Diagnostic
    from tests.compiler.conftest import Board

CODES = {"button-over-edge", "buttonhole-over-edge"}


def seen(board: Board, lines: str, after: str = "allow 1 cm on panel") -> list[Diagnostic]:
    body = "".join(f"  {row.strip()}\n" for row in lines.strip().splitlines())
    found: tuple[Diagnostic, ...] = inspect(board.pattern(f"{board.panel}{body}{after}\n"))
    return [one for one in found if one.code in CODES]


def row(kind: str, away: str, size: str = "18 mm", across: str = "") -> str:
    return (
        f"line middle = on waist {away} from centre to on hem {away} from centre\n"
        f"{kind} 3 along middle from on middle 4 cm from waist to on middle 30 cm from waist "
        f"size {size} {across}"
    )


class TestButtons:
    @pytest.mark.parametrize("away", ["9 mm", "3 cm"])
    def test_with_room_for_half_of_each_nothing_is_said(self, board: Board, away: str) -> None:
        assert seen(board, row("buttons", away)) == []

    def test_hanging_over_the_edge_they_are_warned_of_once(self, board: Board) -> None:
        (warning,) = seen(board, row("buttons", "8 mm"))
        assert warning.severity == "warning"
        assert warning.message == "a button 1.8 cm wide hangs 0.1 cm over the edge of `panel`"
        # Half a button and 1/4 in (a copy of the ASDP standards): 9 + 6.35 mm
        assert warning.help.startswith("bring the edge forward to 1.53 cm beyond the buttons")
        assert warning.span.text.startswith("buttons 3 along middle")

    def test_a_single_one_is_seen_too(self, board: Board) -> None:
        (warning,) = seen(board, "button at origin right 5 cm down 4 mm size 12 mm")
        assert warning.span.text == "button at origin right 5 cm down 4 mm size 12 mm"

    def test_the_fold_is_no_edge(self, board: Board) -> None:
        assert seen(board, f"fold on centre\n{row('buttons', '4 mm')}") == []

    def test_the_allowance_does_not_hold_it(self, board: Board) -> None:
        assert len(seen(board, row("buttons", "8 mm"), "allow 3 cm on panel")) == 1

    def test_the_line_is_found_when_the_paper_has_moved(self, board: Board) -> None:
        (warning,) = seen(board, f"{row('buttons', '8 mm')}\nmirror")
        assert warning.span.text.startswith("buttons 3 along middle")

    def test_a_buttonhole_past_the_edge(self, board: Board) -> None:
        assert seen(board, row("buttonholes", "2 cm", across="across")) == []
        (warning,) = seen(board, row("buttonholes", "1 mm", across="across"))
        assert warning.code == "buttonhole-over-edge"
        assert warning.message == "a buttonhole 2.12 cm long runs 0.22 cm over the edge of `panel`"
