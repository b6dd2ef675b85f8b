"""Where the names of edges, lines and darts stand in a picture, without lying on each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import interior_point
from oaktag.compiler.geometry.vectors import united
from oaktag.compiler.paper.opening import DART, FISHEYE
from oaktag.compiler.revise.story.ink import text, width_of
from oaktag.compiler.revise.story.new import section_path
from oaktag.compiler.revise.story.words import written
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.geometry import Box, Path
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.revise.story.ink import View
    from oaktag.compiler.revise.story.telling import Picture

MOST = 12  # more new names than these are not all written
GAP = 0.8  # mm on the page, from a line to its name
LARGE = 200.0  # mm² on the page: what is of this size is not hidden by a name
ALONG = (0.5, 0.35, 0.65, 0.2, 0.8)


class _Name(Record):
    """A name and the places where it may stand, the best first, as the middle of the text."""

    words: str
    places: tuple[complex, ...]
    bold: bool = False


def labels(
    picture: Picture, view: View, size: float, taken: Sequence[Box], sparing: bool
) -> list[str]:
    """The names that find room: what is new first, then edges, then what lies on the paper.

    taken: places on the page that are covered. sparing: only what is new or changed its length.
    """
    used = [*taken, *_small(picture, view)]
    found = []
    told = {edge.name for edge in picture.lengths} if sparing else None
    for name in _names(picture, view, size, told):
        wide, high = width_of(name.words, size, bold=name.bold), size
        for middle in name.places:
            box = (
                middle.real - wide / 2,
                middle.imag - high / 2,
                middle.real + wide / 2,
                middle.imag + high / 2,
            )
            if _inside(box, view) and not any(_touch(box, other) for other in used):
                used.append(box)
                at = middle + 0.36j * size
                found.append(text(name.words, at, size, anchor="middle", bold=name.bold, halo=True))
                break
    return found


def _names(picture: Picture, view: View, size: float, told: set[str] | None) -> Iterator[_Name]:
    paper, new = picture.paper, picture.names
    bold = set(new) if len(new) <= MOST else {new[0], new[-1]}
    drawn = [
        (line.label, _beside(written(line.label), line.path, view, size)) for line in paper.lines
    ]
    drawn += [(item.label, _within(item, view, size)) for item in paper.openings]
    for section in paper.sections:
        path = section_path(paper, section) if section.label in bold else None
        if path is not None:
            drawn.append((section.label, _beside(written(section.label), path, view, size)))
    for label, places in drawn:
        if label in bold:
            yield _Name(written(label), places, True)
    for name, part in paper.parts:
        yield _Name(name, (view.at(interior_point(part.outline)),), True)
    widest: dict[Label, Edge] = {}
    for edge in paper.edges:
        if edge.label not in widest or widest[edge.label].length < edge.length:
            widest[edge.label] = edge
    for edge in widest.values():
        if edge.length / view.scale >= size and (told is None or str(edge.label) in told):
            words = f"{edge.label} (fold)" if edge.on_fold else str(edge.label)
            yield _Name(words, _beside(words, edge.path, view, size, paper.inward))
    if len(drawn) <= MOST and told is None:
        for label, places in drawn:
            if label not in bold:
                yield _Name(written(label), places)


def _small(picture: Picture, view: View) -> Iterator[Box]:
    """Darts and paper cut away that a name would hide."""
    boxes = [ring.box() for ring in picture.cut_away]
    boxes += [
        united((item.first.box(), item.second.box()))
        for item in picture.paper.openings
        if item.kind == DART
    ]
    for left, bottom, right, top in boxes:
        if (right - left) * (top - bottom) < LARGE * view.scale**2:
            first, last = view.at(complex(left, top)), view.at(complex(right, bottom))
            yield (first.real, first.imag, last.real, last.imag)


def _beside(
    words: str, path: Path, view: View, size: float, inward: complex = 1j
) -> tuple[complex, ...]:
    """Places beside a path: inside an edge, on either side of a line."""
    wide = width_of(words, size, bold=True)
    places = []
    for share in ALONG:
        at = path.length * share
        # The page's y runs down.
        square = (path.tangent_at(at) * inward).conjugate()
        away = GAP + abs(square.real) * wide / 2 + abs(square.imag) * size / 2
        places.append(view.at(path.point_at(at)) + square * away)
    return tuple(places)


def _within(item: Opening, view: View, size: float) -> tuple[complex, ...]:
    """Places for a dart's name: before its point, else between its sides."""
    between = [
        view.at(
            (
                item.first.point_at(item.first.length * s)
                + item.second.point_at(item.second.length * s)
            )
            / 2
        )
        for s in (0.5, 0.7, 0.3)
    ]
    if item.kind == FISHEYE or not item.hinged:
        return tuple(between)
    mouth = view.at((item.first.end + item.second.end) / 2)
    point = view.at(item.point)
    way = (point - mouth) / abs(point - mouth) if abs(point - mouth) > 0 else 1j
    before = point + way * (GAP + size)
    wide = abs(item.first.end - item.second.end) / view.scale > 2.5 * size
    return (between[1], before, *between) if wide else (before, *between)


def _inside(box: Box, view: View) -> bool:
    return (
        box[0] >= view.left
        and box[1] >= view.top
        and box[2] <= view.left + view.width
        and box[3] <= view.top + view.height
    )


def _touch(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
