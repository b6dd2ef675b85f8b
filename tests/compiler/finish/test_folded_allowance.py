"""The allowance over darts and pleats, folded by arithmetic of the tests' own.

Pressed as they will be sewn, both layers of a fold are to end on the cut line of the side under
which they lie: each of their points is carried there and measured from that line.
"""

from __future__ import annotations

import math
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.geometry import ring_area, self_crossings
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece
    from tests.compiler.conftest import Board

    Map = Callable[[complex], complex]

EXAMPLES = File(__file__).parents[3] / "examples"
EXACT = 0.02  # mm
STEP = 0.25  # mm


def mirrored(a: complex, b: complex) -> Map:
    way = (b - a) / abs(b - a)
    return lambda p: a + ((p - a) / way).conjugate() * way


def cut_of(board: Board, text: str) -> tuple[Piece, Path]:
    pattern = board.pattern(text)
    piece = list(pattern.pieces.values())[-1]
    cut = cut_line(piece, pattern.allowances)
    assert cut is not None
    return piece, cut


def points(cut: Path) -> Iterator[complex]:
    count = math.ceil(cut.length / STEP)
    yield from (cut.point_at(cut.length * k / count) for k in range(count))


class Wedge:
    """The paper of a dart or pleat: between its two creases, led straight on outward.

    side: 1 or -1, to which side of a crease `first` the paper of the fold lies.
    """

    def __init__(self, opening: Opening) -> None:
        self.creases = [(side.start, side.end) for side in (opening.first, opening.second)]
        (a, b), (c, d) = self.creases
        self.hinged = abs(a - c) < 1e-6
        self.parted = (b - d) / abs(b - d)
        turn = (b - a) / abs(b - a) / ((d - c) / abs(d - c))
        self.onto_first: Map = lambda p: a + (p - c) * turn
        self.onto_second: Map = lambda p: c + (p - a) / turn

    def place(self, p: complex) -> float:
        """0 on the first crease, 1 on the second, as seen across; outside below 0 or above 1."""
        away = []
        for a, b in self.creases:
            way = (b - a) / abs(b - a)
            away.append(((p - a) / way).imag)
        (a, b), (_, d) = self.creases
        sign = 1 if ((d - a) / (b - a)).imag > 0 else -1
        first, second = sign * away[0], -sign * away[1]
        return first / (first + second) if first + second > 0 else -1.0

    def outward(self, p: complex) -> float:
        """How far beyond the mouth, in mm."""
        a, b = self.creases[0]
        return ((p - b) / ((b - a) / abs(b - a))).real


def check_folded(cut: Path, opening: Opening, first: bool, near: float) -> int:
    """Layers of a knife fold pressed to its first or second side; gives the places looked at."""
    wedge = Wedge(opening)
    ring = list(points(cut))
    # The paper beside the fold, on the side to which it is pressed.
    found = 0
    for p in ring:
        share = wedge.place(p)
        if not 1e-6 < share < 1 - 1e-6 or abs(wedge.outward(p)) > near:
            continue
        shut = share if first else 1 - share
        crease = wedge.creases[0 if first else 1]
        over = mirrored(*crease)
        back = wedge.onto_first if first else wedge.onto_second
        image = over(p) if shut < 0.5 else back(p)
        assert wedge.place(image) < 1e-6 if first else wedge.place(image) > 1 - 1e-6
        assert cut.nearest(image)[1] < EXACT, (p, share, image)
        found += 1
    return found


DART = """
pattern "Dart"
piece front
  outline
    waist = origin to origin right 24 cm {waist}
    side = origin right 24 cm {waist} to origin right 26 cm down 40 cm
    hem = origin right 26 cm down 40 cm to origin down 40 cm
    centre = origin down 40 cm to origin
  dart tuck on waist at {at} from centre intake {intake} length 11 cm
  fold-trim tuck toward {toward}
allow 1.5 cm on front
{more}
"""


def dart(toward: str, at: str = "9 cm", waist: str = "up 2 cm", more: str = "") -> str:
    return DART.format(toward=toward, at=at, waist=waist, intake="4 cm", more=more)


@pytest.mark.parametrize("toward", ["centre", "side"])
@pytest.mark.parametrize("waist", ["", "up 2 cm", "up 6 cm"])
def test_the_allowance_of_a_dart_lies_on_the_seam_s_when_pressed(
    board: Board, toward: str, waist: str
) -> None:
    piece, cut = cut_of(board, dart(toward, waist=waist))
    tuck = piece.openings[0]
    pressed_first = tuck.pressed == "first"
    assert check_folded(cut, tuck, pressed_first, near=60.0) > 100


