"""What evaluation guarantees, so that nothing has to look for it: outlines that close and do not
cross, and darts whose legs are equal, after every step.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from shapely import LinearRing

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.conftest import Cutter

ROOT = Path(__file__).parents[3]
FILES = [
    path
    for folder in ("stdlib", "examples")
    for path in sorted((ROOT / folder).rglob("*.oak"))
    if path.parent.name != "bodies" and path.stem != "01_body"
]


@pytest.mark.parametrize("size", ["1", "6", "12"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_every_step_leaves_a_closed_outline_and_equal_legs(
    path: Path, size: str, cutter: Cutter, record_property: Callable[[str, object], None]
) -> None:
    pattern, said = cutter.result(path, cutter.size(size))
    assert pattern is not None, [one.message for one in said]
    looked_at = {
        id(step): step.paper
        for piece in pattern.pieces.values()
        for step in piece.steps
        if step.paper.edges
    }
    for paper in looked_at.values():
        assert paper.outline.closed
        points = paper.outline.flattened(0.05)
        ring = LinearRing([(point.real, point.imag) for point in points[:-1]])
        assert ring.is_simple
        assert ring.is_valid
    for piece in pattern.made:
        for dart in piece.openings:
            if dart.kind == "dart" and dart.hinged:
                assert dart.first.length == pytest.approx(dart.second.length, abs=1.0)
    record_property("counted: steps of blocks and examples left a closed outline", len(looked_at))
    assert looked_at
