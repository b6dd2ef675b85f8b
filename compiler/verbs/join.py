"""`join`: lay another piece against this one along a seam that disappears."""

from __future__ import annotations

from collections.abc import Sequence

from oaktag.compiler.geometry import Path, carrying, line, reflection
from oaktag.compiler.paper.chain import INTAKE, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import check_edge, owners
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.parting import closed
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import check_simple
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.turning import renamed, walked_round

SAME = 1.0  # mm: edges that differ in length, or lie apart, by no more can be joined
ON = 1e-3  # mm: what lies this near to the seam lies on it


def join(
    piece: Piece, other: Edge, edge: Edge, other_piece: Piece, holding: object = None
) -> Change:
    """Moves the other piece so that its edge lies along this one; both edges disappear.

    This piece stays; the other is turned over if only then edges of one name meet at the ends of
    the seam. What lay on the other is found under that piece's name, and by its plain name
    where this one has nothing of it. The two shares of a dart that was cut through become one.
    """
    check_edge(edge, "edge")
    check_edge(other, "other")
    mine = owners(piece, edge, "edge")
    owners(other_piece, other, "other")
    moving, along = other_piece, other
    if _meets_turned_over(piece, edge, other_piece, other):
        over = reflection(0j, 1j)
        moving = moving.moved(over)
        along = along.changed(runs=along.moved(over).runs)
    if (moving.signed_area > 0) != (piece.signed_area > 0):
        moving = walked_round(moving)
        along = along.changed(runs=along.reversed().runs)
    names = f"`{edge.label}` and `{other_piece.name}.{other.label}`"
    _check(edge, along, names)
    theirs = owners(moving, along, "other")
    laying = carrying(along.start, along.end, edge.end, edge.start)
    laid = along.path.moved(laying)
    apart = max(edge.path.nearest(place)[1] for place in laid.flattened(0.1))
    if apart > SAME:
        raise PaperError(
            f"{names} have different lines: laid on each other they are up to {{0}} apart",
            apart,
            help="only edges of the same shape can be joined: redraw one of them",
            about="other",
            code="edges-differ",
        )
    rest, added = _without(piece, mine), _without(moving, theirs).moved(laying)
    added = renamed(added, moving.name.rsplit(".", 1)[-1])
    rest, added = _off_seam(rest, edge.path), _off_seam(added, edge.path)
    whole = piece.changed(
        edges=_from_start(piece, _closed([*rest.edges, *added.edges])),
        lines=rest.lines + added.lines,
        openings=_one_each(rest.openings, added.openings),
        points=rest.points + added.points,
        marks=rest.marks + added.marks,
        sections=rest.sections + added.sections,
    )
    check_simple(
        whole,
        "joined this way, the pieces would lie on each other",
        help="join them at another edge, or cut away what lies over the seam first",
    )
    let_in = [moving.moved(laying).outline]
    cut_away: list[Path] = []
    sliver = closed([edge.path, laid])
    if abs(sliver.area()) > 1e-9:
        outside = (sliver.area() > 0) != (piece.signed_area > 0)
        (let_in if outside else cut_away).append(sliver)
    return Change(whole, tuple(let_in), tuple(cut_away))


def _meets_turned_over(piece: Piece, edge: Edge, other_piece: Piece, other: Edge) -> bool:
    """Whether more like-named neighbours meet at the ends of a seam if one piece is turned over."""
    own, theirs = _neighbours(piece, edge), _neighbours(other_piece, other)
    if (piece.signed_area > 0) != (other_piece.signed_area > 0):
        theirs = theirs[::-1]
    plain = sum(a == b for a, b in zip(own, theirs[::-1], strict=True))
    over = sum(a == b for a, b in zip(own, theirs, strict=True))
    return over > plain


def _neighbours(piece: Piece, edge: Edge) -> tuple[str, str]:
    """The names of the edges before and behind an edge."""
    own = [item.label.answers(edge.label) for item in piece.edges]
    count = len(own)
    before = next(i for i in range(count) if not own[i] and own[(i + 1) % count])
    behind = next(i for i in range(count) if not own[i] and own[i - 1])
    return piece.edges[before].label.name, piece.edges[behind].label.name


