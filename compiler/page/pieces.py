"""The pieces as the page draws them: strokes and words in mm, y down, and what is known of edges.

Everything is plain data, ready for JSON. Nothing is drawn here that the sheet does not draw.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.compiler.page.names import down_to_middle, ways
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.revise.story.ink import View
from oaktag.compiler.sheet.drawing import extent
from oaktag.compiler.sheet.piece import piece_group
from oaktag.compiler.sheet.shelves import set_out
from oaktag.lang.source import seen_from
from oaktag.lang.units import show_area, show_length

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.sheet import Group, OutlineEdge, Stroke, Text

    Object = dict[str, Any]

_FULL_SIZE = View((0.0, 0.0, 0.0, 0.0), 1.0, margin=0.0)


def drawn_pieces(pattern: Pattern, made_for: str, whole: bool) -> Object:
    """All pieces that are cut, set out side by side, and the size of the sheet they need.

    whole: raises PaperError if an allowance cannot be drawn; else that piece is shown without.
    """
    pieces = [piece for piece in pattern.made if piece.edges]
    groups = [_group(pattern, piece, made_for, whole) for piece in pieces]
    shifts, width, height = set_out([extent(group) for group in groups]) if groups else ([], 1, 1)
    return {
        "width": _figure(width),
        "height": _figure(height),
        "pieces": [
            {
                **_piece(pattern, piece, group),
                "x": _figure(shift.real),
                "y": _figure(height - shift.imag),
            }
            for piece, group, shift in zip(pieces, groups, shifts, strict=True)
        ],
    }


def paths(path: Path) -> str:
    """A path at full size as SVG path data, y down."""
    return _FULL_SIZE.path(path, close=path.closed)


def ends(path: Path) -> list[list[float]]:
    """Where a path starts and ends, y down."""
    return [[_figure(at.real), _figure(-at.imag)] for at in (path.start, path.end)]


def edge_object(name: str, edge: Edge, pattern: Pattern) -> Object:
    """An edge of a piece as it lay after a step."""
    unit, apart = pattern.unit, edge.file not in ("", pattern.file)
    return {
        "name": name,
        "length": show_length(edge.length, unit),
        "sewn": show_length(edge.sewn, unit),
        "line": edge.line,
        "file": seen_from(pattern.file, edge.file) if apart else "",
        "d": paths(edge.path),
        "ends": ends(edge.path),
    }


def _group(pattern: Pattern, piece: Piece, made_for: str, whole: bool) -> Group:
    """The piece with its allowances; without, where one cannot be drawn: then an error says so."""
    try:
        return piece_group(pattern, piece, made_for)
    except PaperError:
        if whole:
            raise
        return piece_group(pattern.changed(allowances=()), piece, made_for)


def _piece(pattern: Pattern, piece: Piece, group: Group) -> Object:
    left, bottom, right, top = extent(group)
    wide, high = _size(piece)
    edges = [stroke for stroke in group.strokes if stroke.edge is not None]
    return {
        "name": piece.name,
        "title": group.title,
        "box": [_figure(amount) for amount in (left, -top, right, -bottom)],
        "size": f"{show_length(wide, pattern.unit)} wide, {show_length(high, pattern.unit)} high",
        "area": show_area(piece.area, pattern.unit),
        "cut": list(group.plate.cuts) if group.plate else [],
        "steps": len(piece.steps),
        "strokes": [_stroke(stroke) for stroke in group.strokes],
        "words": [
            [text.content, *_at(text.at), _figure(text.size), _figure(-text.angle), text.kind]
            for text in group.texts
        ],
        "names": [_name(text, group) for text in group.texts if text.kind == "name"],
        "edges": [
            _edge(stroke, stroke.edge, pattern.unit) for stroke in edges if stroke.edge is not None
        ],
    }


def _name(text: Text, group: Group) -> Object:
    """How far below a name the middle of its label lies, and the ways to write it."""
    return {
        "middle": _figure(down_to_middle(text, group)),
        "ways": [
            [way.lines, *map(_figure, (way.width, way.free, way.middle, way.within))]
            for way in ways(text, group)
        ],
    }


def _stroke(stroke: Stroke) -> list[str]:
    """Its layer, what it is, and its path; `dashed` if it is."""
    kind = stroke.kind.replace(" ", "-")
    return [stroke.layer, f"{kind} dashed" if stroke.dashed else kind, paths(stroke.path)]


def _edge(stroke: Stroke, edge: OutlineEdge, unit: str) -> Object:
    return {
        "name": edge.name,
        "length": show_length(edge.length, unit),
        "sewn": show_length(edge.sewn, unit),
        "line": edge.line,
        "file": edge.file,
        "d": paths(stroke.path),
        "ends": ends(stroke.path),
    }


def _size(piece: Piece) -> tuple[float, float]:
    left, bottom, right, top = piece.outline.box()
    return right - left, top - bottom


def _at(point: complex) -> tuple[float, float]:
    return _figure(point.real), _figure(-point.imag)


def _figure(amount: float) -> float:
    return round(amount, 3) + 0.0
