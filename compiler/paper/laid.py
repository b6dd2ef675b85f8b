"""An edge laid out as it is sewn: darts and pleats folded, its stretches one behind the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from oaktag.compiler.geometry import IDENTITY, Motion, Path, chain, line, meetings
from oaktag.compiler.paper.chain import INTAKE, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.folded import JOINED, Mouth, mouths
from oaktag.compiler.paper.opening import GATHER, Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.record import Record

GAP = 1e-7  # mm: what rounding leaves between two stretches


class Stretch(Record):
    """A run of the edge. laid: how it moves from the paper to where it lies when folded."""

    owner: Edge
    run: Run
    laid: Motion


class Fold(Record):
    """A dart or pleat folded away between two stretches, its first and its second side laid."""

    run: Run
    mouth: Mouth
    first_laid: Motion
    second_laid: Motion


def laid_out(piece: Piece, owners: Sequence[Edge]) -> list[list[Stretch | Fold]]:
    """Rows of stretches that lie in one line, with the folds between them.

    Paper to be gathered lies flat. A new row begins where two folds meet without edge between them.
    """
    row: list[Stretch | Fold] = []
    rows = [row]
    laid = IDENTITY
    folds = dict(_folds(piece, owners))
    for owner in owners:
        for run in owner.runs:
            mouth = folds.get(id(run))
            if mouth is None and run.role == INTAKE and not _flat(piece, run):
                row, laid = [], IDENTITY
                rows.append(row)
            elif mouth is None:
                row.append(Stretch(owner, run, laid))
            elif not row or isinstance(row[-1], Fold):
                row, laid = [], IDENTITY
                rows.append(row)
            else:
                beyond = mouth.closing.then(laid)
                row.append(Fold(run, mouth, laid, beyond))
                laid = beyond
    return [_trimmed(row) for row in rows if any(isinstance(item, Stretch) for item in row)]


def _trimmed(row: list[Stretch | Fold]) -> list[Stretch | Fold]:
    """Without a fold at its end, which has nothing behind it."""
    return row[:-1] if isinstance(row[-1], Fold) else row


def _flat(piece: Piece, run: Run) -> bool:
    """Whether an intake is cut as it lies: it is gathered."""
    opening = piece.opening(run.opening) if run.opening else None
    return opening is not None and opening.kind == GATHER


def _folds(piece: Piece, owners: Sequence[Edge]) -> Iterator[tuple[int, Mouth]]:
    labels = {run.opening for owner in owners for run in owner.runs if run.role == INTAKE}
    for opening in piece.openings:
        if opening.label in labels and opening.kind != GATHER:
            for mouth in mouths(piece, opening):
                yield id(mouth.ring.entries[mouth.number][1]), mouth


def line_of(row: Sequence[Stretch | Fold]) -> tuple[Path, list[float]]:
    """The row as one path, and where on it each item ends."""
    paths: list[Path] = []
    marks: list[float] = []
    total = 0.0
    for item in row:
        if isinstance(item, Stretch):
            path = item.run.path.moved(item.laid)
            if paths and abs(path.start - paths[-1].end) > GAP:
                paths.append(line(paths[-1].end, path.start))
                total += paths[-1].length
            paths.append(path)
            total += path.length
        marks.append(total)
    return chain(paths), marks


def where_crossed(fold: Fold, new: Path, near: float) -> float:
    """Where a new line, laid over the folded paper, crosses the sides of a fold.

    near: how far the new line may lie from the old one.
    """
    side = fold.mouth.first.moved(fold.first_laid)
    onward = line(side.end, side.end + side.end_direction * 4 * near)
    hits = meetings(new, side.joined(onward))
    if not hits:
        raise PaperError(
            f"the edge cannot flow across `{fold.mouth.opening.label}` within {{0}}",
            near,
            help="allow more, or redraw the edge beside it first",
            about="edges",
            code="cannot-flow",
        )
    return min(hits, key=lambda hit: abs(hit.point - side.end)).first_at


def with_sides(opening: Opening, mouth: Mouth, first_end: complex, second_end: complex) -> Opening:
    """An opening whose sides end elsewhere at one of its mouths."""
    first, second = led(mouth.first, first_end), led(mouth.second, second_end)
    if abs(mouth.first.end - opening.first.end) <= JOINED:
        return opening.changed(first=first, second=second)
    return opening.changed(first=second.reversed(), second=first.reversed())


def led(side: Path, end: complex) -> Path:
    """A side cut off or led on straight to a place on its own line."""
    if len(side.segments) == 1 and side.start_direction == side.end_direction:
        return line(side.start, end)
    at, _ = side.nearest(end)
    if at >= side.length - GAP:
        return side.joined(line(side.end, end)) if abs(side.end - end) > GAP else side
    return side.part(0.0, at)
