"""A drawing without format: what is to be seen of a pattern, in mm, on layers."""

from __future__ import annotations

from oaktag.compiler.sheet.drawing import LAYERS, Group, OutlineEdge, Sheet, Stroke, Text
from oaktag.compiler.sheet.lay_out import lay_out

__all__ = ["LAYERS", "Group", "OutlineEdge", "Sheet", "Stroke", "Text", "lay_out"]