@pytest.mark.parametrize("toward", ["centre", "side"])
def test_a_wide_allowance_keeps_the_pointed_shape(board: Board, toward: str) -> None:
    """A 4 cm allowance over a mouth of 4 cm: nothing is blunted at the point."""
    piece, cut = cut_of(board, dart(toward, more="allow 4 cm on front.waist"))
    tuck = piece.openings[0]
    assert check_folded(cut, tuck, tuck.pressed == "first", near=80.0) > 100


def test_beside_a_corner_the_layers_follow_the_neighbour_s_allowance(board: Board) -> None:
    """5 mm from the centre's edge, 3 cm wide there: pressed to it, the layers are cut along it."""
    piece, cut = cut_of(
        board, dart("centre", at="26 mm", waist="", more="allow 5 mm on front.centre")
    )
    tuck = piece.openings[0]
    assert check_folded(cut, tuck, tuck.pressed == "first", near=60.0) > 60


@pytest.mark.parametrize("clockwise", [False, True])
def test_it_is_the_same_paper_turned_over(board: Board, clockwise: bool) -> None:
    text = dart("centre")
    if clockwise:
        text = text.replace("allow 1.5", "  mirror\nallow 1.5", 1)
    piece, cut = cut_of(board, text)
    tuck = piece.openings[0]
    assert (piece.signed_area > 0) == clockwise
    assert check_folded(cut, tuck, tuck.pressed == "first", near=60.0) > 100


def test_an_untrimmed_dart_keeps_the_plain_allowance(board: Board) -> None:
    text = "\n".join(
        line for line in dart("centre", waist="").splitlines() if "fold-trim" not in line
    )
    piece, cut = cut_of(board, text)
    assert piece.openings[0].kind == "dart"
    mouth = piece.openings[0].mouth
    beside = mouth.point_at(mouth.length / 2) + 15j
    assert cut.nearest(beside)[1] < 1.0
    assert max(p.imag for p in points(cut)) < 16.0


DRAPE = """
pattern "Drape"
piece drape
  strip 40 cm by 60 cm
  {slashes}
  {spread}
  fold-trim {folds} toward {toward}
allow 1.5 cm on drape
{more}
"""


@pytest.mark.parametrize("toward", ["up", "down"])
@pytest.mark.parametrize("slant", ["0 cm", "6 cm", "12 cm"])
@pytest.mark.parametrize("narrow", ["0 cm", "3 cm", "6 cm"])
def test_a_knife_pleat_s_allowance_lies_on_the_seam_s(
    board: Board, toward: str, slant: str, narrow: str
) -> None:
    text = DRAPE.format(
        slashes=f"line slash = on start 25 cm from top to on end 25 cm + {slant} from top",
        spread=f"spread slash by 6 cm at start and {narrow} at end as pleat",
        folds="slash",
        toward=toward,
        more="",
    )
    piece, cut = cut_of(board, text)
    (pleat,) = piece.openings
    assert check_folded(cut, pleat, pleat.pressed == "first", near=40.0) > 50


@pytest.mark.parametrize("toward", ["up", "down"])
def test_where_the_widths_differ_beside_a_pleat_the_step_lies_on_its_crease(
    board: Board, toward: str
) -> None:
    """Upper side 25 mm, lower 15: the layers have the width of the side to which they lie."""
    text = DRAPE.format(
        slashes="line slash = on start 25 cm from top to on end 25 cm from top\n"
        "  section upper = start from on start 25 cm from top to where start meets top",
        spread="spread slash by 6 cm at start and 6 cm at end as pleat",
        folds="slash",
        toward=toward,
        more="allow 25 mm on drape.upper",
    )
    piece, cut = cut_of(board, text)
    (pleat,) = piece.openings
    wedge = Wedge(pleat)
    layers = {
        round(min(edge.path.nearest(p)[1] for edge in piece.edges), 1)
        for p in points(cut)
        if 0.05 < wedge.place(p) < 0.95 and p.real < 200
    }
    assert layers == {25.0 if toward == "up" else 15.0}


