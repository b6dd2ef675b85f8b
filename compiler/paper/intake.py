"""Turning part of an edge into intake."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, fair_curve, line
from oaktag.compiler.paper.chain import INTAKE, Edge, Run
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece

REACH = 50.0  # mm: how far back an edge is eased to a leg's new end


def owners(piece: Piece, edge: Edge) -> list[Edge]:
    """The stored edges that together are this one, in its order."""
    found = [item for item in piece.edges if item.label.answers(edge.label)]
    place = {id(run): i for i, run in enumerate(edge.runs)}
    return sorted(found, key=lambda item: place.get(id(item.runs[0]), 0))


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


def eased(path: Path, end: complex) -> Path:
    """A path led to a new end close by, over its last stretch, leaving and arriving as before."""
    if abs(path.end - end) < 1e-9:
        return path
    reach = max(path.length - REACH, path.length / 2)
    kept, last = path.split_at(reach)
    return kept.joined(fair_curve([last.start, end], kept.end_direction, path.end_direction))


def with_mouth(piece: Piece, label: Label, start: complex, end: complex) -> Piece:
    """The piece with the ends of a dart's mouth moved, the runs beside it eased to meet them."""
    edges = []
    for edge in piece.edges:
        runs = list(edge.runs)
        for i, run in enumerate(runs):
            if run.role == INTAKE and run.opening == label:
                runs[i] = run.changed(path=line(start, end))
                if i > 0:
                    before = runs[i - 1]
                    runs[i - 1] = before.changed(path=eased(before.path, start))
                if i + 1 < len(runs):
                    after = runs[i + 1]
                    path = eased(after.path.reversed(), end).reversed()
                    runs[i + 1] = after.changed(path=path)
        edges.append(edge.changed(runs=tuple(runs)))
    return piece.changed(edges=tuple(edges))
