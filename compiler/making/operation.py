"""One thing to do when the garment is made up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import SeamSide
    from oaktag.lang.source import Span

# In the order in which they come, as far as nothing else is known.
FIRST, FOLDS, SEAMS, EDGES, WAIST, HEMS, LAST = range(7)


class Operation(Record):
    """kind: `interfacing`, `dart`, `pleat`, `gather`, `seam`, `binding`, `hem` or a closure.

    sentence: as it is proposed. caption: the comment above its line of the file; for a seam, a
    binding, a closure and a hem it is said first, and the sentence below it. stage: one of those
    above. chains: the edges it has to do with, one chain for each side that is sewn.
    """

    kind: str
    sentence: str
    stage: int
    pieces: tuple[str, ...]
    chains: tuple[tuple[SeamSide, ...], ...] = ()
    caption: str | None = None
    span: Span | None = None

    @property
    def own_words(self) -> bool:
        """Whether the caption says what is to be done."""
        return self.caption is not None and self.stage > FOLDS

    @property
    def said(self) -> str:
        """What to do, in the words of the file if it has some."""
        return self.caption if self.own_words and self.caption else self.sentence


def pieces_of(*chains: Sequence[SeamSide]) -> tuple[str, ...]:
    """The names of the pieces on which edges lie, each once."""
    return tuple(dict.fromkeys(side.piece.name for sides in chains for side in sides))
