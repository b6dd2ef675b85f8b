"""Closing a dart that runs from edge to edge: the paper on its far side comes over."""

from __future__ import annotations

from oaktag.compiler.geometry import IDENTITY, Motion
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.parting import Slash, assemble, cut
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.ring import Ring
from oaktag.compiler.paper.slashing import still_part
from oaktag.compiler.paper.step import Change


def shut(piece: Piece, dart: Opening, holding: object) -> Change:
    """Takes out the paper between two sides that both run from edge to edge.

    Such a dart is the share that a part of a divided piece has of a dart the cut ran through.
    """
    ring = Ring(piece)
    slashes = []
    for side in (dart.first, dart.second):
        start, end = ring.locate(side.start, ON), ring.locate(side.end, ON)
        if start is None or end is None:
            raise PaperError(
                f"`{dart.label}` does not run from edge to edge",
                about="darts",
                code="not-a-dart",
            )
        slashes.append(Slash(side, start, end, dart.label))
    rest = tuple(item for item in piece.openings if item is not dart)
    parts, sides = cut(piece.changed(openings=rest), slashes)
    wedge = (set(sides[0]) & set(sides[1])).pop()
    near = (set(sides[0]) - {wedge}).pop()
    far = (set(sides[1]) - {wedge}).pop()
    still = still_part(parts, holding)
    motions: list[Motion | None] = [IDENTITY] * len(parts.rings)
    motions[wedge] = None
    if still == far:
        motions[near] = dart.closing.inverse()
    else:
        motions[far] = dart.closing
    order = [near, far, wedge] if still != far else [far, near, wedge]
    return Change(assemble(parts, motions, order), cut_away=(parts.rings[wedge],))
