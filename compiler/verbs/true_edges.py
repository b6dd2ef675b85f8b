"""`true`: blend the joints of an edge into one smooth line."""

from __future__ import annotations

from collections.abc import Sequence

from oaktag.compiler.geometry import Path, chain, line, pinned, replaced
from oaktag.compiler.paper.areas import together
from oaktag.compiler.paper.chain import SEAM, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.folded import mouths
from oaktag.compiler.paper.following import follow, joint_on
from oaktag.compiler.paper.intake import check_edge, owners
from oaktag.compiler.paper.laid import Fold, Stretch, laid_out, line_of, where_crossed, with_sides
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.reshape import check_simple, difference
from oaktag.compiler.paper.smoothing import WITHIN, blends_of
from oaktag.compiler.paper.step import Change

ON = 1e-9  # mm: what rounding alone moves
NEAR = 1e-7  # mm: an end moved by less has not moved


def true_edges(piece: Piece, edges: tuple[Edge, ...], within: Quantity | None = None) -> Change:
    """Makes each edge flow, staying within a distance of what was drawn, its ends kept.

    Darts and pleats lie folded meanwhile, so that the edge flows across them when they are sewn; a
    trimmed one is trimmed anew. An edge that is sewn keeps its length as well, nearly.
    """
    limit = within.amount if within is not None else WITHIN
    if limit <= 0:
        raise PaperError(
            "`within` is a distance above nothing: this is {0}",
            limit,
            help="give a distance like `5 mm`, or leave `within` out",
            about="within",
            code="within",
        )
    change = Change(piece)
    for edge in edges:
        check_edge(edge, "edges")
        number = 0
        while number < len(rows := laid_out(change.piece, owners(change.piece, edge, "edges"))):
            done = _trued(change.piece, rows[number], limit, piece.keeps_length(edge))
            change = Change(
                done.piece,
                together(change.let_in, done.let_in),
                together(change.cut_away, done.cut_away),
            )
            number += 1
    check_simple(
        change.piece,
        "trued this way the outline does not work",
        piece,
        "allow less, `within 2 mm` say, or redraw the edge",
    )
    return change


def _trued(piece: Piece, row: Sequence[Stretch | Fold], limit: float, keeping: bool) -> Change:
    """A row of stretches made to flow; each stored edge keeps its share of the new line."""
    old, marks = line_of(row)
    blended = blends_of(old, limit, keeping)
    if not blended:
        return Change(piece)
    new = replaced(old, blended)
    groups = _groups(row)
    bounds = _bounds(piece, row, groups, new, limit)
    runs: dict[int, tuple[Run, ...]] = {}
    for (first, last), start, end in zip(groups, bounds, bounds[1:], strict=False):
        begins = marks[first - 1] if first else 0.0
        if any(item.start < marks[last] - ON and item.end > begins + ON for item in blended):
            group = [item for item in row[first : last + 1] if isinstance(item, Stretch)]
            runs[id(group[0].run)] = (_merged(group, new.part(start, end)),)
            runs.update((id(item.run), ()) for item in group[1:])
    after = piece
    folds = [item for item in row if isinstance(item, Fold)]
    for (_, last), bound in zip(groups, bounds[1:], strict=True):
        fold = row[last + 1] if last + 1 < len(row) else None
        if isinstance(fold, Fold):
            after, mouth = _refolded(after, fold, new.point_at(bound))
            runs[id(fold.run)] = (mouth,)
    after = _with_runs(after, runs)
    if not folds:
        changes = [
            difference(old.part(item.start, item.end), Path([item.segment]), piece.inward)
            for item in blended
        ]
        let_in, cut_away = (together(*areas) for areas in zip(*changes, strict=True))
        return Change(follow(after, old, new), let_in, cut_away)
    for fold in folds:
        if fold.mouth.opening.trimmed:
            after = _trimmed_anew(after, fold, runs)
    before, now = _on_paper(row, {}), _on_paper(row, runs)
    return Change(follow(after, before, now), *difference(before, now, piece.inward))


