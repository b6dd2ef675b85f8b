"""Blocks digitised elsewhere: drawings read from SVG and DXF files."""

from __future__ import annotations

from oaktag.compiler.tracing.drawing import Digitised, Drawing, TracingError, read_drawing
from oaktag.compiler.tracing.outline import corners_from_upper_left, outline_of

__all__ = [
    "Digitised",
    "Drawing",
    "TracingError",
    "corners_from_upper_left",
    "outline_of",
    "read_drawing",
]
