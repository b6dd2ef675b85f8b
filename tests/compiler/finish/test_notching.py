"""Notches that are asked to be so deep that they would cut into the seam."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.finish.unfinished import unfinished

if TYPE_CHECKING:
    from oaktag.lang.diagnostics import Diagnostic
    from tests.compiler.conftest import Board


def seen(
    board: Board, lines: str, after: str = "allow 1 cm on panel", head: str = ""
) -> list[Diagnostic]:
    body = "".join(f"  {row}\n" for row in lines.splitlines())
    found = unfinished(board.pattern(f"{head}\n{board.panel}{body}{after}\n"))
    assert {one.code for one in found} <= {"deep-notch"}
    return list(found)


class TestNotches:
    @pytest.mark.parametrize(
        ("lines", "head", "count"),
        [
            ("notch on side at 1/2 deep 9 mm", "", 0),
            ("notch on side at 1/2 deep 1 cm", "", 1),
            ("notch on side at 1/2\nnotch at on hem 1/2", "notches as v deep 12 mm", 2),
            ("notch on side at 1/2 deep 5 mm", "notches as v deep 12 mm", 0),
            ("notch on side at 1/2", "", 0),
        ],
    )
    def test_those_that_are_asked_to_reach_the_seam(
        self, board: Board, lines: str, head: str, count: int
    ) -> None:
        assert len(seen(board, lines, head=head)) == count

    def test_it_names_edge_and_figures(self, board: Board) -> None:
        (warning,) = seen(board, "notch on side at 1/2 deep 1.2 cm")
        assert warning.message == (
            "a notch 1.2 cm deep cuts into the seam of `panel.side`: its allowance is 1 cm"
        )
        assert warning.span.text == "notch on side at 1/2 deep 1.2 cm"

    def test_without_allowance_there_is_no_seam_to_cut(self, board: Board) -> None:
        assert seen(board, "notch on side at 1/2 deep 1.2 cm", after="") == []
