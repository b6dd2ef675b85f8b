"""The skirts beside the straight one, and the band: what must hold for every body."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

if TYPE_CHECKING:
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece
    from tests.conftest import Cutter

STDLIB = Path(__file__).parents[2] / "stdlib"
A_LINE = STDLIB / "skirts" / "a_line.oak"
STRAIGHT = STDLIB / "skirts" / "straight.oak"
CIRCLE = STDLIB / "skirts" / "circle.oak"
GORED = STDLIB / "skirts" / "gored.oak"
BAND = STDLIB / "bands" / "straight.oak"
SIZES = [str(number) for number in range(1, 13)]
EXACT = 0.1  # mm

# As in test_straight.py, but no wider in the hips than people are: hips less waist was up to 289 mm
# in 99 of 100 women of the survey.
BODIES = st.fixed_dictionaries(
    {
        "waist_girth": st.floats(611, 1040),
        "more": st.floats(-60, 300),
        "waist_to_hip": st.floats(170, 240),
    }
).map(
    lambda drawn: {
        "waist_girth": drawn["waist_girth"],
        "hip_girth": drawn["waist_girth"] + drawn["more"],
        "waist_to_hip": drawn["waist_to_hip"],
    }
)


def edge(piece: Piece, name: str) -> Edge:
    return next(edge for edge in piece.edges if str(edge.label) == name)


# ---------------------------------------------------------------- A-line


@settings(max_examples=60, deadline=None)
@given(body=BODIES, share=st.sampled_from([0.25, 0.5, 1.0]))
def test_an_a_line_keeps_the_waist_and_the_sides_of_the_straight_skirt(
    cutter: Cutter, body: dict[str, float], share: float
) -> None:
    pattern = cutter.draw(A_LINE, body, share=share)
    straight = cutter.draw(STRAIGHT, body)
    for name in ("front", "back"):
        piece, block = pattern.pieces[name], straight.pieces[name]
        # Truing the waist takes off its corners at the closed darts, and a little of its length.
        lost = edge(block, "waist").sewn - edge(piece, "waist").sewn
        assert -EXACT <= lost < 1.5
        assert edge(piece, "side").sewn == pytest.approx(edge(block, "side").sewn, abs=1e-6)
        assert edge(piece, "centre").length == pytest.approx(600, abs=1e-6)
        if block.openings:
            assert edge(piece, "hem").length > edge(block, "hem").length
        darts = [item for item in piece.openings if item.kind == "dart"]
        assert len(darts) == (len(block.openings) if share < 1 else 0)
        for name in ("waist", "hem"):
            for run in edge(piece, name).runs:
                assert run.role == "intake" or not run.path.corners(1e-4)
    front, back = (edge(pattern.pieces[name], "side").sewn for name in ("front", "back"))
    assert front == pytest.approx(back, abs=1e-6)


def test_the_hem_opens_by_the_angles_of_the_darts(cutter: Cutter) -> None:
    """A dart of angle a, closed, opens a line L long by 2 L sin(a/2) straight across."""
    body = cutter.size("4")
    pattern, straight = cutter.draw(A_LINE, body), cutter.draw(STRAIGHT, body)
    for name in ("front", "back"):
        darts = straight.pieces[name].openings
        flares = pattern.pieces[name].openings
        assert [item.kind for item in flares] == ["flare"] * len(darts)
        for dart, flare in zip(darts, flares, strict=True):
            angle = 2 * math.asin(dart.intake / 2 / dart.first.length)
            opened = 2 * flare.first.length * math.sin(angle / 2)
            # The hem is trued after it has opened: the sides of the opening end at the old hem.
            assert flare.intake == pytest.approx(opened, abs=1e-6)


def test_the_hem_is_smooth_and_does_not_wave(cutter: Cutter) -> None:
    """All lines are drawn before the first dart is closed, so the hem bends one way only."""
    pattern = cutter.draw(A_LINE, cutter.size("4"))
    for piece in pattern.pieces.values():
        path = edge(piece, "hem").path
        count = 40
        ways = [path.tangent_at(path.length * step / count) for step in range(count + 1)]
        turns = [cmath.phase(b / a) for a, b in pairwise(ways)]
        # Clockwise outline, hem from side to centre: it turns to the right, but for a trace.
        assert max(turns) < 0.004
        assert min(turns) < -0.004


# ---------------------------------------------------------------- circles


@settings(max_examples=100, deadline=None)
@given(
    waist=st.floats(500, 1400),
    portion=st.floats(0.25, 1),
    length=st.floats(100, 1300),
    panels=st.integers(1, 8),
)
def test_a_circle_has_its_waist_and_its_hem(
    cutter: Cutter, waist: float, portion: float, length: float, panels: int
) -> None:
    pattern = cutter.draw(
        CIRCLE,
        {"waist_girth": waist},
        portion=portion,
        length=length,
        panels=panels,
        waist_ease=0,
    )
    panel = pattern.pieces["panel"]
    radius = waist / (2 * math.pi * portion)
    assert 2 * panels * edge(panel, "waist").sewn == pytest.approx(waist, abs=1e-6)
    hem = 2 * math.pi * portion * (radius + length)
    assert 2 * panels * edge(panel, "hem").sewn == pytest.approx(hem, abs=1e-6)
    assert edge(panel, "side").length == pytest.approx(length, abs=1e-6)
    ring = math.pi * portion * ((radius + length) ** 2 - radius**2)
    assert 2 * panels * panel.area == pytest.approx(ring, rel=1e-9)
    assert edge(panel, "centre").on_fold
    assert [(cut.piece, cut.count) for cut in pattern.cuts] == [("panel", panels)]


# ---------------------------------------------------------------- gores


@settings(max_examples=100, deadline=None)
@given(
    body=BODIES,
    gores=st.integers(4, 12),
    sweep=st.floats(1000, 4000),
    length=st.floats(500, 1200),
    slim=st.booleans(),
)
def test_gores_have_their_waist_hips_and_sweep(
    cutter: Cutter, body: dict[str, float], gores: int, sweep: float, length: float, slim: bool
) -> None:
    choices = {"gores": gores, "sweep": sweep, "length": length, "slim_front": slim}
    flare = (sweep - max(body["hip_girth"], body["waist_girth"])) / (gores - 1) / 2
    assume(flare < 0.6 * (length - body["waist_to_hip"]))
    pattern = cutter.draw(GORED, body, **choices)
    front, gore = pattern.pieces["front"], pattern.pieces["gore"]
    waist = 2 * edge(front, "waist").sewn
    waist += (gores - 1) * cutter.ask(pattern, "sewn(gore.waist)")
    assert waist == pytest.approx(body["waist_girth"] + 20, abs=EXACT)
    hips = cutter.ask(pattern, f"2 * length(front.hip_line) + {gores - 1} * length(gore.hip_line)")
    widest = max(body["hip_girth"], body["waist_girth"])
    assert hips == pytest.approx(widest + 40, abs=EXACT)
    # Straight across from corner to corner.
    across = abs(edge(gore, "left.hem").end - edge(gore, "right.hem").start)
    swept = 2 * edge(front, "hem").start.real + (gores - 1) * across
    assert swept == pytest.approx(sweep, abs=EXACT)
    assert edge(front, "side").sewn == pytest.approx(edge(gore, "left.side").sewn, abs=0.3)
    assert edge(gore, "left.side").sewn == pytest.approx(edge(gore, "right.side").sewn, abs=1e-6)
    # Both go down the same way below the hips, so that the hem hangs level.
    assert edge(front, "centre").length == pytest.approx(length, abs=1e-6)
    assert [(cut.piece, cut.count) for cut in pattern.cuts] == [("front", 1), ("gore", gores - 1)]


def test_a_hem_too_wide_for_the_length_is_refused_in_words(cutter: Cutter) -> None:
    _, said = cutter.result(GORED, cutter.size("4"), gores=4, sweep=6000, length=400)
    assert {one.code for one in said} == {"requirement"}
    assert said[0].message == "the hem is too wide for so short a gore: make more of them"


# ---------------------------------------------------------------- bands


@settings(max_examples=60, deadline=None)
@given(
    waist=st.floats(500, 1400),
    depth=st.floats(10, 150),
    underlap=st.floats(10, 100),
    button=st.floats(8, 40),
)
def test_a_band_is_as_long_as_the_waist_and_its_underlap(
    cutter: Cutter, waist: float, depth: float, underlap: float, button: float
) -> None:
    button = min(button, depth, underlap - 3)  # no wider than the band and its underlap take
    choices = {"depth": depth, "underlap": underlap, "button_size": button}
    pattern = cutter.draw(BAND, {"waist_girth": waist}, **choices)
    band = pattern.pieces["band"]
    seam = cutter.ask(pattern, "sewn(band.outer.seam)")
    assert seam == pytest.approx(waist + 20, abs=1e-6)
    assert band.area == pytest.approx((waist + 20 + underlap) * 2 * depth, rel=1e-9)
    (outer_button,) = (mark for mark in band.marks if mark.kind == "button")
    (outer_hole,) = (mark for mark in band.marks if mark.kind == "buttonhole")
    # Closed, the button comes through the buttonhole: they are the waist apart.
    assert abs(outer_button.at - outer_hole.at) == pytest.approx(waist + 20, abs=1e-6)
    assert outer_hole.size == pytest.approx(button + 3)


def test_a_band_fits_the_skirt_it_is_made_for(cutter: Cutter) -> None:
    body = cutter.size("4")
    skirt = cutter.draw(STRAIGHT, body)
    waist = cutter.ask(skirt, "2 * (sewn(front.waist) + sewn(back.waist))")
    side = cutter.ask(skirt, "sewn(back.waist)")
    pattern = cutter.draw(BAND, body, length=waist, to_side=side)
    notches = [mark.at for mark in pattern.pieces["band"].marks if mark.kind == "notch"]
    places = sorted({round(place.real, 6) for place in notches})
    assert places == pytest.approx([side, waist / 2, waist - side, waist], abs=1e-6)
