"""What is drawn on the paper, carried along when the paper is cut and its parts move."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Motion, Path, line, meetings
from oaktag.compiler.paper.chain import SEAM, Line, Run
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import FLARE, GATHER, PLEAT, Opening

if TYPE_CHECKING:
    from oaktag.compiler.paper.parting import Parts

TOUCH = 1e-4  # mm: a meeting this near to an end is that end
CROSSABLE = (FLARE, PLEAT, GATHER)  # openings whose sides a later cut may cross

Gap = tuple[str, Label | None]


def line_after(
    drawn: Line, parts: Parts, motions: Sequence[Motion | None], order: Sequence[int]
) -> Line | None:
    """A drawn line after the cut: in several runs, if a slash crossed it; none if it is gone."""
    runs: list[Run] = []
    gap: Gap | None = None
    for run in drawn.runs:
        for piece, before in _split(run.path, parts.slits):
            if before is not None:
                gap = before
            part = parts.part_at(piece.point_at(piece.length / 2), order)
            motion = motions[part]
            if motion is None:
                continue
            moved = piece.moved(motion)
            if runs and abs(runs[-1].path.end - moved.start) > 1e-7:
                role, opening = gap or (SEAM, None)
                runs.append(Run(line(runs[-1].path.end, moved.start), role, opening))
            runs.append(run.changed(path=moved))
            gap = None
    return drawn.changed(runs=tuple(runs)) if runs else None


def opening_after(
    opening: Opening,
    parts: Parts,
    motions: Sequence[Motion | None],
    order: Sequence[int],
    motion_at: Callable[[complex], Motion],
) -> Opening | None:
    """An opening after the cut, or none if it is gone.

    Its sides, unless it is a dart, are lines that a slash may cross: then it is broken.
    """
    sides = (opening.first, opening.second)
    crossed = opening.kind in CROSSABLE and any(
        len(_split(side, parts.slits)) > 1 for side in sides
    )
    if not crossed:
        middle = middle_of(opening)
        if motions[parts.part_at(middle, order)] is None:
            return None
        if opening.kind != FLARE:
            return opening.moved(motion_at(middle))
    first, second = (
        line_after(Line(opening.label, (Run(side),)), parts, motions, order) for side in sides
    )
    if first is None or second is None:
        return None
    return opening.changed(
        first=first.path,
        second=second.path,
        broken=opening.broken or crossed,
        about=None if crossed else opening.about,
    )


def middle_of(opening: Opening) -> complex:
    """A point that lies on the same part as an opening that was not crossed."""
    first, second = opening.first, opening.second
    return (first.point_at(first.length / 2) + second.point_at(second.length / 2)) / 2


def _split(
    path: Path, slits: Sequence[tuple[Path, str, Label | None]]
) -> list[tuple[Path, Gap | None]]:
    """A path cut where slits cross it; each piece with the role and opening of the gap before
    it.
    """
    cuts = [
        (meeting.first_at, (role, opening))
        for slit, role, opening in slits
        for meeting in meetings(path, slit)
    ]
    if not cuts:
        return [(path, None)]
    pieces: list[tuple[Path, Gap | None]] = []
    behind = 0.0
    gap: Gap | None = None
    for at, crossing in sorted(cuts, key=lambda item: item[0]):
        if at - behind > TOUCH:
            pieces.append((path.part(behind, min(at, path.length)), gap))
            behind, gap = at, crossing
        else:
            gap = crossing
    if path.length - behind > TOUCH:
        pieces.append((path.part(behind, path.length), gap))
    return pieces or [(path, None)]
