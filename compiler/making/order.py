"""The making-up order: what has to be done before what, and a sequence that keeps to it.

A seam whose chain runs over a joint of two pieces comes after the seam that joins them there; a
binding and a hem likewise; a zip after the seam it lies in; darts, pleats and gathers of a piece
before anything is sewn to it. As far as that leaves a choice: seams, then bound and faced edges,
the waist, hems, and what closes; within each, the order of the file.
"""

from __future__ import annotations

import heapq
from typing import TYPE_CHECKING

from oaktag.compiler.making import joining
from oaktag.compiler.making.counts import seam_times
from oaktag.compiler.making.folding import folds, interfacings
from oaktag.compiler.making.operation import FOLDS, Operation
from oaktag.lang.diagnostics import Diagnostic
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern, SeamSide
    from oaktag.compiler.paper.label import Label

_NEAR = 0.05  # mm: ends nearer than this are one corner

Corner = tuple[str, int, int]


class Making(Record):
    """operations: in the order in which they are done. after: for each, the places in it of those
    that have to be done before. circles: operations that wait for each other.
    """

    operations: tuple[Operation, ...]
    after: tuple[tuple[int, ...], ...]
    circles: tuple[tuple[Operation, ...], ...]


def making(pattern: Pattern) -> Making:
    """The sequence that is proposed. It is the same for the same file; see above."""
    found = list(_operations(pattern))
    waits = _dependencies(found)
    order, circles = _sorted(found, waits)
    place = {number: at for at, number in enumerate(order)}
    return Making(
        tuple(found[number] for number in order),
        tuple(tuple(sorted(place[other] for other in waits[number])) for number in order),
        tuple(tuple(found[number] for number in circle) for circle in circles),
    )


def in_circles(pattern: Pattern) -> Iterator[Diagnostic]:
    """A warning for each group of seams that wait for each other."""
    seams = [joining.plain_seam(one) for one in pattern.seams]
    for places in _sorted(seams, _dependencies(seams))[1]:
        circle = [seams[place] for place in places]
        lines = [item.span.line for item in circle if item.span is not None]
        told = " and ".join(dict.fromkeys(f"line {line}" for line in sorted(lines)))
        yield Diagnostic(
            "warning",
            "order-in-circle",
            f"the seams of {told} wait for each other: each runs over a joint that another makes; "
            "in the making-up order they stand as in the file",
            circle[0].span,
            help="sew one of them in two lines, so that it ends where the other crosses it",
        )


def _operations(pattern: Pattern) -> Iterator[Operation]:
    yield from interfacings(pattern)
    for piece in pattern.made:
        yield from folds(pattern, piece)
    counts = seam_times(pattern)
    joins = [joining.seam(pattern, *one) for one in zip(pattern.seams, counts, strict=True)]
    joins += [joining.binding(pattern, one) for one in pattern.bindings]
    joins += [joining.closure(pattern, one) for one in pattern.closures]
    joins += joining.hems(pattern)
    # In the order of the file, whatever they are; a seam that `divide` made lies in a piece.
    yield from sorted(joins, key=lambda one: one.span.start if one.span is not None else 0)
    yield from joining.buttons(pattern)


def _dependencies(found: Sequence[Operation]) -> list[set[int]]:
    """For each operation those that come before it."""
    waits: list[set[int]] = [set() for _ in found]
    before: dict[str, list[int]] = {}
    for number, one in enumerate(found):
        if one.stage <= FOLDS:
            for piece in one.pieces:
                waits[number].update(
                    other for other in before.get(piece, []) if found[other].stage < one.stage
                )
                before.setdefault(piece, []).append(number)
    corners = _corners(found)
    crossed = [_crossed(number, one, corners) for number, one in enumerate(found)]
    for number, one in enumerate(found):
        if one.stage <= FOLDS:
            continue
        for piece in one.pieces:
            waits[number].update(before.get(piece, []))
        for other, joint in crossed[number].items():
            back = crossed[other].get(number)
            if back is None or joint > back or (joint and back):
                waits[number].add(other)
        if one.kind == "zip":
            waits[number].update(
                other
                for other, seam in enumerate(found)
                if seam.kind == "seam" and _holds(seam, one)
            )
    return waits


