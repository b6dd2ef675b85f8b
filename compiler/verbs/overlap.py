"""`overlap`: slash along lines and lay the parts over each other."""

from __future__ import annotations

from oaktag.compiler.geometry import (
    IDENTITY,
    Motion,
    Path,
    contains,
    interior_point,
    line,
    meetings,
    ray_meetings,
)
from oaktag.compiler.paper.arguments import Amount
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.opening import FLARE
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.parting import Slash, assemble, cut
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import check_simple
from oaktag.compiler.paper.ring import Ring
from oaktag.compiler.paper.slashing import still_part, travel, without_lines
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.widening import opening_motion, slashed

NOTHING = 1e-6  # mm: an overlap of less takes no paper out


def overlap(
    piece: Piece,
    lines: tuple[object, ...],
    amounts: tuple[Amount, ...],
    hinge: Edge | None = None,
    holding: object = None,
) -> Change:
    """Takes out, along each line, the paper that a spread by the same amounts would let in.

    The strip lies on the part that moves; the line itself stays drawn on the part that does not.
    """
    if not lines:
        return Change(piece)
    slashes = [item.changed(opening=None) for item in slashed(piece, lines, FLARE, amounts, hinge)]
    if all(amount.by.amount < NOTHING for amount in amounts):
        return Change(piece)
    parts, sides = cut(without_lines(piece, [item.label for item in slashes]), slashes)
    still = still_part(parts, holding)

    # Which side of each slash moves, then the strip on that side, which is taken out.
    moving: dict[int, bool] = {}

    def remember(number: int, left: bool) -> Motion:
        moving[number] = left
        return IDENTITY

    travel(parts, sides, still, remember)
    closing = [
        opening_motion(item, amounts, hinge, moving[number]).inverse()
        for number, item in enumerate(slashes)
    ]
    ring = Ring(piece)
    far = [_far_side(item, motion, ring) for item, motion in zip(slashes, closing, strict=True)]
    _check_strips(slashes, far)
    held = parts.rings[still]
    parts, sides = cut(piece, [*slashes, *far])
    still = parts.part_at(interior_point(held), range(len(parts.rings)))
    count = len(slashes)
    motions, order = travel(
        parts,
        sides,
        still,
        lambda number, _left: closing[number - count] if number >= count else IDENTITY,
    )
    kept: list[Motion | None] = list(motions)
    along: list[Path] = []
    for number, item in enumerate(slashes):
        strip = set(sides[number]) & set(sides[number + count])
        if len(strip) != 1:
            raise _too_wide(item)
        beside = set(sides[number]) - strip
        along.append(item.path.moved(motions[beside.pop()]))
        kept[strip.pop()] = None
    strips = [parts.rings[i] for i, motion in enumerate(kept) if motion is None]
    breaks = tuple(item.changed(along=along[item.slash % count]) for item in parts.breaks)
    after = assemble(parts.changed(breaks=breaks), kept, order)
    check_simple(
        after, "overlapped this far, the paper would lie on itself", piece, "take out less"
    )
    return Change(after, cut_away=tuple(strips))


def _check_strips(slashes: list[Slash], far: list[Slash]) -> None:
    """Refuses strips that reach another line: there is less paper between than is taken out."""
    for number, item in enumerate(far):
        for other in [*slashes[:number], *slashes[number + 1 :], *far[number + 1 :]]:
            if any(
                ON < hit.first_at < item.path.length - ON for hit in meetings(item.path, other.path)
            ):
                raise _too_wide(item)


def _too_wide(cut_line: Slash) -> PaperError:
    return PaperError(
        f"`{cut_line.label}` has less paper beside it than is to be taken out",
        help="take out less",
        about="amounts",
        code="overlap-too-wide",
    )


def _far_side(cut_line: Slash, closing: Motion, ring: Ring) -> Slash:
    """The other side of the strip: the line that comes to lie on the slash."""
    path = cut_line.path.moved(closing.inverse())
    path = _to_outline(path, ring)
    path = _to_outline(path.reversed(), ring).reversed()
    start, end = ring.locate(path.start), ring.locate(path.end)
    if start is None or end is None:
        raise _too_wide(cut_line)
    for here, there in ((cut_line.start_at, start), (cut_line.end_at, end)):
        if not _edges_at(ring, here) & _edges_at(ring, there):
            raise _too_wide(cut_line)
    return Slash(path, start, end, cut_line.label, cut_line.role)


def _edges_at(ring: Ring, where: float) -> set[tuple[str, int | None]]:
    """The edges that lie at a place of the outline: two at a corner; halves of one count as one."""
    labels = [
        ring.piece.edges[number].label for number in (ring.edge_before(where), ring.edge_at(where))
    ]
    return {(label.name, label.index) for label in labels}


def _to_outline(path: Path, ring: Ring) -> Path:
    """A path cut off, or led on straight, so that it ends on the outline."""
    if ring.locate(path.end, 1e-6) is not None:
        return path
    outline = ring.piece.outline
    if contains(outline, path.end):
        onward = ray_meetings(path.end, path.end_direction, outline)
        return path.joined(line(path.end, onward[0][2]))
    hits = [hit.first_at for hit in meetings(path, outline) if hit.first_at > path.length / 2]
    return path.part(0.0, hits[-1]) if hits else path
