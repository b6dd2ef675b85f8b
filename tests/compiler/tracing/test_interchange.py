"""Our own file of the interchange form read back: the outline agrees within 0.02 mm."""

from __future__ import annotations

import io
import itertools
import math
from pathlib import Path
from typing import TYPE_CHECKING

import ezdxf
import numpy
import pytest
from shapely import STRtree, linestrings, points

from oaktag.compiler.emit.astm import astm
from oaktag.compiler.geometry import Cubic, Line
from oaktag.compiler.tracing import TracingError, read_drawing
from oaktag.compiler.tracing.rounding import rounded

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Path as Curve
    from oaktag.compiler.paper.piece import Piece
    from tests.compiler.conftest import Board
    from tests.conftest import Cutter

ROOT = Path(__file__).parents[3]
BLOCKS = sorted((ROOT / "stdlib").rglob("*.oak"))
AGREES = 0.02  # mm


def farthest(one: Curve, other: Curve) -> float:
    """How far points of one line, every few mm, lie from the other, cut up finely for that."""
    corners = [(place.real, place.imag) for place in other.flattened(1e-3)]
    tree = STRtree(linestrings(list(itertools.pairwise(corners))))
    dots = points([(place.real, place.imag) for place in one.flattened(3e-3)])
    _, away = tree.query_nearest(dots, all_matches=False, return_distance=True)
    return float(numpy.max(away))


@pytest.mark.parametrize("units", ["metric", "english"])
@pytest.mark.parametrize("size", ["1", "5", "12"])
@pytest.mark.parametrize("path", BLOCKS, ids=lambda path: f"{path.parent.stem}.{path.stem}")
def test_every_block_comes_back(cutter: Cutter, path: Path, size: str, units: str) -> None:
    pattern = cutter.draw_all(path, cutter.size(size))
    data, _ = astm(pattern, size, units)
    for piece in pattern.made:
        drawing = read_drawing("block.dxf", data, piece.name)
        (outline,) = drawing.lines
        assert drawing.scaled
        assert farthest(piece.outline, outline) <= AGREES
        assert farthest(outline, piece.outline) <= AGREES
        assert outline.length == pytest.approx(piece.outline.length, rel=5e-5, abs=0.02)
        # Curves are curves again, not the points they were written as.
        curved = any(not isinstance(segment, Line) for segment in piece.outline.segments)
        assert curved == any(isinstance(segment, Cubic) for segment in outline.segments)
        assert len(outline.segments) < 400


# ---------------------------------------------------------------- through the language

SKIRT = """
piece front
  top = origin
  hip_centre = top down 20 cm
  hip_side = hip_centre right 25 cm
  waist_side = top right 21 cm up 12 mm
  foot = top down 60 cm
  foot_side = foot right 25 cm
  outline
    waist = top curve to waist_side leaving right arriving square to side
    side = waist_side curve to hip_side arriving down, to foot_side
    hem = foot_side to foot
    centre = foot to top
  grain along centre
  notch on side at 20 cm from waist
  notch on hem at 10 cm from centre as t deep 3 mm
  drill at top right 10 cm down 10 cm
piece pocket
  strip 15 cm by 16 cm
allow 1.5 cm on front
cut 2 front as pair in main
cut 1 pocket in main
"""


@pytest.fixture(scope="module")
def front(board: Board) -> Piece:
    return board.pattern(SKIRT).pieces["front"]


@pytest.fixture(scope="module")
def style(board: Board) -> str:
    return astm(board.pattern(SKIRT))[0].decode("ascii")


@pytest.fixture
def traced(board: Board, style: str) -> Callable[[str], Pattern]:
    def draw(line: str, file: str = style) -> Pattern:
        return board.pattern(f"piece front\n  {line}\n", files={"style.dxf": file})

    return draw


EDGES = "edges waist, side, hem, centre"


def test_a_piece_is_traced_by_its_name(traced, look, front: Piece) -> None:
    """Edge by edge; the seam line is traced, not the cut line around it."""
    piece = traced(f'trace "style.dxf" piece "front" {EDGES}').pieces["front"]
    for name in ("waist", "side", "hem", "centre"):
        ours, theirs = look.edge(front, name), look.edge(piece, name)
        assert theirs.length == pytest.approx(ours.length, abs=0.02)
        assert farthest(theirs.path, ours.path) <= AGREES


