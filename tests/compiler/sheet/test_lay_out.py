"""What is drawn of a pattern, and where."""

from __future__ import annotations

import itertools
import math
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from oaktag.compiler.geometry import line
from oaktag.compiler.sheet import LAYERS, lay_out
from oaktag.compiler.sheet.drawing import extent
from oaktag.compiler.sheet.lettering import frame
from oaktag.compiler.sheet.shelves import GAP, set_out

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.sheet import Group, Sheet, Stroke
    from tests.compiler.conftest import Board

PROGRAMS = File(__file__).parents[2] / "programs"
BODY = {"waist_girth": 720.0, "hip_girth": 960.0, "waist_to_hip": 205.0}

APRON = """
pattern "Stage manager's apron"
piece bib
  foot = origin
  foot_centre = foot right 18 cm
  top_centre = foot_centre up 24 cm
  top_side = foot up 24 cm right 4 cm
  outline
    hem = foot to foot_centre
    centre = foot_centre to top_centre
    top = top_centre to top_side
    side = top_side curve to foot leaving down
  fold on centre
  grain along centre
  notch on side at 1/2
  notch on hem at 6 cm from centre double
  drill at foot_centre up 8 cm left 4 cm
  button at top_centre down 3 cm left 2 cm size 2 cm
  buttonhole at top_centre down 8 cm left 2 cm size 22 mm
  text "attach the pocket here by hand" at foot_centre up 4 cm left 7 cm
  text "far too many words for the narrow place that they were given" at foot up 2 cm right 2 cm
piece tie
  strip 90 cm by 3 cm
piece loop
  strip 5 cm by 12 mm
piece spare
  strip 10 cm by 10 cm
allow 1 cm on bib, tie
allow none on bib.hem
cut 2 bib in main and lining
cut 4 tie as pair in main
cut 6 loop in main
"""

PLEATED = """
  line one = on waist 10 cm from centre to on hem 10 cm from centre
  line two = on waist 20 cm from centre to on hem 20 cm from centre
  line three = on waist 30 cm from centre to on hem 30 cm from centre
  grain along centre
"""


def points(path: Path, flat: float = 0.01) -> list[tuple[float, float]]:
    return [(p.real, p.imag) for p in path.flattened(flat)]


def group(sheet: Sheet, name: str) -> Group:
    return next(item for item in sheet.groups if item.name == name)


def strokes(sheet: Sheet, name: str, kind: str) -> list[Stroke]:
    return [stroke for stroke in group(sheet, name).strokes if stroke.kind == kind]


def ring(sheet: Sheet, name: str) -> Polygon:
    """The seam line of a piece, from its edges."""
    edges = [LineString(points(s.path)) for s in group(sheet, name).strokes if s.edge]
    snapped = [shapely.set_precision(edge, 1e-6) for edge in edges]
    (found,) = shapely.polygonize(snapped).geoms
    return found


@pytest.fixture(scope="module")
def apron(board: Board) -> Sheet:
    return lay_out(board.pattern(APRON), "size 38")


@pytest.fixture(scope="module")
def ferry(board: Board) -> Sheet:
    return lay_out(board.pattern((PROGRAMS / "ferry.oak").read_text(encoding="utf-8"), **BODY))


def test_what_is_cut_is_drawn(apron: Sheet) -> None:
    assert [item.name for item in apron.groups] == ["test square", "bib", "tie", "loop"]


def test_without_a_cut_everything_is_drawn(board: Board) -> None:
    text = "\n".join(row for row in APRON.splitlines() if not row.startswith("cut"))
    drawn = lay_out(board.pattern(text))
    assert [item.name for item in drawn.groups][1:] == ["bib", "tie", "loop", "spare"]


def test_pieces_lie_apart_and_on_the_sheet(apron: Sheet, ferry: Sheet) -> None:
    for sheet in (apron, ferry):
        boxes = []
        for item in sheet.groups:
            left, bottom, right, top = extent(item)
            x, y = item.at.real, item.at.imag
            boxes.append(box(left + x, bottom + y, right + x, top + y))
        paper = box(0, 0, sheet.width, sheet.height)
        assert all(paper.contains(one) for one in boxes)
        for one, other in itertools.combinations(boxes, 2):
            assert one.distance(other) >= GAP - 1e-6


