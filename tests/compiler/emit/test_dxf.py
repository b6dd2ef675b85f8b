"""DXF, read again and audited by ezdxf."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
from typing import TYPE_CHECKING

import ezdxf
import ezdxf.path
import pytest

from oaktag.compiler.emit.dxf import dxf
from oaktag.compiler.geometry import Arc, Cubic, Line, Path, line
from oaktag.compiler.sheet import Group, Sheet, Stroke, Text
from oaktag.compiler.sheet.laser import for_laser

if TYPE_CHECKING:
    from pathlib import Path as File

    from ezdxf.document import Drawing

A_METRE = 0.05 / 1000  # mm a mm


def read(sheet: Sheet) -> Drawing:
    return ezdxf.read(io.StringIO(dxf(sheet).decode()))


def length(entity: ezdxf.entities.DXFGraphic) -> float:
    """Of a line or polyline, from the lines and arcs ezdxf takes it apart into."""
    parts = entity.virtual_entities() if entity.dxftype() == "LWPOLYLINE" else [entity]
    total = 0.0
    for part in parts:
        if part.dxftype() == "LINE":
            total += part.dxf.start.distance(part.dxf.end)
        else:
            turn = (part.dxf.end_angle - part.dxf.start_angle) % 360
            total += math.radians(turn) * part.dxf.radius
    return total


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_it_passes_the_audit(name: str, request: pytest.FixtureRequest) -> None:
    document = read(request.getfixturevalue(name))
    audit = document.audit()
    assert audit.errors == []
    assert audit.fixes == []
    assert document.dxfversion == "AC1024"
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_one_block_for_each_piece_in_its_place(name: str, request: pytest.FixtureRequest) -> None:
    sheet: Sheet = request.getfixturevalue(name)
    document = read(sheet)
    inserts = list(document.modelspace())
    assert [insert.dxftype() for insert in inserts] == ["INSERT"] * len(sheet.groups)
    for insert, group in zip(inserts, sheet.groups, strict=True):
        place = insert.dxf.insert
        assert complex(place.x, place.y) == pytest.approx(group.at)
        block = document.blocks[insert.dxf.name]
        assert len(block) == len(group.strokes) + len(group.texts)
    assert len({insert.dxf.name.casefold() for insert in inserts}) == len(inserts)


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_lengths_and_layers_are_read_again(name: str, request: pytest.FixtureRequest) -> None:
    sheet: Sheet = request.getfixturevalue(name)
    document = read(sheet)
    for insert, group in zip(document.modelspace(), sheet.groups, strict=True):
        for entity, stroke in zip(document.blocks[insert.dxf.name], group.strokes, strict=False):
            assert entity.dxf.layer == ("CUT" if stroke.layer == "cut" else "DRAW")
            assert length(entity) == pytest.approx(stroke.path.length, rel=A_METRE)
            start = next(iter(ezdxf.path.make_path(entity).flattening(1)))
            assert complex(start.x, start.y) == pytest.approx(stroke.path.start, abs=1e-6)
    assert {layer.dxf.name for layer in document.layers} == {
        "0",
        "Defpoints",
        "CUT",
        "DRAW",
        "ENGRAVE",
    }


def test_the_cut_line_is_one_closed_polyline(ferry: Sheet) -> None:
    document = read(ferry)
    for name in ("front", "back"):
        (cut,) = document.blocks[name].query('*[layer=="CUT"]')
        assert cut.dxftype() == "LWPOLYLINE"
        assert cut.closed
        places = [(x, y) for x, y in cut.get_points("xy")]
        assert places[0] != pytest.approx(places[-1])
    assert {entity.dxftype() for block in document.blocks for entity in block} == {
        "LINE", "LWPOLYLINE", "TEXT", "INSERT",
    }  # fmt: skip


@pytest.mark.parametrize("sweep", [0.3, -1.5, math.pi, -4.0, 6.2, 2 * math.pi])
def test_arcs_are_kept_exactly(sweep: float) -> None:
    arc = Path((Arc(150 + 120j, 210 + 160j, sweep),))
    sheet = Sheet("Test", 400, 300, (Group("piece", "piece", (Stroke("seam", "seam", arc),)),))
    (entity,) = read(sheet).blocks["piece"]
    assert len(entity) <= 4
    assert length(entity) == pytest.approx(abs(sweep) * abs(60 + 40j), rel=1e-6)


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_splines_are_the_very_curves(name: str, request: pytest.FixtureRequest) -> None:
    """Entity by entity: kind, ends and middle; the cut line goes on without a gap, and closes."""
    sheet: Sheet = request.getfixturevalue(name)
    document = ezdxf.read(io.StringIO(dxf(sheet, "splines").decode()))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    kinds = {Line: "LINE", Arc: "ARC", Cubic: "SPLINE"}
    for insert, group in zip(document.modelspace(), sheet.groups, strict=True):
        entities = iter(document.blocks[insert.dxf.name])
        for stroke in group.strokes:
            ends: list[complex] = []
            for segment in stroke.path.segments:
                entity = next(entities)
                assert entity.dxftype() == kinds[type(segment)]
                places = points_of(entity)
                assert sorted(places, key=at) == pytest.approx(
                    sorted((segment.start, segment.point(0.5), segment.end), key=at), abs=1e-6
                )
                ends += [places[0], places[-1]]
            if stroke.layer == "cut":
                # Each end is met by exactly one other.
                for number, end in enumerate(ends):
                    others = ends[:number] + ends[number + 1 :]
                    assert sum(abs(other - end) < 1e-6 for other in others) == 1


def points_of(entity: ezdxf.entities.DXFGraphic) -> list[complex]:
    """Start, middle and end of a line, arc or spline."""
    if entity.dxftype() == "LINE":
        places = [entity.dxf.start, entity.dxf.start.lerp(entity.dxf.end), entity.dxf.end]
    elif entity.dxftype() == "ARC":
        first, last = entity.dxf.start_angle, entity.dxf.end_angle
        middle = first + (last - first) % 360 / 2
        places = list(entity.vertices([first, middle, last]))
    else:
        assert entity.dxf.degree == 3
        assert list(entity.knots) == [0, 0, 0, 0, 1, 1, 1, 1]
        places = list(entity.construction_tool().points([0, 0.5, 1]))
    return [complex(place.x, place.y) for place in places]


def at(place: complex) -> tuple[float, float]:
    return round(place.real, 4), round(place.imag, 4)


def test_a_circle_is_a_circle() -> None:
    whole = Path((Arc(150 + 120j, 210 + 160j, 2 * math.pi),))
    sheet = Sheet("Test", 400, 300, (Group("piece", "piece", (Stroke("seam", "seam", whole),)),))
    document = ezdxf.read(io.StringIO(dxf(sheet, "splines").decode()))
    (entity,) = document.blocks["piece"]
    assert entity.dxftype() == "CIRCLE"
    assert entity.dxf.radius == pytest.approx(abs(60 + 40j))


def test_the_file_says_how_large_its_drawing_is(ferry: Sheet) -> None:
    header = read(ferry).header
    assert header["$EXTMIN"][:2] == (0, 0)
    assert header["$EXTMAX"][:2] == pytest.approx((ferry.width, ferry.height))
    assert header["$LIMMAX"] == pytest.approx((ferry.width, ferry.height))


@pytest.mark.parametrize("curves", ["polylines", "splines"])
@pytest.mark.parametrize("engrave", [True, False])
def test_for_a_laser(ferry: Sheet, curves: str, engrave: bool) -> None:
    """No words, no blocks, no dashes, hairlines; where each line lies on the sheet."""
    sheet = for_laser(ferry, engrave)
    document = ezdxf.read(io.StringIO(dxf(sheet, curves, laser=True).decode()))
    assert document.audit().errors == []
    drawn = list(document.modelspace())
    assert {entity.dxf.layer for entity in drawn} == ({"CUT", "ENGRAVE"} if engrave else {"CUT"})
    assert {entity.dxftype() for entity in drawn} <= {"LINE", "LWPOLYLINE", "SPLINE", "ARC"}
    assert {entity.dxf.get("linetype", "BYLAYER") for entity in drawn} == {"BYLAYER"}
    for name in ("CUT", "ENGRAVE"):
        assert document.layers.get(name).dxf.lineweight == 0
    assert "DRAW" not in document.layers
    if curves == "polylines":
        strokes = [(group.at, stroke) for group in sheet.groups for stroke in group.strokes]
        for entity, (shift, stroke) in zip(drawn, strokes, strict=True):
            start = next(iter(ezdxf.path.make_path(entity).flattening(1)))
            assert complex(start.x, start.y) == pytest.approx(stroke.path.start + shift, abs=1e-6)
            assert length(entity) == pytest.approx(stroke.path.length, rel=A_METRE)


def test_words_are_read_again(circle: Sheet) -> None:
    document = read(circle)
    words = {text.plain_text() for text in document.blocks["quarter"].query("TEXT")}
    assert "Lantern & <rope> ^C %%d 衣装 🪵" in words
    (fold,) = [t for t in document.blocks["quarter"].query("TEXT") if t.dxf.text == "place on fold"]
    assert fold.dxf.height == pytest.approx(3.5)
    assert fold.dxf.rotation == pytest.approx(90.0)
    assert fold.dxf.layer == "ENGRAVE"


def test_control_letters_do_not_break_the_file() -> None:
    odd = Text("a\n  0\nEOF\x00b", 0j, 5.0)
    sheet = Sheet(
        "Test", 10, 10, (Group("p", "p", (Stroke("cut", "c", line(0j, 1 + 0j)),), (odd,)),)
    )
    document = read(sheet)
    assert document.audit().errors == []
    assert document.blocks["p"].query("TEXT").first.dxf.text == "a   0 EOF b"


def test_pieces_that_differ_in_capitals_only(circle: Sheet) -> None:
    names = [block.name for block in read(circle).blocks]
    assert "quarter" in names
    assert "Quarter_2" in names


WRITE = """
from oaktag.compiler.geometry import Arc, Path, line
from oaktag.compiler.sheet import Group, Sheet, Stroke, Text
from oaktag.compiler.emit.dxf import dxf
import sys
arc = Path((Arc(0j, 9j, 2.0),))
strokes = (Stroke("cut", "cut line", line(0j, 10 + 5j)), Stroke("seam", "seam", arc))
groups = (Group("front", "front", strokes, (Text("front", 1j, 5.0),)),)
sys.stdout.buffer.write(dxf(Sheet("Test", 100.0, 100.0, groups)))
"""


def test_the_same_bytes_and_nothing_else_touched(tmp_path: File) -> None:
    """In three processes, each in a home and a folder with settings that would break ezdxf."""
    made = set()
    for seed in ("0", "1", "4711"):
        home = tmp_path / seed
        settings = home / ".config" / "ezdxf"
        settings.mkdir(parents=True)
        for folder in (settings, home):
            (folder / "ezdxf.ini").write_bytes("[core]\n".encode("utf-16"))
        before = sorted(home.rglob("*"))
        environment = {**os.environ, "HOME": str(home), "PYTHONHASHSEED": seed}
        for name in ("XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
            environment.pop(name, None)
        done = subprocess.run(
            [sys.executable, "-c", WRITE],
            cwd=home,
            env=environment,
            capture_output=True,
            check=True,
        )
        assert done.stderr == b""
        assert sorted(home.rglob("*")) == before
        made.add(done.stdout)
    assert len(made) == 1
    assert b"EOF" in made.pop()
