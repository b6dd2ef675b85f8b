"""DXF, release R2010, in millimetres, for drawing programs and cutting machines.

Three layers, by what a machine does: CUT, DRAW, ENGRAVE. Each piece is a block, inserted once; for
a laser everything lies in the drawing itself, since its programs seldom take blocks apart.

Polylines: the cut line is one closed polyline; arcs are kept exactly, as bulges, other curves are
flattened so finely that a metre is not 0.05 mm short. Splines: every line is drawn as the segments
it is made of, LINE, ARC and SPLINE, each beginning where the one before ends.
"""

from __future__ import annotations

import io
import itertools
import math
from typing import TYPE_CHECKING, Any

from oaktag.compiler.geometry import Arc, Cubic, Line, translation
from oaktag.compiler.sheet import drawing as sheet_layers
from oaktag.compiler.tracing.ezdxf_alone import ezdxf_alone

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ezdxf.document import Drawing
    from ezdxf.layouts.base import BaseLayout

    from oaktag.compiler.geometry import Path, Segment
    from oaktag.compiler.sheet.drawing import Group, Sheet, Stroke, Text

POLYLINES = "polylines"
SPLINES = "splines"
CUT = "CUT"
DRAW = "DRAW"
ENGRAVE = "ENGRAVE"
LAYERS = (CUT, DRAW, ENGRAVE)
"""What a knife or beam follows, what a pen draws, and what is written or engraved."""

_COLOURS = {CUT: 7, DRAW: 5, ENGRAVE: 1}  # black on white paper, blue, red
_WEIGHTS = {CUT: 50, DRAW: 25, ENGRAVE: 25}  # hundredths of a mm
_HAIRLINE = 0
_DASHES = {sheet_layers.SEAM: "DASHED", sheet_layers.FOLD: "DASHDOT"}
_FLAT = 0.002  # mm
_CAPITAL = 0.7  # of the size: DXF measures letters by their capitals
_WIDEST_ARC = 3.0  # radians: a bulge grows beyond all bounds toward a whole circle
_WHOLE = 1e-9  # radians by which the sweep of a circle may differ from a whole turn
_KNOTS = (0.0,) * 4 + (1.0,) * 4  # of a spline that is one Bézier curve


def dxf(sheet: Sheet, curves: str = POLYLINES, laser: bool = False) -> bytes:
    """The whole sheet as one DXF file; the same bytes for the same sheet in any process.

    curves: `polylines` or `splines`. laser: for a sheet made by `for_laser`: hairlines, on CUT what
    is cut and on ENGRAVE what is engraved.
    """
    ezdxf = ezdxf_alone()
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        document = ezdxf.new("R2010", setup=["linetypes"], units=ezdxf.units.MM)
        _fill(document, sheet, _Pen(curves == SPLINES, laser))
        stream = io.StringIO()
        document.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
    return stream.getvalue().encode("utf-8")


def _fill(document: Drawing, sheet: Sheet, pen: _Pen) -> None:
    from ezdxf.enums import InsertUnits

    paper = document.modelspace()
    extent = (0.0, 0.0, 0.0), (sheet.width, sheet.height, 0.0)
    paper.reset_extents(*extent)
    # ezdxf does not pass on a corner that is the origin.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = extent
    paper.reset_limits((0.0, 0.0), (sheet.width, sheet.height))
    document.header["$LTSCALE"] = 10.0
    for layer in LAYERS:
        if pen.laser and layer == DRAW:
            continue
        weight = _HAIRLINE if pen.laser else _WEIGHTS[layer]
        document.layers.add(layer, color=_COLOURS[layer], lineweight=weight)
    taken: set[str] = set()
    for group in sheet.groups:
        if pen.laser:
            pen.draw(paper, group, group.at)
            continue
        name = _free_name(group.name, taken)
        block = document.blocks.new(name)
        block.units = InsertUnits.Millimeters
        pen.draw(block, group, 0j)
        paper.add_blockref(name, (group.at.real, group.at.imag))
    # ezdxf adds these in the order of a set, which differs from process to process.
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)


class _Pen:
    """How strokes are drawn: their curves as splines or not, for a laser or not."""

    def __init__(self, splines: bool, laser: bool) -> None:
        self.splines = splines
        self.laser = laser

    def draw(self, space: BaseLayout, group: Group, at: complex) -> None:
        """The strokes of a group moved by `at`, and its words, which a laser's sheet has not."""
        for stroke in group.strokes:
            self._stroke(space, stroke, at)
        for text in group.texts:
            _write(space, text)

    def _stroke(self, space: BaseLayout, stroke: Stroke, at: complex) -> None:
        drawn = ENGRAVE if self.laser else DRAW
        layer = CUT if stroke.layer == sheet_layers.CUT else drawn
        attributes: dict[str, Any] = {"layer": layer}
        dashes = "DASHED" if stroke.dashed else _DASHES.get(stroke.layer)
        if dashes and not self.laser:
            attributes["linetype"] = dashes
        path = stroke.path.moved(translation(at)) if at else stroke.path
        if self.splines or (len(path.segments) == 1 and isinstance(path.segments[0], Line)):
            for segment in path.segments:
                _segment(space, segment, attributes)
        else:
            points = list(_points(path))
            space.add_lwpolyline(points, "xyb", close=path.closed, dxfattribs=attributes)


def _segment(space: BaseLayout, segment: Segment, attributes: dict[str, Any]) -> None:
    if isinstance(segment, Line):
        space.add_line(_xy(segment.start), _xy(segment.end), dxfattribs=attributes)
    elif isinstance(segment, Cubic):
        handles = (segment.start, segment.first, segment.second, segment.end)
        spline = space.add_spline(degree=3, dxfattribs=attributes)
        spline.control_points = [(*_xy(handle), 0.0) for handle in handles]
        spline.knots = _KNOTS
    elif abs(segment.sweep) > 2 * math.pi - _WHOLE:
        space.add_circle(_xy(segment.centre), segment.radius, dxfattribs=attributes)
    else:
        ends = [segment.start, segment.end][:: 1 if segment.sweep > 0 else -1]
        first, last = (_degrees(end - segment.centre) for end in ends)
        space.add_arc(_xy(segment.centre), segment.radius, first, last, dxfattribs=attributes)


def _xy(place: complex) -> tuple[float, float]:
    return place.real, place.imag


def _degrees(spoke: complex) -> float:
    return math.degrees(math.atan2(spoke.imag, spoke.real))


def _points(path: Path) -> Iterator[tuple[float, float, float]]:
    """Corners with the bulge of what follows them; a closed path without its last point."""
    for segment in path.segments:
        if isinstance(segment, Arc):
            count = max(1, math.ceil(abs(segment.sweep) / _WIDEST_ARC))
            bulge = math.tan(segment.sweep / count / 4)
            for number in range(count):
                yield *_xy(segment.point(number / count)), bulge
        elif isinstance(segment, Cubic):
            for place in (segment.start, *segment.flattened(_FLAT)[:-1]):
                yield *_xy(place), 0.0
        else:
            yield *_xy(segment.start), 0.0
    if not path.closed:
        yield *_xy(path.end), 0.0


def _write(space: BaseLayout, text: Text) -> None:
    from ezdxf.enums import TextEntityAlignment

    entity = space.add_text(
        _plain(text.content),
        height=text.size * _CAPITAL,
        rotation=text.angle,
        dxfattribs={"layer": ENGRAVE},
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
