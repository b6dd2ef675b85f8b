"""What was done to a piece, one step after the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Path, ring_area
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span


class Change(Record):
    """What a verb made of a piece: the new piece, and the paper let in and cut away, as
    closed rings.
    """

    piece: Piece
    let_in: Sequence[Path] = ()
    cut_away: Sequence[Path] = ()


class Step(Record):
    """One action with its caption, its place in the file, and the outline before and after.

    paper: the piece as it lay after the step, without its history.
    """

    verb: str
    caption: str | None
    span: Span | None
    before: Path | None
    after: Path | None
    paper: Piece
    let_in: Sequence[Path] = ()
    cut_away: Sequence[Path] = ()

    @property
    def area_let_in(self) -> float:
        return sum(abs(ring_area(ring)) for ring in self.let_in)

    @property
    def area_cut_away(self) -> float:
        return sum(abs(ring_area(ring)) for ring in self.cut_away)
