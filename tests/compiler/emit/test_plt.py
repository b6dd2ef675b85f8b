"""Plots for roll plotters, read again by hp2xx and by ezdxf's reader of HP-GL/2."""

from __future__ import annotations

import itertools
import math
import re
import subprocess
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.emit.errors import OutputError
from oaktag.compiler.emit.plt import OLD_REACH, Roll, plt
from oaktag.compiler.geometry import Arc, Path, line, polyline
from oaktag.compiler.sheet import Group, Sheet, Stroke, Text, lay_out

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path as Folder

    from oaktag.compiler.evaluate.pattern import Pattern

A_METRE = 0.05 / 1000  # mm a mm
STEP = 0.025  # mm
OFFICE = Roll(914.0)


def commands(data: bytes) -> list[tuple[str, list[int]]]:
    """The commands of a plot with their figures, all whole."""
    found = []
    for part in data.decode("ascii").replace("\n", "").split(";"):
        if part:
            figures = part[2:].split(",") if part[2:] else []
            found.append((part[:2], [int(figure) for figure in figures]))
    return found


def drawn(data: bytes) -> list[tuple[int, list[complex]]]:
    """Each stroke with its pen, in mm."""
    strokes: list[tuple[int, list[complex]]] = []
    pen = 0
    for name, figures in commands(data):
        places = (
            [complex(x, y) * STEP for x, y in zip(figures[::2], figures[1::2], strict=True)]
            if name in ("PU", "PD")
            else []
        )
        if name == "SP":
            pen = figures[0]
        elif name == "PU":
            strokes.append((pen, places[-1:]))
        elif name == "PD":
            strokes[-1][1].extend(places)
    return [(pen, points) for pen, points in strokes if len(points) > 1]


def length(points: list[complex]) -> float:
    return sum(abs(b - a) for a, b in itertools.pairwise(points))


def by_hp2xx(program: str, data: bytes, folder: Folder) -> list[list[complex]]:
    """The strokes as hp2xx draws them at true size, in mm from the lower left corner."""
    (folder / "plot.plt").write_bytes(data)
    call = [program, "-q", "-t", "-m", "eps", "-f", "plot.eps", "plot.plt"]
    subprocess.run(call, cwd=folder, check=True, capture_output=True, timeout=60)
    strokes: list[list[complex]] = []
    text = (folder / "plot.eps").read_text(encoding="latin-1").partition("\nbop\n")[2]
    for x, y, do in re.findall(r"(-?[\d.]+) +(-?[\d.]+) +([MD])\b", text):
        if do == "M":
            strokes.append([])
        strokes[-1].append(complex(float(x), float(y)))
    return joined([stroke for stroke in strokes if len(stroke) > 1])


def by_ezdxf(data: bytes) -> list[list[complex]]:
    """The strokes as ezdxf's reader of HP-GL/2 takes them, in mm."""
    from ezdxf.addons.hpgl2 import api

    strokes: list[list[complex]] = []
    for entity in api.to_dxf(data).modelspace():
        if entity.dxftype() == "LWPOLYLINE":
            strokes.append([complex(x, y) * STEP for x, y, *_ in entity.get_points()])
        elif entity.dxftype() == "LINE":
            ends = entity.dxf.start, entity.dxf.end
            strokes.append([complex(end.x, end.y) * STEP for end in ends])
    return joined(strokes)


def joined(strokes: list[list[complex]]) -> list[list[complex]]:
    """Strokes that go on where the one before ended are one."""
    found: list[list[complex]] = []
    for stroke in strokes:
        if found and abs(found[-1][-1] - stroke[0]) < 1e-6:
            found[-1].extend(stroke[1:])
        else:
            found.append(list(stroke))
    return found


def cut_lines(sheet: Sheet) -> list[float]:
    return sorted(
        stroke.path.length
        for group in sheet.groups
        for stroke in group.strokes
        if stroke.layer == "cut"
    )


def sheet_of(*paths: Path, layer: str = "cut", texts: tuple[Text, ...] = ()) -> Sheet:
    groups = [
        Group(f"piece {number}", "", (Stroke(layer, "cut line", path),), texts)
        for number, path in enumerate(paths, 1)
    ]
    return Sheet("Test", 100.0, 100.0, tuple(groups))


