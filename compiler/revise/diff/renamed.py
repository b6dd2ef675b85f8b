"""Which piece of the new pattern is which of the old one."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from oaktag.compiler.paper.piece import Piece

_LIKE = 0.01  # of the length around: edges that differ by less are the same, under another name


def pairs(
    old: Mapping[str, Piece], new: Mapping[str, Piece]
) -> Iterator[tuple[Piece | None, Piece | None]]:
    """Every piece with its like, the new pattern's in order, then those that are gone.

    A piece that went and one that came with the same number of edges, each as long, is one piece
    that was renamed.
    """
    gone = [piece for name, piece in old.items() if name not in new and piece.edges]
    come = [piece for name, piece in new.items() if name not in old and piece.edges]
    named: dict[str, Piece] = {}
    found = sorted(
        (unlike, before.name, after.name)
        for before in gone
        for after in come
        if (unlike := _unlike(before, after)) < _LIKE
    )
    for _, before_name, after_name in found:
        if after_name not in named and all(p.name != before_name for p in named.values()):
            named[after_name] = old[before_name]
    for name, piece in new.items():
        yield old.get(name) or named.get(name), piece
    taken = {piece.name for piece in named.values()}
    for name, piece in old.items():
        if name not in new and name not in taken:
            yield piece, None


def _unlike(one: Piece, other: Piece) -> float:
    """How much the lengths of the edges differ, as a share of the way around."""
    if len(one.edges) != len(other.edges):
        return 1.0
    lengths = [sorted(edge.length for edge in piece.edges) for piece in (one, other)]
    apart: float = sum(abs(a - b) for a, b in zip(*lengths, strict=True))
    return apart / max(one.outline.length, other.outline.length)
