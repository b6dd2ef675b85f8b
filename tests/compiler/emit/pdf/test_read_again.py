"""Lines measured from a PDF by programs we did not write: poppler makes an SVG of it, svgelements
measures that.
"""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

import pytest
import svgelements

from oaktag.compiler.paging import on_roll
from oaktag.compiler.paging.squares import squares

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.paging import Paging
    from oaktag.compiler.sheet import Sheet
    from tests.compiler.emit.pdf.conftest import Print

A_METRE = 0.05 / 1000  # mm a mm
POINT = 25.4 / 72  # mm
STEP = 2 * POINT / 256  # mm: poppler writes points in 256ths


@pytest.mark.parametrize("name", ["ferry", "quarter"])
def test_every_line_has_its_length(
    name: str, request: pytest.FixtureRequest, printed: Callable[[Sheet, Paging], Print]
) -> None:
    sheet: Sheet = request.getfixturevalue(name)
    made = printed(sheet, on_roll(1118.0))
    drawing = made.run("pdftocairo", "-svg", str(made.path), "-")
    # Poppler squeezes the page to whole points, by a transformation of each path, and tells its
    # size in points, which svgelements takes for 1.333 pixels: without both, a point is one unit.
    drawing = re.sub(r' transform="matrix\([^)]*\)"', "", drawing)
    drawing = re.sub(r'width="([\d.]+)pt" height="([\d.]+)pt"', r'width="\1" height="\2"', drawing)
    found = sorted(
        path.length(error=1e-6) * POINT
        for path in svgelements.SVG.parse(io.StringIO(drawing)).elements()
        if isinstance(path, svgelements.Path) and path.stroke.value is not None
    )
    groups = [squares(), *(group for group in sheet.groups if group.name != "test square")]
    expected = sorted(stroke.path.length for group in groups for stroke in group.strokes)
    assert len(found) == len(expected) > 10
    assert found == pytest.approx(expected, rel=A_METRE, abs=STEP)
