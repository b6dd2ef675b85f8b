"""Edges that run on over a seam or a dart: sewn together, they must be one smooth line.

A waist, a hem, a neck or an armhole is cut in pieces and becomes one line when they are sewn. Where
a seam ends, the corners of both pieces beside it must add up to 180 degrees, else the line gets a
dent or a point there. Looked at are only edges that do become one line: those that follow each
other in a chain that is sewn to something else, and those of one name on both pieces that are sewn
to nothing. A side seam over a waist seam bends as the body does and is left alone.

How much it may turn is common practice, no source: the blocks that come with Oaktag turn by up to
5 degrees at a hem that is straight on both pieces, and by up to 35 over a short dart.
"""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from typing import TYPE_CHECKING

from oaktag.compiler.inspect.folds import made_by
from oaktag.compiler.inspect.walk import walked_alike
from oaktag.compiler.paper.chain import INTAKE, SEAM
from oaktag.compiler.paper.opening import DART, PLEAT
from oaktag.lang.diagnostics import Diagnostic
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece

FLOWS = 6.0  # degrees: two corners that miss 180 by no more are pressed into one line
MEANT = 40.0  # degrees: what turns more is a point or a notch that is wanted
DART_FLOWS = 40.0  # degrees: a line over a dart that is sewn shut may turn so much
TOUCH = 0.05  # mm: ends of edges this near to each other are one corner


class Corner(Record):
    """Where an edge meets the end of a sewn one. angle: inside the paper, in degrees."""

    piece: Piece
    edge: Edge
    angle: float


def broken(pattern: Pattern) -> Iterator[Diagnostic]:
    """Warnings for lines that get a corner where a seam ends, or where a dart is closed."""
    chains = _Chains(pattern)
    told: set[frozenset[tuple[str, str]]] = set()
    for seam in pattern.seams:
        for one, other in _ends(seam):
            for first, second in _meeting(one, other, chains):
                key = frozenset((_named(first), _named(second)))
                off = first.angle + second.angle - 180
                if FLOWS < abs(off) <= MEANT and key not in told:
                    told.add(key)
                    yield _corner(seam, first, second, off, pattern)
    yield from _over_darts(pattern)


class _Chains:
    """Which edges are sewn, and which follow each other in one side of a seam."""

    def __init__(self, pattern: Pattern) -> None:
        self.sewn: list[SeamSide] = []
        self.next: list[tuple[SeamSide, SeamSide]] = []
        for seam in pattern.seams:
            for sides in (seam.first, seam.second):
                self.sewn += sides
                self.next += pairwise(sides)

    def is_sewn(self, corner: Corner) -> bool:
        return any(_is(side, corner) for side in self.sewn)

    def follow(self, one: Corner, other: Corner) -> bool:
        return any(
            (_is(a, one) and _is(b, other)) or (_is(b, one) and _is(a, other)) for a, b in self.next
        )


def _is(side: SeamSide, corner: Corner) -> bool:
    """Whether a link of a chain is the edge of a corner, or a part of it."""
    if side.piece is not corner.piece:
        return False
    label = corner.edge.label
    if label.answers(side.edge.label):
        return True
    return any(
        section.label.answers(side.edge.label) and label.answers(section.edge)
        for section in corner.piece.sections
    )


def _ends(seam: Seam) -> Iterator[tuple[tuple[SeamSide, complex], tuple[SeamSide, complex]]]:
    """The places where both sides of a seam end together: each link with its outer end.

    Only where one edge is sewn to one: of a longer chain it is not said which corners meet.
    """
    if len(seam.first) != 1 or len(seam.second) != 1 or seam.gathering:
        return
    first, second = seam.first[0], seam.second[0]
    [one], [other] = walked_alike(seam)
    yield (first, one.edge.start), (second, other.edge.start)
    yield (first, one.edge.end), (second, other.edge.end)


def _meeting(
    one: tuple[SeamSide, complex], other: tuple[SeamSide, complex], chains: _Chains
) -> Iterator[tuple[Corner, Corner]]:
    """The corners at one end of a seam whose edges become one line."""
    first, second = _beside(*one), _beside(*other)
    if first is None or second is None or first.edge.on_fold or second.edge.on_fold:
        return
    if _free_of_a_facing(first) and _free_of_a_facing(second):
        return  # it lies inside, held by nothing
    alike = first.edge.label.name == second.edge.label.name
    loose = alike and not chains.is_sewn(first) and not chains.is_sewn(second)
    if loose or chains.follow(first, second):
        yield first, second