@pytest.mark.parametrize("style", ["box", "inverted"])
def test_half_of_a_box_pleat_s_allowance_lies_under_each_side(board: Board, style: str) -> None:
    """Hung from the top, whose line slants: the layers of both halves end on their own side."""
    text = """
    pattern "Box"
    piece panel
      outline
        top = origin to origin right 40 cm up 4 cm
        right = origin right 40 cm up 4 cm to origin right 40 cm down 40 cm
        foot = origin right 40 cm down 40 cm to origin down 40 cm
        left = origin down 40 cm to origin
      line middle = on top 1/2 to on foot 1/2
      spread middle by 8 cm at top and 8 cm at foot as STYLE pleat
      fold-trim middle
    allow 1.5 cm on panel
    """
    piece, cut = cut_of(board, text.replace("STYLE", style))
    (pleat,) = piece.openings
    wedge = Wedge(pleat)
    found = 0
    for p in points(cut):
        share = wedge.place(p)
        if p.imag < 0 or not 1e-6 < share < 1 - 1e-6:
            continue
        first = share < 0.5
        quarter = share % 0.5 * 2 if first else (1 - share) * 2
        # Half of the pleat is a fold of its own, with the other half's middle as second crease.
        crease = wedge.creases[0 if first else 1]
        shift = ((wedge.creases[1][1] - wedge.creases[0][1]) / 2) * (-1 if first else 1)
        image = mirrored(*crease)(p) if quarter < 0.5 else p + shift
        assert cut.nearest(image)[1] < EXACT
        found += 1
    assert found > 200


def test_the_ferrywoman_s_drapes(board: Board) -> None:
    """Three curved pleats hinged at the left side, pressed down, creased straight."""
    from tests.compiler.finish.test_allowance import PROGRAMS

    text = (PROGRAMS / "ferry.oak").read_text(encoding="utf-8")
    pattern = board.pattern(text, waist_girth=720.0, hip_girth=960.0, waist_to_hip=200.0)
    front = pattern.pieces["front"]
    cut = cut_line(front, pattern.allowances)
    assert cut is not None
    drapes = [item for item in front.openings if item.label.name == "drape"]
    assert len(drapes) == 3
    for drape in drapes:
        assert check_folded(cut, drape, drape.pressed == "first", near=60.0) > 100


@pytest.mark.parametrize("toward", ["up", "down"])
def test_a_steep_pleat_is_not_blunted(board: Board, toward: str) -> None:
    """Creased at 17 degrees to the edge: a mitre there would be cut off, folded paper is not."""
    text = DRAPE.format(
        slashes="line slash = on start 40 cm from top to on end 5 cm from base",
        spread="spread slash by 20 mm at start hinged on end as pleat",
        folds="slash",
        toward=toward,
        more="",
    ).replace("strip 40 cm by 60 cm", "strip 5 cm by 60 cm")
    piece, cut = cut_of(board, text)
    (pleat,) = piece.openings
    assert check_folded(cut, pleat, pleat.pressed == "first", near=200.0) > 50


@pytest.mark.parametrize("name", ["right", "left"])
def test_the_lamplighter_s_darts_beside_very_short_stretches_of_edge(name: str) -> None:
    """0.2 mm of edge stay beside the mouths where the waist was drawn anew: too short to be cut."""
    file = str(EXAMPLES / "lamplighter" / "jacket.oak")
    pattern = evaluate(load(file, DiskFiles(file)), {}).pattern
    assert pattern is not None
    piece = pattern.pieces[name]
    cut = cut_line(piece, pattern.allowances)
    assert cut is not None
    assert self_crossings(cut, closed=True) == []
    for dart in ("waist_dart", "under_arm"):
        (opening,) = [item for item in piece.openings if item.label.name == dart]
        assert check_folded(cut, opening, opening.pressed == "first", near=40.0) > 20


def test_the_lamplighter_s_fronts_are_cut_as_mirror_images() -> None:
    file = str(EXAMPLES / "lamplighter" / "jacket.oak")
    pattern = evaluate(load(file, DiskFiles(file)), {}).pattern
    assert pattern is not None
    areas = [ring_area(line) for line in (cut_line(pattern.pieces[name], pattern.allowances)
             for name in ("right", "left")) if line]  # fmt: skip
    assert abs(areas[0]) == pytest.approx(abs(areas[1]), abs=0.01)


def test_beside_the_fold_a_dart_has_its_plain_allowance(board: Board) -> None:
    """Its crease is the fold itself, so there is no seam beside it to be cut with."""
    piece, cut = cut_of(
        board,
        """
        pattern "Centre dart"
        piece front
          outline
            waist = origin to origin right 24 cm
            side = origin right 24 cm to origin right 26 cm down 40 cm
            hem = origin right 26 cm down 40 cm to origin down 40 cm
            centre = origin down 40 cm to origin
          fold on centre
          dart tuck on waist at 1 cm from centre intake 2 cm to origin down 10 cm
          fold-trim tuck toward side
        allow 1.5 cm on front
        """,
    )
    assert self_crossings(cut, closed=True) == []
    assert cut.box()[0] == pytest.approx(0.0, abs=1e-9)
    mouth = next(run.path for edge in piece.edges for run in edge.runs if run.role == "intake")
    for share in (0.2, 0.4, 0.6):
        place = share * mouth.length
        out = 1j * mouth.tangent_at(place)
        assert cut.nearest(mouth.point_at(place) + 15 * out)[1] < EXACT
