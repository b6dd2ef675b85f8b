"""The story of a piece: what each of its steps did, as pictures to be drawn.

Here is what a picture shows; how it looks is in `drawing`.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import contains, interior_point, line, ring_area
from oaktag.compiler.geometry.vectors import united
from oaktag.compiler.revise.story.lengths import EdgeLength, edge_lengths
from oaktag.compiler.revise.story.new import changed_edges, new_marks, new_names
from oaktag.compiler.revise.story.outline import along, differing
from oaktag.compiler.revise.story.text import Quote, quoted
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.geometry import Box, Path
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.paper.step import Step
    from oaktag.compiler.revise.story.text import Place, Text

MOST_ALIKE = 12  # what a `repeat` of more turns does is one picture


class Picture(Record):
    """One step, or all turns of a `repeat` together, and what is to be seen of it.

    first, last: the numbers of the steps, from 1. turns: how often it was done. word: the one that
    begins its line. quotes: the lines of text that did it. paper: the piece after it. was: where
    the outline lay before, as far as it differs. fresh: the outline's new stretches. names: the
    lines and openings that are new on the paper. marks: the new ones. Areas are in mm².
    """

    first: int
    last: int
    turns: int
    word: str
    caption: str
    quotes: tuple[Quote, ...]
    paper: Piece
    let_in: tuple[Path, ...]
    cut_away: tuple[Path, ...]
    was: tuple[Path, ...]
    fresh: tuple[Path, ...]
    names: tuple[Label, ...]
    marks: tuple[Mark, ...]
    grain: bool
    area_let_in: float
    area_cut_away: float
    lengths: tuple[EdgeLength, ...]

    @cached_property
    def box(self) -> Box | None:
        """What it needs, in mm of paper; none if there is nothing to be seen yet."""
        paper = self.paper
        paths = [*self.was, *self.let_in, *self.cut_away, *(drawn.path for drawn in paper.lines)]
        if paper.edges:
            paths.append(paper.outline)
        boxes = [path.box() for path in paths]
        boxes += [(m.at.real, m.at.imag, m.at.real, m.at.imag) for m in paper.marks]
        return united(boxes) if boxes else None


class Story(Record):
    """A piece and its pictures in order. box: what all of them need, in mm of paper.

    steps: how many it has. begins: in words, as which piece it begins, if that is told there.
    """

    name: str
    pictures: tuple[Picture, ...]
    box: Box
    steps: int
    begins: str = ""


def story(piece: Piece, text: Text, told: int = 0) -> Iterator[Picture]:
    """The pictures of a piece, in order. told: of how many of its steps another piece tells."""
    before: Piece | None = None
    for first, last, turns in grouped(piece.steps, text):
        steps = piece.steps[first : last + 1]
        if last < told:
            before = steps[-1].paper
            continue
        yield _picture(first, steps, turns, before, text)
        before = steps[-1].paper


def framed(piece: Piece, pictures: Sequence[Picture], begins: str = "") -> Story:
    """The pictures together, in one frame, so that they can be compared."""
    boxes = [picture.box for picture in pictures if picture.box is not None]
    box = united(boxes) if boxes else (0.0, 0.0, 0.0, 0.0)
    return Story(piece.name, tuple(pictures), box, len(piece.steps), begins)


def grouped(steps: Sequence[Step], text: Text) -> list[tuple[int, int, int]]:
    """The first and the last step of each picture, counted from 0, and how many turns they are.

    One picture a step; but all that a `repeat` of more than twelve turns did is one.
    """
    places = [_place(step) for step in steps]
    inside = [text.repeats.get(place, ()) if place else () for place in places]
    groups: list[tuple[int, int, int]] = []
    at = 0
    while at < len(steps):
        last, turns = at, 1
        for depth, repeat in enumerate(inside[at]):
            end = at
            while end + 1 < len(steps) and repeat in inside[end + 1]:
                end += 1
            own = [places[i] for i in range(at, end + 1) if len(inside[i]) == depth + 1]
            often = max((own.count(place) for place in dict.fromkeys(own)), default=0)
            if often > MOST_ALIKE:
                last, turns = end, often
                break
        groups.append((at, last, turns))
        at = last + 1
    return groups


def _place(step: Step) -> Place | None:
    """The line of text that did it, the same for every turn of a `repeat`."""
    return (step.span.source, step.span.start) if step.span else None


def _picture(
    first: int, steps: Sequence[Step], turns: int, before: Piece | None, text: Text
) -> Picture:
    paper, old, new = steps[-1].paper, steps[0].before, steps[-1].after
    if before is not None and before.edges and before.outline != old:
        before = None  # the paper was divided in between: there is nothing to compare with
    let_in, cut_away = _let_in(steps, before), [ring for one in steps for ring in one.cut_away]
    was: tuple[Path, ...] = ()
    fresh: tuple[Path, ...] = ()
    if old is None:
        let_in = []  # a new outline is the paper itself
        fresh = (new,) if new is not None else ()
    elif new is not None and old != new:
        was = differing(old, new)
        beside = [*let_in, *cut_away]
        fresh = tuple(part for one in differing(new, old) for part in along(one, beside))
    places = list(dict.fromkeys(place for step in steps if (place := _place(step))))
    spans = {_place(step): step.span for step in steps if step.span}
    return Picture(
        first=first + 1,
        last=first + len(steps),
        turns=turns,
        word=steps[0].span.text.split()[0] if steps[0].span else steps[0].verb,
        caption=next((step.caption for step in steps if step.caption), "")
        or next((text.captions[one] for one in places if one in text.captions), ""),
        quotes=tuple(quoted(spans[place], text.main) for place in places),
        paper=paper,
        let_in=tuple(let_in),
        cut_away=tuple(cut_away),
        was=was,
        fresh=fresh + (changed_edges(before, paper) if old is not None else ()),
        names=new_names(before, paper) if old is not None else (),
        marks=() if was else new_marks(before, paper),
        grain=paper.grain is not None and (before is None or before.grain is None),
        area_let_in=sum(step.area_let_in for step in steps) if old is not None else 0.0,
        area_cut_away=sum(step.area_cut_away for step in steps),
        lengths=edge_lengths(before, paper) if before is not None or old is None else (),
    )


def _let_in(steps: Sequence[Step], before: Piece | None) -> list[Path]:
    """The paper let in, as it lies after the last of the steps.

    What one turn of a `repeat`, or one dart of several, let in has since moved with its opening.
    """
    had = {item.label for item in before.openings} if before else set()
    openings = [item for item in steps[-1].paper.openings if item.label not in had]
    found = []
    for step in steps:
        for ring in step.let_in:
            area = abs(ring_area(ring))
            own = next((o for o in openings if abs(o.area - area) <= 1e-6 * area), None)
            if own is not None:
                openings.remove(own)
                found.append(_between(own))
            elif len(steps) == 1 or _still_there(ring, steps[-1].paper):
                found.append(ring)
    return found


def _between(opening: Opening) -> Path:
    """The paper between the sides of an opening."""
    ring = opening.first.joined(line(opening.first.end, opening.second.end))
    ring = ring.joined(opening.second.reversed())
    return ring if opening.hinged else ring.joined(line(ring.end, ring.start))


def _still_there(ring: Path, paper: Piece) -> bool:
    return bool(paper.edges) and contains(paper.outline, interior_point(ring))
