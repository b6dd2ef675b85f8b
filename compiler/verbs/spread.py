"""`spread`: slash along lines and open them."""

from __future__ import annotations

from oaktag.compiler.paper.arguments import Amount, Treatment
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import check_ending
from oaktag.compiler.paper.opening import DART
from oaktag.compiler.paper.parting import assemble, cut
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import check_simple
from oaktag.compiler.paper.slashing import (
    opened,
    still_part,
    travel,
    without_lines,
)
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.widening import let_in, opening_motion, slashed


def spread(
    piece: Piece,
    lines: tuple[object, ...],
    amounts: tuple[Amount, ...],
    hinge: Edge | None = None,
    treatment: Treatment | None = None,
    holding: object = None,
) -> Change:
    """Slashes along each line and opens it, measured straight across the opening.

    Hinged, the parts turn about the hinge; with two amounts they turn so that both are met; else
    they move straight apart, square to the line's chord.
    """
    treatment = treatment or Treatment()
    if not lines:
        return Change(piece)
    slashes = slashed(piece, lines, treatment.kind, amounts, hinge)
    parts, sides = cut(without_lines(piece, [item.label for item in slashes]), slashes)
    motions, order = travel(
        parts,
        sides,
        still_part(parts, holding),
        lambda number, left: opening_motion(slashes[number], amounts, hinge, left),
    )
    openings = [
        opened(
            item.label,
            item,
            motions[before],
            motions[behind],
            treatment.kind,
            treatment.style,
            treatment.short,
        )
        for item, (before, behind) in zip(slashes, sides, strict=True)
    ]
    for opening in openings:
        if opening.kind == DART and not opening.hinged:
            raise PaperError(
                f"`{opening.label}` opens at both ends, so it has no point as a dart has",
                help="hinge it, as in `hinged on waist`, or open it `as pleat`",
                about="treatment",
                code="no-point",
            )
        if treatment.ending is not None:
            check_ending(opening.label, treatment.short, opening.first.length, "treatment")
    after = assemble(parts, motions, order)
    after = after.changed(openings=after.openings + tuple(openings))
    check_simple(after, "opened this far, the paper would lie on itself", piece)
    return Change(after, let_in=tuple(let_in(opening) for opening in openings))