def test_capitals_do_not_matter(traced) -> None:
    assert traced(f'trace "style.dxf" piece "Front" {EDGES}').pieces["front"].edges


def test_grain_notches_and_drill_holes_come_with_it(traced, front: Piece) -> None:
    """The notches lie on the seam again, as deep and of the shape that the file says."""
    piece = traced(f'trace "style.dxf" piece "front" {EDGES}').pieces["front"]
    assert piece.grain is not None
    way = piece.grain.end - piece.grain.start
    assert abs(way.real) < 1e-9 and abs(way.imag) > 400
    drills = [mark for mark in piece.marks if mark.kind == "drill"]
    assert [mark.at for mark in drills] == [pytest.approx(100 - 100j)]
    found = {str(mark.edge): mark for mark in piece.marks if mark.kind == "notch"}
    drawn = {str(mark.edge): mark for mark in front.marks if mark.kind == "notch"}
    assert set(found) == set(drawn) == {"side", "hem"}
    for edge, mark in found.items():
        assert abs(mark.at - drawn[edge].at) <= AGREES
        assert mark.direction == pytest.approx(drawn[edge].direction, abs=1e-3)
    assert (found["hem"].shape, found["hem"].deep) == ("t", 3.0)
    assert (found["side"].shape, found["side"].deep) == ("slit", 5.0)


def test_what_was_traced_can_be_written_and_traced_again(traced, look, front: Piece) -> None:
    line = f'trace "style.dxf" piece "front" {EDGES}'
    again = astm(traced(line))[0].decode("ascii")
    piece = traced(line, again).pieces["front"]
    for name in ("waist", "side", "hem", "centre"):
        assert look.edge(piece, name).length == pytest.approx(
            look.edge(front, name).length, abs=0.04
        )


def test_several_pieces_need_a_name(board: Board, style: str) -> None:
    text = f'piece front\n  trace "style.dxf" {EDGES}\n'
    (wrong,) = board.wrong(text, files={"style.dxf": style})
    assert wrong.message == 'style.dxf holds 2 pieces: "front", "pocket"'
    assert wrong.help == 'say which: `trace "style.dxf" piece "front" edges …`'
    assert wrong.span is not None and wrong.span.text == '"style.dxf"'


def test_a_piece_that_is_not_there(board: Board, style: str) -> None:
    text = f'piece front\n  trace "style.dxf" piece "back" {EDGES}\n'
    (wrong,) = board.wrong(text, files={"style.dxf": style})
    assert wrong.message == 'no piece in style.dxf is called "back"'
    assert wrong.help == 'it holds "front", "pocket"'
    assert wrong.span is not None and wrong.span.text == '"back"'


@pytest.mark.parametrize("name", ["front.svg", "front.dxf"])
def test_other_drawings_have_no_named_pieces(board: Board, block, name: str) -> None:
    data = block.svg() if name.endswith("svg") else block.dxf()
    (wrong,) = board.wrong(
        f'piece front\n  trace "{name}" piece "front" {EDGES}\n', files={name: data}
    )
    assert wrong.message == f"the pieces in {name} have no names"
    assert "leave out `piece`" in wrong.help


# ---------------------------------------------------------------- files of others


def foreign(
    said: tuple[str, ...], sizes: tuple[str, ...] = ("",), points: bool = True, unit: float = 1.0
) -> bytes:
    """A quarter of a ring, radii 100 and 300 mm, each arc in steps of 3 degrees, as others do.

    Every size is 10 mm larger than the one before.
    """
    document = ezdxf.new("R12")
    for line in said:
        document.modelspace().add_text(line, dxfattribs={"layer": "1"})
    for number, size in enumerate(sizes):
        made = document.blocks.new(f"BLOCK{number}")
        made.add_text("PIECE NAME:  COLLAR ", dxfattribs={"layer": "1"})
        if size:
            made.add_text(f"SIZE NAME: {size}", dxfattribs={"layer": "1"})
        angles = [math.radians(3 * step) for step in range(31)]
        arcs = [(radius + 10 * number) / unit for radius in (100, 300)]
        ring = [(arcs[0] * math.cos(a), arcs[0] * math.sin(a)) for a in angles]
        ring += [(arcs[1] * math.cos(a), arcs[1] * math.sin(a)) for a in reversed(angles)]
        made.add_polyline2d(ring, close=True, dxfattribs={"layer": "1"})
        for at, place in enumerate(ring):
            if points:
                layer = "2" if at in (0, 30, 31, 61) else "3"
                made.add_point(place, dxfattribs={"layer": layer})
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


