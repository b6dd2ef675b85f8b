"""Two patterns compared: what is told of a change, and what is not."""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING

import pytest
import resvg_py

from oaktag.compiler.geometry import rotation
from oaktag.compiler.revise.diff import compare
from oaktag.compiler.revise.diff.changes import turned_round
from oaktag.compiler.revise.diff.data import as_json
from oaktag.compiler.revise.diff.laying import grain_turned, laid_on
from oaktag.compiler.revise.diff.overlay import overlay
from oaktag.compiler.revise.diff.words import briefly, sentences

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.revise.diff.changes import Changes
    from tests.compiler.conftest import Board

# The stagehands' smock: a front on the fold with a dart, and a back with a seam.
SMOCK = """\
pattern "Stagehand's smock"
measure bust_girth = 96 cm
choose length = 70 cm from 40 cm to 110 cm
choose pocket = yes
choose darts = 1

piece front
  top = origin
  foot = top down length
  top_side = top right bust_girth / 4 + 3 cm
  foot_side = foot right bust_girth / 4 + 6 cm
  outline
    neck = top to top_side
    side = top_side to foot_side
    hem = foot_side to foot
    centre = foot to top
  grain along centre
  fold on centre
  # the smock must not gape when the ladder is carried
  dart neck_dart on neck at 1/2 from centre intake 2 cm length 9 cm
  fold-trim neck_dart toward centre
  notch on side at 1/3 from neck
  if pocket
    drill at top right 8 cm down 30 cm

piece back
  top = origin
  foot = top down length
  top_side = top right bust_girth / 4 + 3 cm
  foot_side = foot right bust_girth / 4 + 6 cm
  outline
    neck = top to top_side
    side = top_side to foot_side
    hem = foot_side to foot
    centre = foot to top
  grain along centre
  notch on side at 1/3 from neck

allow 1.5 cm on front, back
allow 3 cm on front.hem, back.hem as hem
sew front.side to back.side
cut 1 front in canvas
cut 2 back as pair in canvas
"""

# Each revision: what is written otherwise in the second file.
REVISIONS: dict[str, list[tuple[str, str]]] = {
    "longer": [("length = 70 cm", "length = 72.5 cm")],
    "wider hem": [("bust_girth / 4 + 6 cm", "bust_girth / 4 + 9 cm")],
    "dart deeper": [("intake 2 cm length 9 cm", "intake 3 cm length 11 cm")],
    "dart pressed the other way": [("toward centre", "toward side")],
    "dart left out": [
        ("  dart neck_dart on neck at 1/2 from centre intake 2 cm length 9 cm\n", ""),
        ("  fold-trim neck_dart toward centre\n", ""),
    ],
    "pocket left out": [("pocket = yes", "pocket = no")],
    "notch moved": [("notch on side at 1/3", "notch on side at 1/4")],
    "side only of the back": [
        ("    side = top_side to foot_side\n    hem = foot_side to foot\n    centre = foot to top\n"
         "  grain along centre\n  notch",
         "    side = top_side curve to foot_side bowed right 2 cm\n    hem = foot_side to foot\n"
         "    centre = foot to top\n  grain along centre\n  notch"),
    ],
    "seam no longer matches": [
        ("piece back\n  top = origin\n  foot = top down length",
         "piece back\n  top = origin\n  foot = top down length + 4 cm"),
    ],
    "allowances and cloth": [
        ("allow 3 cm on front.hem, back.hem as hem", "allow 4 cm on front.hem, back.hem as hem"),
        ("cut 2 back as pair in canvas", "cut 2 back as pair in canvas and lining"),
    ],
    "piece renamed": [
        ("piece back", "piece rear"), ("back.hem", "rear.hem"), ("back.side", "rear.side"),
        ("on front, back", "on front, rear"), ("cut 2 back", "cut 2 rear"),
    ],
    "piece renamed and longer": [
        ("piece back\n  top = origin\n  foot = top down length",
         "piece rear\n  top = origin\n  foot = top down length + 2 cm"),
        ("back.hem", "rear.hem"), ("back.side", "rear.side"),
        ("on front, back", "on front, rear"), ("cut 2 back", "cut 2 rear"),
        ("\nsew ", "\nfasten rear.centre with ties\nsew "),
    ],
    "piece added": [
        ("\nallow 1.5", "\npiece strap\n  strip 60 cm by 8 cm\n\nallow 1.5"),
        ("cut 1 front", "cut 2 strap in canvas\ncut 1 front"),
    ],
    "grain across": [("  grain along centre\n  notch", "  grain along hem\n  notch")],
    "other caption": [("# the smock must not gape when the ladder is carried", "# no gaping")],
    "revision": [("choose length", 'revision "2" date "3 May 2027"\nchoose length')],
    "long line": [
        ("  drill at top",
         "  section rest = side from on side 0 from neck to on side 30 cm from neck\n"
         "  drill at top"),
    ],
    "bound and fastened": [
        ("\nsew ", "\nbind front.neck with 1 cm double in tape\nsew "),
        ("cut 1 front", "fasten back.centre with ties\ncut 1 front"),
    ],
    "title and body": [("Stagehand's smock", "Flyman's smock"), ("96 cm", "104 cm")],
}  # fmt: skip