def test_a_thousand_boxes_lie_apart() -> None:
    boxes = [(-k % 7, 0.0, 20.0 + k * 37 % 300, 30.0 + k * 53 % 500) for k in range(1000)]
    shifts, width, height = set_out(boxes)
    laid = [
        box(a + s.real, b + s.imag, c + s.real, d + s.imag)
        for (a, b, c, d), s in zip(boxes, shifts, strict=True)
    ]
    tree = shapely.STRtree(laid)
    near = tree.query(laid, predicate="dwithin", distance=GAP - 1e-6)
    assert all(one == other for one, other in near.T)
    assert shapely.union_all(laid).bounds[2] < width
    assert 0.4 < width / height < 2.5


def test_the_sheet_has_a_square_to_measure(apron: Sheet) -> None:
    (square,) = strokes(apron, "test square", "test square")
    assert Polygon(points(square.path)).equals(box(0, 0, 100, 100))
    words = [text.content for text in group(apron, "test square").texts]
    assert "measure this square before cutting: 10 cm" in words
    for text in group(apron, "test square").texts:
        assert box(0, 0, 100, 100).contains(Polygon(points(frame(text))))


def test_every_layer_is_known_and_in_order(apron: Sheet, ferry: Sheet) -> None:
    for item in (*apron.groups, *ferry.groups):
        order = [LAYERS.index(stroke.layer) for stroke in item.strokes]
        assert order == sorted(order)
    assert {s.layer for item in (*apron.groups, *ferry.groups) for s in item.strokes} == {
        "cut", "seam", "fold", "intake", "drawn", "marks", "grain",
    }  # fmt: skip


def test_an_edge_tells_its_name_line_and_lengths(ferry: Sheet) -> None:
    edges = {s.edge.name: s for s in group(ferry, "front").strokes if s.edge}
    side = edges["front.right.side"]
    assert side.edge is not None
    assert side.edge.length == pytest.approx(side.path.length)
    # Three drapes of 4 1/2 in are folded away, trimmed to a little more than they are wide.
    assert side.edge.length - side.edge.sewn > 3 * 114.3
    assert side.edge.about.startswith("edge front.right.side, ")
    assert " sewn), line " in side.edge.about


def test_the_edge_of_the_issue(board: Board) -> None:
    sheet = lay_out(board.pattern(board.panel))
    (hem,) = [s for s in group(sheet, "panel").strokes if s.edge and s.edge.name == "panel.hem"]
    assert hem.edge is not None
    assert hem.edge.about == f"edge panel.hem, 40 cm, line {hem.edge.line}"


def test_labels_say_how_to_cut(apron: Sheet) -> None:
    said = {item.name: [text.content for text in item.texts] for item in apron.groups}
    assert "cut 2 on the fold in main" in said["bib"]
    assert "cut 2 on the fold in lining" in said["bib"]
    assert "cut 4 as pairs in main" in said["tie"]
    assert "Stage manager's apron" in said["tie"]
    assert "size 38" in said["bib"]


@pytest.mark.parametrize("name", ["apron", "ferry"])
def test_words_stay_on_their_piece(name: str, request: pytest.FixtureRequest) -> None:
    sheet: Sheet = request.getfixturevalue(name)
    for item in sheet.groups[1:]:
        paper = ring(sheet, item.name).buffer(1e-6)
        for text in (text for text in item.texts if text.kind != "tag"):
            assert paper.contains(Polygon(points(frame(text)))), text
            assert text.size > 0.5


@pytest.mark.parametrize("name", ["apron", "ferry"])
def test_labels_lie_over_nothing(name: str, request: pytest.FixtureRequest) -> None:
    """Except on the loop, 12 mm wide, which is too small for more than its name."""
    sheet: Sheet = request.getfixturevalue(name)
    for item in sheet.groups[1:]:
        drawn = [LineString(points(s.path)) for s in item.strokes if s.layer != "cut"]
        labels = [Polygon(points(frame(t))) for t in item.texts if t.kind in ("name", "label")]
        for label in labels:
            assert not any(stroke.intersects(label) for stroke in drawn), item.name
        others = [Polygon(points(frame(t))) for t in item.texts if t.kind not in ("name", "label")]
        assert not any(a.intersects(b) for a in labels for b in others)


def test_the_fold_has_its_sign(apron: Sheet) -> None:
    bracket, first, second = strokes(apron, "bib", "fold bracket")
    fold = strokes(apron, "bib", "fold")[0].path
    for path in (bracket.path, first.path, second.path):
        assert min(fold.nearest(place)[1] for place in path.flattened(1)) < 1e-9
    (words,) = [text for text in group(apron, "bib").texts if text.content == "place on fold"]
    assert words.angle == pytest.approx(90.0)
    assert words.size == 5.0


