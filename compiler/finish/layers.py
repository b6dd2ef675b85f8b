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
from oaktag.compiler.finish.further import beyond, goes_through, meet_further
from oaktag.compiler.finish.walk import walked
from oaktag.compiler.geometry import IDENTITY, Path, line, line_meetings, meetings, reflection
from oaktag.compiler.paper.folded import FAR

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.finish.beside import Beside, Fold, Joint, Tagged
    from oaktag.compiler.geometry import Motion

_SAME = 1e-9  # mm


class CannotFold(Exception):  # noqa: N818  (nothing of it is told)
    """The cut line does not reach the creases of the folds behind a segment; `at`: its number."""

    def __init__(self, at: int) -> None:
        super().__init__()
        self.at = at


class _Row:
    """The cut line on one side of a fold, as it lies when the fold is closed.

    Its segments are listed from the fold away. spans: what they belong to, the number of a segment
    of the ring or of a joint, with the places on the path, measured from its far end.
    """

    def __init__(
        self, pieces: Sequence[Beside], joints: Sequence[Joint], at: int, ahead: bool, shut: Motion
    ) -> None:
        self.at = at
        self.ahead = ahead
        self.shut = shut
        self.numbers = beyond(pieces, joints, at, ahead)
        self.pieces = [pieces[number].moved(shut) for number in self.numbers]
        self.joints = [number if ahead else number - 1 for number in self.numbers[:-1]]
        self.between = [joints[number] for number in self.joints]

    def drop(self, count: int) -> None:
        """Takes away the joints of segments that a corner has swallowed."""
        for joint in self.between[:count]:
            joint.parts[0] = []

    def path(self) -> tuple[Path, list[Tagged], list[tuple[int, bool, float, float]]]:
        """The line towards the fold, or from it on; its segments with tags; and the spans."""
        items: list[tuple[int, bool, list[Tagged]]] = []
        for k, piece in enumerate(self.pieces):
            if piece.line is not None:
                items.append((k, False, [(one, piece.edge) for one in piece.line.segments]))
            if k < len(self.between):
                steps = [(one.moved(self.shut), tag) for one, tag in self.between[k].parts[0]]
                items.append((k, True, steps))
        if self.ahead:
            tagged = [item for _, _, steps in items for item in steps]
        else:
            tagged = [item for _, _, steps in reversed(items) for item in steps]
        tagged = [item for item in tagged if item[0].length > _SAME]
        spans = []
        place = 0.0
        for k, joint, steps in reversed(items):
            length = sum(one.length for one, _ in steps)
            spans.append((k, joint, place, place + length))
            place += length
        if not tagged:
            raise CannotFold(self.at)
        return Path(one for one, _ in tagged), tagged, spans

    def keep(
        self,
        pieces: Sequence[Beside],
        whole: Path,
        tags: Sequence[int],
        spans: Sequence[tuple[int, bool, float, float]],
        kept: float,
    ) -> None:
        """Shortens what it consists of to so much from its far end, and lays it back."""
        flat = self.shut.inverse()
        for number, piece in zip(self.numbers, self.pieces, strict=True):
            if piece.line is None:
                pieces[number].line = None
        for k, joint, start, end in spans:
            if self.ahead:
                low, high = whole.length - min(end, kept), whole.length - start
            else:
                low, high = start, min(end, kept)
            steps = _between(whole, tags, low, high) if kept - start > _SAME else []
            laid = [(one.moved(flat), tag) for one, tag in steps]
            if joint:
                self.between[k].parts[0] = laid
            else:
                line_ = Path(one for one, _ in laid) if laid else None
                pieces[self.numbers[k]].line = line_


def join_folded(pieces: Sequence[Beside], joints: Sequence[Joint], at: int) -> None:
    """Makes the joint over folds: the corner as it is when they lie closed, cut at the creases.

    Where the widths differ, each side is led to the crease, and the step between them lies on it.
    """
    joint = joints[at]
    frames = [IDENTITY]
    for fold in joint.folds:
        frames.append(fold.closing.then(frames[-1]))
    creases = [
        fold.crease.moved(frames[k] if fold.onto_first else frames[k + 1])
        for k, fold in enumerate(joint.folds)
    ]
    rows = [_Row(pieces, joints, at, False, IDENTITY), _Row(pieces, joints, at, True, frames[-1])]
    before, after = rows[0].pieces[0], rows[1].pieces[0]
    if set(rows[0].numbers) & set(rows[1].numbers) or before.line is None or after.line is None:
        raise CannotFold(at)
    stepped = before.width != after.width
    steps = [] if stepped else corner(before, after)
    if goes_through(steps, before):
        taken = meet_further(rows[0].pieces, rows[1].pieces)
        if taken is not None:
            steps = []
            for row, count in zip(rows, taken, strict=True):
                row.drop(count)
    (head, heads, head_spans), (tail, tails, tail_spans) = (row.path() for row in rows)
    ends = head.length, tail.length
    if stepped:
        whole, tags, stops, ends = _step(head, heads, tail, tails, joint.folds, creases, before, at)
    else:
        tagged = [*heads, *(item for item in steps if item[0].length > _SAME), *tails]
        whole = Path(one for one, _ in tagged)
        tags = [tag for _, tag in tagged]
        stops = [_at_crease(whole, crease, before.end, at) for crease in creases]
    first = min(stops[0], ends[0])
    last = max(stops[-1], whole.length - ends[1])
    if first <= _SAME or whole.length - last <= _SAME:
        raise CannotFold(at)
    rows[0].keep(pieces, whole, tags, head_spans, first)
    rows[1].keep(pieces, whole, tags, tail_spans, whole.length - last)
    for k, (begin, finish) in enumerate(itertools.pairwise([first, *stops, last])):
        flat = frames[k].inverse()
        joint.parts[k] = [
            (segment.moved(flat), tag) for segment, tag in _between(whole, tags, begin, finish)
        ]


def _step(
    head: Path,
    heads: Sequence[Tagged],
    tail: Path,
    tails: Sequence[Tagged],
    folds: Sequence[Fold],
    creases: Sequence[Path],
    before: Beside,
    at: int,
) -> tuple[Path, list[int], list[float], tuple[float, float]]:
    """Both lines led to the crease, and the step between them: where it lies, the pressing says.

    Gives the line with its tags, where it is cut, and how much of both lines is in it.
    """
    wide = 4 * max(abs(head.end - before.end), abs(tail.start - before.end))
    one = _at_crease(lengthened(head, wide), creases[0], before.end, at)
    other = _at_crease(lengthened(tail.reversed(), wide), creases[-1], before.end, at)
    first = lengthened(head, wide).part(0.0, one)
    second = lengthened(tail.reversed(), wide).part(0.0, other).reversed()
    across = line(first.end, second.start)
    whole = first.joined(across).joined(second)
    tags = [tag for _, tag in heads[: len(first.segments)]]
    tags += [heads[-1][1]] * (len(first.segments) - len(tags)) + [NOWHERE]
    ends = [tag for _, tag in tails[max(len(tails) - len(second.segments), 0) :]]
    tags += [tails[0][1]] * (len(second.segments) - len(ends)) + ends
    pressed = sum(fold.onto_first for fold in folds)
    stops = [first.length] * pressed + [first.length + across.length] * (len(folds) - pressed)
    return whole, tags, stops, (min(head.length, one), min(tail.length, other))


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
