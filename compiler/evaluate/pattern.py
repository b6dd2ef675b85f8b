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
    """What one `allow` line says of one piece.

    width: in mm; 0 for `none`. edges: of the piece, or none for all of them. hem: it is turned up.
    corners: `squared`, `mitred`, or empty if it is not said.
    """

    piece: str
    width: float
    edges: tuple[Edge, ...] | None
    hem: bool
    span: Span
    caption: str | None = None
    corners: str = ""


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
    caption: str | None = None

    @property
    def first_sewn(self) -> float:
        return sum(side.edge.sewn for side in self.first)

    @property
    def second_sewn(self) -> float:
        return sum(side.edge.sewn for side in self.second)


class Binding(Record):
    """Edges that are bound with a bias strip, and so neither sewn nor hemmed.

    width: of the finished binding, in mm. double: its cloth lies double. caption: the comment above
    it.
    """

    edges: tuple[SeamSide, ...]
    width: float
    double: bool
    cloth: str
    span: Span
    caption: str | None = None

    @property
    def sewn(self) -> float:
        """How far it runs, in mm, for one of each piece that is named."""
        return sum(side.edge.sewn for side in self.edges)

    @property
    def cut_width(self) -> float:
        """Of the strip, in mm: four times the finished width if double, else twice; a rule of the
        trade that several sewing pages print, common practice, no source.
        """
        return (4 if self.double else 2) * self.width


class Closure(Record):
    """An opening that closes: its edges, or sections of edges, belong to it and are not sewn there.

    second: empty where it closes on itself, as a centre back that is cut as a pair. kind: the word
    of the file, `zip` or `buttons`. length: of the zip, or of each tie, in mm, if the file says.
    """

    first: tuple[SeamSide, ...]
    second: tuple[SeamSide, ...]
    kind: str
    length: float | None
    span: Span
    caption: str | None = None

    @property
    def opening(self) -> float:
        """How long the opening is along its first side, as sewn, in mm."""
        return sum(side.edge.sewn for side in self.first)


class CutOrder(Record):
    """How often a piece is cut, in which cloth."""

    piece: str
    count: int
    pair: bool
    cloth: str
    span: Span


class Pattern(Record):
    """An evaluated file. `names` holds all its values; `pieces` those in the order of the file.

    What accounts for an edge besides a seam: `allowances` that are hems, `bindings`, and the sides
    of `closures`.

    Of a pattern that is not sound, unsure: the names that lines with a mistake would have given;
    untold: for the first words of such lines that speak of finished pieces, `sew`, the names of
    those, as not all is known of them; under an empty word for lines that were not understood.

    notch_shape, notch_deep: of notches that do not say it themselves, empty or none if the file
    does not say it either. chosen: the names of the choices that were set from outside, and of the
    measures that were set one by one.
    """

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
    bindings: tuple[Binding, ...] = ()
    closures: tuple[Closure, ...] = ()
    revision: str = ""
    date: str = ""
    notch_shape: str = ""
    notch_deep: float | None = None
    chosen: tuple[str, ...] = ()
    unsure: frozenset[str] = frozenset()
    untold: Mapping[str, frozenset[str]] = {}

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
    """A pattern, or none if it has errors, with all there is to tell about it.

    part: if it has errors, what of it could be worked out all the same.
    """

    pattern: Pattern | None
    diagnostics: tuple[Diagnostic, ...]
    part: Pattern | None = None
