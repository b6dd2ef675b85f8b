"""A group that is turned on the paper, with its words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import rotation

if TYPE_CHECKING:
    from oaktag.compiler.sheet.drawing import Group


def quarter_turned(group: Group, quarters: int = 1) -> Group:
    """Turned about the origin, anticlockwise, by quarters of a whole turn."""
    turn = rotation(0j, quarters * math.pi / 2)
    return group.changed(
        strokes=tuple(stroke.changed(path=stroke.path.moved(turn)) for stroke in group.strokes),
        texts=tuple(
            text.changed(at=turn(text.at), angle=text.angle + 90.0 * quarters)
            for text in group.texts
        ),
    )