def _check(edge: Edge, other: Edge, names: str) -> None:
    """Refuses edges that differ in length, or whose darts and pleats do not lie on each other."""
    gap = abs(edge.length - other.length)
    if gap > SAME:
        raise PaperError(
            f"{names} have different lengths: {{0}} and {{1}}, {{2}} apart",
            edge.length,
            other.length,
            gap,
            help="lengthen or shorten one of them, or sew them with ease instead of joining",
            about="other",
            code="lengths-differ",
        )
    folds = [_folds(item) for item in (edge, other.changed(runs=other.reversed().runs))]
    for item, number, about in ((edge, 0, "edge"), (other, 1, "other")):
        if any(not any(_same(span, mate) for mate in folds[1 - number]) for span in folds[number]):
            raise PaperError(
                f"`{item.label}` has a dart or pleat on it, so it cannot be joined",
                help="close it first, or move it to another edge",
                about=about,
                code="dart-on-joint",
            )


def _folds(edge: Edge) -> list[tuple[float, float]]:
    """Where on an edge, as cut, paper is folded or gathered away."""
    found = []
    behind = 0.0
    for run in edge.runs:
        if run.role == INTAKE:
            found.append((behind, behind + run.length))
        behind += run.length
    return found


def _same(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return all(abs(a - b) <= SAME for a, b in zip(one, other, strict=True))


def _without(piece: Piece, gone: Sequence[Edge]) -> Piece:
    """The piece with its edges from behind those that disappear round to before them."""
    count = len(piece.edges)
    numbers = {i for i, item in enumerate(piece.edges) if any(item is edge for edge in gone)}
    after = next(i for i in range(count) if i not in numbers and (i - 1) % count in numbers)
    kept = [(after + i) % count for i in range(count - len(numbers))]
    return piece.changed(edges=tuple(piece.edges[i] for i in kept))


def _off_seam(piece: Piece, seam: Path) -> Piece:
    """The piece without the notches and sections of an edge that is one no more."""

    def off(place: complex) -> bool:
        return seam.nearest(place)[1] > SAME + ON

    return piece.changed(
        marks=tuple(mark for mark in piece.marks if mark.kind != "notch" or off(mark.at)),
        sections=tuple(item for item in piece.sections if off(item.start) or off(item.end)),
    )


def _one_each(mine: tuple[Opening, ...], theirs: tuple[Opening, ...]) -> tuple[Opening, ...]:
    """All openings; two whose sides lead on from each other become one, under this piece's name."""
    left = list(theirs)
    found = []
    for opening in mine:
        for other in left:
            inner, outer = (opening, other) if _leads_on(opening, other) else (other, opening)
            if _leads_on(inner, outer):
                left.remove(other)
                opening = outer.changed(
                    label=opening.label,
                    first=inner.first.joined(_from(outer.first, inner.first.end)),
                    second=inner.second.joined(_from(outer.second, inner.second.end)),
                    about=inner.about,
                    ending=max(inner.ending, outer.ending),
                )
                break
        found.append(opening)
    return (*found, *left)


def _leads_on(inner: Opening, outer: Opening) -> bool:
    return (
        inner.kind == outer.kind
        and abs(inner.first.end - outer.first.start) <= SAME
        and abs(inner.second.end - outer.second.start) <= SAME
    )


def _from(path: Path, start: complex) -> Path:
    """The path led from a start a hair away."""
    return path if path.start == start else line(start, path.start).joined(path)


def _from_start(piece: Piece, edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """The edges, from the one at which the piece's outline began, if it is still there."""
    first = piece.edges[0].label
    at = next((i for i, edge in enumerate(edges) if edge.label == first), 0)
    return edges[at:] + edges[:at]


def _closed(edges: list[Edge]) -> tuple[Edge, ...]:
    """The edges, small gaps between them closed."""
    done = []
    for i, edge in enumerate(edges):
        following = edges[(i + 1) % len(edges)]
        if abs(edge.end - following.start) > 1e-7:
            edge = edge.changed(runs=(*edge.runs, Run(line(edge.end, following.start))))
        done.append(edge)
    return tuple(done)
