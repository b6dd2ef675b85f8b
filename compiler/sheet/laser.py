"""What a laser or a blade follows: the lines that are cut, and those that are only engraved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Arc
from oaktag.compiler.sheet.drawing import CUT, MARKS
from oaktag.compiler.sheet.tag import KIND as TAG

if TYPE_CHECKING:
    from oaktag.compiler.sheet.drawing import Group, Sheet, Stroke

ENGRAVED = MARKS
_WITHIN = ("notch", "drill")  # marks that are cut into the paper


def for_laser(sheet: Sheet, engrave: bool = False) -> Sheet:
    """The same places without words: cut lines, notches and the rings of drill holes, all to cut.

    engrave: with every other line on the layer of marks. Without it pieces that have nothing to
    cut, and the test square, are left out. Words beside a piece are words too.
    """
    groups = [_lines(group, engrave) for group in sheet.groups]
    return sheet.changed(groups=tuple(group for group in groups if group.strokes))


def _lines(group: Group, engrave: bool) -> Group:
    strokes = [stroke for stroke in group.strokes if stroke.kind != TAG]
    cut = [stroke for stroke in strokes if _is_cut(stroke)]
    rest = [stroke for stroke in strokes if not _is_cut(stroke)] if engrave else []
    # A cutter follows the file: what is engraved first, the outline that frees the piece last.
    cut.sort(key=lambda stroke: stroke.layer == CUT)
    layered = [stroke.changed(layer=ENGRAVED) for stroke in rest]
    layered += [stroke.changed(layer=CUT) for stroke in cut]
    return group.changed(strokes=tuple(layered), texts=())


def _is_cut(stroke: Stroke) -> bool:
    if stroke.layer == CUT:
        return True
    if stroke.layer != MARKS or not stroke.kind.startswith(_WITHIN):
        return False
    # The cross that shows the middle of a drill hole is not cut.
    return not stroke.kind.startswith("drill") or any(
        isinstance(segment, Arc) for segment in stroke.path.segments
    )
