"""Finished pieces measured by programs that are not ours: scipy, shapely, svgelements, ezdxf."""

from __future__ import annotations

import csv
import io
import json
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import ezdxf
import ezdxf.path
import numpy as np
import pytest
import shapely
import svgelements
from click.testing import CliRunner
from scipy.integrate import quad

from oaktag.compiler.cli import main
from oaktag.compiler.geometry import Arc, Cubic, Line, meetings

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Path as Drawn
    from oaktag.compiler.geometry import Segment
    from tests.conftest import Cutter

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
WARDROBE = {
    "ferry/ferry.oak": "ines",
    "lamplighter/jacket.oak": "tamsin",
    "harbour/coat.oak": "odo",
    "lantern/skirt.oak": "perrin",
}
A_METRE = 0.05 / 1000  # what an output may be off, in mm a mm
wardrobe = pytest.mark.parametrize("file", WARDROBE)


@pytest.fixture(scope="session")
def patterns(cutter: Cutter) -> dict[str, Pattern]:
    """The examples for the sizes of the chart's row 5, which has every measure they need."""
    return {file: cutter.draw(EXAMPLES / file, cutter.size("5")) for file in WARDROBE}


# ---------------------------------------------------------------- scipy and shapely


def derivative(segment: Segment, t: float) -> complex:
    """Written anew from the control points, with numpy's polynomials."""
    if isinstance(segment, Line):
        return segment.end - segment.start
    if isinstance(segment, Arc):
        return (
            1j * segment.sweep * (segment.start - segment.centre) * np.exp(1j * segment.sweep * t)
        )
    points = [segment.start, segment.first, segment.second, segment.end]
    steps = np.diff(np.array(points))
    weights = np.array([(1 - t) ** 2, 2 * t * (1 - t), t**2])
    return complex(3 * weights @ steps)


@wardrobe
def test_lengths_against_quadrature(file: str, patterns: dict[str, Pattern]) -> None:
    measured = 0
    for piece in patterns[file].pieces.values():
        for edge in (*piece.edges, *piece.lines):
            total = 0.0
            for segment in edge.path.segments:
                length, _ = quad(
                    lambda t, of=segment: abs(derivative(of, t)), 0, 1, epsabs=1e-9, limit=200
                )
                total += length
                measured += isinstance(segment, Cubic)
            assert edge.length == pytest.approx(total, abs=1e-6), (piece.name, str(edge.label))
    assert measured >= 2, "curves are what this is about"


@wardrobe
def test_areas_and_outlines_against_shapely(file: str, patterns: dict[str, Pattern]) -> None:
    for piece in patterns[file].pieces.values():
        places = piece.outline.flattened(0.001)
        polygon = shapely.Polygon([(place.real, place.imag) for place in places])
        assert polygon.is_valid, (piece.name, shapely.is_valid_reason(polygon))
        # A flattened curve lies within 0.001 mm of the curve.
        assert piece.area == pytest.approx(polygon.area, abs=0.002 * piece.outline.length)


@pytest.mark.parametrize("file", [file for file in WARDROBE if not file.startswith("lantern")])
def test_where_lines_meet_against_shapely(file: str, patterns: dict[str, Pattern]) -> None:
    """Every drawn line against every edge of its piece."""
    found = 0
    for piece in patterns[file].pieces.values():
        for drawn in piece.lines:
            for edge in piece.edges:
                mine = [meeting.point for meeting in meetings(drawn.path, edge.path)]
                crossing = shapely.intersection(string(drawn.path), string(edge.path))
                if crossing.geom_type in ("Point", "MultiPoint") and not crossing.is_empty:
                    theirs = [complex(spot.x, spot.y) for spot in shapely.get_parts(crossing)]
                    # Shapely meets the chords of the curves, and misses ends that only touch.
                    assert all(min(abs(place - other) for other in mine) < 0.02 for place in theirs)
                    found += len(theirs)
    assert found >= 2


def string(path: Drawn) -> shapely.LineString:
    return shapely.LineString([(place.real, place.imag) for place in path.flattened(0.0005)])


