"""What copies share with each other: a step that was told once need not be told again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.paper.piece import Piece


class Shared(Record):
    """count: how many steps a piece begins with that are told of another, `origin`, of `whole`."""

    origin: str = ""
    count: int = 0
    whole: int = 0

    @property
    def said(self) -> str:
        """As a sentence, or nothing if there are none."""
        if not self.count:
            return ""
        if self.count == self.whole:
            return f"begins as {self.origin}, see there"
        last = f"step {self.count}" if self.count > 1 else "the first step"
        return f"begins as {self.origin} up to {last}, see there"


def shared(pieces: Sequence[Piece]) -> Iterator[Shared]:
    """For each piece what it shares with one before it: with the one it shares most with."""
    for number, piece in enumerate(pieces):
        found = [
            Shared(other.name, _alike(piece, other), len(other.steps)) for other in pieces[:number]
        ]
        yield max(found, key=lambda one: one.count, default=Shared())


def _alike(piece: Piece, other: Piece) -> int:
    """How many steps two pieces have in common from the first on: copies hold the very same."""
    count = 0
    for one, same in zip(piece.steps, other.steps, strict=False):
        if one is not same:
            break
        count += 1
    return count