def revised(text: str, edits: list[tuple[str, str]]) -> str:
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    return text


@pytest.fixture(scope="module")
def smocks(board: Board) -> dict[str, Pattern]:
    drawn = {name: board.pattern(revised(SMOCK, edits)) for name, edits in REVISIONS.items()}
    return {"": board.pattern(SMOCK), **drawn}


def between(smocks: dict[str, Pattern], first: str, second: str) -> Changes:
    return compare(smocks[first], smocks[second])


def test_each_revision_is_told_in_its_sentences(
    smocks: dict[str, Pattern], golden: Callable[[str, str], None]
) -> None:
    told = []
    for name in REVISIONS:
        told += [f"# {name}", *sentences(between(smocks, "", name)), ""]
    golden("sentences.txt", "\n".join(told))


@pytest.mark.parametrize("name", ["", *REVISIONS])
def test_a_pattern_compared_with_itself_differs_in_nothing(
    smocks: dict[str, Pattern], name: str
) -> None:
    changes = between(smocks, name, name)
    assert changes.nothing
    assert sentences(changes) == []


@pytest.mark.parametrize("first", ["", "dart deeper", "piece renamed", "longer"])
@pytest.mark.parametrize("second", REVISIONS)
def test_the_way_back_is_the_reverse(smocks: dict[str, Pattern], first: str, second: str) -> None:
    there, back = between(smocks, first, second), between(smocks, second, first)
    turned = turned_round(back)
    assert set(sentences(turned)) == set(sentences(there))
    assert turned_round(turned) == back
    for name in ("choices", "measures", "pieces", "seams", "finishing"):
        one, other = (sorted(getattr(item, name), key=repr) for item in (turned, there))
        for mine, yours in zip(one, other, strict=True):
            assert sorted(map(repr, _parts(mine))) == sorted(map(repr, _parts(yours)))


def _parts(value: object) -> list[object]:
    """The parts of a change; the order in which edges and folds are told may be another."""
    fields = getattr(value, "fields", ())
    found: list[object] = []
    for name in fields:
        item = getattr(value, name)
        found += item if isinstance(item, tuple) else [item]
    return found


def test_noise_below_the_tolerance_is_silent(board: Board, smocks: dict[str, Pattern]) -> None:
    nearly = board.pattern(revised(SMOCK, [("+ 6 cm", "+ 6.005 cm")]))
    changes = compare(smocks[""], nearly)
    assert not changes.made_otherwise  # the line of a step differs, the paper does not
    exact = compare(smocks[""], nearly, tolerance=0.001)
    assert any("hem" in sentence for sentence in sentences(exact))


def test_papers_are_laid_on_each_other_by_grain_and_a_corner(smocks: dict[str, Pattern]) -> None:
    old, new = smocks[""].pieces["back"], smocks["longer"].pieces["back"]
    motion = laid_on(old, new)
    # The upper corners come to lie on each other, so that the length is seen at the hem.
    tops = [piece.edges[0].start for piece in (old, new)]
    assert motion(tops[1]) == pytest.approx(tops[0])
    turned = new.moved(motion.inverse()).moved(laid_on(old, new.moved(motion.inverse())))
    assert turned.edges[0].start == pytest.approx(old.edges[0].start)


def test_a_piece_drafted_elsewhere_on_the_paper_is_the_same(
    board: Board, smocks: dict[str, Pattern]
) -> None:
    elsewhere = [("piece back\n  top = origin", "piece back\n  top = origin right 5 cm")]
    moved = board.pattern(revised(SMOCK, elsewhere))
    assert not compare(smocks[""], moved).made_otherwise


