"""Seam and hem allowances: the line along which a piece is cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.surround import Side, surround
from oaktag.compiler.paper.errors import PaperError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Allowance
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.piece import Piece

Stretch = tuple[float, float, float]
"""A part of an edge and its allowance: from, to and width in mm."""

_ON = 0.05  # mm: a section's end this near to an edge lies on it
_FIGURE = 0.1  # mm: how exactly the widest possible allowance is told


def cut_line(piece: Piece, allowances: Sequence[Allowance]) -> Path | None:
    """The closed line on which the piece is cut, or none if it is cut on its outline.

    Every edge is set outward by its own width, the later allowance winning; corners are mitred.
    There is no allowance on the fold. Raises PaperError if an edge cannot take its allowance.
    """
    sides = _sides(piece, [own for own in allowances if own.piece == piece.name])
    if not any(side.width for side in sides):
        return None
    clockwise = piece.signed_area < 0
    if clockwise:
        sides = [side.changed(path=side.path.reversed()) for side in reversed(sides)]
    line, lost = surround(sides)
    if line is None or lost:
        raise _too_wide(piece, sides, lost)
    return line.reversed() if clockwise else line


def widths(piece: Piece, edge: Edge, allowances: Sequence[Allowance]) -> list[Stretch]:
    """The allowances along one edge of the outline, in order and without gaps."""
    found: list[Stretch] = [(0.0, edge.path.length, 0.0)]
    if edge.on_fold:
        return found
    for allowance in allowances:
        if allowance.piece != piece.name:
            continue
        if allowance.edges is None:
            found = [(0.0, edge.path.length, allowance.width)]
            continue
        for named in allowance.edges:
            for start, end in _meant(piece, edge, named.label):
                found = list(_painted(found, start, end, allowance.width))
    return found


def _sides(piece: Piece, allowances: Sequence[Allowance]) -> list[Side]:
    sides = []
    for number, edge in enumerate(piece.edges):
        stretches = widths(piece, edge, allowances)
        for start, end, width in stretches:
            path = edge.path if len(stretches) == 1 else edge.path.part(start, end)
            sides.append(Side(path, width, number, edge.on_fold))
    return sides


def _meant(piece: Piece, edge: Edge, name: Label) -> Iterator[tuple[float, float]]:
    """The stretches of an edge that a name means: the whole edge, or a section of it."""
    if edge.label.answers(name):
        yield 0.0, edge.path.length
    for section in piece.sections:
        if section.label.answers(name) and edge.label.answers(section.edge):
            start, first_away = edge.path.nearest(section.start)
            end, second_away = edge.path.nearest(section.end)
            if first_away <= _ON and second_away <= _ON and start != end:
                yield min(start, end), max(start, end)


def _painted(
    stretches: Sequence[Stretch], start: float, end: float, width: float
) -> Iterator[Stretch]:
    """The stretches with the one from start to end given a new width."""
    for first, last, own in stretches:
        if first < start - 1e-6:
            yield first, min(last, start), own
        if first <= start + 1e-6 < last:
            yield max(first, start), end, width
        if last > end + 1e-6:
            yield max(first, end), last, own


def _too_wide(piece: Piece, sides: Sequence[Side], lost: Sequence[int]) -> PaperError:
    """Says which edge cannot take its allowance, and the width that fits everywhere."""
    low, high = 0.0, max(side.width for side in sides)
    while high - low > _FIGURE:
        middle = (low + high) / 2
        line, gone = surround([s.changed(width=min(s.width, middle)) for s in sides])
        if line is None or gone:
            high = middle
        else:
            low = middle
    most = round(low - _FIGURE / 2, 1)
    way_out = "allow at most {1} there" if most > 0 else "redraw the outline there"
    if lost:
        edge = piece.edges[lost[0]]
        width = max(side.width for side in sides if side.edge == lost[0])
        return PaperError(
            f"`{piece.name}.{edge.label}` cannot take an allowance of {{0}}: the outline bends too "
            "sharply there, or the allowance opposite is in its way",
            width,
            most,
            help=way_out,
            code="allowance-too-wide",
        )
    return PaperError(
        f"the allowances of `{piece.name}`, up to {{0}} wide, close over a gap in its outline",
        max(side.width for side in sides),
        most,
        help=way_out,
        code="allowance-too-wide",
    )