def test_notches_point_into_the_allowance_or_else_into_the_paper(apron: Sheet) -> None:
    notches = [s.path for s in strokes(apron, "bib", "notch")]
    paper = ring(apron, "bib")
    into = [path for path in notches if not paper.contains(Point(points(path)[-1]))]
    inward = [path for path in notches if path not in into]
    assert [round(path.length, 6) for path in into] == [5.0]
    assert [round(path.length, 6) for path in inward] == [5.0, 5.0]
    # The double notch: two strokes 6 mm apart, 6 cm from the centre on average.
    first, second = (path.start for path in inward)
    assert abs(first - second) == pytest.approx(6.0)
    assert ((first + second) / 2).real == pytest.approx(120.0)


def test_buttons_and_holes_have_their_size(apron: Sheet) -> None:
    button = strokes(apron, "bib", "button")[0].path
    assert Polygon(points(button, 0.001)).area == pytest.approx(3.14159265 * 100, rel=1e-3)
    assert strokes(apron, "bib", "buttonhole")[0].path == line(149 + 160j, 171 + 160j)
    assert len(strokes(apron, "bib", "drill")) == 3


def test_a_dart_shows_legs_fold_and_tip(board: Board) -> None:
    lines = "dart d on waist at 1/2 intake 3 cm length 12 cm ending 2 cm short"
    pattern = board.pattern(f"{board.panel}  {lines}\n  fold-trim d toward left\n")
    sheet = lay_out(pattern)
    legs = strokes(sheet, "panel", "dart leg")
    # The sewing ends 2 cm short of the point.
    assert [round(leg.path.length, 6) for leg in legs] == [round((100**2 + 15**2) ** 0.5, 6)] * 2
    (tip,) = strokes(sheet, "panel", "dart tip")
    assert Polygon(points(tip.path)).centroid.distance(Point(200, -100)) < 1e-6
    (fold,) = strokes(sheet, "panel", "fold line")
    assert fold.dashed
    outline = pattern.pieces["panel"].outline
    assert outline.nearest(fold.path.end)[1] < 1e-6
    # Folded, the crease lies twice as far from the upright as a leg, and ends on the waist.
    assert fold.path.length == pytest.approx(120 / math.cos(2 * math.atan(15 / 120)))


def pleated(board: Board, *lines: str) -> Sheet:
    text = board.panel + PLEATED + "".join(f"  {row}\n" for row in lines)
    return lay_out(board.pattern(text))


@pytest.mark.parametrize(("side", "sign"), [("left", -1), ("right", 1), ("centre", -1)])
def test_a_pleat_points_to_the_side_it_is_folded_to(board: Board, side: str, sign: int) -> None:
    sheet = pleated(
        board,
        "spread two by 6 cm at waist and 6 cm at hem as pleat",
        f"fold-trim two toward {side}",
    )
    assert len(strokes(sheet, "panel", "pleat side")) == 2
    shaft, _ = (s.path for s in strokes(sheet, "panel", "fold arrow"))
    assert (shaft.end - shaft.start) * sign == pytest.approx(60.0)
    assert shaft.start.imag == pytest.approx(-10.0)
    (fold,) = strokes(sheet, "panel", "fold line")
    assert fold.path.length == pytest.approx(600.0)


def test_an_untrimmed_pleat_has_no_arrow(board: Board) -> None:
    sheet = pleated(board, "spread two by 6 cm at waist hinged on hem as pleat")
    assert strokes(sheet, "panel", "fold arrow") == []


def test_a_box_pleat_opens_to_both_sides(board: Board) -> None:
    sheet = pleated(board, "spread two by 6 cm at waist hinged on hem as box pleat")
    shafts = [s.path for s in strokes(sheet, "panel", "fold arrow")][::2]
    first, second = ((path.end - path.start).real for path in shafts)
    assert first * second < 0


def test_flare_is_not_drawn_and_gathers_are_named(board: Board) -> None:
    flared = pleated(board, "spread two by 6 cm at waist hinged on hem")
    assert not [s for s in group(flared, "panel").strokes if s.layer == "intake"]
    gathered = pleated(board, "spread two by 6 cm at waist hinged on hem as gather")
    assert "gather" in [text.content for text in group(gathered, "panel").texts]
    assert len(strokes(gathered, "panel", "gather")) == 2


def test_without_allowance_the_cut_line_is_the_outline(apron: Sheet) -> None:
    (cut,) = strokes(apron, "loop", "cut line")
    assert Polygon(points(cut.path)).equals(ring(apron, "loop"))
    assert cut.path.closed
