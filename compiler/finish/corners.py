"""How the allowances of two neighbours meet at the corner between them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import MITRED, NOWHERE, SQUARED, lengthened
from oaktag.compiler.geometry import Line, dot, line, meetings, turning

if TYPE_CHECKING:
    from oaktag.compiler.finish.beside import Beside, Tagged

MITRE = (
    3.0  # widths: a corner that would reach further is cut off there; common practice, no source
)
FLATTEST = math.radians(30)  # a corner that turns by less is no end of a seam; no source
JOINED = 1e-6  # mm
STRAIGHT_ON = 1e-8  # radians


def corner(before: Beside, after: Beside) -> list[Tagged]:
    """What joins two neighbours; shortens them where they meet before their corner.

    With widths a and b and a turn by the angle, the two straight lines meet (b - a cos) / sin
    beyond the end of the one and (a - b cos) / sin before the start of the other.
    """
    if before.line is None or after.line is None:
        return []
    if abs(before.line.end - after.line.start) <= JOINED:
        return []
    a, b = before.width, after.width
    angle = turning(before.arriving, after.leaving)
    if abs(angle) < STRAIGHT_ON:
        return _across(before, after)
    if _decides(before, after) == SQUARED:
        squared = _squared(before, after, angle)
        if squared is not None:
            return squared
    if a == b:
        beyond = ahead = a * math.tan(angle / 2)
    else:
        beyond = (b - a * math.cos(angle)) / math.sin(angle)
        ahead = (a - b * math.cos(angle)) / math.sin(angle)
    if beyond >= 0 and ahead >= 0:
        return _mitred(before, after, beyond)
    # Of two unequal widths one may have to give way; more than their difference looks wrong.
    given = max(-beyond, -ahead) if angle > 0 else max(beyond, ahead)
    if given <= abs(a - b) or (angle > 0 and (before.on_fold or after.on_fold)):
        met = _met(before, after, max(beyond, 0.0), max(ahead, 0.0))
        if met is not None:
            return met
    if a != b:
        return _stepped(before, after)
    return _across(before, after) if angle > 0 else _through(before, after)


def first_decides(before: Beside, after: Beside) -> bool:
    """Whether of two neighbours the first says how their corner is made."""
    if before.hem != after.hem:
        return before.hem
    if bool(before.side.corners) != bool(after.side.corners):
        return bool(before.side.corners)
    return before.side.rank > after.side.rank


def _decides(before: Beside, after: Beside) -> str:
    """How the corner of two neighbours is made."""
    return (before if first_decides(before, after) else after).side.corners or MITRED


def _squared(before: Beside, after: Beside, angle: float) -> list[Tagged] | None:
    """The seam of one led to the cut line of the other, its allowance cut off there square to it.

    None where nothing is to be squared: on the fold, at an inner corner or a very flat one.
    """
    if before.on_fold or after.on_fold or not FLATTEST <= angle <= math.pi - FLATTEST:
        return None
    owner_first = first_decides(before, after)
    owner, other = (before, after) if owner_first else (after, before)
    if not owner.width or owner.line is None or other.line is None:
        return None
    # Of the other one's line, walked away from the corner.
    away = other.line if owner_first else other.line.reversed()
    seam_end = owner.end if owner_first else owner.start
    onward = owner.arriving if owner_first else -owner.leaving
    reach = 2 * other.width / math.sin(angle) + owner.width
    led = lengthened(away.reversed(), reach).reversed()
    hits = meetings(line(seam_end, seam_end + onward * reach), led)
    if not hits:
        # The other bends away: cut off square at the seam's end itself.
        return _stepped(before, after) if owner.width > other.width else None
    hit = hits[0]
    beyond = hit.second_at - reach
    if beyond >= away.length - JOINED:
        return None
    own_end = owner.line.end if owner_first else owner.line.start
    square = own_end + onward * hit.first_at
    joint: list[Tagged] = [(Line(own_end, square), owner.edge), (Line(square, hit.point), NOWHERE)]
    if beyond > JOINED:
        rest = away.part(beyond, away.length)
        other.line = rest if owner_first else rest.reversed()
    elif beyond < -JOINED:
        joint.append((Line(hit.point, away.start), other.edge))
    return joint if owner_first else reversed_joint(joint)


def reversed_joint(joint: list[Tagged]) -> list[Tagged]:
    """A joint walked the other way."""
    return [(segment.reversed(), edge) for segment, edge in reversed(joint)]


def _mitred(before: Beside, after: Beside, beyond: float) -> list[Tagged]:
    """The two lines led to their meeting outside, or cut off where that is too far."""
    assert before.line and after.line
    end, start, corner = before.line.end, after.line.start, before.end
    limit = MITRE * max(before.width, after.width)
    tip = end + before.arriving * beyond
    if abs(tip - corner) <= limit:
        return [(Line(end, tip), before.edge), (Line(tip, start), after.edge)]
    way = before.arriving - after.leaving
    way /= abs(way)
    first = _until(end, before.arriving, corner, way, limit)
    second = _until(start, -after.leaving, corner, way, limit)
    return [
        (Line(end, first), before.edge),
        (Line(first, second), NOWHERE),
        (Line(second, start), after.edge),
    ]


def _until(place: complex, way: complex, corner: complex, out: complex, limit: float) -> complex:
    """The point where a ray is so far out from the corner; at least its start."""
    gone = (limit - dot(out, place - corner)) / dot(out, way)
    return place + way * max(gone, 0.0)


def _met(before: Beside, after: Beside, beyond: float, ahead: float) -> list[Tagged] | None:
    """Both lines cut off at their meeting, one of them led there; none if they do not meet."""
    assert before.line and after.line
    reach = 2 * max(before.width, after.width)
    first, second = before.line, after.line
    if beyond:
        first = first.joined(line(first.end, first.end + before.arriving * (beyond + reach)))
    if ahead:
        start = second.start - after.leaving * (ahead + reach)
        second = line(start, second.start).joined(second)
    hits = meetings(first, second)
    if not hits:
        return None
    own, led = before.line.length, second.length - after.line.length
    hit = min(hits, key=lambda hit: abs(own - hit.first_at) + abs(hit.second_at - led))
    joint: list[Tagged] = []
    if hit.first_at > own:
        joint.append((Line(before.line.end, hit.point), before.edge))
    elif hit.first_at > JOINED:
        before.line = before.line.part(0.0, hit.first_at)
    else:
        return None
    if hit.second_at < led:
        joint.append((Line(hit.point, after.line.start), after.edge))
    elif second.length - hit.second_at > JOINED:
        after.line = second.part(hit.second_at, second.length)
    else:
        return None
    return joint


def _stepped(before: Beside, after: Beside) -> list[Tagged]:
    """The narrower line led to the square end of the wider one, and along that."""
    assert before.line and after.line
    forwards = before.width < after.width
    narrow = before.line if forwards else after.line.reversed()
    square = after.line.start if forwards else before.line.end
    led = lengthened(narrow, max(before.width, after.width))
    hits = meetings(led, line(before.end, square))
    hit = max(hits, key=lambda hit: hit.first_at, default=None)
    if hit is None:
        return _across(before, after)
    if hit.first_at <= JOINED:
        return _through(before, after)
    joint = [Line(hit.point, square)]
    if hit.first_at > narrow.length:
        joint.insert(0, Line(narrow.end, hit.point))
    elif forwards:
        before.line = narrow.part(0.0, hit.first_at)
    else:
        after.line = narrow.part(0.0, hit.first_at).reversed()
    if not forwards:
        joint = [step.reversed() for step in reversed(joint)]
    return [(step, NOWHERE) for step in joint]


def _across(before: Beside, after: Beside) -> list[Tagged]:
    assert before.line and after.line
    return [(Line(before.line.end, after.line.start), NOWHERE)]


def _through(before: Beside, after: Beside) -> list[Tagged]:
    """Over the corner itself, inside the ring's allowance: the loop falls out later."""
    assert before.line and after.line
    return [
        (Line(before.line.end, before.end), NOWHERE),
        (Line(before.end, after.line.start), NOWHERE),
    ]
