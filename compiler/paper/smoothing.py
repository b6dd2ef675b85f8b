"""How far truing may go: from what was drawn, and from the length that is sewn."""

from __future__ import annotations

import math

from oaktag.compiler.geometry import Blend, Path, blends

WITHIN = 5.0  # mm, if nothing else is said
CORNER_KEEPS = 0.3  # mm: by no more does each corner change the length of an edge that is sewn,
EDGE_KEEPS = 0.9  # mm: and by no more all of them together


def blends_of(path: Path, limit: float, keeping: bool) -> tuple[Blend, ...]:
    """The blends that make a path flow. keeping: whether it is to keep its length."""
    most = math.inf
    if keeping:
        most = min(CORNER_KEEPS, EDGE_KEEPS / max(len(path.corners(1e-4)), 1))
    return blends(path, limit, most)