def _corners(found: Sequence[Operation]) -> dict[Corner, list[tuple[int, int, SeamSide]]]:
    """Every end of an edge that is sewn: the seam, which of its sides, and the edge."""
    corners: dict[Corner, list[tuple[int, int, SeamSide]]] = {}
    for number, one in enumerate(found):
        if one.kind == "seam":
            for at, sides in enumerate(one.chains):
                for side in sides:
                    for end in (side.edge.start, side.edge.end):
                        key = next(_keys(side.piece.name, end))
                        corners.setdefault(key, []).append((number, at, side))
    return corners


def _crossed(
    number: int, one: Operation, corners: dict[Corner, list[tuple[int, int, SeamSide]]]
) -> dict[int, bool]:
    """The seams whose two sides both begin or end at one chain of an operation: it crosses them.

    True where it goes from one link of the chain to another: that joint has to be there. False
    where it only closes a round, as the top of a tube: of two seams that close each other's rounds,
    as in a belt that is folded lengthwise, either may be first.
    """
    crossed: dict[int, bool] = {}
    for sides in one.chains:
        met: dict[int, set[tuple[int, int]]] = {}
        edges: dict[int, set[tuple[str, Label]]] = {}
        for link, side in enumerate(sides):
            for end in (side.edge.start, side.edge.end):
                for key in _keys(side.piece.name, end):
                    for other, at, edge in corners.get(key, ()):
                        apart = min(abs(edge.edge.start - end), abs(edge.edge.end - end))
                        if other != number and apart <= _NEAR and not _same(edge, side):
                            met.setdefault(other, set()).add((at, link))
                            edges.setdefault(other, set()).add((edge.piece.name, edge.edge.label))
        for other, touched in met.items():
            if {at for at, _ in touched} != {0, 1}:
                continue
            joint = len({link for _, link in touched}) > 1
            if joint or len(edges[other]) > 1:  # an edge sewn to its like is no round
                crossed[other] = crossed.get(other, False) or joint
    return crossed


def _keys(piece: str, place: complex) -> Iterator[Corner]:
    """The field of a grid in which a place lies, then those around it."""
    x, y = round(place.real), round(place.imag)
    yield piece, x, y
    for across in (-1, 0, 1):
        for up in (-1, 0, 1):
            if across or up:
                yield piece, x + across, y + up


def _same(one: SeamSide, other: SeamSide) -> bool:
    """Whether two links are the same edge, or lie on each other."""
    return joining.covers(one, other) or joining.covers(other, one)


def _holds(seam: Operation, zipped: Operation) -> bool:
    return any(
        joining.covers(side, part)
        for sides in seam.chains
        for side in sides
        for parts in zipped.chains
        for part in parts
    )


def _sorted(
    found: Sequence[Operation], waits: Sequence[set[int]]
) -> tuple[list[int], list[list[int]]]:
    """The order, and what waits for each other; of that the first in the file is taken first."""
    left = [len(others) for others in waits]
    followers: list[list[int]] = [[] for _ in found]
    for number, others in enumerate(waits):
        for other in others:
            followers[other].append(number)

    def rank(number: int) -> tuple[int, int]:
        return found[number].stage, number

    ready = [rank(number) for number, count in enumerate(left) if not count]
    heapq.heapify(ready)
    order: list[int] = []
    circles: list[list[int]] = []
    done = [False] * len(found)
    while len(order) < len(found):
        if not ready:
            circle = _circle(waits, done)
            circles.append(sorted(circle))
            heapq.heappush(ready, min(map(rank, circle)))
        _, number = heapq.heappop(ready)
        if done[number]:
            continue
        done[number] = True
        order.append(number)
        for follower in followers[number]:
            left[follower] -= 1
            if not left[follower] and not done[follower]:
                heapq.heappush(ready, rank(follower))
    return order, circles


def _circle(waits: Sequence[set[int]], done: Sequence[bool]) -> list[int]:
    """Operations that wait for each other, found by asking each for what it waits for."""
    number = next(at for at, is_done in enumerate(done) if not is_done)
    path: list[int] = []
    while number not in path:
        path.append(number)
        number = min(other for other in waits[number] if not done[other])
    return path[path.index(number) :]
