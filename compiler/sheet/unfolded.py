"""Pieces on the fold opened out, for machines that cut a single layer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import GeometryError, Line, Path, pinned, reflection
from oaktag.compiler.sheet.drawing import CUT, FOLD, GRAIN, extent
from oaktag.compiler.sheet.shelves import set_out
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.geometry import Motion
    from oaktag.compiler.sheet.drawing import Group, Sheet, Stroke

FOLDED = "fold"  # the kind of stroke that an edge on the fold is
_OPENED = "opened fold"
_SIGN = "fold bracket"
_ON = 1e-4  # mm from the fold
_SHARES = (0.0, 0.2, 0.5, 0.9, 1.0)  # of its length: where an image is compared


class Unfolded(Record):
    """opened: names of the pieces that were; folded: of those that could not be."""

    sheet: Sheet
    opened: tuple[str, ...]
    folded: tuple[str, ...]


def unfolded(sheet: Sheet) -> Unfolded:
    """Every piece on the fold with its mirror image as one, without words, all set out anew."""
    groups = [_opened(group) for group in sheet.groups]
    pairs = list(zip(sheet.groups, groups, strict=True))
    opened = tuple(old.name for old, new in pairs if new is not old)
    folded = tuple(group.name for group in groups if _folds(group))
    if not opened:
        return Unfolded(sheet, opened, folded)
    shifts, width, height = set_out([extent(group) for group in groups])
    placed = [group.changed(at=at) for group, at in zip(groups, shifts, strict=True)]
    whole = sheet.changed(width=width, height=height, groups=tuple(placed))
    return Unfolded(whole, opened, folded)


def _opened(group: Group) -> Group:
    """The group opened about each of its folds; unchanged if its cut line does not allow it."""
    made = group
    while folds := _folds(made):
        fold = folds[0].path
        strokes = _mirrored(made.strokes, fold)
        if strokes is None:
            return group
        made = made.changed(strokes=strokes, texts=(), plate=None)
    return made


def _folds(group: Group) -> list[Stroke]:
    return [stroke for stroke in group.strokes if stroke.layer == FOLD and stroke.kind == FOLDED]


def _mirrored(strokes: Sequence[Stroke], fold: Path) -> tuple[Stroke, ...] | None:
    """All strokes and their images beyond a fold; none if a cut line cannot be joined there."""
    about = reflection(fold.start, fold.end)
    found: list[Stroke] = []
    for stroke in strokes:
        if stroke.layer == CUT:
            path = _joined(stroke.path, about)
            if path is None:
                return None
            found.append(stroke.changed(path=path))
        elif stroke.kind == FOLDED and all(_lies(end, about) for end in _ends(stroke.path)):
            found.append(stroke.changed(kind=_OPENED, edge=None))
        elif stroke.kind != _SIGN:
            found += _both(stroke, about)
    return tuple(found)


def _both(stroke: Stroke, about: Motion) -> Iterator[Stroke]:
    """A stroke and its image; once if they are the same, as a notch on the fold, or the grain."""
    yield stroke
    image = stroke.path.moved(about)
    places = (image.point_at(image.length * share) for share in _SHARES)
    same = all(stroke.path.nearest(place)[1] < _ON for place in places)
    if stroke.layer != GRAIN and not same:
        yield stroke.changed(path=image, edge=None)


def _joined(path: Path, about: Motion) -> Path | None:
    """A closed line cut open along the fold, and joined to its image."""
    if not path.closed:
        return None
    segments = path.segments
    on_fold = [
        isinstance(one, Line) and _lies(one.start, about) and _lies(one.end, about)
        for one in segments
    ]
    starts = [at for at, on in enumerate(on_fold) if not on and on_fold[at - 1]]
    if len(starts) != 1:
        return None
    first = starts[0]
    turned = [*range(first, len(segments)), *range(first)]
    half = Path([segments[at] for at in turned if not on_fold[at]])
    image = half.moved(about).reversed()
    try:
        return half.joined(pinned(image, half.end, half.start))
    except GeometryError:  # it does not end on the fold
        return None


def _ends(path: Path) -> list[complex]:
    return [path.start, path.end]


def _lies(place: complex, about: Motion) -> bool:
    return abs(about(place) - place) < 2 * _ON
