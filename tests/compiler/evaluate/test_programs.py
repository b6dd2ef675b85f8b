"""The programs of the language page: all are drawn as they stand, or it is said what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

TESTS = Path(__file__).parents[2]
PROGRAMS = TESTS / "programs"
CORRECTED = TESTS / "programs_corrected"
BODY = {
    "waist_girth": 720.0,
    "hip_girth": 960.0,
    "waist_to_hip": 205.0,
    "bust_girth": 880.0,
    "neck_girth": 360.0,
    "shoulder_length": 125.0,
    "upper_arm_girth": 280.0,
    "arm_length": 600.0,
}
INCH = 25.4


def errors(said):
    return [one for one in said if one.severity == "error"]


@pytest.mark.parametrize("name", ["straight", "a_line", "bodice", "ferry", "flounce", "yoke_skirt"])
def test_it_is_drawn_as_it_stands(cutter, look, name):
    pattern, said = cutter.result(PROGRAMS / f"{name}.oak", BODY)
    assert not [one.message for one in said if one.severity != "note"]
    for piece in pattern.pieces.values():
        look.conserved(piece)


def test_the_a_line_gains_at_the_hem_what_its_darts_give(cutter, look):
    straight = cutter.result(PROGRAMS / "straight.oak", BODY)[0]
    a_line = cutter.result(PROGRAMS / "a_line.oak", BODY)[0]
    for name in ("front", "back"):
        before, after = straight.pieces[name], a_line.pieces[name]
        assert look.edge(after, "waist").length == pytest.approx(
            look.edge(before, "waist").sewn, abs=1e-6
        )
        assert look.edge(after, "hem").length > look.edge(before, "hem").length + 40
        assert look.edge(after, "hem").path.corners(1e-3) == ()


def test_the_flounce_is_swept_to_what_was_asked(cutter, look):
    pattern, _ = cutter.result(PROGRAMS / "flounce.oak")
    flounce = pattern.pieces["flounce"]
    assert look.edge(flounce, "base").length == pytest.approx(112 * INCH, abs=0.01)
    assert look.edge(flounce, "top").length == pytest.approx(72 * INCH, abs=4)
    for name in ("top", "base"):
        assert look.edge(flounce, name).path.corners(1e-3) == ()


def test_the_yoke_meets_the_skirt_after_truing(cutter, look):
    """The yoke line is blended where its dart was closed, and still matches within a millimetre."""
    pattern, said = cutter.result(PROGRAMS / "yoke_skirt.oak", BODY)
    assert not errors(said)
    (seam,) = pattern.seams
    assert abs(seam.second_sewn - seam.first_sewn) < 1.0
    yoke = look.edge(pattern.pieces["front_yoke"], "yoke_line")
    assert yoke.path.corners(1e-3) == ()
    # The other part of the back is not taken, so nothing is compared with it.
    assert [piece.name for piece in pattern.made] == ["front_yoke", "front_skirt", "back_yoke"]
    pleat = look.edge(pattern.pieces["front_skirt"], "hem")
    assert pleat.length - pleat.sewn == pytest.approx(240, abs=1e-6)


def test_the_drapes_keep_the_seam_they_open(cutter, look):
    pattern, _ = cutter.result(PROGRAMS / "ferry.oak", BODY)
    front, back = pattern.pieces["front"], pattern.pieces["back"]
    side = look.edge(back, "side").sewn
    for half in ("left", "right"):
        assert look.edge(front, f"{half}.side").sewn == pytest.approx(side, abs=1e-6)
    opened = look.edge(front, "right.side")
    assert opened.length > opened.sewn + 3 * 100


# ---------------------------------------------------------------- where the program is wrong


def test_the_sleeve_asks_for_a_back_that_the_bodice_lacks(cutter):
    """tests/programs/bodice.oak draws a front only: sleeve.oak is wrong as it stands."""
    pattern, said = cutter.result(PROGRAMS / "sleeve.oak", BODY)
    assert pattern is None
    (wrong,) = errors(said)
    assert wrong.message == "the pattern `bodice` has no `back`"
    assert wrong.help == "it has `front`"
    assert wrong.span.text == "back"


def test_beside_a_bodice_with_a_back_the_sleeve_fits(cutter):
    pattern, said = cutter.result(CORRECTED / "sleeve.oak", BODY)
    assert not errors(said), [one.message for one in said]
    caps = cutter.ask(pattern, "sewn(sleeve.front_cap) + sewn(sleeve.back_cap)")
    armholes = cutter.ask(pattern, "sewn(bodice.front.armhole) + sewn(bodice.back.armhole)")
    assert caps - armholes == pytest.approx(30, abs=1e-4)
    assert 80 <= cutter.ask(pattern, "cap_height") <= 200
    # The seams match; the notches of the cap have no partner on these bodices, and the sleeve
    # narrows in straight lines, so that its hem and its cap get points over the underarm seam.
    assert {one.code for one in said} == {"lone-notch", "not-flowing"}
    flowing = [one.message for one in said if one.code == "not-flowing"]
    assert len(flowing) == 2
    assert all("`sleeve.front_seam` and `sleeve.back_seam`" in message for message in flowing)


@pytest.mark.parametrize("arm", [240.0, 280.0, 340.0])
def test_the_sleeve_fits_other_arms_too(cutter, arm):
    pattern, _ = cutter.result(CORRECTED / "sleeve.oak", {**BODY, "upper_arm_girth": arm})
    caps = cutter.ask(pattern, "sewn(sleeve.front_cap) + sewn(sleeve.back_cap)")
    assert caps == pytest.approx(cutter.ask(pattern, "armhole + ease"), abs=1e-4)


def test_an_arm_too_thick_for_the_armhole_has_no_sleeve(cutter):
    pattern, said = cutter.result(CORRECTED / "sleeve.oak", {**BODY, "upper_arm_girth": 480.0})
    assert pattern is None
    (wrong,) = errors(said)
    assert wrong.code == "no-solution"
    assert wrong.message.startswith("no `cap_height` between 8 cm and 20 cm")
    assert wrong.message.count("they are") == 2


def test_the_side_that_is_longer_is_eased_in(cutter):
    """In waistband.oak the skirt comes first and is 1 cm longer."""
    _, said = cutter.result(PROGRAMS / "waistband.oak", BODY)
    assert not [one.message for one in said if one.severity != "note"]
    pattern, said = cutter.result(CORRECTED / "waistband.oak", BODY)
    assert not errors(said)
    assert cutter.ask(pattern, "length(band.outer.seam)") == pytest.approx(730)
