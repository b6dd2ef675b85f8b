"""SVG, measured by Inkscape, and the hairlines for a laser."""

from __future__ import annotations

import os
import subprocess
import xml.etree.ElementTree as ElementTree
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.emit.svg import svg
from oaktag.compiler.geometry import Path, line, polyline
from oaktag.compiler.sheet import Group, Sheet, Stroke
from oaktag.compiler.sheet.laser import for_laser

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path as Folder

    from oaktag.compiler.geometry import Box

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
MODE = "{http://www.inkscape.org/namespaces/inkscape}groupmode"
PIXEL = 25.4 / 96  # mm
HAIR = 0.025  # mm
A_METRE = 0.05 / 1000  # mm a mm
SEEN = 0.003  # mm: Inkscape prints six figures, of pixels


def asked(program: str, data: bytes, folder: Folder, *what: str) -> list[str]:
    """What Inkscape prints of a drawing."""
    (folder / "sheet.svg").write_bytes(data)
    done = subprocess.run(
        [program, *what, "sheet.svg"],
        cwd=folder,
        check=True,
        capture_output=True,
        timeout=100,
        env={**os.environ, "INKSCAPE_PROFILE_DIR": str(folder / "profile")},
    )
    return done.stdout.decode().splitlines()


def boxes(program: str, data: bytes, folder: Folder) -> list[Box]:
    """Left, top, width and height in mm of each line, in the order of the file.

    Inkscape counts the breadth of a line and the points of its corners; without a colour it has
    none.
    """
    for colour in (b"#000", b"#f00"):
        data = data.replace(b'stroke="' + colour, b'stroke="none')
    found = []
    for row in asked(program, data, folder, "--query-all"):
        name, *figures = row.split(",")
        if name.startswith("path"):
            x, y, wide, high = (float(figure) * PIXEL for figure in figures)
            found.append((x, y, wide, high))
    return found


def test_a_metre_in_every_direction(program: Callable[[str], str], tmp_path: Folder) -> None:
    ways = [1000 + 0j, 1000j, 600 + 800j, 8 + 6j]
    strokes = tuple(Stroke("cut", "cut line", line(5 + 5j, 5 + 5j + way)) for way in ways)
    data = svg(Sheet("Test", 1100.0, 1100.0, (Group("p", "p", strokes),)), laser=True)
    found = boxes(program("inkscape"), data, tmp_path)
    for way, (_, _, wide, high) in zip(ways, found, strict=True):
        assert (wide, high) == pytest.approx((way.real, way.imag), abs=abs(way) * A_METRE + SEEN)


@pytest.mark.parametrize("name", ["ferry", "circle"])
def test_every_line_is_where_it_is_drawn(
    name: str,
    request: pytest.FixtureRequest,
    program: Callable[[str], str],
    tmp_path: Folder,
) -> None:
    """Size and place of all lines of the wardrobe's example, engraved and cut, in its order."""
    drawn: Sheet = request.getfixturevalue(name)
    sheet = for_laser(drawn, engrave=True)
    data = svg(sheet, laser=True)
    found = boxes(program("inkscape"), data, tmp_path)
    expected = []
    for group in sheet.groups:
        for layer in ("marks", "cut"):
            for stroke in group.strokes:
                if stroke.layer == layer:
                    left, bottom, right, top = stroke.path.box()
                    x, y = left + group.at.real, sheet.height - top - group.at.imag
                    expected.append((x, y, right - left, top - bottom))
    assert len(found) == len(expected) > 20
    for got, wanted in zip(found, expected, strict=True):
        assert got == pytest.approx(wanted, abs=max(wanted[2:]) * A_METRE + SEEN)


def test_inkscape_shows_the_layers_by_name(
    ferry: Sheet, program: Callable[[str], str], tmp_path: Folder
) -> None:
    data = svg(ferry)
    words = "select-all:layers;select-list"
    rows = asked(program("inkscape"), data, tmp_path, f"--actions={words}")
    assert [row.split()[0] for row in rows if "cloned" in row] == ["test-square", "front", "back"]
    root = ElementTree.fromstring(data.decode())
    layers = {
        group.attrib["id"]: group.attrib[LABEL]
        for group in root.iter(f"{SVG}g")
        if group.attrib.get(MODE) == "layer"
    }
    assert layers["front"] == "front"
    assert layers["front-cut"] == "front: cut line"
    assert layers["back-seam"] == "back: seam line"
    assert layers["back-intake"] == "back: darts and pleats"


def test_a_laser_gets_hairlines_only(circle: Sheet) -> None:
    """Cut lines and notches in black, no words, no title, no test square, no style sheet."""
    root = ElementTree.fromstring(svg(for_laser(circle), laser=True).decode())
    drawn = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert drawn == {"svg", "title", "g", "path"}
    kinds = {path.attrib["class"] for path in root.iter(f"{SVG}path")}
    assert kinds == {"cut-line", "notch"}
    looks = {
        (group.attrib["stroke"], float(group.attrib["stroke-width"]), group.attrib["fill"])
        for group in root.iter(f"{SVG}g")
        if "stroke" in group.attrib
    }
    assert looks == {("#000", HAIR, "none")}
    assert (root.attrib["width"], root.attrib["height"]) == (
        f"{root.attrib['viewBox'].split()[2]}mm",
        f"{root.attrib['viewBox'].split()[3]}mm",
    )


def test_what_is_engraved_is_red_and_comes_first(circle: Sheet) -> None:
    root = ElementTree.fromstring(svg(for_laser(circle, engrave=True), laser=True).decode())
    piece = next(group for group in root if group.attrib.get("id") == "quarter")
    layers = [group for group in piece if group.tag == f"{SVG}g"]
    assert [group.attrib["stroke"] for group in layers] == ["#f00", "#000"]
    engraved = {path.attrib["class"] for path in layers[0]}
    assert {"seam", "button", "grain"} <= engraved
    assert "text" not in {element.tag.removeprefix(SVG) for element in root.iter()}
    # The test square is engraved, so that the scale can be measured on the first piece of scrap.
    assert any(path.attrib["class"] == "test-square" for path in root.iter(f"{SVG}path"))


def test_the_outline_is_cut_after_what_lies_in_it() -> None:
    ring = polyline([0j, 9 + 0j, 9 + 9j, 0j])
    strokes = (
        Stroke("cut", "cut line", ring),
        Stroke("marks", "notch", line(0j, 1 + 0j)),
        Stroke("marks", "drill", Path(line(1 + 1j, 2 + 2j).segments)),
    )
    sheet = for_laser(Sheet("Test", 9.0, 9.0, (Group("p", "p", strokes),)))
    assert [stroke.kind for stroke in sheet.groups[0].strokes] == ["notch", "cut line"]
