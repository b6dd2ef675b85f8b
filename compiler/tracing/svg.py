"""SVG drawings, read with svgelements."""

from __future__ import annotations

import io
import re
from typing import Any

from oaktag.compiler.geometry import Cubic, Line, Path, Segment
from oaktag.compiler.tracing.drawing import Drawing, TracingError

PHYSICAL = re.compile(r"^\s*[0-9.eE+-]+\s*(mm|cm|in|pt|pc|q)\s*$", re.IGNORECASE)
PER_INCH = 25.4  # read so that a user unit of a file in millimetres is a millimetre


def read_svg(name: str, data: bytes) -> Drawing:
    """All lines of an SVG file, its own transformations done."""
    import svgelements

    if re.search(rb"<!(DOCTYPE[^>]*\[|ENTITY)", data[:100_000]):
        raise TracingError(f"{name} defines entities, which are not read", "save it as plain SVG")
    try:
        document = svgelements.SVG.parse(io.BytesIO(data), ppi=PER_INCH)
    except Exception:
        raise TracingError(
            f"{name} cannot be read as SVG", "open it in a drawing program and save it again"
        ) from None
    width = document.values.get("width") or document.values.get("attributes", {}).get("width", "")
    scaled = bool(PHYSICAL.match(str(_root_width(data) or width)))
    lines = []
    for element in document.elements():
        if isinstance(element, svgelements.Shape) and not _hidden(element):
            outline = svgelements.Path(element)
            outline.reify()
            for part in outline.as_subpaths():
                lines.extend(_line(svgelements.Path(part)))
    return Drawing(tuple(lines), scaled)


def _root_width(data: bytes) -> str:
    found = re.search(rb"<svg\b[^>]*?\swidth\s*=\s*[\"']([^\"']*)[\"']", data, re.DOTALL)
    return found[1].decode("ascii", "replace") if found else ""


def _hidden(element: Any) -> bool:
    return str(element.values.get("display", "")) == "none"


def _line(part: Any) -> list[Path]:
    """One subpath; curves of every kind as cubics, y turned upward."""
    import svgelements

    segments: list[Segment] = []
    for item in part:
        if isinstance(item, svgelements.Move):
            continue
        if isinstance(item, svgelements.Arc):
            segments.extend(_cubic(curve) for curve in item.as_cubic_curves())
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


def _cubic(item: Any) -> Cubic:
    return Cubic(_at(item.start), _at(item.control1), _at(item.control2), _at(item.end))


def _at(point: Any) -> complex:
    return complex(point.x, -point.y)
