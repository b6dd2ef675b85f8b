"""Pieces on the fold as a laser cuts them: whole, everything on both sides."""

from __future__ import annotations

import itertools
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from oaktag.compiler.cli import main
from oaktag.compiler.sheet import lay_out
from oaktag.compiler.sheet.drawing import extent
from oaktag.compiler.sheet.laser import for_laser
from oaktag.compiler.sheet.unfolded import unfolded
from tests.conftest import STDLIB

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.sheet import Group
    from tests.compiler.conftest import Board
    from tests.conftest import Cutter

BLOCKS = sorted(str(path.relative_to(STDLIB)) for path in STDLIB.rglob("*.oak"))
YOKE = """
pattern "Yoke"
piece yoke
  strip 20 cm by 8 cm
  fold on start
  grain along start
  notch on base at 5 cm from start
  notch at on top 0 from start
  drill at on base 3 cm from start up 2 cm
{more}allow 1 cm on yoke
allow 3 cm on yoke.base as hem
cut 2 yoke in main
"""


def points(path: Path) -> list[tuple[float, float]]:
    return [(place.real, place.imag) for place in path.flattened(0.01)]


def cut(group: Group) -> Polygon:
    (line,) = [stroke.path for stroke in group.strokes if stroke.kind == "cut line"]
    assert line.closed
    return Polygon(points(line))


def yoke(board: Board, more: str = "") -> tuple[Group, Group]:
    """The half as it is drawn, and the whole."""
    sheet = lay_out(board.pattern(YOKE.format(more=more)))
    return sheet.groups[1], unfolded(sheet).sheet.groups[1]


def test_the_whole_is_the_half_and_its_image(board: Board) -> None:
    half, whole = yoke(board)
    assert cut(whole).is_valid
    assert cut(whole).area == pytest.approx(2 * cut(half).area)
    left, _, right, _ = extent(whole)
    assert (left, right) == pytest.approx((-210.0, 210.0))
    (crease,) = [stroke.path for stroke in whole.strokes if stroke.kind == "opened fold"]
    assert LineString(points(crease)).crosses(box(-50.0, 10.0, 50.0, 70.0))


def test_notches_and_holes_are_on_both_sides(board: Board) -> None:
    """The snip across the corner at the fold becomes a V there, as in folded cloth."""
    half, whole = yoke(board)
    for kind in ("notch", "drill"):
        before = [stroke.path for stroke in half.strokes if stroke.kind == kind]
        after = [stroke.path for stroke in whole.strokes if stroke.kind == kind]
        assert len(after) == 2 * len(before), kind
        places = sorted(path.point_at(path.length / 2).real for path in after)
        assert places == pytest.approx([-place for place in reversed(places)])
    snips = [s.path for s in whole.strokes if s.kind == "notch" and abs(s.path.start.real) < 1]
    assert [path.start for path in snips] == [80j, 80j]


def test_what_lies_on_the_fold_is_there_once(board: Board) -> None:
    half, whole = yoke(board, "  drill at on start 3 cm from base\n")
    on_it = [s.path for s in half.strokes if s.kind == "drill" and abs(s.path.start.real) < 5]
    there = [s.path for s in whole.strokes if s.kind == "drill" and abs(s.path.start.real) < 5]
    assert len(on_it) == len(there) == 3


def test_one_grain_and_no_sign_of_a_fold(board: Board) -> None:
    half, whole = yoke(board)
    for group, count in ((half, 3), (whole, 0)):
        assert sum(stroke.kind == "fold bracket" for stroke in group.strokes) == count
        assert sum(stroke.kind == "grain" for stroke in group.strokes) == 3


def test_a_piece_folded_twice_is_opened_twice(board: Board) -> None:
    half, whole = yoke(board, "  fold on top\n")
    assert cut(whole).area == pytest.approx(4 * cut(half).area)


@pytest.mark.parametrize("block", BLOCKS)
def test_blocks_are_opened_cleanly(cutter: Cutter, block: str) -> None:
    """Each cut line is simple and encloses twice the half; pieces keep apart on the sheet."""
    sheet = lay_out(cutter.draw(STDLIB / block, cutter.size("5")), "size 5")
    done = unfolded(sheet)
    assert done.folded == ()
    for half, whole in zip(sheet.groups[1:], done.sheet.groups[1:], strict=True):
        folds = sum(stroke.kind == "fold" for stroke in half.strokes)
        assert (half.name in done.opened) == bool(folds)
        assert cut(whole).is_valid
        assert cut(whole).area == pytest.approx(2**folds * cut(half).area, rel=1e-6)
    boxes = []
    for group in done.sheet.groups:
        left, bottom, right, top = extent(group)
        x, y = group.at.real, group.at.imag
        boxes.append(box(left + x, bottom + y, right + x, top + y))
    assert all(a.distance(b) > 10 for a, b in itertools.combinations(boxes, 2))
    paper = box(0, 0, done.sheet.width, done.sheet.height)
    assert paper.contains(unary_union(boxes))


def test_without_folds_nothing_moves(board: Board) -> None:
    sheet = lay_out(board.pattern(board.panel))
    assert unfolded(sheet).sheet is sheet


def test_a_tag_is_neither_cut_nor_engraved(board: Board) -> None:
    text = 'pattern "P"\npiece loop\n  strip 5 cm by 1 cm\ncut 5 loop in main\n'
    sheet = lay_out(board.pattern(text))
    assert [s for s in sheet.groups[1].strokes if s.kind == "label tag"]
    for engrave in (False, True):
        made = for_laser(sheet, engrave)
        assert not [s for g in made.groups for s in g.strokes if s.kind == "label tag"]


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_a_build_says_what_is_opened_and_what_is_drawn_once(tmp_path: File, kind: str) -> None:
    file = tmp_path / "yoke.oak"
    file.write_text(YOKE.format(more=""), encoding="utf-8")
    call = ["build", str(file), "--to", kind, "-o", str(tmp_path)]
    told = CliRunner().invoke(main, [*call, "--laser"]).stdout
    assert "opened out and cut as a whole: yoke" in told
    assert "yoke: cut 2 in main; drawn once" in told
    assert "opened out" not in CliRunner().invoke(main, call).stdout
