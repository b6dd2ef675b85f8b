"""Points, paths, lengths, meetings, fair curves and offsets, in millimetres. Knows no sewing.

Points and vectors are complex numbers: x to the right, y up. All values are immutable.
"""

from __future__ import annotations

from oaktag.compiler.geometry.bezier import cubics
from oaktag.compiler.geometry.errors import GeometryError
from oaktag.compiler.geometry.fair import arc_around, arc_through, bowed_curve, fair_curve
from oaktag.compiler.geometry.fit import fitted
from oaktag.compiler.geometry.meet import (
    Meeting,
    circle_meetings,
    line_meetings,
    meetings,
    ray_meetings,
)
from oaktag.compiler.geometry.motion import (
    IDENTITY,
    Motion,
    carrying,
    reflection,
    rotation,
    translation,
)
from oaktag.compiler.geometry.offset import offset, parallel
from oaktag.compiler.geometry.path import Path, chain, line, pinned, polyline
from oaktag.compiler.geometry.region import (
    contains,
    interior_point,
    lenses,
    ring_area,
    self_crossings,
)
from oaktag.compiler.geometry.segment import Arc, Cubic, Line, Segment
from oaktag.compiler.geometry.smooth import Blend, blended, blends, replaced
from oaktag.compiler.geometry.vectors import Box, cross, dot, turning

__all__ = [
    "IDENTITY",
    "Arc",
    "Blend",
    "Box",
    "Cubic",
    "GeometryError",
    "Line",
    "Meeting",
    "Motion",
    "Path",
    "Segment",
    "arc_around",
    "arc_through",
    "blended",
    "blends",
    "bowed_curve",
    "carrying",
    "chain",
    "circle_meetings",
    "contains",
    "cross",
    "cubics",
    "dot",
    "fair_curve",
    "fitted",
    "interior_point",
    "lenses",
    "line",
    "line_meetings",
    "meetings",
    "offset",
    "parallel",
    "pinned",
    "polyline",
    "ray_meetings",
    "reflection",
    "replaced",
    "ring_area",
    "rotation",
    "self_crossings",
    "translation",
    "turning",
]
