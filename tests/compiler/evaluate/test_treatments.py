"""What an opening becomes: flare, dart, pleats of every kind, gathers; and where a dart may go."""

from __future__ import annotations

import cmath
import math

import pytest

PLEATED = """\
count = {count}
depth = {depth}
spacing = {spacing}
{on}  repeat i from 1 to count
    line fold[i] = on waist {first} + (i - 1) * spacing from centre
      to on hem {first} + (i - 1) * spacing from centre
  spread fold[1..count] by {opening} {how} as {treatment}
"""


def pleated(
    board,
    count=5,
    depth="2 cm",
    spacing="6 cm",
    first="5 cm",
    opening="2 * depth",
    how="",
    treatment="pleat",
    on=None,
    trim="  fold-trim fold[1..count] toward centre\n",
):
    text = PLEATED.format(
        count=count,
        depth=depth,
        spacing=spacing,
        first=first,
        opening=opening,
        how=how,
        treatment=treatment,
        on=on or board.panel,
    )
    return board.pattern(text + trim).pieces["panel"]


def folds_as_sewn(edge):
    """Where along an edge its folds lie, as it is sewn, in mm."""
    found, gone = [], 0.0
    for run in edge.runs:
        if run.role == "intake":
            found.append(gone)
        gone += run.sewn
    return found


# ---------------------------------------------------------------- pleats by count, depth, spacing


@pytest.mark.parametrize("count", [1, 2, 5, 6])
@pytest.mark.parametrize("depth", ["5 mm", "2 cm", "3 cm"])
def test_parallel_pleats_by_count_depth_and_spacing(board, look, count, depth):
    panel = pleated(board, count, depth)
    deep = {"5 mm": 5, "2 cm": 20, "3 cm": 30}[depth]
    for name in ("waist", "hem"):
        edge = look.edge(panel, name)
        assert edge.sewn == pytest.approx(400, abs=1e-6)
        assert edge.length == pytest.approx(400 + 2 * deep * count, abs=1e-6)
        places = folds_as_sewn(edge)
        if name == "hem":
            places = [400 - place for place in places[::-1]]
        assert places == pytest.approx([50 + 60 * i for i in range(count)], abs=1e-6)
    for fold in panel.openings:
        assert fold.kind == "pleat"
        assert fold.intake == pytest.approx(2 * deep)
        assert fold.opens == pytest.approx(2 * deep)
        assert fold.trimmed
    look.conserved(panel)


def test_pleats_that_run_out_to_nothing(board, look):
    panel = pleated(board, how="at waist hinged on hem")
    assert look.edge(panel, "waist").length == pytest.approx(400 + 5 * 40 + 0, abs=3)
    assert look.edge(panel, "waist").sewn == pytest.approx(400, abs=1e-6)
    assert look.edge(panel, "hem").length == pytest.approx(400, abs=1e-6)
    for fold in panel.openings:
        assert fold.hinged
        assert fold.intake == pytest.approx(40)


@pytest.mark.parametrize(
    ("treatment", "style", "trim"),
    [
        ("pleat", "knife", " toward centre"),
        ("knife pleat", "knife", " toward right"),
        ("box pleat", "box", ""),
        ("inverted pleat", "inverted", ""),
    ],
)
@pytest.mark.parametrize("how", ["", "at waist hinged on hem", "at waist and 1 cm at hem"])
def test_every_style_parallel_and_tapering(board, look, treatment, style, trim, how):
    text = f"  fold-trim fold[1..count]{trim}\n"
    panel = pleated(board, 3, spacing="10 cm", how=how, treatment=treatment, trim=text)
    assert {fold.style for fold in panel.openings} == {style}
    assert look.edge(panel, "waist").sewn == pytest.approx(400, abs=1e-6)
    assert look.edge(panel, "hem").sewn == pytest.approx(400, abs=1e-6)
    assert all(fold.trimmed for fold in panel.openings)
    look.conserved(panel)


def test_on_a_curved_waist(board, look):
    on = board.quarter.replace("piece quarter", "piece panel")
    before = board.piece("", board.quarter)
    panel = pleated(board, 3, spacing="5 cm", on=on)
    for name in ("waist", "hem"):
        assert look.edge(panel, name).sewn == pytest.approx(look.edge(before, name).sewn, rel=1e-12)
    look.conserved(panel)


def test_forty_pleats(board, look):
    """A kilt's worth: 40 pleats, a centimetre of each to be seen."""
    panel = pleated(board, 39, depth="4 mm", spacing="1 cm", first="1 cm")
    assert look.edge(panel, "waist").sewn == pytest.approx(400, abs=1e-6)
    assert len(panel.openings) == 39
    look.conserved(panel)


# ---------------------------------------------------------------- gathers


def test_gathers_are_cut_longer_and_sewn_as_before(board, look):
    panel = pleated(
        board, 4, opening="5 cm", treatment="gather", how="at waist hinged on hem", trim=""
    )
    waist = look.edge(panel, "waist")
    assert waist.sewn == pytest.approx(400, abs=1e-6)
    assert waist.length == pytest.approx(600, abs=1e-6)
    ratio = waist.length / waist.sewn
    assert ratio == pytest.approx(1.5)
    look.conserved(panel)


