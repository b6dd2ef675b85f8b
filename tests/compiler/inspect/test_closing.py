"""Openings and bindings that cannot be as they are said."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.inspect.closing import uneven

if TYPE_CHECKING:
    from tests.compiler.conftest import Board

PIECES = """
piece front
  strip 48 cm by 60 cm
  section placket = end from on end 0 from top to on end 18 cm from top
piece back
  strip 48 cm by 60 cm
  section placket = start from on start 0 from top to on start 20 cm from top
"""


@pytest.mark.parametrize(
    ("line", "code", "said"),
    [
        (
            "fasten front.placket to back.placket with zip",
            "uneven-opening",
            "the two sides of this opening differ: `front.placket` is 18 cm, `back.placket` is "
            "20 cm",
        ),
        (
            "fasten back.placket with zip length 15 cm",
            "short-zip",
            "the zip is 15 cm long, the opening 20 cm",
        ),
        (
            "sew front.base to back.base\nbind front.base with 1 cm in trim",
            "bound-and-sewn",
            "`front.base` is bound here, and sewn as well",
        ),
    ],
)
def test_it_is_told(board: Board, line: str, code: str, said: str) -> None:
    [found] = uneven(board.pattern(f"{PIECES}{line}\n"))
    assert (found.severity, found.code, found.message) == ("warning", code, said)
    assert found.help


@pytest.mark.parametrize(
    "line",
    [
        "fasten front.placket with zip length 18 cm",
        "fasten front.placket with zip length 17 cm",
        "fasten front.placket with zip length 30 cm",
        "fasten front.start to front.end with hooks",
        "fasten back.placket with ties length 5 cm",
        "sew front.base to back.base\nbind front.top then back.top with 1 cm in trim",
    ],
)
def test_what_can_be_done_is_not(board: Board, line: str) -> None:
    assert list(uneven(board.pattern(f"{PIECES}{line}\n"))) == []
