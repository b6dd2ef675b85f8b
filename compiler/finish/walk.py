"""The cut line walked away from a place on it, over folds that lie closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import lengthened
from oaktag.compiler.geometry import IDENTITY, Line, Motion, Path, reflection

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from oaktag.compiler.finish.beside import Beside, Joint
    from oaktag.compiler.geometry import Segment

_SHORT = 1e-7  # mm


def walked(
    pieces: Sequence[Beside],
    joints: Sequence[Joint],
    at: int,
    part: int,
    forwards: bool,
    far: float,
) -> Path | None:
    """The cut line from a joint on, for some mm at least, or none if nothing leads away.

    It begins with that part of the joint, and lies as the paper of that part lies. Folds on the way
    are closed. At an edge on the fold it goes on as its own mirror image: the paper there is whole.
    Where nothing follows, as at the end of a hem that is not made yet, it goes straight on.
    """
    segments: list[Segment] = []
    gone = 0.0
    carried = IDENTITY
    mirror: Motion | None = None
    for item in _items(pieces, joints, at, part, forwards):
        if isinstance(item, Motion):
            carried = item.then(carried)
            continue
        piece, found = item
        if piece is not None and piece.on_fold:
            mirror = reflection(carried(piece.start), carried(piece.end))
            break
        segments += found if carried is IDENTITY else [one.moved(carried) for one in found]
        gone += sum(segment.length for segment in found)
        if gone >= far:
            break
    path = linked(segments)
    if path is None:
        return None
    if mirror is not None:
        path = linked([*path.segments, *path.reversed().moved(mirror).segments]) or path
    return lengthened(path, far - path.length) if path.length < far else path


def _items(
    pieces: Sequence[Beside], joints: Sequence[Joint], at: int, part: int, forwards: bool
) -> Iterator[tuple[Beside | None, Sequence[Segment]] | Motion]:
    """What is met on the way: lines, parts of joints, and what carries the paper behind a fold."""
    for turn in range(len(pieces)):
        number = (at + turn if forwards else at - turn) % len(pieces)
        joint = joints[number]
        if joint.waiting:
            return
        last = len(joint.folds)
        start = part if turn == 0 else (0 if forwards else last)
        for k in range(start, last + 1) if forwards else range(start, -1, -1):
            if k != start:
                fold = joint.folds[k - 1 if forwards else k]
                yield fold.closing if forwards else fold.closing.inverse()
            steps = [segment for segment, _ in joint.parts[k]]
            yield None, steps if forwards else _back(steps)
        piece = pieces[(number + 1) % len(pieces)] if forwards else pieces[number]
        if piece.line is not None:
            steps = list(piece.line.segments)
            yield piece, steps if forwards else _back(steps)


def _back(segments: Sequence[Segment]) -> list[Segment]:
    return [segment.reversed() for segment in reversed(segments)]


def linked(segments: Iterable[Segment]) -> Path | None:
    """One path of several segments, gaps between them bridged; none if they have no length."""
    out: list[Segment] = []
    for segment in segments:
        if segment.length <= _SHORT:
            continue
        if out and abs(out[-1].end - segment.start) > _SHORT:
            out.append(Line(out[-1].end, segment.start))
        out.append(segment)
    return Path(out) if out else None
