"""What changed on the paper between two patterns, or two revisions, choices or bodies of one."""

from __future__ import annotations

from oaktag.compiler.revise.diff.changes import Changes
from oaktag.compiler.revise.diff.compare import compare

__all__ = ["Changes", "compare"]
