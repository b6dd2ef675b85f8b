"""Pleats, gathers and bindings against published figures, in inches."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from tests.conftest import Cutter

PLEATS = Path(__file__).parent / "pleats.oak"
INCH = 25.4  # mm, exact


@pytest.fixture(scope="module")
def pleats(cutter: Cutter) -> Pattern:
    return cutter.draw_all(PLEATS)


def inches(cutter: Cutter, pattern: Pattern, question: str) -> float:
    return cutter.ask(pattern, question) / INCH


def test_the_pleats_of_1922(cutter: Cutter, pleats: Pattern) -> None:
    """Conover, "Skirts" (1922), pp. 63-69: half cloth 44; half waist 14, so 30 are pleated away.

    Half hip 20, so 24. Of eight pleats the first is 2 1/8 deep; the other seven take 27 7/8 / 7 at
    the waist ("a little more than 3 7/8") and 21 7/8 / 7 = 3 1/8 at the hip.
    """
    for name, finished, away in (("waist", 14, 30), ("hip", 20, 24)):
        length = inches(cutter, pleats, f"length(pleated.{name})")
        sewn = inches(cutter, pleats, f"sewn(pleated.{name})")
        assert length == pytest.approx(44, abs=1e-9)
        assert sewn == pytest.approx(finished, abs=1e-9)
        assert length - sewn == pytest.approx(away, abs=1e-9)
    runs = {
        edge.label.name: [run.length / INCH for run in edge.runs if run.role == "intake"]
        for edge in pleats.pieces["pleated"].edges
    }
    assert sorted(runs["waist"]) == pytest.approx([2.125] + [27.875 / 7] * 7, abs=1e-9)
    assert sorted(runs["hip"]) == pytest.approx([2.125] + [3.125] * 7, abs=1e-9)
    assert 3.875 < 27.875 / 7 == pytest.approx(3.98, abs=0.005)


def test_each_pleat_takes_a_little_more_at_the_waist(cutter: Cutter, pleats: Pattern) -> None:
    """Erwin, "Practical Dress Design", p. 148: hip 35, waist 27, 8 in more go at the waist."""
    assert inches(cutter, pleats, "sewn(round.waist)") == pytest.approx(27, abs=1e-9)
    assert inches(cutter, pleats, "sewn(round.hip)") == pytest.approx(35, abs=1e-9)
    cloth = [inches(cutter, pleats, f"length(round.{name})") for name in ("waist", "hip")]
    assert cloth[0] == pytest.approx(cloth[1], abs=1e-9)
    assert cloth[0] == pytest.approx(35 + 18 * 2, abs=1e-9)


@pytest.mark.parametrize("ratio", [1.5, 2, 2.5, 3])
def test_gathers_are_cut_by_their_ratio(cutter: Cutter, ratio: float) -> None:
    """stitchcoach.blogspot.com: 1.5 light or heavy, 2 standard, 2.5 to 3 full or sheer."""
    pattern = cutter.draw_all(PLEATS, ratio=ratio)
    assert inches(cutter, pattern, "sewn(ruffle.top)") == pytest.approx(40, abs=1e-9)
    assert inches(cutter, pattern, "length(ruffle.top)") == pytest.approx(40 * ratio, abs=1e-9)


@pytest.mark.parametrize(
    ("side", "width", "length"),
    [
        (20, 2, 200),  # mydecozo.co.uk
        (36, 2, 648),  # sew-whats-new.com: 18 yd
        (12, 2, 72),
        (math.sqrt(350), 3.5, 100),  # quiltersquestiontime.com: 18.71, cut 19
        (math.sqrt(500), 2, 250),  # the same: 22.36, cut 23
    ],
)
def test_a_bias_strip_has_the_area_of_its_square(
    cutter: Cutter, side: float, width: float, length: float
) -> None:
    pattern = cutter.draw_all(PLEATS, square_side=side * INCH, strip_width=width * INCH)
    assert inches(cutter, pattern, "length(binding.base)") == pytest.approx(length, abs=1e-9)
    area = cutter.ask(pattern, "area(binding)") / INCH**2
    assert area == pytest.approx(side**2, rel=1e-12)
