"""Looking over a pattern of which a part could not be drawn: only what is surely so is told.

A piece is whole if no line that speaks of it has a mistake. Of the others the seams are still
walked, as far as they could be worked out, without their notches.
"""

from __future__ import annotations

import re
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
    from collections.abc import Callable, Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.diagnostics import Diagnostic

    Look = Callable[[Pattern], Iterator[Diagnostic]]

_ANY = ("", "if", "repeat", "true")  # lines that may say anything, or change the pieces
_CUT, _SEWN = ("cut",), ("cut", "sew")
_ALL = ("allow", "sew", "bind", "fasten", "cut", "notch")

# What is looked at, and the lines that must all be known of a piece for it.
_LOOKS = (
    *((too_wide, ("allow",)), (uneven, ()), (without_grain, _CUT), (in_vain, _CUT)),
    *((untrimmed, _CUT), (misplaced, _CUT), (unequal_legs, _CUT)),
    *((nobody_cuts, _SEWN), (uncut, _SEWN), (pairs_on_fold, _CUT), (loose, _ALL)),
)


def inspect_part(part: Pattern) -> tuple[Diagnostic, ...]:
    """What is to be told of a pattern with mistakes, beside those that are known.

    Rules for the garment as a whole, such as how wide its waist opens, are left out.
    """
    return tuple(_found(part))


def whole(part: Pattern, said: Sequence[str] = ("allow",)) -> Pattern:
    """The same with only those pieces of which everything is known that such lines say; without a
    cut list that could be read, with none.
    """
    uncertain = "cut" in part.untold and not part.cuts
    pieces = {
        name: piece
        for name, piece in part.pieces.items()
        if not uncertain and _is_whole(piece, part, said)
    }
    return part.changed(pieces=pieces)


def _found(part: Pattern) -> Iterator[Diagnostic]:
    sure = [seam for seam in part.seams if not any(_named_unsure(side) for side in _sides(seam))]
    part = part.changed(seams=tuple(sure))
    walked = part.changed(seams=tuple(_walkable(seam, part) for seam in sure))
    yield from unequal(walked)
    yield from missed(walked)
    for look, said in _LOOKS:
        yield from look(whole(part, said))
    yield from _along(part, broken, ("sew",))
    if _main_cloth_known(part):
        yield from _along(part, twice, _CUT)


def _along(part: Pattern, look: Look, said: Sequence[str]) -> Iterator[Diagnostic]:
    """What is seen along seams between whole pieces."""
    doubtful = {seam.span for seam in part.seams if not _all_whole(seam, part, said)}
    return (one for one in look(whole(part, said)) if one.span not in doubtful)


def _main_cloth_known(part: Pattern) -> bool:
    """Whether the first line that cuts is one without a mistake."""
    if "cut" not in part.untold:
        return True
    lines = part.cuts[0].span.source.text.split("\n") if part.cuts else []
    first = next((at for at, line in enumerate(lines, 1) if re.match(r"\s*cut\b", line)), 0)
    return bool(part.cuts) and part.cuts[0].span.line == first


def _is_whole(piece: Piece, part: Pattern, said: Sequence[str]) -> bool:
    name = piece.name.partition("[")[0]
    untold = (part.untold.get(word, ()) for word in (*_ANY, *said))
    return not piece.unsure and not any(name in names for names in untold)


def _sides(seam: Seam) -> tuple[SeamSide, ...]:
    return (*seam.first, *seam.second)


def _all_whole(seam: Seam, part: Pattern, said: Sequence[str]) -> bool:
    return all(_is_whole(side.piece, part, said) for side in _sides(seam))


def _named_unsure(side: SeamSide) -> bool:
    return side.edge.label.name in side.piece.unsure


def _walkable(seam: Seam, part: Pattern) -> Seam:
    """The seam without notches, unless all of them are known on both sides."""
    if _all_whole(seam, part, ("notch",)):
        return seam
    first, second = (
        tuple(side.changed(piece=side.piece.changed(marks=())) for side in sides)
        for sides in (seam.first, seam.second)
    )
    return seam.changed(first=first, second=second)
