"""Which piece of the new pattern is which of the old one."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from oaktag.compiler.paper.piece import Piece

_LIKE = 0.01  # of the length around: edges that differ by less are the same, under another name
_NEARLY = 0.1  # the same, where the edges bear the same names


def pairs(
    old: Mapping[str, Piece], new: Mapping[str, Piece]
) -> Iterator[tuple[Piece | None, Piece | None]]:
    """Every piece with its like, the new pattern's in order, then those that are gone.

    A piece that went and one that came with the same number of edges, each as long, is one piece
    that was renamed; with edges of the same names, each about as long, too.
    """
    gone = [piece for name, piece in old.items() if name not in new and piece.edges]
    come = [piece for name, piece in new.items() if name not in old and piece.edges]
    named: dict[str, Piece] = {}
    found = sorted(
        (unlike, before.name, after.name)
        for before in gone
        for after in come
        if (unlike := _unlike(before, after)) < (_NEARLY if _named_alike(before, after) else _LIKE)
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


def with_new_names(line: str, renamed: Mapping[str, str]) -> str:
    """A line of the old file as it would be with the new names of pieces."""
    if not renamed:
        return line
    names = "|".join(map(re.escape, renamed))
    return re.sub(rf"(?<![\w.])({names})(?!\w)", lambda found: renamed[found[1]], line)


def _named_alike(one: Piece, other: Piece) -> bool:
    names = [sorted(str(edge.label) for edge in piece.edges) for piece in (one, other)]
    return names[0] == names[1]


def _unlike(one: Piece, other: Piece) -> float:
    """How much the lengths of the edges differ, as a share of the way around."""
    if len(one.edges) != len(other.edges):
        return 1.0
    lengths = [sorted(edge.length for edge in piece.edges) for piece in (one, other)]
    apart: float = sum(abs(a - b) for a, b in zip(*lengths, strict=True))
    return apart / max(one.outline.length, other.outline.length)
