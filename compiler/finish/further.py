"""Where a corner reaches beyond its neighbours: short segments that it takes away whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import NOWHERE
from oaktag.compiler.finish.corners import JOINED
from oaktag.compiler.geometry import meetings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.finish.beside import Beside, Joint, Tagged

REACH = 4.0  # widths: as far as this from an inner corner its lines are looked for


def beyond(pieces: Sequence[Beside], joints: Sequence[Joint], at: int, ahead: bool) -> list[int]:
    """The segments before a joint, or behind it, nearest first, as far as a corner may reach.

    They end where paper is folded, at the end of a hem, and at an edge on the fold.
    """
    count = len(pieces)
    found: list[int] = []
    gone = 0.0
    number = (at + 1) % count if ahead else at
    while len(found) < count - 1:
        piece = pieces[number]
        if piece.on_fold and found:
            break
        found.append(number)
        gone += piece.own.length
        joint = joints[number if ahead else number - 1]
        if gone >= REACH * piece.width or joint.folds or joint.waiting or piece.on_fold:
            break
        number = (number + 1 if ahead else number - 1) % count
    return found


def goes_through(steps: Sequence[Tagged], before: Beside) -> bool:
    """Whether a corner found no meeting, and leads over the corner of the outline itself."""
    return (
        len(steps) == 2 and steps[0][0].end == before.end and steps[0][1] == steps[1][1] == NOWHERE
    )


def meet_further(back: Sequence[Beside], ahead: Sequence[Beside]) -> tuple[int, int] | None:
    """Cuts off the first pair of lines, away from an inner corner, that meet, and takes away those
    nearer to it.

    Gives how many were taken on each side; none if no pair meets.
    """
    pairs = [(i, k) for i in range(len(back)) for k in range(len(ahead))]
    for i, k in sorted(pairs, key=lambda pair: (sum(pair), pair)):
        one, other = back[i].line, ahead[k].line
        if one is None or other is None:
            continue
        hits = meetings(one, other)
        if not hits:
            continue
        hit = min(hits, key=lambda hit: one.length - hit.first_at + hit.second_at)
        if hit.first_at <= JOINED or other.length - hit.second_at <= JOINED:
            continue
        back[i].line = one.part(0.0, hit.first_at)
        ahead[k].line = other.part(hit.second_at, other.length)
        for piece in (*back[:i], *ahead[:k]):
            piece.line = None
        return i, k
    return None


def trim_further(pieces: Sequence[Beside], joints: Sequence[Joint], at: int) -> None:
    """An inner corner for which its neighbours are too short: lines farther away are cut off."""
    back, ahead = (beyond(pieces, joints, at, way) for way in (False, True))
    if set(back) & set(ahead):
        return
    taken = meet_further([pieces[k] for k in back], [pieces[k] for k in ahead])
    if taken is None:
        return
    joints[at].parts[0] = []
    for number in back[: taken[0]]:
        joints[number - 1].parts[0] = []
    for number in ahead[: taken[1]]:
        joints[number].parts[0] = []