def _groups(row: Sequence[Stretch | Fold]) -> list[tuple[int, int]]:
    """The first and last of neighbouring stretches that become one run."""
    groups: list[tuple[int, int]] = []
    for number, item in enumerate(row):
        if not isinstance(item, Stretch):
            continue
        behind = row[number - 1] if number else None
        if (
            isinstance(behind, Stretch)
            and behind.owner is item.owner
            and behind.run.role == item.run.role
            and (item.run.role == SEAM or behind.run.opening == item.run.opening)
        ):
            groups[-1] = (groups[-1][0], number)
        else:
            groups.append((number, number))
    return groups


def _bounds(
    piece: Piece,
    row: Sequence[Stretch | Fold],
    groups: Sequence[tuple[int, int]],
    new: Path,
    limit: float,
) -> list[float]:
    """Where on the new line each group begins and ends."""
    bounds = [0.0]
    for _, last in groups[:-1]:
        stretch, following = row[last], row[last + 1]
        assert isinstance(stretch, Stretch)
        if isinstance(following, Fold):
            at = where_crossed(following, new, limit)
        else:
            at = joint_on(piece, stretch.run.path.end, new.moved(stretch.laid.inverse()))
        bounds.append(max(at, bounds[-1]))
    return [*bounds, new.length]


def _merged(group: Sequence[Stretch], path: Path) -> Run:
    """One run in place of several, along a path over the folded paper."""
    first, last = group[0].run, group[-1].run
    alike = all(item.run.opening == first.opening for item in group)
    moved = path.moved(group[0].laid.inverse())
    start, end = (
        own if abs(own - place) < NEAR else place
        for own, place in ((first.path.start, moved.start), (last.path.end, moved.end))
    )
    return Run(pinned(moved, start, end), first.role, first.opening if alike else None)


def _refolded(piece: Piece, fold: Fold, place: complex) -> tuple[Piece, Run]:
    """The piece with the sides of a fold led to a place on the new line, and its mouth."""
    first_end = fold.first_laid.inverse()(place)
    second_end = fold.second_laid.inverse()(place)
    ends = (fold.mouth.first.end, fold.mouth.second.end)
    if abs(first_end - ends[0]) < ON and abs(second_end - ends[1]) < ON:
        return piece, fold.run
    opening = piece.opening(fold.mouth.opening.label)
    assert opening is not None
    moved = with_sides(opening, fold.mouth, first_end, second_end)
    mouth = fold.run.changed(path=line(first_end, second_end), drawn=fold.run.as_drawn)
    return piece.with_opening(moved), mouth


def _trimmed_anew(piece: Piece, fold: Fold, runs: dict[int, tuple[Run, ...]]) -> Piece:
    """The piece with a fold trimmed to the new line, its paper on the same side as before."""
    (plain,) = runs[id(fold.run)]
    opening = piece.opening(fold.mouth.opening.label)
    assert opening is not None
    mouth = next(
        item for item in mouths(piece, opening) if item.ring.entries[item.number][1] is plain
    )
    trimmed = plain.changed(path=mouth.shaped_again())
    runs[id(fold.run)] = (trimmed,)
    return _with_runs(piece, {id(plain): (trimmed,)})


def _on_paper(row: Sequence[Stretch | Fold], runs: dict[int, tuple[Run, ...]]) -> Path:
    """The row as it lies on the flat paper, some of its runs replaced."""
    return chain([run.path for item in row for run in runs.get(id(item.run), (item.run,))])


def _with_runs(piece: Piece, runs: dict[int, tuple[Run, ...]]) -> Piece:
    """The piece with runs of its outline replaced."""
    return piece.changed(
        edges=tuple(
            edge.changed(runs=tuple(new for run in edge.runs for new in runs.get(id(run), (run,))))
            if any(id(run) in runs for run in edge.runs)
            else edge
            for edge in piece.edges
        )
    )
