"""Pieces of the interchange form for patterns: DXF after ASTM D6673, or a dialect of it.

A piece is a block in which a text says `Piece Name: …`; capitals and blanks do not matter, since
real files differ in them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from oaktag.compiler.geometry import Path, turning
from oaktag.compiler.tracing.drawing import Digitised, Drawing, TracingError, check_count
from oaktag.compiler.tracing.rounding import rounded

MILLIMETRES = {"metric": 1.0, "english": 25.4}
NOTCHES = {"4": "", "80": "t", "81": "castle", "83": "u"}
BOUNDARY, TURN, CURVE, GRAIN, DRILL, SEW = "1", "2", "3", "7", "13", "14"
SHARP = math.radians(30)  # a corner where the file marks neither corners nor curves
SAME = 0.011  # in the last figure of the form, mm: places nearer than this are one
SHOWN = 12  # pieces that are listed


def pieces_of(document: Any) -> list[tuple[str, Any]]:
    """The blocks that are pieces, each with the name it bears; a graded one once for each size."""
    found = []
    for block in document.blocks:
        name = _said(block, "piece name")
        if name is not None:
            found.append((name, block))
    return found


def read_piece(name: str, document: Any, pieces: Sequence[tuple[str, Any]], wanted: str) -> Drawing:
    """The piece of that name, or the only one, without its allowances if the file has its seam.

    Raises TracingError if it is not there, or if there are several and none is asked for.
    """
    names = list(dict.fromkeys(title for title, _ in pieces))
    if not wanted and len(names) > 1:
        raise TracingError(
            f"{name} holds {len(names)} pieces: {_listed(names)}",
            help=f'say which: `trace "{name}" piece "{names[0]}" edges …`',
        )
    blocks = [block for title, block in pieces if not wanted or _alike(title, wanted)]
    if not blocks:
        raise TracingError(
            f'no piece in {name} is called "{wanted}"',
            help=f"it holds {_listed(names)}",
            of_piece=True,
        )
    sample = _said(document.modelspace(), "sample size") or ""
    sized = [block for block in blocks if _alike(_said(block, "size name") or "", sample)]
    return _drawing(name, (sized or blocks)[0], _factor(document, blocks))


def _drawing(name: str, block: Any, factor: float | None) -> Drawing:
    scale = factor or 1.0
    turns = _places(block, TURN, scale)
    marked = bool(turns or _places(block, CURVE, scale))
    rings = {
        layer: [
            _ring(name, entity, turns if marked else None, scale)
            for entity in block.query("POLYLINE LWPOLYLINE")
            if entity.dxf.layer == layer and entity.is_closed
        ]
        for layer in (SEW, BOUNDARY)
    }
    grain = [
        (_at(entity.dxf.start, scale), _at(entity.dxf.end, scale))
        for entity in block.query("LINE")
        if entity.dxf.layer == GRAIN
    ]
    return Drawing(
        tuple(rings[SEW] or rings[BOUNDARY]),
        factor is not None,
        Digitised(
            grain[0] if grain else None,
            tuple(_notches(block, scale)),
            tuple(_places(block, DRILL, scale)),
        ),
    )


def _ring(name: str, entity: Any, turns: Sequence[complex] | None, scale: float) -> Path:
    """A closed line; turns: the corners among its points, none if the file marks no points."""
    points: list[complex] = []
    for vertex in entity.vertices() if entity.dxftype() == "LWPOLYLINE" else entity.points():
        place = complex(vertex[0], vertex[1]) * scale
        if not points or abs(place - points[-1]) > 1e-6:
            points.append(place)
    if len(points) > 1 and abs(points[0] - points[-1]) <= 1e-6:
        points.pop()
    check_count(name, len(points))
    if turns is None:
        corners = [_turn(points, number) > SHARP for number in range(len(points))]
    else:
        near = _Near(turns)
        corners = [near.has(point) for point in points]
    return rounded(points, corners)


class _Near:
    """Places, to be asked whether one lies where another is."""

    def __init__(self, places: Sequence[complex]) -> None:
        self.cells: dict[tuple[int, int], list[complex]] = {}
        for place in places:
            self.cells.setdefault(self._cell(place), []).append(place)

    @staticmethod
    def _cell(place: complex) -> tuple[int, int]:
        return math.floor(place.real / SAME), math.floor(place.imag / SAME)

    def has(self, place: complex) -> bool:
        column, row = self._cell(place)
        return any(
            abs(other - place) <= SAME
            for i in (-1, 0, 1)
            for j in (-1, 0, 1)
            for other in self.cells.get((column + i, row + j), ())
        )


def _turn(points: Sequence[complex], number: int) -> float:
    before = points[number] - points[number - 1]
    after = points[(number + 1) % len(points)] - points[number]
    return abs(turning(before / abs(before), after / abs(after)))


def _notches(block: Any, scale: float) -> Iterator[tuple[complex, str, float]]:
    for entity in block.query("POINT"):
        shape = NOTCHES.get(entity.dxf.layer)
        if shape is None:
            continue
        wide = entity.dxf.get("thickness", 0.0)
        deep = entity.dxf.location.z * scale
        yield _at(entity.dxf.location, scale), shape or ("v" if wide else "slit"), deep


def _places(block: Any, layer: str, scale: float) -> list[complex]:
    return [
        _at(entity.dxf.location, scale)
        for entity in block.query("POINT")
        if entity.dxf.layer == layer
    ]


def _factor(document: Any, blocks: Sequence[Any]) -> float | None:
    """Millimetres to a unit, if the file says so."""
    for space in (document.modelspace(), *blocks):
        said = _said(space, "units")
        if said is not None and said.lower() in MILLIMETRES:
            return MILLIMETRES[said.lower()]
    return None


def _said(space: Any, identifier: str) -> str | None:
    """What the first text `identifier: value` of a block or of the drawing says."""
    for entity in space.query("TEXT"):
        head, colon, value = entity.dxf.text.partition(":")
        if colon and _alike(head, identifier):
            return str(value).strip()
    return None


def _alike(first: str, second: str) -> bool:
    return first.strip().casefold() == second.strip().casefold()


def _listed(names: Sequence[str]) -> str:
    shown = ", ".join(f'"{name}"' for name in names[:SHOWN])
    return f"{shown} and {len(names) - SHOWN} more" if len(names) > SHOWN else shown


def _at(point: Any, scale: float) -> complex:
    return complex(point.x, point.y) * scale
