"""SVG, read again by svgelements and by the standard library's XML reader."""

from __future__ import annotations

import io
import math
import re
import xml.etree.ElementTree as ElementTree
from typing import TYPE_CHECKING

import pytest
import svgelements

from oaktag.compiler.emit.svg import STYLE, svg
from oaktag.compiler.geometry import Arc, Path, line
from oaktag.compiler.sheet import LAYERS, Group, Sheet, Stroke, Text

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.compiler.conftest import Board

NAMESPACE = {"svg": "http://www.w3.org/2000/svg"}
A_METRE = 0.05 / 1000  # mm a mm


def read(sheet: Sheet) -> ElementTree.Element:
    return ElementTree.fromstring(svg(sheet).decode())


def drawn(*paths: Path) -> Sheet:
    """A sheet with one group of strokes."""
    strokes = tuple(Stroke("seam", "seam", path) for path in paths)
    return Sheet("Test", 400.0, 300.0, (Group("piece", "piece", strokes),))


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_lengths_are_read_again(name: str, request: pytest.FixtureRequest) -> None:
    """At 25.4 pixels an inch svgelements reads one millimetre as one unit."""
    sheet: Sheet = request.getfixturevalue(name)
    expected = {
        stroke.edge.name: stroke.path.length
        for group in sheet.groups
        for stroke in group.strokes
        if stroke.edge
    }
    found = {}
    for path in svgelements.SVG.parse(io.BytesIO(svg(sheet)), ppi=25.4).elements():
        if isinstance(path, svgelements.Path) and "data-edge" in path.values:
            found[path.values["data-edge"]] = path.length(error=1e-7)
            assert float(path.values["data-length"]) == pytest.approx(
                found[path.values["data-edge"]], rel=A_METRE
            )
    assert found == pytest.approx(expected, rel=A_METRE)


def test_places_are_read_again(ferry: Sheet) -> None:
    """The sheet's lower left corner is the origin; SVG counts from the upper left."""
    (front,) = [group for group in ferry.groups if group.name == "front"]
    (cut,) = [stroke for stroke in front.strokes if stroke.layer == "cut"]
    left, bottom, right, top = cut.path.box()
    x, y = front.at.real, ferry.height - front.at.imag
    document = svgelements.SVG.parse(io.BytesIO(svg(ferry)), ppi=25.4)
    found = [
        path.bbox()
        for path in document.elements()
        if isinstance(path, svgelements.Path) and "cut-line" in path.values.get("class", "")
    ]
    assert found[0] == pytest.approx((left + x, y - top, right + x, y - bottom), abs=1e-3)


def test_the_scale_is_true(circle: Sheet) -> None:
    root = read(circle)
    width, height = root.attrib["width"], root.attrib["height"]
    assert width.endswith("mm")
    assert root.attrib["viewBox"] == f"0 0 {width[:-2]} {height[:-2]}"
    (square,) = root.iterfind(".//svg:path[@class='test-square']", NAMESPACE)
    places = [float(n) for n in re.findall(r"[\d.]+", square.attrib["d"])]
    assert max(places[::2]) - min(places[::2]) == pytest.approx(100.0)
    assert max(places[1::2]) - min(places[1::2]) == pytest.approx(100.0)


@pytest.mark.parametrize("sweep", [0.3, -0.3, 1.5, 3.0, -3.1, math.pi, 4.0, -5.5, 6.2, 2 * math.pi])
def test_arcs_of_every_size(sweep: float) -> None:
    """svgelements measures the arc and finds its middle where ours is."""
    arc = Path((Arc(150 + 120j, 210 + 160j, sweep),))
    (path,) = svgelements.SVG.parse(io.BytesIO(svg(drawn(arc))), ppi=25.4).select(
        lambda element: isinstance(element, svgelements.Path)
    )
    assert path.length() == pytest.approx(abs(sweep) * abs(60 + 40j), rel=A_METRE)
    boxed = arc.box()
    assert path.bbox() == pytest.approx(
        (boxed[0], 300 - boxed[3], boxed[2], 300 - boxed[1]), abs=0.01
    )


def test_groups_layers_and_edges(ferry: Sheet) -> None:
    root = read(ferry)
    pieces = root.findall("svg:g", NAMESPACE)
    assert [piece.attrib["id"] for piece in pieces] == ["test-square", "front", "back"]
    for piece in pieces:
        assert piece.find("svg:title", NAMESPACE) is not None
        layers = [layer.attrib["class"] for layer in piece.findall("svg:g", NAMESPACE)]
        assert layers == [layer for layer in LAYERS if layer in layers]
    sides = {
        path.attrib["data-edge"]: path
        for path in root.iterfind(".//svg:path[@data-edge]", NAMESPACE)
    }
    side = sides["back.side"]
    title = side.findtext("svg:title", namespaces=NAMESPACE)
    file, line = side.attrib["data-file"], side.attrib["data-line"]
    assert file == "oaktag/stdlib/skirts/straight.oak"
    assert title == f"edge back.side, 67.6 cm, line {line} of {file}"
    assert float(side.attrib["data-sewn"]) == pytest.approx(676.0, abs=1.0)
    names = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(names) == len(set(names))


def test_every_layer_looks_different(ferry: Sheet) -> None:
    """In black and white: no two layers share their width and dashes."""
    looks = re.findall(r"^\.(\w+) path\{stroke-width:([\d.]+)(.*)\}$", STYLE, re.MULTILINE)
    assert {name for name, _, _ in looks} == set(LAYERS) - {"text"}
    assert len({(width, dashes) for _, width, dashes in looks}) == len(looks)
    assert STYLE in svg(ferry).decode()


def test_words_cannot_become_markup(circle: Sheet) -> None:
    text = svg(circle).decode()
    assert "<script" not in text
    root = ElementTree.fromstring(text)
    assert root.findtext("svg:title", namespaces=NAMESPACE) == "Lantern & <rope> ^C %%d 衣装 🪵"
    words = [element.text for element in root.iterfind(".//svg:text", NAMESPACE)]
    assert "<script>alert('rope')</script>" in words


def test_letters_that_xml_cannot_hold() -> None:
    odd = Text('a\x00\x1b\ud800￿"&', 10 + 10j, 5.0)
    group = Group('"p\x07', "</g>", (Stroke("marks", "mark", line(0j, 10 + 0j)),), (odd,))
    root = ElementTree.fromstring(svg(Sheet("\x0b", 20.0, 20.0, (group,))).decode())
    (word,) = root.iterfind(".//svg:text", NAMESPACE)
    assert word.text == 'a\ufffd\ufffd\ufffd\ufffd"&'


def test_numbers_are_short_and_never_minus_nothing() -> None:
    text = svg(drawn(line(-1e-9 + 300.00000001j, 1 / 3 + 100j))).decode()
    assert 'd="M0 0L0.3333 200"' in text
    assert "-0 " not in text


def test_a_small_sheet_looks_like_this(
    board: Board, golden: Callable[[str, bytes | str], None]
) -> None:
    from oaktag.compiler.sheet import lay_out

    lines = (
        "  grain along centre\n  notch on side at 1/2\nallow 1 cm on panel\ncut 1 panel in main\n"
    )
    golden("panel.svg", svg(lay_out(board.pattern(board.panel + lines))))
