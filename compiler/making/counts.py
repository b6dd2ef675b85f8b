"""How often things are there in the finished garment: pieces are cut in pairs, or on the fold."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Pattern, SeamSide
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
    cutting, the cloth is `""`. Pieces of other patterns are there as often as need be.
    """
    wanted = Counter((side.piece.name, side.edge.label) for side in sides)
    pieces = {side.piece.name: side.piece for side in sides}
    own = [name for name in pieces if name in pattern.pieces]

    def together(there: dict[str, int]) -> int:
        counts = [
            there[name] * (2 if on_fold(pieces[name]) else 1) // count
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
