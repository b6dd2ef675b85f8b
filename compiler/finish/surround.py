"""A line around a ring, at a distance of its own from each side of it.

Each segment is set off by its side's width, and neighbours are led to their meeting: mitred at
corners that point outward, trimmed at those that point inward. Then the ends of hems are mirrored,
and folds get the layers of their allowance. Where that leaves loops (a sharp bend, a deep notch)
the line is what bounds the region it winds around, a rule that needs no case for each shape:
whatever turns back on itself winds the other way and falls out.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import NOWHERE, set_off
from oaktag.compiler.finish.corners import JOINED, STRAIGHT_ON, corner
from oaktag.compiler.finish.further import goes_through, trim_further
from oaktag.compiler.finish.hems import end_hem, turned_up
from oaktag.compiler.finish.layers import CannotFold, fill_in, join_folded
from oaktag.compiler.finish.winding import bounding
from oaktag.compiler.geometry import Line, Path, self_crossings, turning

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.finish.beside import Beside, Joint, Side, Tagged
    from oaktag.compiler.geometry import Segment


def surround(sides: Sequence[Side]) -> tuple[Path | None, list[int]]:
    """The closed line at the right of an anticlockwise ring, and the edges nothing is left of.

    None if no single line does it: opposite sides run into each other.
    """
    asked = {side.edge for side in sides if side.width}
    raw = _raw(sides)
    whole = Path(segment for segment, _ in raw)
    crossings = self_crossings(whole, closed=True)
    present = {edge for _, edge in raw}
    found: Path | None = whole
    if crossings:
        found, kept = bounding(whole, crossings)
        present = _present(whole, [edge for _, edge in raw], kept)
    lost = sorted(asked - present)
    return _without_seams(found) if found else None, lost


def _raw(sides: Sequence[Side]) -> list[Tagged]:
    """The whole line, its loops still in it. A fold it cannot follow is gone round as drawn."""
    while True:
        pieces, joints = set_off(sides)
        try:
            _join(pieces, joints)
            break
        except CannotFold as fold:
            lost = pieces[fold.at].side
            sides = [s for side in sides for s in (side.unfolded() if side is lost else (side,))]
    raw: list[Tagged] = []
    for piece, joint in zip(pieces, joints, strict=True):
        if piece.line is not None:
            raw += [(segment, piece.edge) for segment in piece.line.segments]
        raw += joint.parts[0]
        for layer, part in zip(joint.layers, joint.parts[1:], strict=True):
            raw += [(segment, NOWHERE) for segment in layer]
            raw += part
    return _closed([item for item in raw if _long(item[0])])


def _join(pieces: Sequence[Beside], joints: Sequence[Joint]) -> None:
    """Makes all joints: the plain ones first, then the ends of hems, then what lies over folds."""
    around = list(zip(pieces, [*pieces[1:], pieces[0]], joints, strict=True))
    through = []
    for at, (before, after, joint) in enumerate(around):
        if turned_up(before, after, joint):
            joint.waiting = True
        elif not joint.folds:
            joint.parts[0] = corner(before, after)
            if goes_through(joint.parts[0], before):
                through.append(at)
    for at in through:
        trim_further(pieces, joints, at)
    for at, joint in enumerate(joints):
        if joint.folds:
            join_folded(pieces, joints, at)
    for at, (before, after, joint) in enumerate(around):
        if joint.waiting and not end_hem(pieces, joints, at):
            joint.waiting = False
            joint.parts[0] = corner(before, after)
    for at, joint in enumerate(joints):
        if joint.folds:
            fill_in(pieces, joints, at)


def _closed(raw: Sequence[Tagged]) -> list[Tagged]:
    """The line with gaps that rounding or a lost segment has left bridged."""
    out: list[Tagged] = []
    for segment, edge in raw:
        if out and abs(out[-1][0].end - segment.start) > JOINED:
            out.append((Line(out[-1][0].end, segment.start), NOWHERE))
        out.append((segment, edge))
    if abs(out[-1][0].end - out[0][0].start) > JOINED:
        out.append((Line(out[-1][0].end, out[0][0].start), NOWHERE))
    return out


def _long(segment: Segment) -> bool:
    return abs(segment.end - segment.start) > JOINED / 10 or segment.length > JOINED / 10


def _without_seams(ring: Path) -> Path:
    """The ring with straight steps that go on straight made one."""
    segments: list[Segment] = []
    for segment in ring.segments:
        if segments and _straight_on(segments[-1], segment):
            segments[-1] = Line(segments[-1].start, segment.end)
        else:
            segments.append(segment)
    if len(segments) > 2 and _straight_on(segments[-1], segments[0]):
        segments[0] = Line(segments.pop().start, segments[0].end)
    return Path(segments)


def _straight_on(before: Segment, after: Segment) -> bool:
    if not (isinstance(before, Line) and isinstance(after, Line)):
        return False
    return abs(turning(before.tangent(1), after.tangent(0))) < STRAIGHT_ON


def _present(whole: Path, edges: Sequence[int], kept: Sequence[tuple[float, float]]) -> set[int]:
    """The edges beside which some of the line is kept."""
    present = set()
    for (low, high), edge in zip(itertools.pairwise(whole.marks), edges, strict=True):
        if any(min(high, end) - max(low, start) > 1e-3 for start, end in kept):
            present.add(edge)
    return present
