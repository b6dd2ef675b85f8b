"""How often things are there in the finished garment: pieces are cut in pairs, or on the fold."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.pattern import SeamSide

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.piece import Piece

INTERFACING = "interfacing"


def is_interfacing(cloth: str) -> bool:
    """Whether a cloth is called interfacing, `interfacing` or `interfacing_light`."""
    return cloth == INTERFACING or cloth.startswith(f"{INTERFACING}_")


def on_fold(piece: Piece) -> bool:
    return any(edge.on_fold for edge in piece.edges)


def cloths(pattern: Pattern) -> list[str]:
    """Every cloth in which something is cut, in the order of the file."""
    return list(dict.fromkeys(order.cloth for order in pattern.cuts))


def copies(pattern: Pattern, piece: str, cloth: str) -> int:
    """How often a piece is cut in a cloth."""
    orders = pattern.cuts
    return sum(item.count for item in orders if item.piece == piece and item.cloth == cloth)


def first_times(pattern: Pattern, sides: Sequence[SeamSide]) -> int:
    """How often edges come together in the first cloth in which they do.

    A zip, a binding and a hook are put on once, where the same piece is cut in a lining too.
    """
    return next(iter(times(pattern, sides).values()))


def times(pattern: Pattern, sides: Sequence[SeamSide]) -> dict[str, int]:
    """How often edges named together come together, by the cloth in which they do.

    An edge of a piece on the fold is there twice for each time it is cut, and an edge that is named
    twice needs two. Where the pieces are cut in different cloths only, or nothing is said of
    cutting, the cloth is `""`. Pieces of other patterns, and those that
    are not cut, are there as often as need be.
    """
    wanted = _wanted(sides)
    own = _cut(pattern, sides)

    def together(there: dict[str, int]) -> int:
        counts = [
            there[name] * (2 if on_fold(own[name]) else 1) // count
            for (name, _), count in wanted.items()
            if name in there
        ]
        return max(1, min(counts, default=1))

    found = {}
    for cloth in cloths(pattern):
        there = {name: copies(pattern, name, cloth) for name in own}
        if own and all(there.values()) and not is_interfacing(cloth):
            found[cloth] = together(there)
    if found:
        return found
    most = {}
    for name in own:
        counts = [copies(pattern, name, cloth) for cloth in cloths(pattern)]
        most[name] = max(counts, default=1) or 1
    return {"": together(most)}


def piece_times(pattern: Pattern, piece: Piece) -> dict[str, int]:
    """How often what is drawn on a piece is there, by cloth as `times` tells it."""
    edge = piece.edges[0]
    return times(pattern, (SeamSide(f"{piece.name}.{edge.label}", piece, edge),))


def seam_times(pattern: Pattern) -> list[dict[str, int] | None]:
    """`times` of every seam; none where seams want more of an edge together than there is of it.

    Then it is for the cutter to see: the sides of gores all alike are sewn to each other and to
    what stands between them.
    """
    chains = [(*seam.first, *seam.second) for seam in pattern.seams]
    found = [times(pattern, sides) for sides in chains]
    claims: Counter[tuple[str, str, Label]] = Counter()
    for sides, counts in zip(chains, found, strict=True):
        for (name, label), often in _wanted(sides).items():
            for cloth, count in counts.items():
                claims[cloth, name, label] += often * count

    def contested(sides: Sequence[SeamSide], counts: dict[str, int]) -> bool:
        own = _cut(pattern, sides)
        return any(
            claims[cloth, name, label]
            > copies(pattern, name, cloth) * (2 if on_fold(own[name]) else 1)
            for name, label in _wanted(sides)
            if name in own
            for cloth in counts
            if cloth
        )

    return [
        None if contested(sides, counts) else counts
        for sides, counts in zip(chains, found, strict=True)
    ]


def _wanted(sides: Sequence[SeamSide]) -> Counter[tuple[str, Label]]:
    return Counter((side.piece.name, side.edge.label) for side in sides)


def _cut(pattern: Pattern, sides: Sequence[SeamSide]) -> dict[str, Piece]:
    """The pieces of the file on which the edges lie, but those of which others are cut only."""
    cut = {order.piece for order in pattern.cuts}
    return {
        side.piece.name: side.piece
        for side in sides
        if side.piece.name in pattern.pieces and (not cut or side.piece.name in cut)
    }
