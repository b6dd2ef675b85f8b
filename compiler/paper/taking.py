"""One part of a piece that was cut in two, as a piece of its own."""

from __future__ import annotations

from collections.abc import Sequence

from oaktag.compiler.geometry import IDENTITY, Meeting, Path, meetings
from oaktag.compiler.paper.chain import INTAKE, Edge, Run
from oaktag.compiler.paper.opening import FLARE, Opening
from oaktag.compiler.paper.parting import Parts, Slash, assemble
from oaktag.compiler.paper.piece import Piece


def take(parts: Parts, number: int, cut_line: Slash, edge: Edge) -> Piece:
    """The part of that number, the cut being an edge of it.

    edge: the new edge, along the cut from its start to its end.
    """
    count = len(parts.rings)
    motions = [IDENTITY if i == number else None for i in range(count)]
    order = [number, *(i for i in range(count) if i != number)]
    part = assemble(parts, motions, order)
    edges = list(part.edges)
    place, across = next(
        (i, run)
        for i, item in enumerate(edges)
        for run in item.runs
        if run.opening is not None and run.opening == cut_line.opening
    )
    whole = edges[place]
    if abs(edge.start - across.path.start) > abs(edge.end - across.path.start):
        edge = edge.changed(runs=edge.reversed().runs)
    at = next(i for i, run in enumerate(whole.runs) if run is across)
    split = (
        whole.changed(runs=whole.runs[:at]),
        edge,
        whole.changed(runs=whole.runs[at + 1 :]),
    )
    edges[place : place + 1] = [item for item in split if item.runs]
    return part.changed(edges=tuple(edges), halves=_halves_on(edges, part.halves))


def _halves_on(edges: Sequence[Edge], halves: tuple[str, ...]) -> tuple[str, ...]:
    """The halves of an unfolded piece that are both still on a part of it."""
    there = {word for edge in edges for word in edge.label.scope}
    pairs = zip(halves[::2], halves[1::2], strict=True)
    return tuple(word for pair in pairs if there.issuperset(pair) for word in pair)


def run_through(piece: Piece, path: Path) -> tuple[Piece, tuple[Run, ...]]:
    """A piece whose darts are cut where a path runs right through them, and the path as an edge.

    The inner part of such a dart keeps its point; the outer part opens at both its ends and closes
    about the same place. Both keep the name. The path is sewn, but for the darts it runs through.
    """
    runs: list[Run] = []
    openings = list(piece.openings)
    behind = 0.0
    for opening, on_first, on_second in _crossed(piece, path):
        entry, leaving = sorted((on_first, on_second), key=lambda hit: hit.first_at)
        if opening.kind != FLARE:
            if entry.first_at - behind > 1e-6:
                runs.append(Run(path.part(behind, entry.first_at)))
            mouth = path.part(entry.first_at, leaving.first_at)
            runs.append(Run(mouth, INTAKE, opening.label))
            behind = leaving.first_at
        place = openings.index(opening)
        openings[place : place + 1] = _halves(opening, on_first.second_at, on_second.second_at)
    if path.length - behind > 1e-6:
        runs.append(Run(path.part(behind, path.length)))
    return piece.changed(openings=tuple(openings)), tuple(runs)


def _crossed(piece: Piece, path: Path) -> list[tuple[Opening, Meeting, Meeting]]:
    found = []
    for opening in piece.openings:
        hits = [
            [hit for hit in meetings(path, side) if _within(side, hit.second_at)]
            for side in (opening.first, opening.second)
        ]
        if hits[0] and hits[1]:
            found.append((opening, hits[0][0], hits[1][0]))
    return sorted(found, key=lambda item: item[1].first_at)


def _halves(opening: Opening, first_at: float, second_at: float) -> list[Opening]:
    about = opening.about if not opening.hinged else opening.point
    inner = opening.changed(
        first=opening.first.part(0.0, first_at),
        second=opening.second.part(0.0, second_at),
        trimmed=False,
    )
    outer = opening.changed(
        first=opening.first.part(first_at, opening.first.length),
        second=opening.second.part(second_at, opening.second.length),
        about=about,
    )
    return [inner, outer]


def _within(side: Path, at: float) -> bool:
    return 1e-3 < at < side.length - 1e-3
