"""What ended on a stretch of outline follows when that stretch is drawn anew."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, contains, line, line_meetings, meetings, ray_meetings
from oaktag.compiler.paper.chain import Line, Run
from oaktag.compiler.paper.find import stretch
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.opening import FLARE, GATHER, Opening
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.piece import Piece

BESIDE = 50.0  # mm: so far along the new outline is looked for where a side meets it


def follow(piece: Piece, old: Path, new: Path) -> Piece:
    """A piece with a new outline: notches lie on it, lines that ended on the old one end on it.

    A notch goes to the nearest place; a line, and a side of a flare, is led on straight or cut off.
    """
    return piece.changed(
        openings=tuple(_flare(item, old, new) for item in piece.openings),
        marks=tuple(_notch(mark, piece, old, new) for mark in piece.marks),
        lines=tuple(
            _turned(_led(_turned(_led(item, piece, old, new)), piece, old, new))
            for item in piece.lines
        ),
    )


def joint_on(piece: Piece, joint: complex, new: Path) -> float:
    """Where on a new line a joint between two stretches of an edge comes to lie.

    Where a drawn line ends at the joint, as the fold of an unfolded piece does, that is where the
    new line crosses it; else it is the nearest place.
    """
    for drawn in piece.lines:
        for end, way in (
            (drawn.start, drawn.path.start_direction),
            (drawn.end, drawn.path.end_direction),
        ):
            if abs(end - joint) <= ON:
                hits = line_meetings(joint, way, new)
                if hits:
                    return min(hits, key=lambda hit: abs(hit[0]))[1]
    return new.nearest(joint)[0]


def _notch(mark: Mark, piece: Piece, old: Path, new: Path) -> Mark:
    if mark.kind != "notch" or not _left_behind(mark.at, old, new):
        return mark
    where, _ = new.nearest(mark.at)
    inward = new.tangent_at(where) * piece.inward
    return mark.changed(at=new.point_at(where), direction=inward)


def _left_behind(place: complex, old: Path, new: Path) -> bool:
    return old.nearest(place)[1] <= ON and new.nearest(place)[1] > 1e-6


def _led(drawn: Line, piece: Piece, old: Path, new: Path) -> Line:
    """A line whose end, if it was left behind, is brought to the new outline."""
    end = drawn.end
    if not _left_behind(end, old, new):
        return drawn
    if contains(piece.outline, end):
        ahead = ray_meetings(end, drawn.path.end_direction, new)
        if ahead:
            last = Run(line(end, ahead[0][2]))
            return drawn.changed(runs=(*drawn.runs, last))
        return drawn
    crossed = [hit.first_at for hit in meetings(drawn.path, new) if hit.first_at > ON]
    if not crossed:
        return drawn
    return drawn.changed(runs=stretch(drawn, 0.0, crossed[-1]).runs)


def _flare(opening: Opening, old: Path, new: Path) -> Opening:
    """A flare or gathers with the ends of its sides on the new outline; a hinge stays."""
    if opening.kind not in (FLARE, GATHER):
        return opening
    sides = [_side(side, old, new) for side in (opening.first, opening.second)]
    if not opening.hinged:
        sides = [_side(side.reversed(), old, new).reversed() for side in sides]
    return opening.changed(first=sides[0], second=sides[1])


def _side(side: Path, old: Path, new: Path) -> Path:
    """A side whose end, if it was left behind, is led on straight or cut off."""
    left, bottom, right, top = old.box()
    x, y = side.end.real, side.end.imag
    if not (left - ON <= x <= right + ON and bottom - ON <= y <= top + ON):
        return side
    if old.nearest(side.end)[1] > ON:
        return side
    where, off = new.nearest(side.end)
    if off <= 1e-6:
        return side
    beside = new.part(max(where - BESIDE, 0.0), min(where + BESIDE, new.length))
    hits = line_meetings(side.end, side.end_direction, beside)
    if not hits:
        return side
    ahead, _, place = min(hits, key=lambda hit: abs(hit[0]))
    if ahead > 0:
        return side.joined(line(side.end, place))
    crossed = meetings(side, beside)
    return side.part(0.0, crossed[-1].first_at) if crossed else side


def _turned(drawn: Line) -> Line:
    return drawn.changed(runs=drawn.reversed().runs)
