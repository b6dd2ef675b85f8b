"""Skirts against published drafts. Beside every figure stands where it was published."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from tests.conftest import Cutter

HERE = Path(__file__).parent
SKIRTS = HERE.parents[1] / "stdlib" / "skirts"
INCH = 25.4  # mm, exact


# ---------------------------------------------------------------- straight skirts, W 72, H 96 cm

# A waist that is curved is longer than it is wide: by so many mm at most in these drafts.
CURVED = 1.5


def across(pattern: Pattern, piece: str) -> float:
    """The width of a waist straight across, in mm."""
    waist = next(edge for edge in pattern.pieces[piece].edges if edge.label.name == "waist")
    return waist.end.real - waist.start.real


@pytest.mark.parametrize(
    ("question", "centimetres"),
    [
        ("half_width", 50.5),
        ("length(back.hip_line)", 26.0),
        ("length(front.hip_line)", 24.5),
        ("2 * (length(back.hip_line) + length(front.hip_line))", 96 + 5),
        ("distance(back.waist_dart.point, on back.waist_dart.legs[1] 1)", math.hypot(12, 1)),
        ("distance(front.waist_dart.point, on front.waist_dart.legs[1] 1)", math.hypot(10, 1)),
    ],
)
def test_the_handout_skirt(cutter: Cutter, question: str, centimetres: float) -> None:
    """WikiEducator, "Handout for drafting skirt block"."""
    pattern = cutter.draw(HERE / "handout_skirt.oak")
    assert cutter.ask(pattern, question) / 10 == pytest.approx(centimetres, abs=0.005)


def test_the_waist_of_the_handout_skirt(cutter: Cutter) -> None:
    """The same source: back 21.2, front 20 with a dart of 2 in each; net W + 2.4 = 74.4."""
    pattern = cutter.draw(HERE / "handout_skirt.oak")
    assert across(pattern, "back") == pytest.approx(212, abs=1e-6)
    assert across(pattern, "front") == pytest.approx(200, abs=1e-6)
    net = cutter.ask(pattern, "2 * (sewn(back.waist) + sewn(front.waist))")
    assert 744 <= net <= 744 + 4 * CURVED
    # The front dart lies 11 from the centre.
    mouth = cutter.ask(pattern, "distance(front.top, on front.waist_dart.legs[1] 1)")
    assert mouth == pytest.approx(110 - 10, abs=0.2)


def test_the_textbook_skirt(cutter: Cutter) -> None:
    """Aldrich as retold: back hip 25.5, front 24, back waist 22.25.

    From memory: front waist 20.25, two back darts and one front dart of 2 each. Then the hips are
    H + 3 = 99 and the net waist is W + 1 = 73.
    """
    pattern = cutter.draw(HERE / "block_skirt.oak")
    assert cutter.ask(pattern, "length(back.hip_line)") == pytest.approx(255, abs=1e-6)
    assert cutter.ask(pattern, "length(front.hip_line)") == pytest.approx(240, abs=1e-6)
    hips = cutter.ask(pattern, "2 * (length(back.hip_line) + length(front.hip_line))")
    assert hips == pytest.approx(990, abs=1e-6)
    assert across(pattern, "back") == pytest.approx(222.5, abs=1e-6)
    assert across(pattern, "front") == pytest.approx(202.5, abs=1e-6)
    net = cutter.ask(pattern, "2 * (sewn(back.waist) + sewn(front.waist))")
    assert 730 <= net <= 730 + 4 * CURVED
    lengths = [
        cutter.ask(pattern, f"distance(on {dart}.mouth 1/2, {dart}.point)") / 10
        for dart in ("back.waist_dart[1]", "back.waist_dart[2]", "front.waist_dart")
    ]
    assert lengths == pytest.approx([14, 12.5, 10], abs=0.02)


def test_our_straight_skirt_lies_between_the_two(cutter: Cutter) -> None:
    """The two drafts give 99 and 101 at the hips, 73 and 74.4 at the waist; so do we, about."""
    pattern = cutter.draw(SKIRTS / "straight.oak", cutter.size("4"))
    hips = cutter.ask(pattern, "2 * (length(front.hip_line) + length(back.hip_line))")
    assert 990 <= hips <= 1010
    waist = cutter.ask(pattern, "2 * (sewn(front.waist) + sewn(back.waist))")
    assert 730 <= waist <= 744


# ---------------------------------------------------------------- circles


@pytest.mark.parametrize(
    ("portion", "waist", "radius"),
    [
        # cm, from the published rule: waist over 6.283, 4.712, 3.1416, 1.571 (terican.com, circle
        # skirt; dresspatternmaking.com)
        (1, 72, 11.46),
        (3 / 4, 72, 15.28),
        (1 / 2, 72, 22.92),
        (1 / 4, 72, 45.84),
        # inches, a worked example there: three-quarter circle, waist with ease 27.38
        (3 / 4, 27.38 * 2.54, 5.81 * 2.54),
        # inches, a published home-sewing project: full circle, waist 26 and overlap 15.25
        (1, (26 + 15.25) * 2.54, 6.57 * 2.54),
        # inches, whatthecraft.com: a waist of 32 has a radius of 5.09, not a quarter of it, 8
        (1, 32 * 2.54, 5.09 * 2.54),
    ],
)
def test_radii_of_circle_skirts(
    cutter: Cutter, portion: float, waist: float, radius: float
) -> None:
    pattern = cutter.draw(
        SKIRTS / "circle.oak", {"waist_girth": waist * 10}, portion=portion, waist_ease=0
    )
    drawn = cutter.ask(pattern, "distance(panel.middle, panel.waist_centre)")
    assert drawn / 10 == pytest.approx(radius, abs=0.013)
    assert cutter.ask(pattern, "2 * panels * sewn(panel.waist)") == pytest.approx(waist * 10)


def test_seam_allowance_goes_in_before_the_circle_is_divided(cutter: Cutter) -> None:
    """A sewing teacher's page: 110 + 4 = 114 gives 18.15 (with pi = 3.14), less 1 is 17.15 cm."""
    pattern = cutter.draw(SKIRTS / "circle.oak", {"waist_girth": 1100}, waist_ease=40)
    assert cutter.ask(pattern, "radius - 1 cm") / 10 == pytest.approx(17.15, abs=0.015)


