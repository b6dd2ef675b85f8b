"""The allowance beyond a trimmed dart or pleat: cut while it is folded, and opened again.

Folded, the seam lines on both sides of a fold are one line, and so are their allowances. The cut
line there is cut through all layers: each keeps what lies on its side of the creases, which run
straight on into the allowance. So the layer next to the crease has the cut line beside it as a
reflection in that crease, the layer beyond has it carried over by the motion that closes the fold.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import NOWHERE, lengthened
from oaktag.compiler.finish.corners import corner
from oaktag.compiler.finish.walk import walked
from oaktag.compiler.geometry import IDENTITY, Path, line, line_meetings, meetings, reflection
from oaktag.compiler.paper.folded import FAR

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.finish.beside import Beside, Fold, Joint, Tagged

_SAME = 1e-9  # mm


class CannotFold(Exception):  # noqa: N818  (nothing of it is told)
    """The cut line does not reach the creases of the folds behind a segment; `at`: its number."""

    def __init__(self, at: int) -> None:
        super().__init__()
        self.at = at


def join_folded(before: Beside, after: Beside, joint: Joint, at: int) -> None:
    """Makes the joint over folds: the corner as it is when they lie closed, cut at the creases.

    Where the widths differ, each side is led to the crease, and the step between them lies on it.
    """
    frames = [IDENTITY]
    for fold in joint.folds:
        frames.append(fold.closing.then(frames[-1]))
    shut = after.moved(frames[-1])
    creases = [
        fold.crease.moved(frames[k] if fold.onto_first else frames[k + 1])
        for k, fold in enumerate(joint.folds)
    ]
    stepped = before.width != shut.width
    if stepped:
        whole, tags, stops = _step(before, shut, joint.folds, creases, at)
    else:
        steps = corner(before, shut)
        if before.line is None or shut.line is None:
            raise CannotFold(at)
        whole = before.line.joined(Path([*(s for s, _ in steps), *shut.line.segments]))
        tags = [before.edge] * len(before.line.segments) + [tag for _, tag in steps]
        stops = [_at_crease(whole, crease, before.end, at) for crease in creases]
    tags += [after.edge] * (len(whole.segments) - len(tags))
    start, end = before.line, shut.line
    assert start and end
    first = min(stops[0], start.length)
    last = max(stops[-1], whole.length - end.length)
    before.line = start.part(0.0, first) if first > _SAME else None
    back = frames[-1].inverse()
    after.line = whole.part(last, whole.length).moved(back) if whole.length - last > _SAME else None
    bounds = [first, *stops, last]
    for k, (begin, finish) in enumerate(itertools.pairwise(bounds)):
        flat = frames[k].inverse()
        joint.parts[k] = [
            (segment.moved(flat), tag) for segment, tag in _between(whole, tags, begin, finish)
        ]


def _step(
    before: Beside, after: Beside, folds: Sequence[Fold], creases: Sequence[Path], at: int
) -> tuple[Path, list[int], list[float]]:
    """Both lines led to the crease, and the step between them: where it lies, the pressing says."""
    assert before.line and after.line
    wide = 2 * (before.width + after.width)
    led = lengthened(before.line, wide)
    met = lengthened(after.line.reversed(), wide).reversed()
    one = _at_crease(led, creases[0], before.end, at)
    other = _at_crease(met, creases[-1], before.end, at)
    if one <= _SAME or met.length - other <= _SAME:
        raise CannotFold(at)
    head, tail = led.part(0.0, one), met.part(other, met.length)
    across = line(head.end, tail.start)
    pressed = sum(fold.onto_first for fold in folds)
    whole = head.joined(across).joined(tail)
    tags = [before.edge] * len(head.segments) + [NOWHERE]
    stops = [head.length] * pressed + [head.length + across.length] * (len(folds) - pressed)
    before.line, after.line = head, tail
    return whole, tags, stops


def _at_crease(path: Path, crease: Path, fold: complex, at: int) -> float:
    """Where the cut line meets a crease led straight on from the edge."""
    way = crease.end_direction
    found = [hit for hit in line_meetings(fold, way, path) if hit[0] > -1e-6]
    if not found:
        raise CannotFold(at)
    return min(found)[1]


def _between(whole: Path, tags: Sequence[int], begin: float, end: float) -> list[Tagged]:
    """A stretch of a path, with the tags of its segments; backwards if it ends before it begins."""
    if abs(end - begin) <= _SAME:
        return []
    if end < begin:
        return [(s.reversed(), tag) for s, tag in reversed(_between(whole, tags, end, begin))]
    marks = whole.marks
    out: list[Tagged] = []
    for number in range(len(whole.segments)):
        low, high = max(begin, marks[number]), min(end, marks[number + 1])
        if high - low > _SAME:
            part = whole.part(low, high).segments
            out += [(piece, tags[number]) for piece in part]
    return out


def fill_in(pieces: Sequence[Beside], joints: Sequence[Joint], at: int) -> None:
    """Gives the folds of a joint the layers of their allowance."""
    joint = joints[at]
    for k, fold in enumerate(joint.folds):
        wide = abs(fold.first.end - fold.second.end)
        width = max(piece.width for piece in pieces)
        far = FAR * (wide + width)
        own = walked(pieces, joints, at, k if fold.onto_first else k + 1, not fold.onto_first, far)
        if own is None:
            raise CannotFold(at)
        begin, end = fold.depth.start, fold.depth.end
        bottom = line(begin, end + (end - begin) / abs(end - begin) * far)
        hits = [hit for hit in meetings(own, bottom) if hit.first_at > 1e-3]
        if not hits:
            raise CannotFold(at)
        beside = own.part(0.0, hits[0].first_at)
        near = beside.moved(reflection(fold.crease.start, fold.crease.end))
        beyond = beside.moved(fold.carrying)
        if fold.onto_first:
            steps = [*near.segments, *beyond.reversed().segments]
        else:
            steps = [*beyond.segments, *near.reversed().segments]
        joint.layers[k] = steps
