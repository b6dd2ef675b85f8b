"""Pages of pictures as SVG: one for each step, and sheets with all steps in order."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.revise.story.drawing import drawn, key_to, kinds, patterns
from oaktag.compiler.revise.story.ink import (
    FINE,
    clean,
    figure,
    fitting,
    text,
    width_of,
    wrapped,
)
from oaktag.compiler.revise.story.words import areas, heading, in_a_row, lengths, names, number
from oaktag.lang.units import MILLIMETRES, show_length
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.revise.story.ink import View
    from oaktag.compiler.revise.story.telling import Picture, Story

EDGE = 10.0  # mm: the margin of a page, which printers leave white
GAP = 6.0  # mm between pictures of a sheet
TITLE = 9.0  # mm: the line at the head of a sheet, with a smaller one below it
SMALL = 2.6  # mm
LARGER = 1.25  # text on a page of its own, compared with a sheet
# A4 and A3 (ISO 216), in mm, and how long the longer side of a picture has to be on each.
PAPERS = ((210.0, 297.0, 50.0), (297.0, 210.0, 50.0), (420.0, 297.0, 48.0), (297.0, 420.0, 48.0))
SPARING = 0.65  # lines of the small pictures on a sheet, compared with a page
MOST_QUOTED = 9  # lines of text below a picture on a sheet
NARROWEST = 42.0  # mm: a picture with its text


class _Row(Record):
    """A line of text beside a picture."""

    words: str
    size: float
    mono: bool = False
    bold: bool = False
    colour: str = "#000"

    @property
    def height(self) -> float:
        return self.size * 1.35


class _Plan(Record):
    """How pictures are set out on a sheet: by rows, each with the text of its pictures."""

    paper: tuple[float, float, float]
    columns: int
    pictures: tuple[Picture, ...]
    texts: tuple[tuple[_Row, ...], ...]
    view: View

    @property
    def readable(self) -> bool:
        return max(self.view.width, self.view.height) >= self.paper[2]

    @property
    def cell(self) -> float:
        """The width of a picture with its text."""
        return (self.paper[0] - 2 * EDGE - (self.columns - 1) * GAP) / self.columns

    def text_height(self, first: int) -> float:
        """Of the row that begins with a picture, in mm."""
        beside = self.texts[first : first + self.columns]
        return max(sum(row.height for row in rows) for rows in beside)


def step_pages(story: Story, title: str, unit: str) -> Iterator[bytes]:
    """For each picture an A4 page with all that is said of it, all on one scale."""
    width, height, view = min(
        (_step_view(story, unit, paper[0], paper[1]) for paper in PAPERS[:2]),
        key=lambda plan: plan[2].scale,
    )
    view = view.changed(left=(width - view.width) / 2, top=EDGE)
    for picture in story.pictures:
        rows = list(_rows(picture, unit, width - 2 * EDGE, LARGER))
        foot = complex(EDGE, height - EDGE)
        name = f"{title}, {story.name}, step {number(picture)}"
        yield page(
            width,
            height,
            name,
            [
                patterns(),
                drawn(picture, view, "", 2.6),
                _text(rows, EDGE, EDGE + view.height + TITLE / 2),
                key_to(kinds([picture]), foot, 2.6),
                ruler(view.scale, width - EDGE, foot.imag, unit),
            ],
        )


def _step_view(story: Story, unit: str, width: float, height: float) -> tuple[float, float, View]:
    """What remains of a page for the pictures, if there is room for the longest text as well."""
    texts = [
        sum(row.height for row in _rows(picture, unit, width - 2 * EDGE, LARGER))
        for picture in story.pictures
    ]
    room = height - 2 * EDGE - TITLE - max(texts, default=0.0) - 5
    return width, height, fitting(story.box, width - 2 * EDGE, max(room, 40.0))


def sheets(story: Story, title: str, unit: str, about: str = "") -> list[bytes]:
    """All pictures in order on A4 or A3; on several sheets if they would become too small.

    about: revision and settings, which stand below the title.
    """
    count = len(story.pictures)
    for pages in range(1, count + 1):
        each = math.ceil(count / pages)
        parts = [story.pictures[at : at + each] for at in range(0, count, each)]
        for paper in PAPERS:
            plans = [_plan(story, part, paper, unit) for part in parts]
            if all(plan is not None and (plan.readable or each == 1) for plan in plans):
                done = [plan for plan in plans if plan is not None]
                scale = max(plan.view.scale for plan in done)
                return [_sheet(story, plan, scale, title, about, unit) for plan in done]
    return []


def _plan(
    story: Story,
    pictures: tuple[Picture, ...],
    paper: tuple[float, float, float],
    unit: str,
) -> _Plan | None:
    """The number of columns with which the pictures become largest, if they find room at all."""
    best: _Plan | None = None
    for columns in range(1, min(len(pictures), 8) + 1):
        plan = _Plan(paper, columns, pictures, (), fitting(story.box, 100, 100))
        texts = tuple(tuple(_rows(picture, unit, plan.cell, 1.0)) for picture in pictures)
        plan = plan.changed(texts=texts)
        starts = range(0, len(pictures), columns)
        room = paper[1] - 2 * EDGE - 2 * TITLE - sum(plan.text_height(at) + GAP for at in starts)
        high = room / len(starts) - 2
        if high < 8 or (plan.cell < NARROWEST and columns > 1):
            continue
        plan = plan.changed(view=fitting(story.box, plan.cell, high, FINE).changed(pen=SPARING))
        if best is None or plan.view.scale < best.view.scale:
            best = plan
    return best


def _sheet(story: Story, plan: _Plan, scale: float, title: str, about: str, unit: str) -> bytes:
    width, height, _ = plan.paper
    view = plan.view.changed(scale=scale)
    first, last = plan.pictures[0], plan.pictures[-1]
    words = f"{title}: {story.name}, steps {first.first} to {last.last}"
    (head,) = wrapped(words, width - 2 * EDGE, 4, bold=True, most=1)
    body = [patterns(), text(head, complex(EDGE, EDGE + 4), 4, bold=True)]
    more = "; ".join(filter(None, (story.begins, about)))
    if more:
        (below,) = wrapped(more, width - 2 * EDGE, SMALL, most=1)
        body.append(text(below, complex(EDGE, EDGE + TITLE - 1), SMALL))
    y = EDGE + TITLE
    for start in range(0, len(plan.pictures), plan.columns):
        for column, at in enumerate(range(start, min(start + plan.columns, len(plan.pictures)))):
            x = EDGE + column * (plan.cell + GAP)
            own = view.changed(left=x + (plan.cell - view.width) / 2, top=y)
            body.append(drawn(plan.pictures[at], own, f"step-{at}-", 2.0, sparing=True))
            body.append(_text(plan.texts[at], x, y + view.height + 4))
        y += view.height + 2 + plan.text_height(start) + GAP
    foot = complex(EDGE, height - EDGE)
    body.append(key_to(kinds(plan.pictures), foot, 2.6))
    body.append(ruler(scale, width - EDGE, foot.imag, unit))
    return page(width, height, words, body)


def _rows(picture: Picture, unit: str, width: float, larger: float) -> Iterator[_Row]:
    """All that is said of a picture, in lines of a width in mm. larger: than on a sheet."""
    title, small = 2.7 * larger, 2.2 * larger
    words = f"{number(picture)}. {heading(picture)}"
    for line in wrapped(words, width, title, bold=True, most=4):
        yield _Row(line, title, bold=True)
    lines: list[_Row] = []
    for quote in picture.quotes:
        for part in wrapped(f"{quote.file}:{quote.line}", width, small, most=2):
            lines.append(_Row(part, small * 0.9, colour="#404040"))
        for line in quote.text:
            lines += [
                _Row(part, small, mono=True) for part in wrapped(line, width, small, mono=True)
            ]
    most = round(MOST_QUOTED * larger * larger)
    yield from lines[:most]
    if len(lines) > most:
        yield _Row("…", small, mono=True)
    said = [", ".join(areas(picture, unit)), names(picture), in_a_row(lengths(picture, unit))]
    for words in said:
        for line in wrapped(words, width, small, most=4) if words else ():
            yield _Row(line, small)


def _text(rows: Sequence[_Row], x: float, y: float) -> str:
    parts = []
    for row in rows:
        if row.words:
            at = complex(x, y)
            parts.append(
                text(row.words, at, row.size, mono=row.mono, bold=row.bold, colour=row.colour)
            )
        y += row.height
    return "".join(parts)


def ruler(scale: float, right: float, y: float, unit: str) -> str:
    """A length to measure by, and the scale, set to the right."""
    inches = unit in ("in", "ft", "yd")
    one = "in" if inches else "cm"
    steps = [n * 10**power for power in range(5) for n in (1, 2, 4 if inches else 5)]
    least = 12 * scale / MILLIMETRES[one]
    length = next((n for n in steps if n >= least), steps[-1]) * MILLIMETRES[one]
    words = f"{show_length(length, one)}, scale 1 : {scale:g}"
    wide = length / scale
    left = right - wide - 2 - width_of(words, 2.6)
    bar = f"M{figure(left)} {figure(y - 2)}v2h{figure(wide)}v-2"
    return f'<path d="{bar}" fill="none" stroke="#000" stroke-width=".25"/>' + text(
        words, complex(left + wide + 2, y), 2.6
    )


def page(width: float, height: float, name: str, body: Sequence[str]) -> bytes:
    """A white page of so many mm as one SVG file."""
    size = f'width="{figure(width)}mm" height="{figure(height)}mm"'
    box = f"0 0 {figure(width)} {figure(height)}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="{box}">\n'
        f"<title>{clean(name)}</title>\n"
        f'<rect width="{figure(width)}" height="{figure(height)}" fill="#fff"/>\n'
        + "\n".join(part for part in body if part)
        + "\n</svg>\n"
    ).encode()