def test_the_hem_of_a_circle_is_its_angle_times_the_outer_radius(cutter: Cutter) -> None:
    for portion in (1, 3 / 4, 1 / 2, 1 / 4):
        pattern = cutter.draw(
            SKIRTS / "circle.oak", {"waist_girth": 720}, portion=portion, waist_ease=0, length=600
        )
        hem = cutter.ask(pattern, "2 * panels * sewn(panel.hem)")
        assert hem == pytest.approx(720 + 2 * math.pi * portion * 600, abs=1e-6)


# ---------------------------------------------------------------- gores


def test_the_five_gores_of_1914(cutter: Cutter) -> None:
    """From "The Perfect Dressmaking System" (1914), p. 13: waist 25, hips 40 inches, five gores.

    5 and 8 a gore; the front gore at the hem twice its waist, 10; round the hem 2 1/4 yards. The
    book rounds the other four to 17.5; 81 inches give 17.75.
    """
    body = {"waist_girth": 25 * INCH, "hip_girth": 40 * INCH, "waist_to_hip": 6 * INCH}
    for sweep, other in ((81, 17.75), (80, 17.5)):
        pattern = cutter.draw(
            SKIRTS / "gored.oak",
            body,
            gores=5,
            slim_front=True,
            sweep=sweep * INCH,
            length=40 * INCH,
            waist_ease=0,
            hip_ease=0,
        )
        questions = {
            "sewn(gore.waist)": 5,
            "2 * sewn(front.waist)": 5,
            "length(gore.hip_line)": 8,
            "2 * length(front.hip_line)": 8,
        }
        for question, inches in questions.items():
            found = cutter.ask(pattern, question) / INCH
            assert found == pytest.approx(inches, abs=0.004), question
        front, gore = pattern.pieces["front"], pattern.pieces["gore"]
        hems = {str(edge.label): edge for piece in (front, gore) for edge in piece.edges}
        assert 2 * hems["hem"].start.real / INCH == pytest.approx(10, abs=0.001)
        width = abs(hems["left.hem"].end - hems["right.hem"].start)
        assert width / INCH == pytest.approx(other, abs=0.001)
