"""Small pictures of the pieces, all on one scale, as they are cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.revise.story.ink import RULERS, View, clean, figure, fitting
from oaktag.compiler.sheet.drawing import (
    CUT,
    DRAWN,
    FOLD,
    GRAIN,
    INTAKE,
    MARKS,
    SEAM,
    extent,
)
from oaktag.compiler.sheet.piece import piece_group
from oaktag.compiler.sheet.tag import KIND as TAG
from oaktag.lang.units import show_number
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.sheet.drawing import Group

FRAME = (120.0, 95.0)  # mm, for the largest piece
# How each kind of line looks, in mm on the page: told apart without colour.
PENS = {
    CUT: 'stroke-width=".4"',
    SEAM: 'stroke-width=".2" stroke-dasharray="1.6 .8"',
    FOLD: 'stroke-width=".3" stroke-dasharray="2.4 .6 .6 .6"',
    INTAKE: 'stroke-width=".18"',
    DRAWN: 'stroke-width=".15" stroke-dasharray=".5 .6"',
    MARKS: 'stroke-width=".25"',
    GRAIN: 'stroke-width=".25"',
}


class Picture(Record):
    """svg: one element. says: what stands below it."""

    name: str
    says: str
    svg: str


class Pictures(Record):
    """scale: mm of cloth in a mm of the page, as it is said."""

    scale: str
    pictures: tuple[Picture, ...]


def pictures(pattern: Pattern) -> Pictures:
    """The pieces that reach the cloth, in the order of the file. Raises PaperError as the sheet."""
    groups = [_without_tag(piece_group(pattern, p, "")) for p in pattern.made if p.edges]
    if not groups:
        return Pictures("", ())
    boxes = [extent(group) for group in groups]
    widest = max(box[2] - box[0] for box in boxes)
    highest = max(box[3] - box[1] for box in boxes)
    scale = fitting((0.0, 0.0, widest, highest), *FRAME, RULERS).scale
    drawn = [
        Picture(group.name, _says(group), _svg(group, View(box, scale)))
        for group, box in zip(groups, boxes, strict=True)
    ]
    return Pictures(f"1 : {show_number(scale, 1)}", tuple(drawn))


def _without_tag(group: Group) -> Group:
    """Without what stands beside the piece, since no words are shown."""
    return group.changed(strokes=tuple(s for s in group.strokes if s.kind != TAG))


def _says(group: Group) -> str:
    return "; ".join(group.plate.cuts) if group.plate else ""


def _svg(group: Group, view: View) -> str:
    width, height = figure(view.width), figure(view.height)
    lines = [
        f'<svg width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" role="img" '
        f'aria-label="{clean(group.name)}"><g fill="none" stroke="#000" stroke-linecap="round">'
    ]
    for layer, pen in PENS.items():
        paths = [stroke.path for stroke in group.strokes if stroke.layer == layer]
        if paths:
            data = "".join(view.path(path, close=path.closed) for path in paths)
            lines.append(f'<path {pen} d="{data}"/>')
    lines.append("</g></svg>")
    return "".join(lines)