# ---------------------------------------------------------------- what is written, read again


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The wardrobe as `oaktag build` writes it: the files of each pattern, without suffix."""
    folder = tmp_path_factory.mktemp("built")
    for file, name in WARDROBE.items():
        words = ["build", str(EXAMPLES / file), "--body", str(EXAMPLES / f"bodies/{name}.oak")]
        done = CliRunner().invoke(main, [*words, "-o", str(folder), "--to", "svg,dxf,json"])
        assert done.exit_code == 0, done.output
    return {file: folder / f"{Path(file).stem}-{name}" for file, name in WARDROBE.items()}


@wardrobe
def test_svg_read_by_svgelements(file: str, built: dict[str, Path]) -> None:
    """Every edge has the length that the figures give it, at 25.4 pixels an inch."""
    pieces = json.loads(built[file].with_suffix(".json").read_text())["pieces"]
    expected = {
        f"{piece['name']}.{edge['name']}": edge["length"]
        for piece in pieces
        if piece["cut"]
        for edge in piece["edges"]
    }
    found = {}
    text = built[file].with_suffix(".svg").read_text()
    for path in svgelements.SVG.parse(io.StringIO(text), ppi=25.4).elements():
        if isinstance(path, svgelements.Path) and "data-edge" in path.values:
            found[path.values["data-edge"]] = path.length(error=1e-7)
    assert found == pytest.approx(expected, rel=A_METRE)
    assert len(found) > 5


@wardrobe
def test_dxf_read_by_ezdxf(file: str, built: dict[str, Path]) -> None:
    """One block a piece; the cut line encloses the area that the figures give."""
    document = ezdxf.readfile(built[file].with_suffix(".dxf"))
    assert document.audit().errors == []
    pieces = json.loads(built[file].with_suffix(".json").read_text())["pieces"]
    for piece in (piece for piece in pieces if piece["cut"]):
        block = document.blocks.get(piece["name"])
        assert block is not None
        lines = [
            entity
            for entity in block
            if "cut" in entity.dxf.layer.lower() and entity.dxftype() in ("LWPOLYLINE", "POLYLINE")
        ]
        areas = []
        for entity in lines:
            places = ezdxf.path.make_path(entity).flattening(0.001)
            areas.append(shapely.Polygon([(place.x, place.y) for place in places]).area)
        wanted = shapely.Polygon(piece["cut_line"]).area
        assert max(areas) == pytest.approx(wanted, rel=1e-4)


# ---------------------------------------------------------------- units and tables


def test_units_are_exact(cutter: Cutter, tmp_path: Path) -> None:
    """An inch is 25.4 mm, a foot 12 inches, a yard 36 inches, exactly (since 1959)."""
    file = tmp_path / "units.oak"
    file.write_text(
        'pattern "Units"\n\n'
        "mixed = 1 1/2 in + 5/8 in\n"
        "yards = 2 1/4 yd\n"
        "feet = 3 ft\n"
        "metres = 1.25 m\n\n"
        "piece square\n"
        "  strip 1 in by 1 in\n",
        encoding="utf-8",
    )
    pattern = cutter.draw(file)
    assert cutter.ask(pattern, "mixed") == 2.125 * 25.4
    assert cutter.ask(pattern, "yards") == pytest.approx(81 * 25.4, abs=1e-12)
    assert cutter.ask(pattern, "feet") == pytest.approx(914.4, abs=1e-12)
    assert cutter.ask(pattern, "1 yd") == 914.4
    assert cutter.ask(pattern, "metres") == 1250
    assert cutter.ask(pattern, "12 in") == pytest.approx(cutter.ask(pattern, "1 ft"), abs=1e-12)
    assert pattern.pieces["square"].area == pytest.approx(25.4**2, rel=1e-12)
    assert cutter.ask(pattern, "area(square) / (1 in * 1 in)") == pytest.approx(1, rel=1e-12)


def test_the_chart_is_that_of_the_standard() -> None:
    """EN 13402-3, women: as sequences in the R package Anthropometry 1.20, plotPrototypes.R.

    Bust 76 to 104 by 4, then 110 to 128 by 6; waist 60 to 88 by 4, then 94 to 112 by 6; hips 84 to
    112 by 4, then 117 to 132 by 5.
    """
    path = ROOT / "stdlib" / "charts" / "en13402_women.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    remarks = [line for line in lines if line.startswith("#")]
    assert any("EN 13402-3" in line for line in remarks)
    assert any("ours" in line for line in remarks)
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    assert [row["size"] for row in rows] == [str(number) for number in range(1, 13)]
    bust = [float(row["bust_girth [cm]"]) for row in rows]
    waist = [float(row["waist_girth [cm]"]) for row in rows]
    hip = [float(row["hip_girth [cm]"]) for row in rows]
    assert bust == [*range(76, 105, 4), *range(110, 129, 6)]
    assert waist == [*range(60, 89, 4), *range(94, 113, 6)]
    assert hip == [*range(84, 113, 4), *range(117, 133, 5)]
    # What the table implies: bust less waist is 16 throughout; hips less bust 8, then 7, 6, 5, 4.
    assert {b - w for b, w in zip(bust, waist, strict=True)} == {16}
    assert [h - b for h, b in zip(hip, bust, strict=True)] == [8] * 8 + [7, 6, 5, 4]
    # The example of the label: 88-72-96.
    assert (bust[3], waist[3], hip[3]) == (88, 72, 96)


def test_our_columns_rise_evenly() -> None:
    """They are ours, and say so; common practice, no source."""
    rows = chart_rows()
    ours = ("waist_to_hip", "body_rise", "outside_leg_length", "back_waist_length", "arm_length")
    for name in ours:
        figures = [float(row[f"{name} [cm]"]) for row in rows]
        steps = {round(after - before, 9) for before, after in pairwise(figures)}
        assert len(steps) == 1
        assert 0 < steps.pop() <= 1


@pytest.mark.parametrize(
    ("name", "figures"),
    [
        ("back_width", [32.4, 33.4, 34.4, 35.4, 36.4, 37.4, 38.4, 39.8, 41.2, 42.6]),
        ("shoulder_length", [11.75, 12, 12.25, 12.5, 12.75, 13, 13.25, 13.6, 13.9, 14.2]),
        ("neck_girth", [35, 36, 37, 38, 39, 40, 41, 42, 43, 44]),
        ("upper_arm_girth", [26, 27.2, 28.4, 29.6, 30.8, 32]),
    ],
)
def test_columns_that_go_by_the_bust(name: str, figures: list[float]) -> None:
    """W. Aldrich, Metric Pattern Cutting for Women's Wear, 6th ed., bust 80 to 122; from a copy."""
    found = [float(row[f"{name} [cm]"]) for row in chart_rows()[1:]]
    assert found[: len(figures)] == figures
    assert found == sorted(found)


def chart_rows() -> list[dict[str, str]]:
    lines = (ROOT / "stdlib" / "charts" / "en13402_women.csv").read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
