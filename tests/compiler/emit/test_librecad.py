"""Both DXFs opened by LibreCAD, which draws them into a PDF that is measured.

LibreCAD prints in steps of 1/1200 in, and takes from the paper's size in whole millimetres how many
steps a millimetre has, the mean of both directions: that error is its own and is divided out. So
that a step does not matter, all is printed ten times as large; what lies off the page is still in
the file, except arcs, which LibreCAD then leaves out: they are measured on a small drawing.
"""

from __future__ import annotations

import itertools
import os
import re
import subprocess
import zlib
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import pytest

from oaktag.compiler.emit.astm import astm
from oaktag.compiler.emit.dxf import dxf
from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.sheet import lay_out
from oaktag.compiler.sheet.laser import for_laser

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.evaluate.pattern import Pattern
    from tests.compiler.conftest import Board

BLACK, BLUE, RED = (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)
POINT = 25.4 / 72  # mm
PAPERS = {(595, 842): (210, 297), (1191, 842): (420, 297), (842, 1191): (297, 420)}
LARGER = 10
STEPS = 0.043  # mm: two steps of LibreCAD's


class Line(NamedTuple):
    """What was drawn without lifting the pen, in mm."""

    colour: tuple[float, ...]
    points: list[complex]

    @property
    def length(self) -> float:
        return sum(abs(b - a) for a, b in itertools.pairwise(self.points))

    @property
    def closed(self) -> bool:
        return abs(self.points[0] - self.points[-1]) < 0.05


@pytest.fixture
def opened(program: Callable[[str], str], tmp_path: Path) -> Callable[..., list[Line]]:
    """The lines that LibreCAD draws of a file, larger by the factor given."""

    def draw(data: bytes, larger: float = LARGER) -> list[Line]:
        path = tmp_path / "drawing.dxf"
        path.write_bytes(data)
        subprocess.run(
            [program("librecad"), "dxf2pdf", "-c", "-s", str(larger), path.name],
            cwd=tmp_path,
            env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path)},
            capture_output=True,
            timeout=120,
            check=True,
        )
        return lines(path.with_suffix(".pdf").read_bytes(), larger)

    return draw


def lines(pdf: bytes, larger: float) -> list[Line]:
    """The strokes on the one page, joined where one begins at the end of another."""
    box = re.search(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert box
    paper = PAPERS[round(float(box[1])), round(float(box[2]))]
    streams = re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL)
    drawn = next(text for text in map(inflated, streams) if " cm\n" in text and " l\n" in text)
    placed = re.search(r"^(\S+) 0 0 -\1 0 \S+ cm$", drawn, re.MULTILINE)
    assert placed
    step = float(placed[1]) * POINT
    clip = re.search(r"^(\d+) (\d+) l\n(?:\S+ \S+ l\n){2}h\nW", drawn, re.MULTILINE)
    assert clip
    steps = [int(clip[1]) / paper[0], int(clip[2]) / paper[1]]
    unit = 2 / sum(steps) / larger
    assert unit * larger == pytest.approx(step, rel=1e-3)
    found: list[Line] = []
    colour: tuple[float, ...] = ()
    numbers: list[float] = []
    for word in drawn[clip.end() :].split():
        if re.fullmatch(r"-?[\d.]+", word):
            numbers.append(float(word))
            continue
        if word == "SCN":
            colour = tuple(numbers[-3:])
        elif word in ("m", "l"):
            place = complex(*numbers[-2:]) * unit
            if word == "l":
                found[-1].points.append(place)
            elif not (found and found[-1].colour == colour and found[-1].points[-1] == place):
                found.append(Line(colour, [place]))
        else:
            assert word not in ("c", "v", "y"), "LibreCAD draws curves as such now: measure them"
        numbers = []
    return found


def inflated(stream: bytes) -> str:
    try:
        return zlib.decompress(stream).decode("latin-1")
    except zlib.error:
        return ""


