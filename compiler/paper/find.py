"""Finding what a name on the paper means."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TypeAlias

from oaktag.compiler.paper.chain import INTAKE, Chain, Edge, Line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import NamedPoint, Section
from oaktag.compiler.paper.opening import DART, Opening
from oaktag.compiler.paper.piece import Piece

Thing: TypeAlias = Edge | Line | Opening | NamedPoint | Section

JOINED = 1e-3  # mm: ends nearer than this are one point


def find(piece: Piece, asked: Label) -> Thing | None:
    """The one thing meant by a name, or none if the paper has nothing of that name.

    An edge in several stretches that follow each other is one; so are a line's two halves that
    meet.
    """
    found = list(answering(piece, asked))
    if len(found) <= 1:
        return found[0] if found else None
    if len({thing.label.index for thing in found}) > 1:
        numbers = sorted(thing.label.index or 0 for thing in found)
        raise PaperError(
            f"there are several `{asked}`: {', '.join(str(thing.label) for thing in found)}",
            help=f"say which: `{asked}[{numbers[0]}]`, or all: "
            f"`{asked}[{numbers[0]}..{numbers[-1]}]`",
            code="several",
        )
    exact = [thing for thing in found if thing.label == asked]
    whole = _whole(piece, asked, found) or (exact[0] if len(exact) == 1 else None)
    if whole is None:
        names = " or ".join(f"`{thing.label}`" for thing in found)
        often = "twice" if len(found) == 2 else f"{len(found)} times"
        raise PaperError(
            f"`{asked}` is there {often} since the piece was unfolded",
            help=f"write {names}",
            code="several",
        )
    return whole


def answering(piece: Piece, asked: Label) -> Iterator[Thing]:
    """Everything on the paper that a name may mean, edges in the order of the outline."""
    for thing in piece.named.get(asked.name, ()):
        if thing.label.answers(asked):
            yield thing


def family(piece: Piece, asked: Label) -> list[Thing]:
    """All members of an indexed name, in order: `drape[1]`, `drape[2]`, …"""
    found = [thing for thing in answering(piece, asked) if thing.label.index is not None]
    return sorted(found, key=lambda thing: thing.label.index or 0)


def section_chain(piece: Piece, section: Section) -> Edge:
    """The part of its edge that a section names, with the roles of its runs."""
    edge = find(piece, section.edge)
    if not isinstance(edge, Edge):
        raise PaperError(
            f"the edge of `{section.label}` is no longer there",
            help="say this before the line that takes the edge away",
            code="gone",
        )
    start, _ = edge.path.nearest(section.start)
    end, _ = edge.path.nearest(section.end)
    chain = stretch(edge, min(start, end), max(start, end))
    return Edge(section.label, chain.runs)


def intake_drawn(piece: Piece, opening: Opening) -> float:
    """What a dart or pleat takes in, in mm: as drawn on its edge, else straight across."""
    if opening.kind == DART:
        mouth = [
            run.as_drawn
            for edge in piece.edges
            for run in edge.runs
            if run.role == INTAKE
            and run.opening == opening.label
            and abs(run.path.start - opening.first.end) < JOINED
        ]
        if mouth:
            return sum(mouth)
    return opening.intake


def whole_edge(piece: Piece, edge: Edge) -> tuple[Edge, float]:
    """The edge of which a section is a part, and how far along it the section begins.

    For an edge that is no section, the edge itself and nothing.
    """
    found = find(piece, edge.label)
    if not isinstance(found, Section):
        return edge, 0.0
    base = find(piece, found.edge)
    if not isinstance(base, Edge):
        raise PaperError(
            f"the edge of `{found.label}` is no longer there",
            help="say this before the line that takes the edge away",
            code="gone",
        )
    return base, base.path.nearest(edge.start)[0]


def stretch(chain: Chain, start: float, end: float) -> Chain:
    """The part of a chain between two distances as cut."""
    runs = []
    behind = 0.0
    for run in chain.runs:
        first, last = max(start - behind, 0.0), min(end - behind, run.length)
        if last - first > 1e-9:
            whole = first <= 1e-9 and last >= run.length - 1e-9
            runs.append(run if whole else run.changed(path=run.path.part(first, last)))
        behind += run.length
    return chain.changed(runs=tuple(runs))


def _whole(piece: Piece, asked: Label, found: Sequence[Thing]) -> Thing | None:
    """Several stretches under one name as one thing, if they follow each other."""
    if all(isinstance(thing, Edge) for thing in found):
        return _whole_edge(piece, asked, [thing for thing in found if isinstance(thing, Edge)])
    if all(isinstance(thing, Line) for thing in found):
        return _whole_line(asked, [thing for thing in found if isinstance(thing, Line)])
    points = [thing for thing in found if isinstance(thing, NamedPoint)]
    if len(points) == len(found) and all(abs(p.at - points[0].at) < JOINED for p in points):
        return points[0]
    return None


def _whole_edge(piece: Piece, asked: Label, found: list[Edge]) -> Edge | None:
    """Edges that follow each other in the outline, which may close over its start."""
    count = len(piece.edges)
    places = [next(i for i, edge in enumerate(piece.edges) if edge is item) for item in found]
    for turn in range(len(places)):
        order = places[turn:] + places[:turn]
        if all((b - a) % count == 1 for a, b in pairwise(order)):
            runs = tuple(run for place in order for run in piece.edges[place].runs)
            fold = all(edge.on_fold for edge in found)
            return piece.edges[order[0]].changed(label=asked, runs=runs, on_fold=fold)
    return None


def _whole_line(asked: Label, parts: list[Line]) -> Line | None:
    """Parts of a drawn line that met on a fold, end to end, as one line."""
    joined, rest = parts[0], parts[1:]
    while rest:
        for number, part in enumerate(rest):
            grown = _end_to_end(joined, part)
            if grown is not None:
                joined = grown
                del rest[number]
                break
        else:
            return None
    return parts[0].changed(label=asked, runs=joined.runs)


def _end_to_end(one: Line, other: Line) -> Line | None:
    """Two lines as one that runs the way of the first, if they share an end."""
    if abs(one.end - other.start) < JOINED:
        return one.changed(runs=one.runs + other.runs)
    if abs(one.end - other.end) < JOINED:
        return one.changed(runs=one.runs + other.reversed().runs)
    if abs(one.start - other.end) < JOINED:
        return one.changed(runs=other.runs + one.runs)
    if abs(one.start - other.start) < JOINED:
        return one.changed(runs=other.reversed().runs + one.runs)
    return None
