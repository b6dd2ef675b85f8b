"""JSON for other programs: the evaluated pattern, described in `pattern.schema.json` beside this.

Millimetres, y up; angles in degrees. Closed rings leave out the repeated point.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from oaktag.compiler.emit import json_making
from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.finish.notching import notches
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.sheet.line_words import to_lengthen, words_of

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import CutOrder, Pattern, Seam
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.chain import Edge, Line
    from oaktag.compiler.paper.mark import Grain, Mark
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.paper.step import Step

    Point = list[float]
    Object = dict[str, Any]

_FLAT = 0.01  # mm
_PLACES = 4  # of points: 0.0001 mm
_FIGURES = 6  # of lengths and areas


def as_json(pattern: Pattern) -> bytes:
    """The whole pattern as one JSON text, UTF-8. Raises PaperError as `cut_line` does."""
    data = {
        "pattern": pattern.title,
        "measures": {name: _value(value) for name, value in pattern.measures.items()},
        "choices": {name: _value(value) for name, value in pattern.choices.items()},
        "pieces": [_piece(pattern, piece) for piece in pattern.pieces.values()],
        "seams": [_seam(seam) for seam in pattern.seams],
        "revision": pattern.revision,
        "date": pattern.date,
        "bindings": json_making.bindings(pattern),
        "closures": json_making.closures(pattern),
        "materials": json_making.needed(pattern),
        "making": json_making.order(pattern),
    }
    return (json.dumps(data, ensure_ascii=False, separators=(",", ":")) + "\n").encode()


def _piece(pattern: Pattern, piece: Piece) -> Object:
    around = cut_line(piece, pattern.allowances)
    return {
        "name": piece.name,
        "area": _figure(piece.area),
        "outline": _ring(piece.outline),
        "edges": [_edge(edge) for edge in piece.edges],
        "darts": [_opening(opening) for opening in piece.openings],
        "marks": [
            *(_mark(pattern, piece, mark, around) for mark in piece.marks),
            *(_line(piece, line) for line in piece.lines),
        ],
        "grain": _grain(piece.grain),
        "cut_line": _ring(around) if around else None,
        "cut": [_cut(order) for order in pattern.cuts if order.piece == piece.name],
        "steps": [_step(step) for step in piece.steps],
    }


def _edge(edge: Edge) -> Object:
    return {
        "name": str(edge.label),
        "length": _figure(edge.length),
        "sewn": _figure(edge.sewn),
        "runs": [
            {"role": run.role, "length": _figure(run.length), "points": _points(run.path)}
            for run in edge.runs
        ],
    }


def _opening(opening: Opening) -> Object:
    return {
        "name": str(opening.label),
        "kind": opening.kind,
        "point": _point(opening.point) if opening.hinged else None,
        "tip": _point(opening.tip) if opening.hinged else None,
        "intake": _figure(opening.intake),
        "legs": [_points(opening.first), _points(opening.second)],
        "trimmed": opening.trimmed,
    }


def _mark(pattern: Pattern, piece: Piece, mark: Mark, around: Path | None) -> Object:
    cuts = notches(pattern, piece, mark, around) if mark.kind == "notch" else []
    return {
        "kind": mark.kind,
        "at": _point(mark.at),
        "direction": _point(mark.direction),
        "size": _figure(mark.size),
        "double": mark.double,
        "text": mark.text,
        "edge": str(mark.edge) if mark.edge else None,
        "shape": cuts[0].shape if cuts else None,
        "width": _figure(cuts[0].width) if cuts else None,
        "depth": _figure(cuts[0].depth) if cuts else None,
        "cuts": [[_point(cut.start), _point(cut.end)] for cut in cuts],
    }


def _line(piece: Piece, line: Line) -> Object:
    return {
        "kind": "line",
        "name": str(line.label),
        "length": _figure(line.length),
        "points": _points(line.path),
        "words": words_of(piece, line),
        "lengthening": to_lengthen(piece, line),
    }


def _grain(grain: Grain | None) -> list[Point] | None:
    return [_point(grain.start), _point(grain.end)] if grain else None


def _cut(order: CutOrder) -> Object:
    return {"cloth": order.cloth, "count": order.count, "pair": order.pair}


def _step(step: Step) -> Object:
    return {
        "verb": step.verb,
        "line": step.span.line if step.span else None,
        "caption": step.caption,
        "outline": _ring(step.after) if step.after else None,
        "let_in": [_ring(ring) for ring in step.let_in],
        "cut_away": [_ring(ring) for ring in step.cut_away],
    }


def _seam(seam: Seam) -> Object:
    return {
        "first": json_making.chain(seam.first),
        "second": json_making.chain(seam.second),
        "first_sewn": _figure(seam.first_sewn),
        "second_sewn": _figure(seam.second_sewn),
        "easing": _figure(seam.easing),
        "gathering": seam.gathering,
        "line": seam.span.line,
    }


def _value(value: object) -> object:
    """A measure or choice: mm, degrees, mm² or a plain number, which stays whole, yes or no."""
    if not isinstance(value, Quantity):
        return value
    whole = value.kind == "number" and float(value.amount).is_integer()
    return int(value.amount) if whole else _figure(value.amount)


def _figure(amount: float) -> float:
    return round(float(amount), _FIGURES) + 0.0


def _point(place: complex) -> Point:
    return [round(place.real, _PLACES) + 0.0, round(place.imag, _PLACES) + 0.0]


def _points(path: Path) -> list[Point]:
    return [_point(place) for place in path.flattened(_FLAT)]


def _ring(path: Path) -> list[Point]:
    return _points(path)[:-1]
