"""DXF, release R2010, in millimetres: a block for each piece, inserted once, on the sheet's layers.

Straight strokes are LINE, all others LWPOLYLINE, closed where the stroke is: the cut line is one
closed polyline. There are no splines, which many plotters and cutters refuse: arcs are kept
exactly, as bulges, other curves are flattened so finely that a metre is not 0.05 mm short.
"""

from __future__ import annotations

import configparser
import importlib
import io
import itertools
import math
import os
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from oaktag.compiler.geometry import Arc, Cubic, Line
from oaktag.compiler.sheet.drawing import CUT, FOLD, LAYERS, SEAM, TEXT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ezdxf.document import Drawing
    from ezdxf.layouts.blocklayout import BlockLayout

    from oaktag.compiler.geometry import Path as Curve
    from oaktag.compiler.sheet.drawing import Sheet, Stroke, Text

_FLAT = 0.002  # mm
_CAPITAL = 0.7  # of the size: DXF measures letters by their capitals
_DASHES = {SEAM: "DASHED", FOLD: "DASHDOT"}
_WEIGHTS = {CUT: 50, TEXT: 25}  # hundredths of a mm
_OTHER_WEIGHT = 30
_WIDEST_ARC = 3.0  # radians: a bulge grows beyond all bounds toward a whole circle
_NO_FONTS = '{"version": 2, "font-faces": []}'


def dxf(sheet: Sheet) -> bytes:
    """The whole sheet as one DXF file; the same bytes for the same sheet in any process."""
    ezdxf = _ezdxf()
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        document = ezdxf.new("R2010", setup=["linetypes"], units=ezdxf.units.MM)
        _fill(document, sheet)
        stream = io.StringIO()
        document.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
    return stream.getvalue().encode("utf-8")


def _fill(document: Drawing, sheet: Sheet) -> None:
    document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    document.header["$EXTMAX"] = (sheet.width, sheet.height, 0.0)
    document.header["$LTSCALE"] = 10.0
    for layer in LAYERS:
        document.layers.add(
            layer,
            linetype=_DASHES.get(layer, "CONTINUOUS"),
            lineweight=_WEIGHTS.get(layer, _OTHER_WEIGHT),
        )
    paper = document.modelspace()
    taken: set[str] = set()
    for group in sheet.groups:
        name = _free_name(group.name, taken)
        block = document.blocks.new(name)
        for stroke in group.strokes:
            _draw(block, stroke)
        for text in group.texts:
            _write(block, text)
        paper.add_blockref(name, (group.at.real, group.at.imag))
    # ezdxf adds these in the order of a set, which differs from process to process.
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)


def _draw(block: BlockLayout, stroke: Stroke) -> None:
    attributes: dict[str, Any] = {"layer": stroke.layer}
    if stroke.dashed:
        attributes["linetype"] = "DASHED"
    segments = stroke.path.segments
    if len(segments) == 1 and isinstance(segments[0], Line):
        start, end = segments[0].start, segments[0].end
        block.add_line((start.real, start.imag), (end.real, end.imag), dxfattribs=attributes)
        return
    points = list(_points(stroke.path))
    block.add_lwpolyline(points, "xyb", close=stroke.path.closed, dxfattribs=attributes)


def _points(path: Curve) -> Iterator[tuple[float, float, float]]:
    """Corners with the bulge of what follows them; a closed path without its last point."""
    for segment in path.segments:
        if isinstance(segment, Arc):
            count = max(1, math.ceil(abs(segment.sweep) / _WIDEST_ARC))
            bulge = math.tan(segment.sweep / count / 4)
            for number in range(count):
                place = segment.point(number / count)
                yield place.real, place.imag, bulge
        elif isinstance(segment, Cubic):
            for place in (segment.start, *segment.flattened(_FLAT)[:-1]):
                yield place.real, place.imag, 0.0
        else:
            yield segment.start.real, segment.start.imag, 0.0
    if not path.closed:
        yield path.end.real, path.end.imag, 0.0


def _write(block: BlockLayout, text: Text) -> None:
    from ezdxf.enums import TextEntityAlignment

    entity = block.add_text(
        _plain(text.content),
        height=text.size * _CAPITAL,
        rotation=text.angle,
        dxfattribs={"layer": TEXT},
    )
    entity.set_placement((text.at.real, text.at.imag), align=TextEntityAlignment.MIDDLE_CENTER)


def _plain(text: str) -> str:
    """Words that mean themselves: DXF reads %% and ^ as the start of a sign."""
    printable = "".join(letter if letter.isprintable() else " " for letter in text)
    return printable.replace("^", "^ ").replace("%%", "%%%%%%")


def _free_name(name: str, taken: set[str]) -> str:
    """A block's name; DXF does not tell `Front` from `front`."""
    name = name.replace(" ", "_")
    free = next(
        n
        for n in itertools.chain([name], (f"{name}_{k}" for k in itertools.count(2)))
        if n.casefold() not in taken
    )
    taken.add(free.casefold())
    return free


def _ezdxf() -> Any:
    """ezdxf, imported without what it does besides.

    On import it reads settings from the user's home and from the folder it is called in, looks
    through all fonts of the machine and writes what it finds into the user's home. None of that
    concerns a drawing: here it finds no settings, and a list that holds no fonts.
    """
    if "ezdxf" not in sys.modules:
        homes = {name: os.environ.get(name) for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")}
        read = configparser.ConfigParser.read
        with tempfile.TemporaryDirectory() as home:
            fonts = Path(home, "ezdxf", "font_manager_cache.json")
            fonts.parent.mkdir()
            fonts.write_text(_NO_FONTS, encoding="utf-8")
            try:
                os.environ.update(dict.fromkeys(homes, home))
                configparser.ConfigParser.read = lambda *_, **__: []  # type: ignore[method-assign]
                importlib.import_module("ezdxf")
            finally:
                configparser.ConfigParser.read = read  # type: ignore[method-assign]
                for name, value in homes.items():
                    os.environ.pop(name)
                    if value is not None:
                        os.environ[name] = value
    return sys.modules["ezdxf"]
