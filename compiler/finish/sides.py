"""The outline of a piece as sides that each have one allowance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.beside import HEM, Fold, Side
from oaktag.compiler.geometry import Path, chain, line
from oaktag.compiler.paper.chain import INTAKE
from oaktag.compiler.paper.folded import mouth_at
from oaktag.compiler.paper.opening import DART, PLEAT
from oaktag.compiler.paper.ring import Ring
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Allowance
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.piece import Piece

_ON = 0.05  # mm: a section's end this near to an edge lies on it
_SAME = 1e-6  # mm


class Stretch(Record):
    """A part of an edge, from and to in mm along it, and the allowance that it has.

    said: the allowance of the file, or none where there is none. rank: how late in the file it is
    said, and of one line how late in that.
    """

    start: float
    end: float
    said: Allowance | None = None
    rank: tuple[int, int] = (-1, 0)

    @property
    def width(self) -> float:
        return self.said.width if self.said else 0.0

    @property
    def corners(self) -> str:
        """How the allowance ends, as far as that is said; a hem is mirrored if nothing else is."""
        if self.said is None:
            return ""
        return self.said.corners or (HEM if self.said.hem else "")


def stretches(piece: Piece, edge: Edge, allowances: Sequence[Allowance]) -> list[Stretch]:
    """The allowances along one edge of the outline, in order and without gaps."""
    found = [Stretch(0.0, edge.path.length)]
    if edge.on_fold:
        return found
    for number, allowance in enumerate(allowances):
        if allowance.piece != piece.name:
            continue
        if allowance.edges is None:
            rank = (number, piece.edges.index(edge) if allowance.corners else 0)
            found = [Stretch(0.0, edge.path.length, allowance, rank)]
            continue
        for named in allowance.edges:
            for start, end in _meant(piece, edge, named.label):
                found = list(_painted(found, Stretch(start, end, allowance, (number, 0))))
    return found


def sides_of(piece: Piece, allowances: Sequence[Allowance]) -> list[tuple[Side, Allowance | None]]:
    """The sides of the ring, in its order, each with the allowance it has from the file.

    Trimmed darts and pleats are no sides: they are folds behind the one before them.
    """
    ring = Ring(piece)
    folds = _folds(piece, ring)
    found: list[tuple[Side, Allowance | None]] = []
    leading: list[int] = []  # folds before the first side
    for number, edge in enumerate(piece.edges):
        own = [i for i, (owner, _) in enumerate(ring.entries) if owner == number]
        known = stretches(piece, edge, allowances)
        behind = 0.0
        gathered: list[Path] = []
        begun = 0.0
        for i in own:
            run = ring.entries[i][1]
            if i not in folds:
                if not gathered:
                    begun = behind
                gathered.append(run.path)
                behind += run.length
                continue
            found += _cut(gathered, begun, known, number, edge.on_fold)
            gathered = []
            behind += run.length
            if found:
                side, said = found[-1]
                over = run.path if side.over is None else side.over.joined(run.path)
                found[-1] = (side.changed(folds=(*side.folds, *folds[i]), over=over), said)
            else:
                leading.append(i)
        found += _cut(gathered, begun, known, number, edge.on_fold)
    if leading and found:
        side, said = found[-1]
        paths = [ring.entries[i][1].path for i in leading]
        over = chain(paths if side.over is None else [side.over, *paths])
        more = tuple(fold for i in leading for fold in folds[i])
        found[-1] = (side.changed(folds=(*side.folds, *more), over=over), said)
    return found


def _cut(
    paths: Sequence[Path], begun: float, known: Sequence[Stretch], number: int, on_fold: bool
) -> Iterator[tuple[Side, Allowance | None]]:
    """A stretch of an edge between two folds, as sides that each have one allowance."""
    if not paths:
        return
    path = chain(paths)
    for stretch in known:
        start = max(stretch.start - begun, 0.0)
        end = min(stretch.end - begun, path.length)
        if end - start <= _SAME:
            continue
        whole = start <= _SAME and end >= path.length - _SAME
        part = path if whole else path.part(start, end)
        side = Side(part, stretch.width, number, on_fold, stretch.corners, stretch.rank)
        yield side, stretch.said


def _folds(piece: Piece, ring: Ring) -> dict[int, tuple[Fold, ...]]:
    """The trimmed darts and pleats on the outline, by the number of their run."""
    known = {
        item.label: item for item in piece.openings if item.trimmed and item.kind in (DART, PLEAT)
    }
    found: dict[int, tuple[Fold, ...]] = {}
    for i, (_, run) in enumerate(ring.entries):
        opening = known.get(run.opening) if run.role == INTAKE and run.opening else None
        if opening is not None:
            found[i] = tuple(
                Fold(
                    line(*mouth.crease(mouth.first)),
                    line(*mouth.crease(mouth.second)),
                    mouth.closing,
                    onto_first,
                )
                for mouth, onto_first in mouth_at(ring, i, opening).pressed()
            )
    return found


def _meant(piece: Piece, edge: Edge, name: Label) -> Iterator[tuple[float, float]]:
    """The stretches of an edge that a name means: the whole edge, or a section of it."""
    if edge.label.answers(name):
        yield 0.0, edge.path.length
    for section in piece.sections:
        if section.label.answers(name) and edge.label.answers(section.edge):
            start, first_away = edge.path.nearest(section.start)
            end, second_away = edge.path.nearest(section.end)
            if first_away <= _ON and second_away <= _ON and start != end:
                yield min(start, end), max(start, end)


def _painted(known: Sequence[Stretch], new: Stretch) -> Iterator[Stretch]:
    """The stretches with what the new one covers given over to it."""
    for old in known:
        if old.start < new.start - _SAME:
            yield old.changed(end=min(old.end, new.start))
        if old.start <= new.start + _SAME < old.end:
            yield new.changed(start=max(old.start, new.start))
        if old.end > new.end + _SAME:
            yield old.changed(start=max(old.start, new.end))
