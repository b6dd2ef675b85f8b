"""Darts, pleats and gathers as they are drawn on a piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Path, dot, line, meetings
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import find
from oaktag.compiler.paper.folded import halfway
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import DART, FISHEYE, GATHER, PLEAT, WAYS
from oaktag.compiler.sheet.drawing import INTAKE, Stroke, Text
from oaktag.compiler.sheet.identity import spelled
from oaktag.compiler.sheet.symbols import arrow, bar, circle, cross

if TYPE_CHECKING:
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece

TIP = 1.5  # mm: radius of the circle at a dart's tip
DRILL_SHORT = 12.0  # mm (1/2 in) before the tip, inside the dart; common practice, no source
DRILL = 3.0  # mm: the cross where the hole is drilled
ARROW_AT = 10.0  # mm from the mouth
WORDS = 4.0  # mm
_RUNGS = tuple(k / 8 for k in range(9))  # of the sides


def opening_strokes(piece: Piece, opening: Opening) -> list[Stroke]:
    """The strokes of a dart, pleat or gather; paper opened as flare shows nothing."""
    if opening.kind == DART:
        return _dart(piece, opening)
    if opening.kind == FISHEYE:
        return [
            *_sides(opening, "dart leg"),
            _dashed(line(opening.first.start, opening.first.end)),
            *(_tip(end) for end in (opening.first.start, opening.first.end)),
        ]
    if opening.kind == PLEAT:
        return _pleat(piece, opening)
    if opening.kind == GATHER:
        across = opening.second.end - opening.first.end
        ends = (opening.first.end, opening.second.end)
        return [Stroke(INTAKE, "gather", bar(end, across * 1j, 2 * ARROW_AT)) for end in ends]
    return []


def opening_words(piece: Piece, opening: Opening) -> list[Text]:
    """What is written beside an opening."""
    if opening.kind != GATHER:
        return []
    across = opening.second.end - opening.first.end
    middle = (opening.first.end + opening.second.end) / 2
    inward = across / abs(across) * piece.inward
    return [Text("gather", middle + inward * 2 * WORDS, WORDS, kind="gather")]


def fold_words(piece: Piece, opening: Opening) -> tuple[Text, Path] | None:
    """What is written along the fold of a dart or a pleat, and that fold; none if there is nothing.

    A dart says to which side it is pressed; a pleat has its arrow for that.
    """
    if opening.kind == PLEAT:
        fold = opening.second.moved(halfway(opening.closing))
        return Text("fold", 0j, WORDS, kind="fold words"), _led_to_outline(piece, opening, fold)
    if opening.kind != DART or not opening.toward or opening.opens < TIP:
        return None
    toward = spelled(opening.toward.rpartition(".")[2])
    text = Text(f"press toward {toward}", 0j, WORDS, kind="fold words")
    return text, line(opening.tip, (opening.first.end + opening.second.end) / 2)


def drill_hole(dart: Opening) -> complex | None:
    """Where a dart is drilled: a little before its tip, so that the hole is taken in.

    None where the dart is so short that it is drilled at its tip or not at all.
    """
    if dart.kind != DART:
        return None
    way = (dart.first.end + dart.second.end) / 2 - dart.tip
    if abs(way) < 3 * DRILL_SHORT:
        return None
    return dart.tip + way / abs(way) * DRILL_SHORT


def folded_away(opening: Opening) -> list[tuple[complex, complex]]:
    """Lines across the paper that a dart or pleat folds away: no place for a label."""
    if opening.kind not in (DART, PLEAT):
        return []
    return [
        (
            opening.first.point_at(opening.first.length * share),
            opening.second.point_at(opening.second.length * share),
        )
        for share in _RUNGS
    ]


def _dart(piece: Piece, dart: Opening) -> list[Stroke]:
    fold = line(dart.point, (dart.first.end + dart.second.end) / 2)
    legs = [line(dart.tip, side.end) for side in (dart.first, dart.second)]
    hole = drill_hole(dart)
    drilled = [] if hole is None else cross(hole, DRILL)
    return [
        *(Stroke(INTAKE, "dart drill hole", path) for path in drilled),
        *(Stroke(INTAKE, "dart leg", leg) for leg in legs),
        _dashed(_led_to_outline(piece, dart, fold)),
        _tip(dart.tip),
    ]


def _pleat(piece: Piece, pleat: Opening) -> list[Stroke]:
    fold = pleat.second.moved(halfway(pleat.closing))
    drawn = _led_to_outline(piece, pleat, fold)
    strokes = [*_sides(pleat, "pleat side"), _dashed(drawn)]
    if pleat.style == "knife":
        onto_first = _onto_first(piece, pleat)
        if onto_first is not None:
            ends = [_near_mouth(side) for side in (pleat.second, pleat.first)]
            start, end = ends if onto_first else ends[::-1]
            strokes += _arrow(start, end)
    else:
        middle = _near_mouth(fold)
        for side in (pleat.first, pleat.second):
            start, end = middle, _near_mouth(side)
            strokes += _arrow(start, end) if pleat.style == "box" else _arrow(end, start)
    return strokes


def _onto_first(piece: Piece, pleat: Opening) -> bool | None:
    """Whether the folded paper lies on the first side; none if nobody said."""
    if pleat.pressed:
        return pleat.pressed == "first"
    way = WAYS.get(pleat.toward)
    if way is not None:
        return dot(pleat.first.end - pleat.second.end, way) > 0
    edge = _edge_called(piece, pleat.toward)
    if edge is None:
        return None
    first, second = (edge.path.nearest(side.end)[1] for side in (pleat.first, pleat.second))
    return first < second


def _edge_called(piece: Piece, words: str) -> Edge | None:
    """The edge that was named when the pleat was trimmed, if it is still there."""
    *scope, name = words.split(".")
    try:
        found = find(piece, Label(name, None, tuple(scope)))
    except PaperError:
        return None
    return found if isinstance(found, Edge) else None


def _led_to_outline(piece: Piece, opening: Opening, fold: Path) -> Path:
    """The line of a fold, cut off or led on to the outline where its paper reaches that."""
    reach = opening.intake
    for edge in piece.edges:
        for run in edge.runs:
            if run.opening != opening.label:
                continue
            backwards = abs(run.path.start - fold.start) < abs(run.path.start - fold.end)
            way = fold.reversed() if backwards else fold
            longer = way.joined(line(way.end, way.end + way.end_direction * reach))
            places = [hit.first_at for hit in meetings(longer, run.path)]
            if places:
                place = min(places, key=lambda place: abs(place - way.length))
                way = longer.part(0.0, place) if place > 1e-3 else way
            fold = way.reversed() if backwards else way
    return fold


def _near_mouth(side: Path) -> complex:
    return side.point_at(max(side.length - ARROW_AT, side.length / 2))


def _sides(opening: Opening, kind: str) -> list[Stroke]:
    return [Stroke(INTAKE, kind, side) for side in (opening.first, opening.second)]


def _dashed(path: Path) -> Stroke:
    return Stroke(INTAKE, "fold line", path, dashed=True)


def _tip(place: complex) -> Stroke:
    return Stroke(INTAKE, "dart tip", circle(place, TIP))


def _arrow(start: complex, end: complex) -> list[Stroke]:
    size = min(3.0, abs(end - start) / 2)
    return [Stroke(INTAKE, "fold arrow", path) for path in arrow(start, end, size)]
