"""Notches as they are cut: where they begin, how deep they go, and what shape they have."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import widths
from oaktag.compiler.geometry import Arc, Path, line, polyline, ray_meetings
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.units import show_length, unit_in
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Allowance, Pattern
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span

DEEPEST = 5.0  # mm, if the file does not ask for more; common practice, no source
CLEAR = 3.2  # mm (1/8 in) between a notch and the seam. Source: maeviary.com, on notches
LEAST = 1.0  # mm: a nick less deep is not seen, however narrow the allowance
BETWEEN = 6.0  # mm between the middles of a double notch; common practice, no source
LEFT = 3.0  # mm of cloth at least between the two
SLIT = "slit"
_WIDE = {SLIT: 0.0, "v": 1.0, "t": 0.8, "castle": 1.0, "u": 0.8}  # of the depth


class Notch(Record):
    """One cut into the allowance: from the edge of the cloth inward.

    seam: its place on the seam line. start: on the cut line. inward: a step of 1 mm into the cloth.
    shape: `slit`, `v`, `t`, `castle` or `u`. width: at the cut line, of a `t` at its end; depth and
    room, the allowance it lies in, in mm.
    """

    seam: complex
    start: complex
    inward: complex
    shape: str
    width: float
    depth: float
    room: float

    @property
    def end(self) -> complex:
        return self.start + self.inward * self.depth

    @property
    def path(self) -> list[Path]:
        """The lines that are cut."""
        half = self.inward * 1j * self.width / 2
        left, right = self.start + half, self.start - half
        deep = self.inward * self.depth
        if self.shape == "v":
            return [polyline([left, self.end, right])]
        if self.shape == "castle":
            return [polyline([left, left + deep, right + deep, right])]
        if self.shape == "t":
            return [line(self.start, self.end), line(self.end + half, self.end - half)]
        if self.shape == "u":
            round_off = self.inward * self.width / 2
            turn, back = left + deep - round_off, right + deep - round_off
            centre = (turn + back) / 2
            bowl = Arc(centre, turn, -math.pi, back)
            sides = line(left, turn), line(back, right)
            return [Path((*sides[0].segments, bowl, *sides[1].segments))]
        return [line(self.start, self.end)]


def notches(pattern: Pattern, piece: Piece, mark: Mark, around: Path | None) -> list[Notch]:
    """What a mark of the kind `notch` comes to: one notch, or two beside each other.

    around: the cut line of the piece, or none if it is cut on its outline, where notches go into
    the paper. A notch keeps 1/8 in clear of the seam unless the file asks for its depth.
    """
    edge = edge_of(piece, mark)
    middle = edge.path.nearest(mark.at)[0]
    width = width_at(piece, edge, middle, pattern.allowances)
    shape = mark.shape or pattern.notch_shape or SLIT
    found = []
    room = _room(mark.at, mark.direction, width, around)
    deep = _depth(pattern, mark, room)
    wide = _WIDE[shape] * deep
    apart = max(BETWEEN, wide + LEFT)
    for off in (-apart / 2, apart / 2) if mark.double else (0.0,):
        place = mark.at
        if off:
            place = edge.path.point_at(min(max(middle + off, 0.0), edge.path.length))
        beyond = _room(place, mark.direction, width, around)
        start = place - mark.direction * beyond
        found.append(Notch(place, start, mark.direction, shape, wide, deep, beyond))
    return found


def edge_of(piece: Piece, mark: Mark) -> Edge:
    """The edge of the outline on which a notch lies."""
    named = [edge for edge in piece.edges if mark.edge and edge.label.answers(mark.edge)]
    return min(named or piece.edges, key=lambda edge: edge.path.nearest(mark.at)[1])


def width_at(piece: Piece, edge: Edge, place: float, allowances: Sequence[Allowance]) -> float:
    """The allowance at a place along an edge, in mm."""
    return next(
        (
            width
            for start, end, width in widths(piece, edge, allowances)
            if start - 1e-6 <= place <= end + 1e-6
        ),
        0.0,
    )


def deep_notches(pattern: Pattern, piece: Piece) -> Iterator[Diagnostic]:
    """A warning for each line whose notches, as deep as it asks, would reach the seam."""
    told: set[Span | None] = set()
    for mark in piece.marks:
        asked = asked_depth(pattern, mark) if mark.kind == "notch" else None
        if asked is None:
            continue
        edge = edge_of(piece, mark)
        room = width_at(piece, edge, edge.path.nearest(mark.at)[0], pattern.allowances)
        place = piece.maker(mark)
        if 0 < room <= asked + 1e-6 and place not in told:
            told.add(place)
            unit = unit_in(place.text, pattern.unit) if place else pattern.unit
            deep, wide = (show_length(one, unit) for one in (asked, room))
            yield Diagnostic(
                "warning",
                "deep-notch",
                f"a notch {deep} deep cuts into the seam of `{piece.name}.{edge.label}`: its "
                f"allowance is {wide}",
                place,
                file=pattern.file,
                help="make it less deep, or leave `deep` out",
            )


def asked_depth(pattern: Pattern, mark: Mark) -> float | None:
    """How deep the file wants a notch to be, in mm, or none."""
    return pattern.notch_deep if mark.deep is None else mark.deep


def _room(place: complex, inward: complex, width: float, around: Path | None) -> float:
    """How far the cut line is from a place on the seam; at a corner further than the allowance."""
    if around is None or width <= 0:
        return 0.0
    far = min((hit for hit, _, _ in ray_meetings(place, -inward, around) if hit > 0), default=width)
    return far if far < 3 * width else width


def _depth(pattern: Pattern, mark: Mark, room: float) -> float:
    asked = asked_depth(pattern, mark)
    if asked is not None:
        return asked
    return max(min(room - CLEAR, DEEPEST), min(LEAST, room / 2)) if room else DEEPEST
