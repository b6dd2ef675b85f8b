"""What a file comes to: its pieces, and everything said about them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from oaktag.compiler.geometry import Path
from oaktag.compiler.paper.arguments import Half
from oaktag.compiler.paper.chain import Chain, Edge
from oaktag.compiler.paper.mark import NamedPoint
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.source import Span
from oaktag.record import Record


class Allowance(Record):
    """width: in mm; 0 for `none`. on: edges of the piece, or none for all of them."""

    piece: str
    width: float
    edges: tuple[Edge, ...] | None
    hem: bool
    span: Span


class SeamSide(Record):
    """One link of a chain that is sewn.

    name: as written, `front.side` or `block.front.side`. piece: on which the edge lies, named
    `piece.name` where it is one of this pattern. fixed: the file says from where it is walked.
    """

    name: str
    piece: Piece
    edge: Edge
    fixed: bool = False


class Seam(Record):
    """Two chains of edges sewn together; easing in mm, how much longer the second is."""

    first: tuple[SeamSide, ...]
    second: tuple[SeamSide, ...]
    easing: float
    gathering: bool
    span: Span

    @property
    def first_sewn(self) -> float:
        return sum(side.edge.sewn for side in self.first)

    @property
    def second_sewn(self) -> float:
        return sum(side.edge.sewn for side in self.second)


class CutOrder(Record):
    """How often a piece is cut, in which cloth."""

    piece: str
    count: int
    pair: bool
    cloth: str
    span: Span


class Pattern(Record):
    """An evaluated file. `names` holds all its values; `pieces` those in the order of the file."""

    title: str
    file: str
    unit: str
    measures: Mapping[str, Quantity]
    choices: Mapping[str, Value]
    names: Mapping[tuple[str, int | None], Value]
    pieces: Mapping[str, Piece]
    allowances: tuple[Allowance, ...] = ()
    seams: tuple[Seam, ...] = ()
    cuts: tuple[CutOrder, ...] = ()

    @property
    def made(self) -> list[Piece]:
        """The pieces that reach the cloth: those in the cut list; without one, all that were not
        divided.
        """
        named = {order.piece for order in self.cuts}
        return [
            piece
            for name, piece in self.pieces.items()
            if (name in named if named else not piece.parts)
        ]


Value: TypeAlias = (
    Quantity
    | bool
    | complex
    | str
    | Path
    | Chain
    | Opening
    | NamedPoint
    | Piece
    | Half
    | Pattern
    | tuple["Value", ...]
)


class Result(Record):
    """A pattern, or none if it has errors, with all there is to tell about it."""

    pattern: Pattern | None
    diagnostics: tuple[Diagnostic, ...]
