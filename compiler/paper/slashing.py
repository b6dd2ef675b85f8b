"""From drawn lines to slashes, and which part of the cut paper stays where it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from oaktag.compiler.geometry import IDENTITY, Motion, Path
from oaktag.compiler.geometry import line as straight
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
    inner: Edge | None = None,
    hinge: Edge | None = None,
    about: str = "lines",
) -> Slash:
    """The cut along a drawn line, from its hinged or inner end to the end where it opens.

    outer, inner: the edges at which the opening is measured. hinge: the edge at which it stays
    joined. about: the argument that names the line.
    """
    line = drawn_line(drawn, about)
    path, turned = line.path, False
    if not _fits(path, outer, inner, hinge):
        path, turned = path.reversed(), True
        if not _fits(path, outer, inner, hinge):
            raise _misfit(line, outer, inner, hinge)
    ring = Ring(piece)
    path, end_at = led_to_outline(path, ring, line.label, about)
    path, start_at = led_to_outline(path.reversed(), ring, line.label, about)
    return Slash(
        path.reversed(),
        start_at,
        end_at,
        line.label,
        SEAM if kind == FLARE else INTAKE,
        line.label,
        turned,
        *(edge.label if edge is not None else None for edge in (inner or hinge, outer)),
    )


def drawn_line(drawn: object, about: str) -> Line:
    """A line that is not open yet; anything else is refused."""
    if isinstance(drawn, Opening):
        raise PaperError(
            f"`{drawn.label}` is open already",
            help="draw another line and open that",
            about=about,
            code="already-open",
        )
    if not isinstance(drawn, Line):
        raise PaperError(
            "only a drawn line can be slashed",
            help="draw it with `line` or `curve`",
            about=about,
            code="not-a-line",
        )
    return drawn


def check_once(labels: Sequence[Label], about: str) -> None:
    """Refuses a row in which something is named twice."""
    seen: set[Label] = set()
    for label in labels:
        if label in seen:
            raise PaperError(
                f"`{label}` is named twice here",
                help="name it once",
                about=about,
                code="named-twice",
            )
        seen.add(label)


def led_to_outline(path: Path, ring: Ring, label: Label, about: str) -> tuple[Path, float]:
    """A path that ends exactly on the outline, and where; refused if its end lies off it.

    The last tenth of a millimetre is bent where the end lies beside the outline by less than that.
    """
    at = ring.locate(path.end, ON)
    if at is None:
        raise PaperError(
            f"`{label}` ends {{0}} away from the edge of the paper",
            ring.piece.outline.nearest(path.end)[1],
            help="lead it to an edge: `down to EDGE`, or `to on EDGE …`",
            about=about,
            code="short-line",
        )
    run = ring.run_at(at)
    if run is not None and run.role == INTAKE:
        raise PaperError(
            f"`{label}` ends on paper that is folded away, in the mouth of `{run.opening}`",
            help=f"lead it past `{run.opening}`, to where the edge is sewn",
            about=about,
            code="ends-in-fold",
        )
    place = ring.piece.outline.point_at(at)
    if abs(path.end - place) > 1e-7:
        path = path.part(0.0, max(path.length - 2 * ON, path.length / 2))
        path = path.joined(straight(path.end, place))
    return path, at


def _fits(path: Path, outer: Edge | None, inner: Edge | None, hinge: Edge | None) -> bool:
    """Whether a path starts and ends where it is to stay joined and to open."""
    return _on(path.end, outer) and _on(path.start, inner) and _on(path.start, hinge)


def _on(place: complex, edge: Edge | None) -> bool:
    return edge is None or edge.path.distance(place) <= ON


def _misfit(line: Line, outer: Edge | None, inner: Edge | None, hinge: Edge | None) -> PaperError:
    """Why a line cannot be opened as asked."""
    name, ends = line.label, (line.start, line.end)

    def away(edge: Edge) -> float:
        return min(edge.path.distance(place) for place in ends)

    if hinge is not None and away(hinge) > ON:
        return PaperError(
            f"`{name}` does not end on `{hinge.label}`, so it cannot be hinged there: it ends "
            "{0} away",
            away(hinge),
            help=f"lead the line to `{hinge.label}`, or hinge it on the edge it ends on",
            about="hinge",
            code="hinge-off-line",
        )
    for edge in (outer, inner):
        if edge is not None and away(edge) > ON:
            return PaperError(
                f"`{name}` does not open at `{edge.label}`: its end is {{0}} away",
                away(edge),
                help="measure the opening at the edge on which the line ends",
                about="amounts",
                code="not-at-edge",
            )
    joined, opens = hinge or inner, outer
    assert joined is not None and opens is not None
    what = "stay joined" if hinge is not None else "open"
    return PaperError(
        f"`{name}` would have to {what} at `{joined.label}` and open at `{opens.label}`, but only "
        "one of its ends lies there",
        help="name the edges on which its two ends lie",
        about="hinge" if hinge is not None else "amounts",
        code="not-at-edge",
    )


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
    """The piece without drawn lines of those names: they are to become openings.

    A line drawn on a half and its mirror image that meet are one, under the name of both.
    """
    return piece.changed(
        lines=tuple(
            item for item in piece.lines if not any(item.label.answers(label) for label in labels)
        )
    )


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
            code="not-held",
        )
    longest = max(mine, key=lambda edge: edge.length)
    return longest.path.point_at(longest.length / 2)
