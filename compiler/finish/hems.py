"""The ends of a hem: mirrored, so that turned up it lies on the piece, flush with its cut edges."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import TOLERANCE, lengthened
from oaktag.compiler.finish.corners import FLATTEST, JOINED
from oaktag.compiler.finish.walk import linked, walked
from oaktag.compiler.geometry import (
    Line,
    Path,
    dot,
    fitted,
    line,
    meetings,
    reflection,
    turning,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.finish.beside import Beside, Joint, Tagged
    from oaktag.compiler.geometry import Segment

SHARPEST = math.radians(
    165
)  # a hem that leaves its neighbour at a sharper turn is no hem; no source
_SMOOTH = 1e-3  # radians
_LOOKED_AT = 8  # places on a curve


def turned_up(before: Beside, after: Beside, joint: Joint) -> bool:
    """Whether the corner of two neighbours is the end of a hem."""
    if before.hem == after.hem or joint.folds or before.on_fold or after.on_fold:
        return False
    return FLATTEST <= turning(before.arriving, after.leaving) <= SHARPEST


def end_hem(pieces: Sequence[Beside], joints: Sequence[Joint], at: int) -> bool:
    """Makes the joint at an end of a hem, shortening what lies beside it; says whether it can."""
    count = len(pieces)
    starts = pieces[(at + 1) % count].hem
    # Seen from the corner: the hem runs away to one side, its neighbour to the other.
    hem = [(at + 1 + k if starts else at - k) % count for k in range(count)]
    beside = [(at - k if starts else at + 1 + k) % count for k in range(count)]
    folded = _fold_line(pieces, joints, hem, starts)
    depth = pieces[hem[0]].width
    reach = 4 * (depth + max(piece.width for piece in pieces))
    folded_on = lengthened(folded.reversed(), reach).reversed()
    corner = folded.start
    found = _led_to(pieces, joints, beside, folded_on, corner, starts, reach)
    if found is None:
        return False
    number, path, place, dropped = found
    own = path.part(0.0, place)
    rest = walked(pieces, joints, *_behind(joints, number, starts, count), not starts, reach)
    up = linked([*own.reversed().segments, *(rest.segments if rest else ())])
    if up is None:
        return False
    up = _away(up, folded_on, depth)
    image = _image(up, folded, folded_on)
    # Everything is known: only now is anything shortened.
    for gone in dropped:
        pieces[gone].line = None
        joints[gone if starts else (gone - 1) % count].parts = [[]]
    line_ = pieces[number].line
    assert line_ is not None
    joint: list[Tagged] = []
    if place < line_.length - JOINED:
        _keep(pieces[number], own, starts)
    elif place > line_.length + JOINED:
        joint.append((Line(own.segments[-1].start, own.end), pieces[number].edge))
    joint += [(segment, pieces[hem[0]].edge) for segment in image.segments]
    foot = folded_on.nearest(up.end)[0] - reach
    joint += _meet_hem(pieces, joints, hem, image.end, foot, starts)
    joints[at].parts[0] = joint if starts else _turned(joint)
    joints[at].waiting = False
    return True


def _turned(joint: Sequence[Tagged]) -> list[Tagged]:
    return [(segment.reversed(), edge) for segment, edge in reversed(joint)]


def _fold_line(
    pieces: Sequence[Beside], joints: Sequence[Joint], hem: Sequence[int], starts: bool
) -> Path:
    """The edge of the hem from its corner on, as far as it is smooth."""
    segments: list[Segment] = []
    for number in hem:
        piece = pieces[number]
        segment = piece.own.segments[0] if starts else piece.own.segments[0].reversed()
        if segments:
            joint = joints[number - 1 if starts else number]
            bend = abs(turning(segments[-1].tangent(1), segment.tangent(0)))
            if not piece.hem or joint.folds or bend > _SMOOTH:
                break
        segments.append(segment)
    return Path(segments)


def _led_to(
    pieces: Sequence[Beside],
    joints: Sequence[Joint],
    beside: Sequence[int],
    folded_on: Path,
    corner: complex,
    starts: bool,
    reach: float,
) -> tuple[int, Path, float, list[int]] | None:
    """Where the cut line of the neighbour comes to the line of the hem.

    Gives the number of the segment, its line led on towards the hem, how far along, and the
    segments nearer to the corner, of which nothing is left.
    """
    dropped: list[int] = []
    for k, number in enumerate(beside):
        piece = pieces[number]
        own = piece.line
        if own is None or piece.on_fold or piece.hem:
            return None
        toward = own if starts else own.reversed()
        if k == 0:
            toward = lengthened(toward, reach)
        hits = meetings(toward, folded_on)
        if hits:
            hit = min(hits, key=lambda hit: abs(hit.point - corner))
            return (number, toward, hit.first_at, dropped) if hit.first_at > JOINED else None
        if joints[number - 1 if starts else number].folds:
            return None
        dropped.append(number)
    return None


def _behind(joints: Sequence[Joint], number: int, starts: bool, count: int) -> tuple[int, int]:
    """The joint at the far end of a segment, and its part on that segment's paper."""
    at = (number - 1) % count if starts else number
    return at, len(joints[at].folds) if starts else 0


