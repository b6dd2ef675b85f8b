"""`halve`: back from the whole to one half."""

from __future__ import annotations

from oaktag.compiler.geometry import contains, reflection
from oaktag.compiler.paper.chain import Edge, Line, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.half import plain
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import FLARE
from oaktag.compiler.paper.parting import cut
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.slashing import slash, without_lines
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.straight import check_straight
from oaktag.compiler.paper.taking import take


def halve(piece: Piece, along: object, keeping: Label) -> Change:
    """Cuts the piece along a straight line and keeps the half of that name.

    The line becomes an edge again, on the fold if it was one before the piece was unfolded; the
    names on the half that is kept lose their first word.
    """
    half = keeping.name
    if half not in piece.halves:
        raise PaperError(
            f"there is no half `{half}`",
            help="the halves are named by `unfold`: "
            + (", ".join(f"`{name}`" for name in piece.halves) or "this piece is not unfolded"),
            about="keeping",
            code="no-half",
        )
    if not isinstance(along, Line):
        raise PaperError(
            "paper is halved along a drawn line",
            help="name the edge along which it was unfolded",
            about="along",
            code="not-a-line",
        )
    check_straight(along, "along")
    cut_line = slash(piece, along, FLARE)
    parts, _ = cut(without_lines(piece, [along.label]), [cut_line])
    longest = max(
        (edge for edge in piece.edges if half in edge.label.scope), key=lambda edge: edge.length
    )
    kept = parts.part_at(longest.path.point_at(longest.length / 2), range(2))
    fold = Edge(
        along.label,
        (Run(cut_line.path),),
        on_fold=along.was_fold,
        line=along.line,
        file=along.file,
        words=along.words,
    )
    after = take(parts, kept, cut_line, fold)
    if after.grain and contains(parts.rings[1 - kept], (after.grain.start + after.grain.end) / 2):
        after = after.changed(grain=after.grain.moved(reflection(along.start, along.end)))
    first, second = _pair(piece.halves, half)
    halves = tuple(name for name in piece.halves if name not in (first, second))
    after = plain(after, half, second if half == first else first).changed(halves=halves)
    return Change(after, cut_away=(parts.rings[1 - kept],))


def _pair(halves: tuple[str, ...], half: str) -> tuple[str, str]:
    """The two names that one `unfold` gave."""
    place = halves.index(half) // 2 * 2
    return halves[place], halves[place + 1]
