"""The three kinds of segment a path is made of; all answer to the same names."""

from __future__ import annotations

from oaktag.compiler.geometry.arc import Arc
from oaktag.compiler.geometry.cubic import Cubic
from oaktag.compiler.geometry.line import Line

Segment = Line | Arc | Cubic

__all__ = ["Arc", "Cubic", "Line", "Segment"]