def _keep(piece: Beside, own: Path, starts: bool) -> None:
    piece.line = own if starts else own.reversed()


def _away(path: Path, folded_on: Path, depth: float) -> Path:
    """The path from the hem's edge up to where it is as deep as the hem.

    Where it turns back before that, it is led straight on from there.
    """
    for _ in range(2):
        place, deep, found = _as_deep(path, folded_on, depth)
        if found:
            return path.part(0.0, place)
        head = path.part(0.0, place)
        way = head.end_direction
        foot = folded_on.point_at(folded_on.nearest(head.end)[0])
        inward = head.end - foot
        inward = inward / abs(inward) if abs(inward) > JOINED else way
        if dot(way, inward) < 0.25:
            way = inward
        path = head.joined(
            line(head.end, head.end + way * 2 * (depth - deep) / max(dot(way, inward), 0.25))
        )
    return path


def _as_deep(path: Path, folded_on: Path, depth: float) -> tuple[float, float, bool]:
    """How far along a path comes to a distance from another, or where it last moved away from it.

    Gives the place, the distance there, and whether it is the one asked for.
    """

    def deep(place: float) -> float:
        return folded_on.distance(path.point_at(place))

    last, reached = 0.0, deep(0.0)
    for number, segment in enumerate(path.segments):
        steps = 1 if isinstance(segment, Line) and len(folded_on.segments) <= 2 else _LOOKED_AT
        for k in range(1, steps + 1):
            place = path.marks[number] + segment.length * k / steps
            own = deep(place)
            if own >= depth:
                low, high = last, place
                for _ in range(60):
                    middle = (low + high) / 2
                    if deep(middle) >= depth:
                        high = middle
                    else:
                        low = middle
                return high, depth, True
            if own < reached + 1e-9:
                return last, reached, False
            last, reached = place, own
    return last, reached, False


def _image(path: Path, folded: Path, folded_on: Path) -> Path:
    """The path on the other side of the hem's edge: mirrored in it, or square across a curve."""
    first = folded.segments[0]
    if isinstance(first, Line):
        mirror = reflection(first.start, first.end)
        way = first.tangent(0)
        feet = [dot(way, place - first.start) for place in path.flattened(1.0)]
        if len(folded.segments) == 1 or max(feet) <= first.length:
            return path.moved(mirror)
    steps: list[Segment] = []
    for segment in path.segments:
        places = [segment.point(k / 24) for k in range(25)]
        across = [2 * folded_on.point_at(folded_on.nearest(place)[0]) - place for place in places]
        steps += fitted(across, TOLERANCE / 2).segments
    return Path(steps)


def _meet_hem(
    pieces: Sequence[Beside],
    joints: Sequence[Joint],
    hem: Sequence[int],
    end: complex,
    foot: float,
    starts: bool,
) -> list[Tagged]:
    """What leads from the end of the mirrored line to the hem's own; shortens that if need be."""
    first = pieces[hem[0]]
    if first.line is None:
        return []
    own = first.line if starts else first.line.reversed()
    if foot <= JOINED:
        return [(Line(end, own.start), first.edge)] if abs(end - own.start) > JOINED else []
    for number in hem:
        piece = pieces[number]
        if piece.line is None or not piece.hem:
            break
        if foot < piece.own.length - JOINED:
            own = piece.line if starts else piece.line.reversed()
            rest = own.part(own.nearest(end)[0], own.length)
            if rest.length <= JOINED:
                break
            _keep(piece, rest, starts)
            return [(Line(end, rest.start), piece.edge)] if abs(end - rest.start) > 1e-9 else []
        if joints[number if starts else number - 1].folds:
            break
        foot -= piece.own.length
        piece.line = None
        joints[number if starts else number - 1].parts = [[]]
    return []
