"""Two papers laid on each other: by their grain and a common corner."""

from __future__ import annotations

import cmath
import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import IDENTITY, Motion

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.paper.piece import Piece

_SAME = 1e-6  # mm
_KEPT = 0.1  # mm: an edge of this length still has its shape
_STILL = 0.05  # degrees: less is no turn
_ALIKE = 0.5  # degrees: turns of one paper
_HALF = 45.0  # degrees: of larger turns the side means little, as 90 deg goes to either
_ALONG = (1 / 4, 1 / 2, 3 / 4)


def laid_on(old: Piece, new: Piece, by_grain: bool = True) -> Motion:
    """The motion that lays the new piece on the old one.

    The grain comes to lie in the same direction, unless it is not to be minded. Of the
    corners that both outlines have (where the same two edges meet) that one is laid on its like
    which leaves the others least out of place; without a common corner, the middles of both papers.
    """
    turn = _turn(old, new) if by_grain else 1 + 0j
    before, after = dict(_corners(old)), dict(_corners(new))
    common = [name for name in before if name in after]
    shifts = [before[name] - turn * after[name] for name in common]
    if not shifts:
        shift = _middle(old) - turn * _middle(new)
    else:
        shift = min(shifts, key=lambda one: round(sum(abs(one - other) for other in shifts), 6))
    if abs(turn - 1) < 1e-12 and abs(shift) < _SAME:
        return IDENTITY
    return Motion(turn, shift)


def displaced(old: Piece, new: Piece, motion: Motion) -> float:
    """How far the outlines lie apart at most, where edges of one name begin and on their way.

    In mm; compared at both ends and at the quarters of each edge, as cut.
    """
    edges = {edge.label: edge for edge in old.edges}
    most = 0.0
    for edge in new.edges:
        like = edges.get(edge.label)
        if like is None:
            continue
        for share in (0.0, *_ALONG, 1.0):
            here = motion(edge.path.point_at(share * edge.path.length))
            most = max(most, abs(here - like.path.point_at(share * like.path.length)))
    return most


def grain_turned(old: Piece, new: Piece) -> float:
    """By how many degrees the grain lies otherwise on the new paper; up to 90.

    Seen from every edge that both papers have, the grain must have turned, and to the same side;
    the smallest of the turns is told. Edges that lie on the sheet as before settle it, else those
    that kept their shape: one that was redrawn turns no grain. A grain that lies on the sheet as
    before has turned only if the edges turned alike below it: they also turn, each by its own
    figure, where a flared side becomes longer. 0 without grain or edges.
    """
    before, after = _direction(old), _direction(new)
    edges = {edge.label: edge for edge in old.edges}
    if before is None or after is None:
        return 0.0
    turns, lying, firm = [], [], []
    for edge in new.edges:
        like = edges.get(edge.label)
        if like is None or edge.start == edge.end or like.start == like.end:
            continue
        chords = like.end - like.start, edge.end - edge.start
        turns.append(_degrees((after / chords[1]) / (before / chords[0])))
        if abs(_degrees(chords[1] / chords[0])) <= _STILL:
            lying.append(turns[-1])
        straight = abs(abs(chords[1]) - abs(chords[0]))
        if max(straight, abs(edge.length - like.length)) <= _KEPT:
            firm.append(turns[-1])
    if min(map(abs, turns), default=0.0) <= _STILL:
        return 0.0
    lies_as_before = abs(_degrees(after / before)) <= _STILL
    if lies_as_before and any(abs(_wrapped(turn - turns[0])) > _ALIKE for turn in turns):
        return 0.0
    seen = lying or firm or turns
    if any(0 < turn < _HALF for turn in seen) and any(-_HALF < turn < 0 for turn in seen):
        return 0.0
    return min(map(abs, seen))


def _degrees(turn: complex) -> float:
    """A turn of a line without direction: from -90 to 90."""
    return _wrapped(math.degrees(cmath.phase(turn)))


def _wrapped(degrees: float) -> float:
    return (degrees + 90) % 180 - 90


def _turn(old: Piece, new: Piece) -> complex:
    directions = [_direction(piece) for piece in (old, new)]
    if directions[0] is None or directions[1] is None:
        return 1 + 0j
    turn = directions[0] / directions[1]
    turn /= abs(turn)
    return 1 + 0j if abs(turn - 1) < 1e-9 else turn


def _direction(piece: Piece) -> complex | None:
    """Of the grain, toward its upper end."""
    if piece.grain is None:
        return None
    ends = {piece.grain.start, piece.grain.end} - {piece.grain.upper}
    return piece.grain.upper - ends.pop() if ends else None


def _corners(piece: Piece) -> Iterator[tuple[tuple[str, str], complex]]:
    for number, edge in enumerate(piece.edges):
        yield (str(piece.edges[number - 1].label), str(edge.label)), edge.start


def _middle(piece: Piece) -> complex:
    left, bottom, right, top = piece.outline.box()
    return complex(left + right, bottom + top) / 2
