"""From drawn lines to slashes, and which part of the cut paper stays where it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from oaktag.compiler.geometry import IDENTITY, Motion
from oaktag.compiler.paper.chain import INTAKE, SEAM, Edge, Line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import FLARE, Opening
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.parting import Parts, Slash
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.ring import Ring


def slash(
    piece: Piece,
    drawn: object,
    kind: str,
    outer: Edge | None = None,
    hinge: Edge | None = None,
) -> Slash:
    """The cut along a drawn line, from its hinged or inner end to the end where it opens.

    outer: the edge at which the opening is measured. hinge: the edge at which it stays joined.
    """
    if isinstance(drawn, Opening):
        raise PaperError(
            f"`{drawn.label}` is open already",
            help="draw another line and spread that",
            about="lines",
            code="already-open",
        )
    if not isinstance(drawn, Line):
        raise PaperError(
            "only a drawn line can be slashed", help="draw it with `line` or `curve`", about="lines"
        )
    path, name = drawn.path, drawn.label
    ring = Ring(piece)
    for end in (path.start, path.end):
        if ring.locate(end, ON) is None:
            raise PaperError(
                f"`{name}` ends {{0}} away from the edge of the paper",
                piece.outline.nearest(end)[1],
                help="lead it from one edge to another: `to on EDGE …`, or `down to EDGE`",
                about="lines",
                code="short-line",
            )
    if hinge is not None:
        at_hinge = _end_on(path.start, path.end, hinge)
        if at_hinge is None:
            raise PaperError(
                f"`{name}` does not end on `{hinge.label}`, so it cannot be hinged there: it ends "
                "{0} away",
                min(hinge.path.nearest(path.start)[1], hinge.path.nearest(path.end)[1]),
                help=f"lead the line to `{hinge.label}`, or hinge it on the edge it ends on",
                about="hinge",
                code="hinge-off-line",
            )
        if at_hinge == 1:
            path = path.reversed()
    if outer is not None:
        if hinge is None and _end_on(path.start, path.end, outer) == 0:
            path = path.reversed()
        away = outer.path.nearest(path.end)[1]
        if away > ON:
            raise PaperError(
                f"`{name}` does not open at `{outer.label}`: its end is {{0}} away",
                away,
                help="measure the opening at the edge on which the line ends",
                about="lines",
                code="not-at-edge",
            )
    start_at, end_at = ring.locate(path.start, ON), ring.locate(path.end, ON)
    assert start_at is not None and end_at is not None
    role = SEAM if kind == FLARE else INTAKE
    return Slash(path, start_at, end_at, name, role, name)


def still_part(parts: Parts, holding: object) -> int:
    """The part that stays: what is held, else the upper end of the grain, else the outline's
    start.
    """
    every = range(len(parts.rings))
    if holding is not None:
        return parts.part_at(_held(parts.ring.piece, holding), every)
    grain = parts.ring.piece.grain
    if grain is not None:
        on_slash = any(path.nearest(grain.upper)[1] <= ON for path, _, _ in parts.slits)
        if not on_slash:
            return parts.part_at(grain.upper, every)
    return parts.part_with_start()


def travel(
    parts: Parts,
    sides: Sequence[tuple[int, int]],
    still: int,
    motion: Callable[[int, bool], Motion],
) -> tuple[list[Motion], list[int]]:
    """How each part moves, and the parts in the order of their distance from the still one.

    motion: for a slash's number, and whether the moving part lies left of its way, how that part
    moves if the other stays.
    """
    motions: list[Motion] = [IDENTITY] * len(parts.rings)
    anticlockwise = parts.ring.piece.signed_area > 0
    order = [still]
    for part in order:
        for number, (before, behind) in enumerate(sides):
            if part not in (before, behind):
                continue
            other = behind if part == before else before
            if other not in order:
                left = (other == behind) == anticlockwise
                motions[other] = motion(number, left).then(motions[part])
                order.append(other)
    return motions, order


def opened(
    label: Label, cut: Slash, before: Motion, behind: Motion, kind: str, style: str, ending: float
) -> Opening:
    """The opening a slash leaves when the parts on its two sides have moved."""
    return Opening(label, kind, cut.path.moved(before), cut.path.moved(behind), style, ending)


def without_lines(piece: Piece, labels: Sequence[Label]) -> Piece:
    """The piece without drawn lines of those names: they are to become openings."""
    return piece.changed(lines=tuple(item for item in piece.lines if item.label not in labels))


def _end_on(start: complex, end: complex, edge: Edge) -> int | None:
    """Which end lies on an edge: 0 the start, 1 the end."""
    away = [edge.path.nearest(place)[1] for place in (start, end)]
    nearest = 0 if away[0] <= away[1] else 1
    return nearest if away[nearest] <= ON else None


def _held(piece: Piece, holding: object) -> complex:
    """A point on the part that `holding` names."""
    if isinstance(holding, complex):
        return holding
    if isinstance(holding, Edge | Line):
        return holding.path.point_at(holding.length / 2)
    if isinstance(holding, Opening):
        return (holding.first.end + holding.second.end) / 2
    half = getattr(holding, "name", "")
    mine = [edge for edge in piece.edges if half in edge.label.scope]
    if not mine:
        raise PaperError(
            "what is held must lie on this piece",
            help="name an edge, a point or a half of it",
            about="holding",
        )
    longest = max(mine, key=lambda edge: edge.length)
    return longest.path.point_at(longest.length / 2)