# A skirt whose sides swing out: every edge leans otherwise when it is made longer.
SWUNG = """\
pattern "Deckhand's skirt"
choose length = 72 cm
choose lean = 0 deg

piece half
  top = origin
  foot = top down length
  side_top = top right 24 cm up 1 cm
  side_foot = foot right 29 cm up 6 mm
  outline
    waist = top curve to side_top leaving right arriving square to side
    side = side_top curve to side_foot arriving -85 deg
    hem = side_foot curve to foot leaving square to side arriving left
    centre = foot to top
  dart waist_dart on waist at 1/2 from centre intake length / 24 length 11 cm
  line slash = waist_dart.point down to hem
  close waist_dart into slash
  grain from foot to foot at 90 deg + lean by 40 cm

piece whole from half
  unfold along centre into right and left

cut 1 whole in main
"""


@pytest.mark.parametrize("longer", ["72.3 cm", "60 cm", "95 cm"])
def test_a_skirt_made_longer_keeps_its_grain(board: Board, longer: str) -> None:
    old = board.pattern(SWUNG)
    new = board.pattern(SWUNG.replace("72 cm", longer))
    assert not any("grain" in line for line in sentences(compare(old, new)))
    for piece in ("half", "whole"):
        assert grain_turned(old.pieces[piece], new.pieces[piece]) == 0


@pytest.mark.parametrize("lean", [-30, -2, 3, 45, 90])
def test_a_grain_that_leans_has_turned_by_so_much(board: Board, lean: float) -> None:
    """Also where the skirt became shorter, and where the paper turned below the grain."""
    old = board.pattern(SWUNG).pieces["half"]
    leaning = SWUNG.replace("lean = 0 deg", f"lean = {lean} deg")
    new = board.pattern(leaning).pieces["half"]
    shorter = board.pattern(leaning.replace("72 cm", "64 cm")).pieces["half"]
    for piece in (new, new.moved(rotation(0j, math.radians(-lean))), shorter):
        assert grain_turned(old, piece) == pytest.approx(abs(lean), abs=1e-6)


def test_an_edge_drawn_anew_turns_no_grain_and_hides_no_turn(board: Board) -> None:
    old = board.pattern(SWUNG)
    redrawn = SWUNG.replace("foot right 29 cm up 6 mm", "foot right 26 cm up 6 mm")
    leaning = redrawn.replace("lean = 0 deg", "lean = 10 deg")
    assert grain_turned(old.pieces["half"], board.pattern(redrawn).pieces["half"]) == 0
    told = grain_turned(old.pieces["half"], board.pattern(leaning).pieces["half"])
    assert told == pytest.approx(10, abs=1e-6)


def test_in_short_what_is_cut_comes_before_drafts_and_alike_pieces_share_a_line(
    board: Board,
) -> None:
    text = SWUNG.replace(
        "cut 1 whole", "piece other from whole\n\ncut 1 other in main\ncut 1 whole"
    )
    changes = compare(board.pattern(text), board.pattern(text.replace("72 cm", "60 cm")))
    lines = briefly(changes)
    assert lines[0] == "Deckhand's skirt: choice length: 60 cm, was 72 cm"
    assert lines[1].startswith("whole and other: left.waist and right.waist 0.5 cm")
    drafts = [line.startswith("half: ") for line in lines]
    assert drafts == sorted(drafts) and any(drafts)
    assert not [
        line for line in sentences(changes) if line.startswith("half: ") and line not in lines
    ]


def test_the_figures_for_other_programs_are_in_millimetres(smocks: dict[str, Pattern]) -> None:
    data = json.loads(as_json(between(smocks, "", "longer")))
    front = next(piece for piece in data["pieces"] if piece["name"]["after"] == "front")
    centre = next(edge for edge in front["edges"] if edge["name"] == "centre")
    assert centre["length"] == {"before": 700.0, "after": 725.0}
    assert "front: centre 2.5 cm longer (72.5 cm, was 70 cm)" in "\n".join(data["sentences"])


def test_new_paper_is_hatched_and_lost_paper_is_dotted(smocks: dict[str, Pattern]) -> None:
    """Looked at as a picture: hatching where the smock grew, nothing where it stayed."""
    old, new = smocks[""], smocks["longer"]
    (page,) = overlay(compare(old, new), old, new, "before → after")
    drawn = page.decode()
    assert drawn.count("<mask") == 4  # grown and gone, of two pieces
    assert bytes(resvg_py.svg_to_bytes(svg_string=drawn, dpi=96)).startswith(b"\x89PNG")
    assert overlay(compare(old, old), old, old, "the same") == []
    assert page == overlay(compare(old, new), old, new, "before → after")[0]