def _free_of_a_facing(corner: Corner) -> bool:
    faced = any(step.verb == "facing" for step in corner.piece.steps)
    return faced and corner.edge.label.name == "top"


def _beside(side: SeamSide, end: complex) -> Corner | None:
    """The edge that meets a sewn one at its end, with the angle between the two."""
    piece = side.piece
    count = len(piece.edges)
    for number, edge in enumerate(piece.edges):
        if not edge.label.answers(side.edge.label):
            continue
        before, after = piece.edges[number - 1], piece.edges[(number + 1) % count]
        if abs(edge.end - end) <= TOUCH and not after.label.answers(side.edge.label):
            return Corner(piece, after, _inside(piece, edge, after))
        if abs(edge.start - end) <= TOUCH and not before.label.answers(side.edge.label):
            return Corner(piece, before, _inside(piece, before, edge))
    return None


def _inside(piece: Piece, edge: Edge, following: Edge) -> float:
    """The angle inside the paper between two edges that follow each other, in degrees."""
    turn = cmath.phase(following.path.start_direction / edge.path.end_direction)
    return 180.0 - math.degrees(turn) * piece.inward.imag


def _named(corner: Corner) -> tuple[str, str]:
    return corner.piece.name, str(corner.edge.label)


def _corner(seam: Seam, first: Corner, second: Corner, off: float, pattern: Pattern) -> Diagnostic:
    edges = [f"{corner.piece.name}.{corner.edge.label}" for corner in (first, second)]
    shape = "a point" if off < 0 else "a dent"
    sewn = f"`{seam.first[0].name}`" + (
        f" and `{seam.second[0].name}`" if seam.first[0].name != seam.second[0].name else ""
    )
    own = all(
        any(corner.piece is piece for piece in pattern.pieces.values())
        for corner in (first, second)
    )
    across = own and first.piece is not second.piece
    return Diagnostic(
        "warning",
        "not-flowing",
        f"`{edges[0]}` and `{edges[1]}` do not flow into each other where {sewn} are sewn: their "
        f"corners are {first.angle:.0f} and {second.angle:.0f} degrees, together "
        f"{first.angle + second.angle:.0f} and not 180, so the line gets {shape} of "
        f"{abs(off):.0f} degrees"
        if edges[0] != edges[1]
        else f"`{edges[0]}` does not flow on over the seam {sewn}: its corner is "
        f"{first.angle:.0f} degrees and not 90, so the line gets {shape} of {abs(off):.0f} degrees",
        seam.span,
        help=f"lay them together and draw the line over the seam: `true {edges[0]} then {edges[1]}`"
        if across
        else "draw the edge square to the seam: `arriving square to` or `leaving square to` it",
    )


def _over_darts(pattern: Pattern) -> Iterator[Diagnostic]:
    """Edges that turn where a dart or pleat is sewn shut."""
    for piece in pattern.made:
        for edge in piece.edges:
            for before, run, after in zip(edge.runs, edge.runs[1:], edge.runs[2:], strict=False):
                if run.role != INTAKE or (before.role, after.role) != (SEAM, SEAM):
                    continue
                opening = piece.opening(run.opening) if run.opening else None
                if opening is None or opening.kind not in (DART, PLEAT) or opening.broken:
                    continue
                closing = opening.closing
                if abs(run.path.start - opening.first.end) > TOUCH:
                    closing = closing.inverse()
                way = closing.direction(after.path.start_direction)
                turn = abs(math.degrees(cmath.phase(way / before.path.end_direction)))
                if turn > DART_FLOWS:
                    yield Diagnostic(
                        "warning",
                        "dart-corner",
                        f"with `{opening.label}` sewn shut, `{edge.label}` of `{piece.name}` has a "
                        f"corner of {turn:.0f} degrees there",
                        made_by(piece, opening),
                        file=pattern.file,
                        help=f"blend it: `true {edge.label}`, before the dart is trimmed",
                    )