def rectangle(wide: float, high: float) -> Path:
    return polyline([0j, wide + 0j, complex(wide, high), high * 1j, 0j])


def test_it_begins_and_ends_as_a_plot(ferry: Sheet) -> None:
    (data,) = plt(ferry, OFFICE).files
    found = commands(data)
    assert [name for name, _ in found[:4]] == ["IN", "PS", "PA", "PU"]
    assert found[1][1][1] == 914 * 40
    assert [*found[-3:]] == [("PU", []), ("SP", [0]), ("PG", [])]
    assert {name for name, _ in found} == {"IN", "PS", "PA", "SP", "PU", "PD", "PG"}


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_everything_lies_between_the_margins(name: str, request: pytest.FixtureRequest) -> None:
    sheet: Sheet = request.getfixturevalue(name)
    plot = plt(sheet, Roll(1500.0, margin=12.0))
    places = [p for _, points in drawn(plot.files[0]) for p in points]
    assert min(p.real for p in places) == pytest.approx(12.0, abs=STEP)
    assert min(p.imag for p in places) == pytest.approx(12.0, abs=STEP)
    assert max(p.real for p in places) == pytest.approx(plot.length - 12.0, abs=STEP)
    assert max(p.imag for p in places) <= 1488.0 + STEP


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_cut_lines_are_measured_again(
    name: str,
    request: pytest.FixtureRequest,
    program: Callable[[str], str],
    tmp_path: Folder,
) -> None:
    """Two readers and the sheet agree on every cut line, within 0.05 mm over a metre."""
    sheet: Sheet = request.getfixturevalue(name)
    plot = plt(sheet, Roll(1500.0, pens={"cut": 1, "seam": 2, "marks": 3, "text": 4}))
    expected = cut_lines(sheet)
    for strokes in (
        by_hp2xx(program("hp2xx"), plot.files[0], tmp_path),
        by_ezdxf(plot.files[0]),
    ):
        found = sorted((length(stroke) for stroke in strokes), reverse=True)[: len(expected)]
        for got, wanted in zip(sorted(found), expected, strict=True):
            assert got == pytest.approx(wanted, abs=max(1.0, wanted / 1000) * 0.05)


def test_the_test_square_is_10_cm(
    ferry: Sheet, program: Callable[[str], str], tmp_path: Folder
) -> None:
    (data,) = plt(ferry, OFFICE).files
    for strokes in (by_hp2xx(program("hp2xx"), data, tmp_path), by_ezdxf(data)):
        squares = [
            stroke
            for stroke in strokes
            if len(stroke) == 5
            and all(abs(abs(b - a) - 100) < 0.02 for a, b in itertools.pairwise(stroke))
        ]
        assert len(squares) == 1


