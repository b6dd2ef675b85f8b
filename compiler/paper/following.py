"""What ended on a stretch of outline follows when that stretch is drawn anew."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, contains, line, line_meetings, meetings, ray_meetings
from oaktag.compiler.paper.chain import Line, Run
from oaktag.compiler.paper.find import stretch
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.piece import Piece


def follow(piece: Piece, old: Path, new: Path) -> Piece:
    """A piece with a new outline: notches lie on it, lines that ended on the old one end on it.

    A notch goes to the nearest place; a line is led on straight, or cut off.
    """
    return piece.changed(
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


def _turned(drawn: Line) -> Line:
    return drawn.changed(runs=drawn.reversed().runs)
