"""From a checked program, a body and choices to a pattern."""

from __future__ import annotations

from oaktag.compiler.evaluate.program import ask, evaluate

__all__ = ["ask", "evaluate"]