@pytest.mark.parametrize("points", [True, False])
def test_the_curves_of_a_coarse_file_are_smooth(points: bool) -> None:
    """The points lie on circles, their chords up to 0.1 mm off: smooth, the arcs keep their length.

    By hand: pi / 2 times 100 mm and 300 mm. The chords alone are shorter by 0.04 mm and 0.05 mm.
    """
    (outline,) = read_drawing("a.dxf", foreign(("UNITS: METRIC",), points=points)).lines
    corners = [0.0, *outline.corners(math.radians(20)), outline.length]
    assert len(corners) == 5
    sides = sorted(b - a for a, b in itertools.pairwise(corners))
    wanted = sorted([200.0, 200.0, math.pi * 50, math.pi * 150])
    assert sides == pytest.approx(wanted, abs=0.01)


def test_inches_of_others_are_inches() -> None:
    (outline,) = read_drawing("a.dxf", foreign(("Units:ENGLISH",), unit=25.4)).lines
    assert outline.length == pytest.approx(400 + math.pi * 200, abs=0.05)


def test_without_units_the_size_is_not_known() -> None:
    assert not read_drawing("a.dxf", foreign(())).scaled


def test_of_a_graded_piece_the_sample_size_is_taken() -> None:
    said = ("Units: METRIC", "Sample Size: 40")
    (outline,) = read_drawing("a.dxf", foreign(said, ("38", "40", "42"))).lines
    assert outline.length == pytest.approx(400 + math.pi * (110 + 310) / 2, abs=0.05)


def test_a_block_without_a_boundary_has_no_lines(board: Board) -> None:
    document = ezdxf.new("R12")
    document.blocks.new("A").add_text("Piece Name: cuff", dxfattribs={"layer": "1"})
    stream = io.StringIO()
    document.write(stream)
    (wrong,) = board.wrong(
        f'piece cuff\n  trace "a.dxf" {EDGES}\n', files={"a.dxf": stream.getvalue()}
    )
    assert wrong.message == "a.dxf has no lines"


def test_a_line_of_too_many_points_is_refused() -> None:
    document = ezdxf.new("R12")
    made = document.blocks.new("A")
    made.add_text("Piece Name: cuff", dxfattribs={"layer": "1"})
    turns = (math.tau * step / 5_001 for step in range(5_001))
    ring = [(math.cos(turn) * 500, math.sin(turn) * 500) for turn in turns]
    made.add_polyline2d(ring, close=True, dxfattribs={"layer": "1"})
    stream = io.StringIO()
    document.write(stream)
    with pytest.raises(TracingError, match="drawn in 5,001 lines and curves"):
        read_drawing("a.dxf", stream.getvalue().encode())


def test_a_long_straight_beside_a_curve_stays_straight() -> None:
    """A quarter circle of 20 mm that runs out into 300 mm: the straight is one line."""
    arc = [
        20 * complex(math.sin(a), 1 - math.cos(a)) for a in (k * math.pi / 32 for k in range(17))
    ]
    ring = [*arc, arc[-1] + 300j, -50 + 320j, -50 + 0j]
    corners = [number in (0, 17, 18, 19) for number in range(20)]
    path = rounded(ring, corners)
    lengths = [segment.length for segment in path.segments if isinstance(segment, Line)]
    assert pytest.approx(300.0) in lengths
    assert path.length == pytest.approx(math.pi * 10 + 300 + 70 + 320 + 50, abs=0.01)