def test_the_square_in_the_raster(program: Callable[[str], str], tmp_path: Folder) -> None:
    """hp2xx at 254 dpi draws a square of 10 cm a thousand pixels wide and high, within one."""
    (data,) = plt(sheet_of(rectangle(100, 100)), Roll(150.0)).files
    (tmp_path / "plot.plt").write_bytes(data)
    call = [program("hp2xx"), "-q", "-t", "-d", "254", "-p", "1", "-m", "pbm"]
    subprocess.run(
        [*call, "-f", "plot.pbm", "plot.plt"],
        cwd=tmp_path,
        check=True,
        capture_output=True,
        timeout=60,
    )
    magic, wide, high, rest = (tmp_path / "plot.pbm").read_bytes().split(maxsplit=3)
    assert magic == b"P4"
    stride = (int(wide) + 7) // 8
    rows = [rest[k * stride : (k + 1) * stride] for k in range(int(high))]
    across = [k for k, dot in enumerate("".join(f"{byte:08b}" for byte in rows[600])) if dot == "1"]
    down = [k for k, row in enumerate(rows) if row[600 // 8] >> (7 - 600 % 8) & 1]
    for dots in (across, down):
        lines = [[k for k in dots if (k < 600) is low] for low in (True, False)]
        middles = [(dots[0] + dots[-1]) / 2 for dots in lines]
        assert abs(middles[1] - middles[0] - 1000) <= 1


def test_curves_lie_within_half_a_step() -> None:
    """Of a circle of 30 cm every point of the polyline, and every middle, is on it: half a step,
    and the rounding of the ends."""
    circle = Path((Arc(0j, 300 + 0j, math.pi), Arc(0j, -300 + 0j, math.pi)))
    (data,) = plt(sheet_of(circle), OFFICE).files
    ((_, points),) = drawn(data)
    middle = 310 + 310j
    assert points[0] == points[-1]
    away = [abs(abs(p - middle) - 300) for p in points]
    away += [abs(abs((a + b) / 2 - middle) - 300) for a, b in itertools.pairwise(points)]
    assert max(away) <= STEP / 2 + STEP / math.sqrt(2)
    assert length(points) == pytest.approx(2 * math.pi * 300, rel=A_METRE)


def test_each_kind_has_its_pen_and_cutting_comes_last(ferry: Sheet) -> None:
    pens = {"cut": 7, "seam": 3, "marks": 2, "text": 9}
    (data,) = plt(ferry, OFFICE.changed(pens=pens)).files
    assert [figures[0] for name, figures in commands(data) if name == "SP"] == [9, 2, 3, 7, 0]
    cut = sorted(length(points) for pen, points in drawn(data) if pen == 7)
    assert cut == pytest.approx(cut_lines(ferry), rel=A_METRE, abs=0.05)


def test_one_pen_for_all_is_never_changed(ferry: Sheet) -> None:
    (data,) = plt(ferry, OFFICE.changed(pens=dict.fromkeys(OFFICE.pens, 1))).files
    assert [figures for name, figures in commands(data) if name == "SP"] == [[1], [0]]


def test_dashes_begin_and_end_with_a_stroke() -> None:
    way = line(0j, 100j)
    (data,) = plt(sheet_of(way, layer="seam"), OFFICE).files
    dashes = [points for _, points in drawn(data)]
    places = [p.real for points in dashes for p in points]
    assert (min(places), max(places)) == (10.0, 110.0)
    assert len(dashes) == 12
    assert sum(map(length, dashes)) == pytest.approx(100 * 72 / 99.5, abs=0.3)


def test_travel_is_shorter_than_on_the_sheet(ferry: Sheet) -> None:
    plot = plt(ferry, OFFICE)
    assert plot.travelled < 0.6 * plot.as_laid
    at, away, pen = 0j, 0.0, 0
    for name, figures in commands(plot.files[0]):
        if name in ("PU", "PD") and figures:
            first = complex(figures[0], figures[1]) * STEP
            if name == "PU":
                away += abs(first - at)
            at = complex(figures[-2], figures[-1]) * STEP
        pen += name == "SP"
    assert away == pytest.approx(plot.travelled, rel=1e-3)


def test_pieces_keep_their_direction() -> None:
    """What points up on the sheet points along the roll, for every piece."""
    sheet = sheet_of(rectangle(300, 400), rectangle(200, 700), rectangle(700, 200))
    (data,) = plt(sheet, OFFICE).files
    sizes = []
    for _, points in drawn(data):
        xs, ys = [p.real for p in points], [p.imag for p in points]
        sizes.append((round(max(ys) - min(ys)), round(max(xs) - min(xs))))
    assert sorted(sizes) == [(200, 700), (300, 400), (700, 200)]


def test_a_piece_that_is_too_wide_is_named() -> None:
    sheet = sheet_of(rectangle(300, 400), rectangle(900, 200))
    with pytest.raises(OutputError) as told:
        plt(sheet, OFFICE)
    assert told.value.message == (
        "`piece 2` is 90 cm wide with its allowances; the roll of 91.4 cm has 89.4 cm between its "
        "margins of 1 cm"
    )
    assert "it is 20 cm high (--turn)" in told.value.help
    plot = plt(sheet, OFFICE.changed(turning=True))
    assert plot.turned == ("piece 2",)
    with pytest.raises(OutputError) as told:
        plt(sheet_of(rectangle(900, 900)), OFFICE.changed(turning=True, unit="in"))
    assert "35.43 in wide" in told.value.message
    assert "--turn" not in told.value.help


def test_margins_that_leave_no_paper() -> None:
    with pytest.raises(OutputError, match=r"of 50 cm leave nothing of a roll of 91\.4 cm"):
        plt(sheet_of(rectangle(1, 1)), OFFICE.changed(margin=500.0))
    with pytest.raises(OutputError, match="leave nothing of a frame of 2 cm"):
        plt(sheet_of(rectangle(1, 1)), OFFICE.changed(frame=20.0))


def test_frames_end_between_rows_where_they_can() -> None:
    sheet = sheet_of(*[rectangle(800, 400)] * 3)
    plot = plt(sheet, OFFICE.changed(frame=1000.0))
    (data,) = plot.files
    assert plot.frames == 2
    frames = data.split(b"PG;\n")[:-1]
    assert [len(drawn(frame)) for frame in frames] == [2, 1]
    assert [commands(frame)[1][1] for frame in frames] == [[830 * 40, 36560], [420 * 40, 36560]]


def test_a_long_piece_goes_on_in_the_next_frame() -> None:
    """The parts of its outline add up, and the crosses at a joint lie alike in both frames."""
    plot = plt(sheet_of(rectangle(500, 2000)), OFFICE.changed(frame=820.0))
    frames = plot.files[0].split(b"PG;\n")[:-1]
    assert plot.frames == len(frames) == 3
    parts = [drawn(frame) for frame in frames]
    outline = sum(length(points) for part in parts for pen, points in part if pen == 1)
    assert outline == pytest.approx(5000.0, abs=0.1)
    crosses = [[points for pen, points in part if pen == 3] for part in parts]
    assert [len(strokes) for strokes in crosses] == [4, 8, 4]

    def heights(strokes: list[list[complex]]) -> list[float]:
        return sorted({p.imag for points in strokes for p in points})

    assert heights(crosses[0]) == heights(crosses[1]) == heights(crosses[2])
    places = [{p.real for stroke in strokes for p in stroke} for strokes in crosses]
    # The first frame is full: its joint stands at its end, and at the head of the next one.
    assert {810.0} <= places[0]
    assert {10.0, 810.0} <= places[1]
    assert {10.0} <= places[2]


def test_every_frame_is_drawn_by_hp2xx(program: Callable[[str], str], tmp_path: Folder) -> None:
    plot = plt(sheet_of(rectangle(500, 2000)), OFFICE.changed(frame=820.0))
    total = 0.0
    for frame in plot.files[0].split(b"PG;\n")[:-1]:
        strokes = by_hp2xx(program("hp2xx"), frame + b"PG;", tmp_path)
        total += sum(length(points) for points in strokes if length(points) > 50)
    assert total == pytest.approx(5000.0, abs=0.25)


def test_old_plotters_get_only_what_they_know(ferry: Sheet) -> None:
    """Five commands, figures of 16 bits, a file for each frame."""
    plot = plt(sheet_of(rectangle(500, 2000), rectangle(700, 300)), OFFICE.changed(old=True))
    assert plot.frames == len(plot.files) == 3
    for data in plot.files:
        found = commands(data)
        assert {name for name, _ in found} == {"IN", "SP", "PU", "PD", "PA"}
        assert max(abs(figure) for _, figures in found for figure in figures) <= 32767
        assert [*found[-2:]] == [("PU", []), ("SP", [0])]
    with pytest.raises(OutputError, match=r"the 81\.92 cm that an old plotter reaches has 79\.92"):
        plt(sheet_of(rectangle(850, 100)), OFFICE.changed(old=True))
    assert round(OLD_REACH * 40) == 32767


def test_words_are_strokes_and_odd_letters_boxes(circle: Sheet) -> None:
    plot = plt(circle, Roll(1500.0))
    assert set(plot.missing) == set("衣装\U0001fab5")
    assert b"LB" not in plot.files[0]


def test_the_same_bytes_twice(ferry_pattern: Pattern) -> None:
    first = plt(lay_out(ferry_pattern), OFFICE)
    assert plt(lay_out(ferry_pattern), OFFICE) == first


def test_a_small_plot_looks_like_this(golden: Callable[[str, bytes | str], None]) -> None:
    texts = (Text("Ä 1/2", 50 + 40j, 10.0),)
    sheet = sheet_of(rectangle(100, 80), texts=texts)
    golden("panel.plt", plt(sheet, Roll(300.0)).files[0])
