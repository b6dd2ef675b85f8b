"""`redraw`: a new line between two places of the outline."""

from __future__ import annotations

from itertools import pairwise

from oaktag.compiler.geometry import Path, chain, line
from oaktag.compiler.paper.chain import INTAKE, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.following import follow, joint_on
from oaktag.compiler.paper.intake import check_edge, owners
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import REDRAW, check_simple, difference
from oaktag.compiler.paper.ring import Ring
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.straight import STRAIGHT, check_straight, furthest_off


def redraw(piece: Piece, edge: Edge, path: Path) -> Change:
    """Replaces the outline between the path's ends by the path, which becomes part of the edge.

    An end off the outline extends the edge next to it in a straight line to there.
    """
    check_edge(edge, "edge")
    ring = Ring(piece)
    numbers = _numbers(piece, edge)
    span = (ring.edge_span(numbers[0])[0], ring.edge_span(numbers[-1])[1])
    if _runs_backwards(path, edge):
        path = path.reversed()
    start = _place(ring, path.start, span[0])
    end = _place(ring, path.end, ring.snapped(span[1] % ring.total))
    if abs(start - end) < 1e-6:
        raise PaperError(
            f"the new line begins and ends at the same place of `{edge.label}`",
            help="lead it from one place of the outline to another",
            about="path",
            code="no-length",
        )
    kept = ring.stretch(end, start)
    lead_in = line(kept[-1][1].path.end, path.start)
    lead_out = line(path.end, kept[0][1].path.start)
    walk = [(number, Run(part)) for number, part in _shared(piece, numbers, path)]
    if lead_out.length > 1e-7:
        walk.append((_neighbour(kept[0][0], numbers, len(piece.edges), +1), Run(lead_out)))
    walk.extend(kept)
    if lead_in.length > 1e-7:
        walk.append((_neighbour(kept[-1][0], numbers, len(piece.edges), -1), Run(lead_in)))
    after = piece.changed(edges=_grouped(piece, walk))
    old = chain([run.path for _, run in ring.stretch(start, end)])
    new = chain([part for part in (lead_in, path, lead_out) if part.length > 1e-7])
    _check_place(piece, edge, ring, numbers, (start, end), after)
    check_simple(after, "redrawn this way the outline does not work", piece, REDRAW)
    _check_kept(piece, after)
    _check_fold_stays(piece, after)
    return Change(follow(after, old, new), *difference(old, new, piece.inward))


def _numbers(piece: Piece, edge: Edge) -> list[int]:
    """Which stored edges this one is, in its order."""
    mine = owners(piece, edge)
    return [next(i for i, item in enumerate(piece.edges) if item is owner) for owner in mine]


def _shared(piece: Piece, numbers: list[int], path: Path) -> list[tuple[int, Path]]:
    """The new line, shared among the stretches of an edge that it replaces."""
    joints = [joint_on(piece, piece.edges[number].start, path) for number in numbers[1:]]
    bounds = [0.0, *joints, path.length]
    return [
        (number, path.part(start, end))
        for number, (start, end) in zip(numbers, pairwise(bounds), strict=True)
        if end - start > 1e-6
    ]


def _runs_backwards(path: Path, edge: Edge) -> bool:
    """Whether a path is drawn against the outline: compared by where its ends lie on the edge."""
    (first, _), (last, _) = edge.path.nearest(path.start), edge.path.nearest(path.end)
    if abs(last - first) > 1e-6:
        return last < first
    forward = abs(path.start - edge.start) + abs(path.end - edge.end)
    backward = abs(path.start - edge.end) + abs(path.end - edge.start)
    return backward < forward


def _place(ring: Ring, point: complex, corner: float) -> float:
    """Where on the outline an end lies; an end off it starts from the edge's own corner."""
    at = ring.locate(point)
    return corner if at is None else at


def _neighbour(number: int, own: list[int], count: int, step: int) -> int:
    """The edge that is led on to an end off the outline: the one next to the redrawn edge."""
    return number if number not in own else (own[-1] + 1 if step > 0 else own[0] - 1) % count


def _check_place(
    piece: Piece,
    edge: Edge,
    ring: Ring,
    numbers: list[int],
    replaced: tuple[float, float],
    after: Piece,
) -> None:
    """Refuses a new line that lies elsewhere than the edge, or takes other edges away."""
    gone = {number for number, _ in ring.stretch(*replaced)}
    left = {item.label for item in after.edges}
    lost = [item.label for item in piece.edges if item.label not in left]
    others = [label for label in lost if not label.answers(edge.label)]
    if gone.isdisjoint(numbers) or others or after.signed_area * piece.signed_area <= 0:
        raise PaperError(
            f"the new line would take `{others[0]}` off the piece"
            if others
            else f"the new line does not run beside `{edge.label}`",
            help=f"lead it from end to end of `{edge.label}`, or between two places on it",
            about="path",
            code="elsewhere",
        )


def _check_kept(before: Piece, after: Piece) -> None:
    """Refuses a new line that cuts into a mouth, or bends an edge on the fold."""
    for opening in before.openings:
        if abs(_mouth_length(before, opening) - _mouth_length(after, opening)) > 1e-6:
            raise PaperError(
                f"the new line cuts into the mouth of `{opening.label}`",
                help="close it first, or redraw only the part beside it",
                about="path",
                code="mouth-lost",
            )
    for edge in after.edges:
        if edge.on_fold:
            check_straight(edge, "path")


def _check_fold_stays(before: Piece, after: Piece) -> None:
    """Refuses a new line that moves an edge off the line of its fold: unfolded, the piece would be
    wider or narrower by twice as much.
    """
    for label in dict.fromkeys(edge.label for edge in before.edges if edge.on_fold):
        old = next(edge for edge in before.edges if edge.label == label)
        ends = [(edge.start, edge.end) for edge in after.edges if edge.label == label]
        away = furthest_off(old, (place for pair in ends for place in pair))
        if away > STRAIGHT:
            raise PaperError(
                f"`{label}` lies on the fold, and this moves it up to {{0}} away: the whole piece "
                "would change by twice as much",
                away,
                help=f"if it is to be cut there, take it off the fold first: `open {label}`; if "
                f"not, `fold on {label}` after that lays it on the fold again",
                about="edge",
                code="fold-moved",
            )


def _mouth_length(piece: Piece, opening: Opening) -> float:
    return sum(
        run.length
        for edge in piece.edges
        for run in edge.runs
        if run.role == INTAKE and run.opening == opening.label
    )


def _grouped(piece: Piece, walk: list[tuple[int, Run]]) -> tuple[Edge, ...]:
    """The outline's edges again, from the edge with which it began."""
    runs: list[tuple[int, list[Run]]] = []
    for number, run in walk:
        if runs and runs[-1][0] == number:
            runs[-1][1].append(run)
        else:
            runs.append((number, [run]))
    if len(runs) > 1 and runs[0][0] == runs[-1][0]:
        runs[0][1][:0] = runs.pop()[1]
    first = min(range(len(runs)), key=lambda i: runs[i][0])
    return tuple(
        piece.edges[number].changed(runs=tuple(items))
        for number, items in runs[first:] + runs[:first]
    )