def cut_lengths(pattern: Pattern) -> list[float]:
    around = [cut_line(piece, pattern.allowances) or piece.outline for piece in pattern.made]
    return sorted(path.length for path in around)


@pytest.mark.parametrize("curves", ["polylines", "splines"])
def test_the_cut_lines_are_closed_and_as_long_as_ours(
    opened: Callable[..., list[Line]], ferry_pattern: Pattern, curves: str
) -> None:
    """Black is the colour of the layer CUT, blue of DRAW and red of ENGRAVE."""
    drawn = opened(dxf(lay_out(ferry_pattern), curves))
    assert {line.colour for line in drawn} == {BLACK, BLUE, RED}
    found = [line for line in drawn if line.colour == BLACK]
    assert all(line.closed for line in found)
    lengths = sorted(line.length for line in found)
    assert lengths == pytest.approx(cut_lengths(ferry_pattern), rel=5e-5)


# A quarter of a ring that fits on LibreCAD's page: radii 40 and 100 mm.
RING = """
piece ring
  middle = origin
  outline
    inside = middle down 4 cm arc to middle right 4 cm around middle
    end = middle right 4 cm to middle right 10 cm
    outside = middle right 10 cm arc to middle down 10 cm around middle
    start = middle down 10 cm to middle down 4 cm
"""


@pytest.mark.parametrize("curves", ["polylines", "splines"])
def test_arcs_are_drawn_as_arcs(
    opened: Callable[..., list[Line]], board: Board, curves: str
) -> None:
    """LibreCAD draws arcs in steps finer than it prints: radii are measured, not the steps' sum."""
    data = dxf(lay_out(board.pattern(RING)), curves)
    cut = [line for line in opened(data, larger=1) if line.colour == BLACK]
    places = [place for line in cut for place in line.points]
    middle = complex(min(p.real for p in places), min(p.imag for p in places))
    spokes = [place - middle for place in places]
    round_ones = [spoke for spoke in spokes if min(spoke.real, spoke.imag) > STEPS]
    for radius in (40.0, 100.0):
        arc = [abs(spoke) for spoke in round_ones if abs(abs(spoke) - radius) < 20]
        assert len(arc) > 100
        assert max(arc) - radius <= STEPS and radius - min(arc) <= STEPS
        for corner in (radius + 0j, radius * 1j):
            assert min(abs(spoke - corner) for spoke in spokes) <= STEPS


def test_for_a_laser_there_is_nothing_but_cut_lines_and_engraved_ones(
    opened: Callable[..., list[Line]], ferry_pattern: Pattern
) -> None:
    """The same outlines, in one piece each; what is engraved is red."""
    sheet = for_laser(lay_out(ferry_pattern), engrave=True)
    found = opened(dxf(sheet, laser=True))
    wanted = cut_lengths(ferry_pattern)
    outlines = sorted(line.length for line in found if line.colour == BLACK and line.length > 1000)
    assert outlines == pytest.approx(wanted, rel=5e-5)
    assert {line.colour for line in found} == {BLACK, RED}


@pytest.mark.parametrize("units", ["metric", "english"])
def test_the_interchange_form_is_read_without_tables(
    opened: Callable[..., list[Line]], ferry_pattern: Pattern, units: str
) -> None:
    """LibreCAD takes the figures as they stand, and so inches for its own unit.

    Every cut line and every seam line is there, to 0.05 mm a metre and the rounding of the figures.
    """
    unit = 25.4 if units == "english" else 1.0
    data, _ = astm(ferry_pattern, "", units)
    found = [line.length * unit for line in opened(data, LARGER * unit) if line.closed]
    wanted = cut_lengths(ferry_pattern) + [piece.outline.length for piece in ferry_pattern.made]
    for length in wanted:
        nearest = min(found, key=lambda own: abs(own - length))
        assert nearest == pytest.approx(length, rel=5e-5, abs=0.02)
