"""Turning part of an edge into intake."""

from __future__ import annotations

import cmath
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Path, chain, fair_curve, line
from oaktag.compiler.paper.chain import INTAKE, SEAM, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable

REACH = 50.0  # mm: how far back an edge is eased to a leg's new end
STEEPEST = 0.35  # of that way: how far a leg's end may move


def owners(piece: Piece, edge: Edge, about: str = "edge") -> list[Edge]:
    """The stored edges that together are this one, in its order. Refused for a section."""
    found = [item for item in piece.edges if item.label.answers(edge.label)]
    if not found:
        raise PaperError(
            f"`{edge.label}` is a part of an edge, and this is done to a whole edge",
            help="name the edge itself",
            about=about,
            code="not-whole",
        )
    place = {id(run): i for i, run in enumerate(edge.runs)}
    return sorted(found, key=lambda item: place.get(id(item.runs[0]), 0))


def check_edge(thing: object, about: str) -> None:
    """Refuses anything but an edge, or a section of one."""
    if not isinstance(thing, Edge):
        raise PaperError(
            f"`{getattr(thing, 'label', 'this')}` is not an edge of the piece",
            help="name an edge of the outline",
            about=about,
            code="not-an-edge",
        )


def check_ending(target: Label, short: float, length: float, about: str = "ending") -> None:
    """Refuses a dart whose sewing would end beyond its mouth."""
    if not 0 <= short < length:
        raise PaperError(
            f"`{target}` is {{0}} long, so its sewing cannot end {{1}} short of its point",
            length,
            short,
            help="end it less short",
            about=about,
            code="ending-too-long",
        )


def with_intake(piece: Piece, edge: Edge, start: float, end: float, label: Label) -> Piece | None:
    """The piece with a stretch of an edge, between two distances as cut, turned into an intake.

    None if the stretch does not lie within one run that is sewn.
    """
    behind = 0.0
    for owner in owners(piece, edge):
        runs = list(owner.runs)
        for i, run in enumerate(runs):
            first, last = start - behind, end - behind
            behind += run.length
            if first < -1e-9 or last > run.length + 1e-9 or run.role == INTAKE:
                continue
            cut = [
                run.changed(path=run.path.part(0.0, first)) if first > 1e-9 else None,
                Run(run.path.part(max(first, 0.0), min(last, run.length)), INTAKE, label),
                run.changed(path=run.path.part(last, run.length))
                if last < run.length - 1e-9
                else None,
            ]
            runs[i : i + 1] = [item for item in cut if item is not None]
            return piece.with_edge(owner, owner.changed(runs=tuple(runs)))
    return None


class Legs(Record):
    """A dart whose legs have become equal: the piece, the legs' ends, and what changed of it."""

    piece: Piece
    first: complex
    second: complex
    old: Path
    new: Path


def equal_legs(piece: Piece, label: Label, point: complex) -> Legs:
    """The piece with the ends of a dart's mouth moved so that both lie as far from its point.

    The runs beside the mouth are eased to the new ends. They come to half of what the legs differ
    above and below the edge; the mouth is turned and widened a little so that what is sewn of the
    edge keeps its length. An end at a corner or beside another dart stays where it is.
    """
    number, place = _mouth_place(piece, label)
    edge = piece.edges[number]
    runs = edge.runs
    mouth = runs[place]
    before = runs[place - 1] if place > 0 and runs[place - 1].role == SEAM else None
    after = runs[place + 1] if place + 1 < len(runs) and runs[place + 1].role == SEAM else None
    first, second = mouth.path.start, mouth.path.end
    near, far = abs(first - point), abs(second - point)
    if before is None and after is None:
        raise PaperError(
            f"the legs of `{label}` would be {{0}} and {{1}} long, and there is no edge beside it "
            "to even them out",
            near,
            far,
            help="lead it square to the edge, or make it narrower",
            code="unequal-legs",
        )
    radius = far if after is None else near if before is None else (near + far) / 2
    wanted = sum(run.length for run in (before, after) if run)
    rays = (first - point) / near, (second - point) / far

    def drawn(wider: float) -> tuple[complex, complex, Path | None, Path | None]:
        turns = (0.0 if before is None else 1.0), (0.0 if after is None else 1.0)
        turn = cmath.phase(rays[1] / rays[0]) * wider / sum(turns)
        ends = (
            point + radius * rays[0] * cmath.rect(1.0, -turn * turns[0]),
            point + radius * rays[1] * cmath.rect(1.0, turn * turns[1]),
        )
        return (
            *ends,
            _led(before.path, ends[0], label) if before else None,
            _led(after.path.reversed(), ends[1], label).reversed() if after else None,
        )

    def longer(wider: float) -> float:
        _, _, led, on = drawn(wider)
        return sum(path.length for path in (led, on) if path) - wanted

    start, end, led, on = drawn(_root(longer))
    new_mouth = mouth.changed(path=line(start, end), drawn=mouth.as_drawn)
    changed = list(runs)
    changed[place] = new_mouth
    if before and led:
        changed[place - 1] = before.changed(path=led)
    if after and on:
        changed[place + 1] = after.changed(path=on)
    stretch = slice(place - 1 if before else place, place + 2 if after else place + 1)
    return Legs(
        piece.with_edge(edge, edge.changed(runs=tuple(changed))),
        start,
        end,
        chain([run.path for run in runs[stretch]]),
        chain([run.path for run in changed[stretch]]),
    )


def _mouth_place(piece: Piece, label: Label) -> tuple[int, int]:
    """The edge and the run that is the mouth of a dart."""
    for number, edge in enumerate(piece.edges):
        for place, run in enumerate(edge.runs):
            if run.role == INTAKE and run.opening == label:
                return number, place
    raise PaperError(f"`{label}` has no mouth on an edge", code="no-mouth")


def _led(path: Path, end: complex, label: Label) -> Path:
    """The edge beside a mouth, eased to the new end; refused if that is too far away."""
    away, reach = abs(path.end - end), _reach(path, end)
    if away > STEEPEST * reach:
        raise PaperError(
            f"`{label}` runs so slantwise that equal legs would move an end of its mouth by {{0}}, "
            "over {1} of edge",
            away,
            reach,
            help="lead it squarer to the edge, or give it more edge beside its mouth",
            code="too-slanted",
        )
    return eased(path, end)


def eased(path: Path, end: complex) -> Path:
    """A path led to a new end close by, over its last stretch, leaving and arriving as before."""
    if abs(path.end - end) < 1e-9:
        return path
    kept, last = path.split_at(path.length - _reach(path, end))
    return kept.joined(fair_curve([last.start, end], kept.end_direction, path.end_direction))


def _reach(path: Path, end: complex) -> float:
    return min(max(REACH, 4 * abs(path.end - end)), path.length * 0.8)


def _root(function: Callable[[float], float]) -> float:
    """Where a function close to a straight line comes to nothing, near 0 (secant method)."""
    left, right = 0.0, 0.01
    at_left, at_right = function(left), function(right)
    for _ in range(20):
        if abs(at_right) < 1e-9 or at_right == at_left:
            break
        left, right = right, right - at_right * (right - left) / (at_right - at_left)
        at_left, at_right = at_right, function(right)
    return right