def test_a_gathered_edge_is_trued_as_it_is_cut(board, look):
    panel = pleated(
        board,
        4,
        opening="5 cm",
        treatment="gather",
        how="at waist hinged on hem",
        trim="  true waist\n",
    )
    waist = look.edge(panel, "waist")
    assert waist.path.corners(1e-3) == ()
    assert waist.sewn == pytest.approx(400, abs=2)
    look.conserved(panel)


# ---------------------------------------------------------------- darts that go elsewhere

DART = "dart tuck on waist at 1/2 from centre intake 5 cm length 18 cm\n"


def angle(opening):
    first = opening.first.end - opening.point
    second = opening.second.end - opening.point
    return abs(cmath.phase(first / second))


@pytest.mark.parametrize("edge", ["side", "hem", "centre", "waist"])
@pytest.mark.parametrize("treatment", ["flare", "pleat", "gather", "dart ending 3 cm short"])
def test_a_dart_moves_to_any_edge(board, look, edge, treatment):
    place = "9/10" if edge == "waist" else "1/2"
    before = board.piece(DART)
    after = board.piece(
        f"{DART}line new = tuck.point to on {edge} {place}\nclose tuck into new as {treatment}"
    )
    (opening,) = after.openings
    assert opening.kind == treatment.split()[0]
    assert angle(opening) == pytest.approx(angle(before.openings[0]), abs=1e-9)
    gain = 0.0 if treatment != "flare" else opening.intake
    for name in ("waist", "side", "hem", "centre"):
        sewn = look.edge(before, name).sewn + (gain if name == edge else 0)
        assert look.edge(after, name).sewn == pytest.approx(sewn, abs=1e-6)
    if treatment.startswith("dart"):
        assert abs(opening.tip - opening.point) == pytest.approx(30)
    look.conserved(after)


def test_a_dart_split_among_several(board, look):
    after = board.piece(
        DART + "line new[1] = tuck.point to on side 1/4 from waist\n"
        "line new[2] = tuck.point down to hem\n"
        "line new[3] = tuck.point to on centre 1/4 from waist\n"
        "close tuck into new[1..3] as dart\n"
        "fold-trim new[1] toward waist\nfold-trim new[2] toward centre\nfold-trim new[3] toward up"
    )
    whole = 2 * math.atan(2.5 / 18)
    assert [angle(item) for item in after.openings] == pytest.approx([whole / 3] * 3, abs=1e-3)
    assert sum(angle(item) for item in after.openings) == pytest.approx(
        angle(board.piece(DART).openings[0]), abs=1e-9
    )
    look.conserved(after)


def test_half_to_flare_and_half_to_gathers(board, look):
    after = board.piece(
        DART + "line new[1] = tuck.point down to hem\nclose tuck by 1/2 into new[1]\n"
        "line new[2] = tuck.point to on side 1/3 from waist\nclose tuck into new[2] as gather"
    )
    assert [item.kind for item in after.openings] == ["flare", "gather"]
    assert angle(after.openings[0]) == pytest.approx(angle(after.openings[1]), abs=1e-9)
    assert look.edge(after, "side").sewn == pytest.approx(600, abs=1e-6)
    look.conserved(after)


# ---------------------------------------------------------------- darts that reach no edge


def test_a_fish_eye_dart(board, look):
    panel = board.piece(
        """
        line middle = origin right 20 cm down 10 cm to origin right 20 cm down 40 cm
        dart tuck along middle intake 3 cm at on middle 1/3
        """
    )
    (dart,) = panel.openings
    assert dart.kind == "fish-eye dart"
    assert dart.intake == pytest.approx(30)
    assert dart.area == pytest.approx(300 * 30 / 2)
    assert dart.first.length == pytest.approx(dart.second.length)
    # It takes nothing from any edge, and is no fold to be trimmed.
    for name in ("waist", "side", "hem", "centre"):
        edge = look.edge(panel, name)
        assert edge.length == edge.sewn


def test_a_fish_eye_dart_moves_with_its_paper(board, look):
    panel = board.piece(
        """
        line middle = origin right 30 cm down 10 cm to origin right 30 cm down 40 cm
        dart tuck along middle intake 3 cm at on middle 1/3
        line open = on waist 1/2 to on hem 1/2
        spread open by 6 cm at hem hinged on waist
        """
    )
    dart = next(item for item in panel.openings if item.kind == "fish-eye dart")
    assert dart.area == pytest.approx(300 * 30 / 2)
    look.conserved(panel)


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ("dart tuck on waist at 1/2 intake 4 cm length 70 cm", "the point of `tuck` falls"),
        (
            "dart tuck on waist at 1/2 intake 4 cm to origin right 50 cm down 10 cm",
            "the point of `tuck` falls",
        ),
        (
            "line middle = origin right 5 cm down 5 cm to origin right 5 cm down 40 cm\n"
            "dart tuck along middle intake 12 cm at on middle 1/2",
            "`tuck` runs",
        ),
    ],
)
def test_a_dart_point_outside_the_piece(board, lines, message):
    wrong = board.mistake(lines)
    assert wrong.message.startswith(message)
    assert "outside the paper" in wrong.message
    assert "cm" in wrong.message
    assert wrong.help


def test_figures_are_shown_in_the_unit_of_the_file(board):
    wrong = board.mistake(
        "dart tuck on waist at 1/2 intake 2 in length 30 in",
        board.panel.replace("40 cm", "16 in").replace("60 cm", "24 in"),
    )
    assert " in outside the paper" in wrong.message
    assert "cm" not in wrong.message
