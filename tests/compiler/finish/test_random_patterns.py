"""Panels with whatever darts, pleats, hems and corners chance makes: cut, folded, turned up."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.finish.unfinished import unfinished
from oaktag.compiler.geometry import self_crossings
from tests.compiler.finish.test_folded_allowance import check_folded
from tests.compiler.finish.test_hems import folded_apart

if TYPE_CHECKING:
    from tests.compiler.conftest import Board
    from tests.compiler.finish.conftest import Paper

AT_A_TIME = 25


class Panel:
    """One panel, as text. hem: how deep a plain hem is, or none; straight: whether its edge is."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.hem: float | None = None
        self.straight = True
        self.lines = ['pattern "Chance"', "piece panel", *self.outline(), *self.folds()]
        self.lines += self.allowances()

    def cm(self, low: float, high: float) -> str:
        return f"{self.chance.uniform(low, high):.1f} cm"

    def bow(self, ways: tuple[str, str], most: float) -> tuple[str, str]:
        """The word of a leg, and how it is bowed, or neither."""
        if self.chance.random() < 0.5:
            return "to", ""
        return "curve to", f" bowed {self.chance.choice(ways)} {self.cm(0.3, most)}"

    def outline(self) -> list[str]:
        right = f"origin right 40 cm up {self.cm(0.1, 5)}"
        foot = f"origin right {self.cm(36, 50)} down {self.cm(35, 42)}"
        corner = f"origin left {self.cm(0.1, 6)} down 40 cm"
        waist, side = self.bow(("up", "down"), 2.5), self.bow(("left", "right"), 2.5)
        hem = self.bow(("up", "down"), 3)
        self.straight = not hem[1]
        return [
            "  outline",
            f"    waist = origin {waist[0]} {right}{waist[1]}",
            f"    side = {right} {side[0]} {foot}{side[1]}",
            f"    hem = {foot} {hem[0]} {corner}{hem[1]}",
            f"    centre = {corner} to origin",
        ]

    def folds(self) -> list[str]:
        made = []
        if self.chance.random() < 0.5:
            made += [
                f"  dart tuck on waist at {self.cm(4, 16)} from centre intake {self.cm(1, 5)} "
                f"length {self.cm(7, 14)}",
                f"  fold-trim tuck toward {self.chance.choice(('centre', 'side'))}",
            ]
        if self.chance.random() < 0.5:
            one, other = self.chance.choice((("centre", "side"), ("side", "centre")))
            far = self.chance.choice((f"hinged on {other}", f"and {self.cm(1, 7)} at {other}"))
            style = self.chance.choice(("", "box ", "inverted "))
            way = "" if style else f" toward {self.chance.choice(('up', 'down'))}"
            made += [
                f"  line drape = on {one} {self.cm(20, 30)} from hem "
                f"to on {other} {self.cm(20, 30)} from hem",
                f"  spread drape by {self.cm(2, 7)} at {one} {far} as {style}pleat",
                f"  fold-trim drape{way}",
            ]
        return made

    def allowances(self) -> list[str]:
        made = [f"allow {self.chance.choice((5, 10, 15, 25))} mm on panel"]
        for edge in ("waist", "side", "centre"):
            if self.chance.random() < 0.4:
                width = self.chance.choice((0, 6, 10, 20, 30))
                corners = self.chance.choice(("", " squared", " mitred"))
                made.append(f"allow {width} mm on panel.{edge}{corners}")
        if self.chance.random() < 0.8:
            self.hem = self.chance.choice((6.0, 15.0, 30.0, 50.0, 80.0))
            made.append(f"allow {self.hem:g} mm on panel.hem as hem")
        return made


@pytest.mark.parametrize("start", range(0, 100, AT_A_TIME))
def test_panels_made_by_chance(board: Board, paper: Paper, start: int) -> None:
    cut_ones = folded = turned_up = 0
    for seed in range(start, start + AT_A_TIME):
        panel = Panel(seed)
        pattern, told = board.result("\n".join(panel.lines))
        if pattern is None:
            # A slash that leads across the mouth of the dart: refused before anything is cut.
            assert {item.code for item in told if item.severity == "error"} == {"through-opening"}
            continue
        piece = pattern.pieces["panel"]
        cut = cut_line(piece, pattern.allowances)
        assert cut is not None, seed
        assert all(item.severity != "error" for item in unfinished(pattern)), seed
        assert self_crossings(cut, closed=True) == [], seed
        ring = paper.polygon(cut, 0.0005)
        assert ring.is_valid, seed
        assert ring.buffer(0.01).contains(paper.polygon(piece.outline)), seed
        cut_ones += 1
        for opening in piece.openings:
            if opening.style == "knife":
                folded += check_folded(cut, opening, opening.pressed == "first", near=30.0)
        if panel.hem is not None and panel.straight:
            number = next(i for i, e in enumerate(piece.edges) if e.label.name == "hem")
            assert folded_apart(paper, piece, cut, number, panel.hem) < 0.01, seed
            turned_up += 1
    assert cut_ones > 20
    assert folded > 1000
    assert turned_up > 3
