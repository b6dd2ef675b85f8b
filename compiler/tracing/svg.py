"""SVG drawings, read with svgelements."""

from __future__ import annotations

import io
import math
import re
from typing import Any

from oaktag.compiler.geometry import Arc, Cubic, Line, Path, Segment
from oaktag.compiler.tracing.drawing import (
    MOST_PARTS,
    Drawing,
    TracingError,
    enlarged,
    too_many_parts,
)

PHYSICAL = re.compile(r"^\s*[0-9.eE+-]+\s*(mm|cm|in|pt|pc)\s*$", re.IGNORECASE)
MILLIMETRES = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6}
PER_INCH = 25.4  # read so that a user unit of a file in millimetres is a millimetre
ROUND = 1e-9  # share by which the two radii of a circle may differ
LINK = "{http://www.w3.org/1999/xlink}href"


def read_svg(name: str, data: bytes) -> Drawing:
    """All lines of an SVG file, its own transformations done.

    It says how large it is if its width has a unit of length and a view box says what that is wide;
    without view box, programs do not agree on the size of a unit.
    """
    import svgelements

    if re.search(rb"<!(DOCTYPE[^>]*\[|ENTITY)", data[:100_000]):
        raise TracingError(
            f"{name} defines entities, which are not read", help="save it as plain SVG"
        )
    try:
        unit, parts = _measured(data)
        if parts <= MOST_PARTS:
            document = svgelements.SVG.parse(io.BytesIO(data), ppi=PER_INCH)
    except Exception:
        raise TracingError(
            f"{name} cannot be read as SVG", help="open it in a drawing program and save it again"
        ) from None
    if parts > MOST_PARTS:
        raise too_many_parts(name)
    # The library rounds the millimetre, and reads points as if a screen were meant.
    read = svgelements.Length(f"1000{unit}").value(ppi=PER_INCH) / 1000 if unit else 1.0
    factor = MILLIMETRES[unit] / read if unit else 1.0
    lines = []
    for element in document.elements():
        if isinstance(element, svgelements.Shape) and not _hidden(element):
            outline = svgelements.Path(element)
            outline.reify()
            for part in outline.as_subpaths():
                lines.extend(_line(svgelements.Path(part)))
    return Drawing(tuple(enlarged(line, factor) for line in lines), bool(unit))


def _measured(data: bytes) -> tuple[str, int]:
    """The unit of its size, if that is said, and how many elements are drawn, each repetition too.

    A few lines that repeat each other can stand for more drawings than fit into any memory.
    """
    from xml.etree import ElementTree

    root = ElementTree.fromstring(data)
    named = {element.get("id"): element for element in root.iter()}
    counted: dict[int, int] = {}

    def count(element: Any) -> int:
        key = id(element)
        if key not in counted:
            counted[key] = MOST_PARTS + 1  # what repeats itself never ends
            link = (element.get("href") or element.get(LINK) or "").strip()
            repeated = named.get(link[1:]) if link.startswith("#") else None
            counted[key] = (
                1 + sum(map(count, element)) + (count(repeated) if repeated is not None else 0)
            )
        return counted[key]

    found = PHYSICAL.match(root.get("width") or "") if root.get("viewBox") else None
    return found[1].lower() if found else "", count(root)


def _hidden(element: Any) -> bool:
    return str(element.values.get("display", "")) == "none"


def _line(part: Any) -> list[Path]:
    """One subpath; curves of every kind as cubics, parts of circles as such, y turned upward."""
    import svgelements

    segments: list[Segment] = []
    for item in part:
        if isinstance(item, svgelements.Move):
            continue
        if isinstance(item, svgelements.Arc):
            segments.extend(_arc(item))
        elif isinstance(item, svgelements.CubicBezier):
            segments.append(_cubic(item))
        elif isinstance(item, svgelements.QuadraticBezier):
            start, control, end = _at(item.start), _at(item.control), _at(item.end)
            segments.append(
                Cubic(start, start + (control - start) * 2 / 3, end + (control - end) * 2 / 3, end)
            )
        elif item.start is not None and item.end is not None and item.start != item.end:
            segments.append(Line(_at(item.start), _at(item.end)))
    return [Path(segments)] if segments else []


def _arc(item: Any) -> list[Segment]:
    start, end = _at(item.start), _at(item.end)
    if abs(item.rx - item.ry) > ROUND * abs(item.rx):
        # In pieces so short that the cubics come within a ten-millionth of the radius.
        return [_cubic(curve) for curve in item.as_cubic_curves(arc_required=16)]
    return [Arc(_at(item.center), start, -math.fmod(item.sweep, 2 * math.tau), end)]


def _cubic(item: Any) -> Cubic:
    return Cubic(_at(item.start), _at(item.control1), _at(item.control2), _at(item.end))


def _at(point: Any) -> complex:
    return complex(point.x, -point.y)
