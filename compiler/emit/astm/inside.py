"""What of a piece goes into the interchange form, as geometry in mm."""

from __future__ import annotations

import cmath
import math
from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.finish.notching import notches
from oaktag.compiler.geometry import cross, dot
from oaktag.compiler.sheet.drawing import DRAWN, GRAIN, INTAKE, MARKS
from oaktag.compiler.sheet.piece import piece_group
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.sheet.drawing import Group, Text

    Ends = tuple[complex, complex]

_SIGNS = ("dart tip", "fold arrow", "notch", "drill", "cross")
_LABELS = ("name", "label")
_BESIDE = 0.01  # mm: what lies so near to a fold lies on it


class Cut(Record):
    """A notch: start on the boundary, depth and width in mm; angle, in degrees, into the piece."""

    start: complex
    shape: str
    depth: float
    width: float
    angle: float


class Inside(Record):
    """boundary: the line that is cut. seam: the line that is sewn, if it is another. lines: drawn
    inside, not cut. calm: beside which notes stand, one below the other. words: with places of
    their own.
    """

    boundary: Path
    seam: Path | None
    lines: tuple[Path, ...]
    notches: tuple[Cut, ...]
    drills: tuple[complex, ...]
    mirrors: tuple[Ends, ...]
    grain: Ends | None
    calm: complex
    notes: tuple[str, ...]
    words: tuple[Text, ...]


def inside_of(pattern: Pattern, piece: Piece, made_for: str) -> Inside:
    """Everything of one piece; raises PaperError as `cut_line` does."""
    around = cut_line(piece, pattern.allowances)
    group = piece_group(pattern, piece, made_for)
    labels = [text for text in group.texts if text.kind in _LABELS]
    left, bottom, right, top = piece.outline.box()
    calm = complex((left + right) / 2, (bottom + top) / 2)
    if labels:
        calm = (labels[0].at + labels[-1].at) / 2 - max(text.width for text in labels) / 2
    return Inside(
        piece.outline if around is None else around,
        None if around is None else piece.outline,
        tuple(_lines(group)),
        tuple(_notches(pattern, piece, around)),
        tuple(mark.at for mark in piece.marks if mark.kind == "drill"),
        tuple(_mirrors(piece, piece.outline if around is None else around)),
        _grain(group),
        calm,
        tuple(text.content for text in labels),
        tuple(text for text in group.texts if text.kind not in _LABELS),
    )


def _lines(group: Group) -> Iterator[Path]:
    for stroke in group.strokes:
        if stroke.layer in (INTAKE, DRAWN, MARKS) and not stroke.kind.startswith(_SIGNS):
            yield stroke.path


def _notches(pattern: Pattern, piece: Piece, around: Path | None) -> Iterator[Cut]:
    boundary = piece.outline if around is None else around
    for mark in piece.marks:
        if mark.kind != "notch":
            continue
        for notch in notches(pattern, piece, mark, around):
            start = boundary.point_at(boundary.nearest(notch.start)[0])
            angle = math.degrees(cmath.phase(notch.inward))
            yield Cut(start, notch.shape, notch.depth, notch.width, angle)


def _mirrors(piece: Piece, boundary: Path) -> Iterator[Ends]:
    """The lines on which the piece lies on a fold, as far as the cloth reaches along them."""
    found: list[tuple[complex, complex]] = []
    for edge in piece.edges:
        if not edge.on_fold:
            continue
        if any(_on(at, way, edge.start) and _on(at, way, edge.end) for at, way in found):
            continue  # it goes on along a line that is there
        way = (edge.end - edge.start) / abs(edge.end - edge.start)
        found.append((edge.start, way))
        places = [edge.start, edge.end, *(segment.start for segment in boundary.segments)]
        along = [dot(p - edge.start, way) for p in places if _on(edge.start, way, p)]
        yield edge.start + way * min(along), edge.start + way * max(along)


def _on(at: complex, way: complex, place: complex) -> bool:
    """Whether a place lies on the straight through a point."""
    return abs(cross(way, place - at)) <= _BESIDE


def _grain(group: Group) -> Ends | None:
    """The arrow's line, without its heads."""
    for stroke in group.strokes:
        if stroke.layer == GRAIN and stroke.kind == "grain":
            return stroke.path.start, stroke.path.end
    return None
