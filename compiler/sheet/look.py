"""How lines look on paper: told apart in black and white, by width and by dashes, in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.sheet.drawing import CUT, DRAWN, FOLD, GRAIN, INTAKE, MARKS, SEAM
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.compiler.sheet.drawing import Stroke


class Pen(Record):
    """width in mm; dashes: lengths of ink and gap in turn, none if the line is whole."""

    width: float
    dashes: tuple[float, ...] = ()


PENS = {
    CUT: Pen(0.5),
    SEAM: Pen(0.3, (6.0, 2.5)),
    FOLD: Pen(0.35, (10.0, 2.0, 1.0, 2.0)),
    INTAKE: Pen(0.25),
    DRAWN: Pen(0.2, (1.2, 1.8)),
    MARKS: Pen(0.35),
    GRAIN: Pen(0.4),
}
OTHER = Pen(0.3)
WHOLE = {FOLD: "fold bracket", DRAWN: "lengthening line"}
"""The kind of stroke that is drawn whole on a layer of dashes."""
DASHED = (2.5, 2.0)
"""What `dashed` means for a stroke, on whatever layer."""
CAPITAL = 0.35
"""Of the size of words: from the middle of a line of them down to its foot."""


def pen(stroke: Stroke) -> Pen:
    """What a stroke is drawn with."""
    look = PENS.get(stroke.layer, OTHER)
    if stroke.dashed:
        return look.changed(dashes=DASHED)
    return look.changed(dashes=()) if stroke.kind == WHOLE.get(stroke.layer) else look
