"""Walking a seam: both sides from their common start, with the notches met on the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.chain import Chain
from oaktag.lang.units import show_length
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Seam, SeamSide
    from oaktag.compiler.paper.piece import Piece

ON = 0.05  # mm: a mark this near to an edge lies on it
MATCHES = 1.0  # mm: sides that differ by no more can be sewn together


class Notch(Record):
    """A notch on one side of a seam; at: its distance from the start of the walk, as sewn."""

    edge: str
    at: float
    double: bool


class Walk(Record):
    """Both sides of a seam, from their common start to their common end.

    origins: the end from which each is walked, in words; goals: the one at which it ends, empty if
    that has no name.
    """

    seam: Seam
    first: tuple[Notch, ...]
    second: tuple[Notch, ...]
    origins: tuple[str, str]
    goals: tuple[str, str] = ("", "")

    @property
    def origin(self) -> str:
        """The end from which both are walked."""
        one, other = self.origins
        return one if one == other else f"{one} and {other}"


def apart(seam: Seam) -> float:
    """By how much the second side is longer than the first, in mm."""
    return seam.second_sewn - seam.first_sewn


def over(seam: Seam) -> float:
    """By how much the second side is too long for the first, in mm.

    The ease belongs to the longer side, whichever that is; if it has too little, that is as if it
    were too short.
    """
    more = apart(seam)
    return more - seam.easing if more >= 0 else more + seam.easing


def matches(seam: Seam) -> bool:
    """Whether the sides can be sewn together; if one is gathered, whether it is longer."""
    if seam.gathering:
        return abs(apart(seam)) > MATCHES
    return abs(over(seam)) <= MATCHES


def named(sides: Sequence[SeamSide]) -> str:
    """A chain as it is written: `back.waist` then `front.waist`."""
    return " then ".join(f"`{side.name}`" for side in sides)


def signed(length: float, unit: str) -> str:
    """A difference with its sign: `+2 cm`."""
    return ("+" if length > 0 else "") + show_length(length, unit)


def walk(seam: Seam) -> Walk:
    """Walks both chains of a seam.

    A link that does not say from where it is walked follows on: like-named neighbours meet, at the
    joints of a chain and at the start of both, else at their end. Two edges that meet in a corner
    of one piece are walked from there.
    """
    first, second = walked_alike(seam)
    origins = _origin(first), _origin(second)
    if first and second and _at_one_corner(first[0], second[0]):
        origins = (f"where `{first[0].name}` and `{second[0].name}` meet",) * 2
    return Walk(seam, _notches(first), _notches(second), origins, (_goal(first), _goal(second)))


def walked_alike(seam: Seam) -> tuple[list[SeamSide], list[SeamSide]]:
    """The links of both chains, in order, their edges turned the way they are walked."""
    first = _in_order(seam.first, None)
    start = _beside(first[0].piece, first[0].edge)[0] if first else None
    second = _in_order(seam.second, start)
    if len(first) == len(second) == 1 and not seam.second[0].fixed:
        second = [_against(first[0], second[0])]
    return first, second


def _against(first: SeamSide, second: SeamSide) -> SeamSide:
    """An edge that is sewn to one other, turned so that they are walked the same way.

    Where they meet in a corner of one piece that is the start of both, or the end. Else, if no name
    beside their starts is the same, the names beside their ends decide.
    """
    turned = turned_round(second)
    ends = (first.edge.start, first.edge.end)
    if first.piece.name == second.piece.name and first.edge.label != second.edge.label:
        straight, crossed = (
            min(abs(end - own) for end, own in zip(ends, places, strict=True))
            for places in (
                (second.edge.start, second.edge.end),
                (turned.edge.start, turned.edge.end),
            )
        )
        if min(straight, crossed) <= ON:
            return turned if crossed < straight else second
    start, end = _beside(first.piece, first.edge)
    own_start, own_end = _beside(second.piece, second.edge)
    by_end = end is not None and end in (own_start, own_end) and own_start != own_end
    if (start is None or start not in (own_start, own_end)) and by_end and end == own_start:
        return turned
    return second


def turned_round(side: SeamSide) -> SeamSide:
    """The same edge, walked the other way."""
    return side.changed(edge=side.edge.changed(runs=side.edge.reversed().runs))


def _origin(links: Sequence[SeamSide]) -> str:
    """The end from which a chain is walked: the edge beside it."""
    name = _beside(links[0].piece, links[0].edge)[0] if links else None
    return f"`{name}`" if name is not None else "the start"


def _goal(links: Sequence[SeamSide]) -> str:
    """The end at which a chain ends: the edge beside it."""
    name = _beside(links[-1].piece, links[-1].edge)[1] if links else None
    return f"`{name}`" if name is not None else ""


def _at_one_corner(first: SeamSide, second: SeamSide) -> bool:
    return (
        first.piece.name == second.piece.name
        and first.edge.label != second.edge.label
        and abs(first.edge.start - second.edge.start) <= ON
    )


def _in_order(sides: Sequence[SeamSide], start: str | None) -> list[SeamSide]:
    """The links of a chain, each walked the way it is sewn."""
    links: list[SeamSide] = []
    for number, side in enumerate(sides):
        edge = side.edge
        ends = _beside(side.piece, edge)
        turned = False
        if not side.fixed:
            if start is not None and ends[0] != ends[1]:
                turned = ends[1] == start
            elif start is None and number == 0 and len(sides) > 1:
                turned = _meets_next(ends[0], sides[1]) and not _meets_next(ends[1], sides[1])
        if turned:
            side, ends = turned_round(side), (ends[1], ends[0])
        links.append(side)
        start = ends[1]
    return links


def _meets_next(name: str | None, following: SeamSide) -> bool:
    if name is None:
        return False
    ends = _beside(following.piece, following.edge)
    return name == ends[0] if following.fixed else name in ends


def _beside(piece: Piece, chain: Chain) -> tuple[str | None, str | None]:
    """The names of the edges that meet a chain at its start and at its end."""
    names: list[str | None] = []
    for place in (chain.start, chain.end):
        near = [
            edge.label.name
            for edge in piece.edges
            if not edge.label.answers(chain.label)
            and min(abs(edge.start - place), abs(edge.end - place)) <= ON
        ]
        names.append(near[0] if near else None)
    return names[0], names[1]


def _notches(links: Sequence[SeamSide]) -> tuple[Notch, ...]:
    found: list[Notch] = []
    behind = 0.0
    for number, link in enumerate(links):
        for mark in link.piece.marks:
            if mark.kind != "notch":
                continue
            at, away = link.edge.path.nearest(mark.at)
            if away <= ON:
                place = behind + link.edge.sewn_distance(at)
                at_joint = number > 0 and links[number - 1].piece is link.piece
                if at_joint and any(abs(one.at - place) <= ON for one in found):
                    continue  # met already, at the end of the edge before
                found.append(Notch(link.name, place, mark.double))
        behind += link.edge.sewn
    return tuple(sorted(found, key=lambda notch: notch.at))
