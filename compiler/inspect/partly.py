"""Looking over a pattern of which a part could not be drawn: only what is surely so is told.

A piece is whole if no line that speaks of it has a mistake. Of the others the seams are still
walked, as far as they could be worked out, without their notches.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.closing import uneven
from oaktag.compiler.inspect.doubts import in_vain, pairs_on_fold, unequal_legs
from oaktag.compiler.inspect.flow import broken
from oaktag.compiler.inspect.folds import untrimmed
from oaktag.compiler.inspect.left_over import loose, nobody_cuts, without_grain
from oaktag.compiler.inspect.marks import misplaced
from oaktag.compiler.inspect.notches import missed
from oaktag.compiler.inspect.seams import twice, uncut, unequal
from oaktag.compiler.inspect.wide import too_wide

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.diagnostics import Diagnostic

_OF_PIECES = (too_wide, untrimmed, uneven, misplaced, unequal_legs, without_grain, in_vain, loose)
_OF_CUTS = (nobody_cuts, uncut, pairs_on_fold)


def inspect_part(part: Pattern) -> tuple[Diagnostic, ...]:
    """What is to be told of a pattern with mistakes, beside those that are known.

    Rules for the garment as a whole, such as how wide its waist opens, are left out.
    """
    return tuple(_found(part))


def whole(part: Pattern) -> Pattern:
    """The same with only its whole pieces; without a cut list that could be read, with none."""
    uncertain = "cut" in part.untold and not part.cuts
    pieces = {
        name: piece
        for name, piece in part.pieces.items()
        if not uncertain and _is_whole(piece, part)
    }
    return part.changed(pieces=pieces)


def _found(part: Pattern) -> Iterator[Diagnostic]:
    sure = [seam for seam in part.seams if not any(_named_unsure(side) for side in _sides(seam))]
    walked = part.changed(seams=tuple(_walkable(seam, part) for seam in sure))
    yield from unequal(walked)
    yield from missed(walked)
    known = whole(part).changed(seams=tuple(sure))
    for look in _OF_PIECES:
        yield from look(known)
    all_cuts = "cut" not in part.untold
    doubtful = {seam.span for seam in sure if not _all_whole(seam, part)}
    for look in (broken, twice) if all_cuts else (broken,):
        yield from (one for one in look(known) if one.span not in doubtful)
    for look in _OF_CUTS if all_cuts else ():
        yield from look(known)


def _is_whole(piece: Piece, part: Pattern) -> bool:
    return not piece.unsure and piece.name.partition("[")[0] not in part.untold


def _sides(seam: Seam) -> tuple[SeamSide, ...]:
    return (*seam.first, *seam.second)


def _all_whole(seam: Seam, part: Pattern) -> bool:
    return all(_is_whole(side.piece, part) for side in _sides(seam))


def _named_unsure(side: SeamSide) -> bool:
    return side.edge.label.name in side.piece.unsure


def _walkable(seam: Seam, part: Pattern) -> Seam:
    """The seam without notches, unless all of them are known on both sides."""
    if _all_whole(seam, part):
        return seam
    first, second = (
        tuple(side.changed(piece=side.piece.changed(marks=())) for side in sides)
        for sides in (seam.first, seam.second)
    )
    return seam.changed(first=first, second=second)
