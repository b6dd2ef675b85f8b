"""Darts that are moved, and paper that is spread, against published figures."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.chain import Edge
    from tests.conftest import Cutter

HERE = Path(__file__).parent
INCH = 25.4  # mm, exact


def edge(pattern: Pattern, piece: str, name: str) -> Edge:
    return next(item for item in pattern.pieces[piece].edges if str(item.label) == name)


def test_a_moved_dart_keeps_its_angle_and_its_width_goes_by_its_radius(cutter: Cutter) -> None:
    """Erwin, "Practical Dress Design", p. 42: swung about the bulge point, on any radius.

    Worked out: 7 cm at 25 cm is 16.1 degrees; at 16 cm the mouth is 2 x 16 x sin(8.05 deg) = 4.48.
    """
    pattern = cutter.draw(HERE / "dart_moved.oak")
    for dart, radius, width in (("front.waist_dart", 250, 70), ("moved.new_place", 160, 44.8)):
        legs = f"on {dart}.legs[1] 1, {dart}.point, on {dart}.legs[2] 1"
        assert cutter.ask(pattern, f"angle({legs})") == pytest.approx(16.1, abs=0.01)
        assert cutter.ask(pattern, f"distance({dart}.point, on {dart}.legs[1] 1)") == pytest.approx(
            radius, abs=1e-6
        )
        assert cutter.ask(pattern, f"{dart}.intake") == pytest.approx(width, abs=0.005)
    exact = 2 * 160 * math.sin(math.asin(35 / 250))
    assert cutter.ask(pattern, "moved.new_place.intake") == pytest.approx(exact, abs=1e-6)
    # The bulge stays where it was; the old mouth is shut, and nothing of the waist is lost.
    assert cutter.ask(pattern, "length(moved.waist)") == pytest.approx(300 - 70, abs=1e-6)
    assert cutter.ask(pattern, "sewn(moved.waist)") == pytest.approx(300 - 70, abs=1e-6)


def test_a_dart_closed_into_the_hem(cutter: Cutter) -> None:
    """Worked out: a dart of 2 by 12 cm has 9.53 degrees; 45 below its tip the hem gains 7.47."""
    pattern = cutter.draw_all(HERE / "spreads.oak")
    angle = cutter.ask(
        pattern,
        "angle(on darted.waist_dart.legs[1] 1, darted.waist_dart.point, "
        "on darted.waist_dart.legs[2] 1)",
    )
    assert angle == pytest.approx(9.53, abs=0.005)
    gained = edge(pattern, "flared", "hem").length - edge(pattern, "darted", "hem").length
    assert gained == pytest.approx(74.7, abs=0.05)
    assert gained == pytest.approx(2 * 450 * math.sin(math.radians(angle) / 2), abs=1e-6)
    # Waist and hip do not change: the line across the tip keeps its length.
    assert edge(pattern, "flared", "waist").sewn == pytest.approx(400 - 20, abs=1e-6)
    assert cutter.ask(pattern, "length(flared.hip_line)") == pytest.approx(400, abs=1e-6)


@pytest.mark.parametrize("slashes", [1, 5, 12])
def test_hinged_one_edge_keeps_its_length_and_the_other_gains_all(
    cutter: Cutter, slashes: int
) -> None:
    """Conover, "Skirts" (1922), p. 17: joined at the hip, spread below by any wanted amount."""
    pattern = cutter.draw_all(HERE / "spreads.oak", slashes=slashes)
    assert edge(pattern, "hinged", "waist").length == pytest.approx(400, abs=1e-6)
    assert edge(pattern, "hinged", "hem").length == pytest.approx(400 + 30 * slashes, abs=1e-6)
    for name in ("side", "centre"):
        assert edge(pattern, "hinged", name).length == pytest.approx(600, abs=1e-6)
    wedge = 30 * math.sqrt(600**2 - 15**2) / 2
    grown = pattern.pieces["hinged"].area - pattern.pieces["panel"].area
    assert grown == pytest.approx(slashes * wedge, abs=1e-3)


@pytest.mark.parametrize("slashes", [1, 5, 12])
def test_parallel_both_edges_gain_the_same(cutter: Cutter, slashes: int) -> None:
    """Worked out from the same source."""
    pattern = cutter.draw_all(HERE / "spreads.oak", slashes=slashes)
    for name in ("waist", "hem"):
        assert edge(pattern, "parallel", name).length == pytest.approx(400 + 30 * slashes, abs=1e-6)
    grown = pattern.pieces["parallel"].area - pattern.pieces["panel"].area
    assert grown == pytest.approx(slashes * 30 * 600, abs=1e-3)


@pytest.mark.parametrize("pleats", [18, 36])
def test_full_knife_pleats_take_three_times_the_cloth(cutter: Cutter, pleats: int) -> None:
    """yuzuandpear.com, "Pleats please 2": waist 72, 18 pleats of 4 or 36 of 2; cloth 216 cm."""
    pattern = cutter.draw_all(HERE / "spreads.oak", pleats=pleats)
    base = edge(pattern, "pleated", "base")
    assert base.length == pytest.approx(2160, abs=1e-6)
    assert base.sewn == pytest.approx(720, abs=1e-6)


# ---------------------------------------------------------------- the circular flounce of 1916


def test_the_circular_flounce_drawn(cutter: Cutter) -> None:
    """Baldt, "Clothing for Women" (1916): 72 x 12 / (112 - 72) = 21.6 inches.

    Worked out: a slice of 191.0 degrees, and (21.6 + 12) x 72/21.6 = 112.
    """
    pattern = cutter.draw(HERE / "flounce.oak")
    assert cutter.ask(pattern, "radius") / INCH == pytest.approx(21.6, abs=1e-9)
    assert cutter.ask(pattern, "turn") == pytest.approx(191.0, abs=0.05)
    top, base = edge(pattern, "drawn", "top"), edge(pattern, "drawn", "base")
    assert top.length / INCH == pytest.approx(72, abs=1e-6)
    assert base.length / INCH == pytest.approx(112, abs=1e-6)
    # Its two ends, seen from the middle of the circle: what lies between them above is left open.
    start, end = edge(pattern, "drawn", "start"), edge(pattern, "drawn", "end")
    left_open = math.degrees(cmath.phase(start.start / end.end))
    assert 360 - left_open == pytest.approx(191.0, abs=0.05)


def test_the_slashed_strip_comes_to_the_drawn_flounce(cutter: Cutter) -> None:
    """With n slashes the strip turns by n x 2 asin(40/2n/12); the error falls with n squared."""
    errors = []
    for slashes in (6, 12, 24, 48, 96):
        pattern = cutter.draw(HERE / "flounce.oak", slashes=slashes)
        assert edge(pattern, "slashed", "top").length / INCH == pytest.approx(72, abs=1e-6)
        assert edge(pattern, "slashed", "base").length / INCH == pytest.approx(112, abs=1e-6)
        ends = [edge(pattern, "slashed", name).path.start_direction for name in ("start", "end")]
        turned = math.degrees(math.atan2((ends[0] / -ends[1]).imag, (ends[0] / -ends[1]).real))
        total = slashes * 2 * math.degrees(math.asin(40 / slashes / 2 / 12))
        assert abs(turned) == pytest.approx(360 - total, abs=1e-6)
        sector = (33.6**2 - 21.6**2) * 72 / 21.6 / 2
        area = pattern.pieces["slashed"].area / INCH**2
        assert pattern.pieces["drawn"].area / INCH**2 == pytest.approx(sector, rel=1e-9)
        errors.append((total - math.degrees(40 / 12), sector - area))
    for (turn, area), (finer_turn, finer_area) in pairwise(errors):
        assert turn / finer_turn == pytest.approx(4, rel=0.1)
        assert area / finer_area == pytest.approx(4, rel=0.1)
    assert errors[-1][0] < 0.01
    assert errors[-1][1] < 0.05


def test_the_opening_that_makes_the_flounce_is_found(cutter: Cutter) -> None:
    """24 slashes share 40 inches: 1.667 each. Found by trial, after both edges are trued."""
    pattern = cutter.draw_all(HERE.parent / "programs" / "flounce.oak")
    assert cutter.ask(pattern, "length(flounce.base)") / INCH == pytest.approx(112, abs=0.001)
    opening = cutter.ask(pattern, "opening") / INCH
    assert opening == pytest.approx(40 / 24, rel=0.002)
    # 191.0 degrees, as Baldt's radius gives; 24 straight pieces come as near as this.
    turned = 24 * 2 * math.degrees(math.asin(opening / 2 / 12))
    assert turned == pytest.approx(191.0, abs=0.4)
    assert cutter.ask(pattern, "length(flounce.top)") / INCH == pytest.approx(72, rel=0.002)
