"""`redraw`: a new line between two places of the outline."""

from __future__ import annotations

from oaktag.compiler.geometry import Path, chain, line
from oaktag.compiler.paper.chain import Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import check_simple, difference
from oaktag.compiler.paper.ring import Ring
from oaktag.compiler.paper.step import Change


def redraw(piece: Piece, edge: Edge, path: Path) -> Change:
    """Replaces the outline between the path's ends by the path, which becomes part of the edge.

    An end off the outline extends the edge next to it in a straight line to there.
    """
    if not isinstance(edge, Edge):
        raise PaperError("only an edge or a dart is redrawn", about="edge")
    ring = Ring(piece)
    numbers = [i for i, item in enumerate(piece.edges) if item.label.answers(edge.label)]
    span = (ring.edge_span(numbers[0])[0], ring.edge_span(numbers[-1])[1])
    if _runs_backwards(path, edge):
        path = path.reversed()
    start = _place(ring, path.start, span[0])
    end = _place(ring, path.end, span[1] % ring.total)
    if abs(start - end) < 1e-6:
        raise PaperError(
            f"the new line begins and ends at the same place of `{edge.label}`", about="path"
        )
    kept = ring.stretch(end, start)
    if not kept:
        raise PaperError("nothing of the old outline would be left", about="path")
    owner = numbers[0]
    walk: list[tuple[int, Run]] = [(owner, Run(path))]
    lead_in = line(kept[-1][1].path.end, path.start)
    lead_out = line(path.end, kept[0][1].path.start)
    if lead_out.length > 1e-7:
        walk.append((_neighbour(kept[0][0], numbers, len(piece.edges), +1), Run(lead_out)))
    walk.extend(kept)
    if lead_in.length > 1e-7:
        walk.append((_neighbour(kept[-1][0], numbers, len(piece.edges), -1), Run(lead_in)))
    edges = _grouped(piece, walk)
    after = piece.changed(edges=edges)
    old = chain([run.path for _, run in ring.stretch(start, end)])
    new = chain([part for part in (lead_in, path, lead_out) if part.length > 1e-7])
    let_in, cut_away = difference(old, new, piece.inward)
    check_simple(after, "redrawn this way the outline does not work")
    gone = [item for item in piece.openings if _lost(item.label, after, piece)]
    if gone:
        raise PaperError(
            f"the new line cuts off the mouth of `{gone[0].label}`",
            help="close it first, or redraw only the part beside it",
            about="path",
            code="mouth-lost",
        )
    return Change(after, let_in, cut_away)


def _runs_backwards(path: Path, edge: Edge) -> bool:
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


def _lost(label: object, after: Piece, before: Piece) -> bool:
    def has(piece: Piece) -> bool:
        return any(run.opening == label for edge in piece.edges for run in edge.runs)

    return has(before) and not has(after)
