"""The first page of sheets that are pasted together: what to do, the plan, the test squares."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import translation
from oaktag.compiler.paging.furniture import SMALL
from oaktag.compiler.paging.page import MIDDLE, RIGHT, Ink, Page, Words
from oaktag.compiler.paging.paging import AUTO
from oaktag.compiler.paging.plan import plan
from oaktag.compiler.paging.squares import APART, FOUR, TEN, squares
from oaktag.compiler.sheet.drawing import Text
from oaktag.compiler.sheet.identity import set_words
from oaktag.compiler.sheet.lettering import LINE, fitted
from oaktag.compiler.sheet.look import CAPITAL, pen
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.paging.paging import Paging
    from oaktag.compiler.paging.tiles import Table
    from oaktag.compiler.sheet.drawing import Sheet

_TITLE, _FOR, _TEXT = 8.0, 5.0, 3.2  # mm: sizes of type
_SMALL = 2.6  # mm: of the sentences, where there is little room
_LARGER = 1.3  # times, that the plan has to become for the first page to be turned
_FOOT = SMALL * 1.5  # mm, that the number of the page takes


class _Room(Record):
    """A part of a page, in mm from the corner within its margins: its left, its head, its size."""

    left: float
    head: float
    wide: float
    high: float

    @property
    def place(self) -> complex:
        return complex(self.left, self.head)


class _Layout(Record):
    """Where the plan and the sentences stand. beside: whether the squares stand in a row."""

    beside: bool
    plan: _Room
    words: _Room


def cover(table: Table, paging: Paging, sheet: Sheet) -> list[Page]:
    """The first page; where the paper is small, each square on one more.

    The squares stand in a row at its foot, or above each other at its left, and all else around
    them so that the plan becomes large. If that needs it, the first page stands upright where the
    sheets lie on their side, or the other way round.
    """
    lines = list(_advice(table, paging))
    best: tuple[float, _Growing, _Layout] | None = None
    for paper in (table.paper, table.paper[::-1]):
        turned = paper != table.paper
        if turned and best and paging.orientation != AUTO:
            break
        page, head = _begun(paper, paging, sheet)
        for layout in _layouts(page.wide, head, lines):
            scale = _scale(table, layout.plan) / (_LARGER if turned else 1.0)
            if _holds(layout, lines) and (best is None or scale > best[0]):
                best = scale, page, layout
    if best:
        _, page, layout = best
        page.squares(0, 1, layout.beside)
        page.plan(table, layout.plan)
        page.lines(lines, layout.words)
        return _numbered([page], table)
    page, head = _begun(table.paper, paging, sheet)
    half = _Room(0.0, head, page.wide, 0.5 * head)
    used = page.plan(table, half) + APART
    page.lines(lines, _Room(0.0, head - used, page.wide, head - used - _FOOT))
    more = [_Growing(table.paper, paging.margin), _Growing(table.paper, paging.margin)]
    for number, other in enumerate(more):
        other.squares(number, number, True, sheet if not number else None)
    return _numbered([page, *more], table)


def _begun(paper: tuple[float, float], paging: Paging, sheet: Sheet) -> tuple[_Growing, float]:
    """A page with its heading, and how high it is below that."""
    page = _Growing(paper, paging.margin)
    high = paper[1] - 2 * paging.margin
    return page, high - page.heading(sheet, high)


def _layouts(wide: float, head: float, lines: Sequence[str]) -> Iterator[_Layout]:
    """Ways to set plan and sentences around the squares; rooms may turn out to be too small."""
    both = TEN + APART + FOUR
    if wide >= both:
        above, beyond = head - FOUR - APART, both + APART
        right = wide - beyond
        words = _height(lines, wide) + APART
        yield _Layout(True, _Room(beyond, head, right, head - _FOOT), _Room(0.0, head, both, above))
        yield _Layout(True, _Room(0.0, head, wide, above), _Room(beyond, FOUR, right, FOUR - _FOOT))
        yield _Layout(
            True,
            _Room(0.0, head - words, wide, above - words),
            _Room(0.0, head, wide, words - APART),
        )
    if head >= both:
        above, beyond = head - both - APART, FOUR + APART
        right = wide - beyond
        words = _height(lines, right) + APART
        yield _Layout(
            False, _Room(0.0, head, wide, above), _Room(beyond, both, right, both - _FOOT)
        )
        yield _Layout(
            False,
            _Room(beyond, head, right, head - words - _FOOT),
            _Room(beyond, words + _FOOT - APART, right, words - APART),
        )


def _height(lines: Sequence[str], wide: float) -> float:
    """How much the sentences take at their full size."""
    if wide < 2 * _TEXT:
        return 0.0
    broken, size = fitted(lines, wide, 0.0, _TEXT, _TEXT)
    return (sum(map(len, broken)) + 0.5 * len(broken)) * size * LINE


def _holds(layout: _Layout, lines: Sequence[str]) -> bool:
    """Whether the sentences can be read, and squares and plan find room."""
    room = layout.words
    if min(room.wide, room.high, layout.plan.wide, layout.plan.high) < FOUR / 4:
        return False
    broken, size = fitted(lines, room.wide, room.high, _TEXT, _SMALL)
    whole = all(Text(words, 0j, size).width <= room.wide for one in broken for words in one)
    return whole and (sum(map(len, broken)) + 0.5 * (len(broken) - 1)) * size * LINE <= room.high


def _numbered(pages: Sequence[_Growing], table: Table) -> list[Page]:
    count = len(pages) + len(table.tiles)
    for number, page in enumerate(pages, 1):
        page.number(f"page {number} of {count}")
    return [page.made() for page in pages]


def _scale(table: Table, room: _Room) -> float:
    return min(room.wide / table.size[0], room.high / table.size[1])


def _advice(table: Table, paging: Paging) -> Iterator[str]:
    blank = len(table.every) - len(table.tiles)
    yield "Print at 100 % (actual size): no scaling, nothing fitted to the page."
    yield "Measure both squares before you cut. If a side is off, print again."
    yield (
        f"The plan: {_counted(len(table.tiles), 'sheet')} in {_counted(table.rows, 'row')} and "
        f"{_counted(table.columns, 'column')}, each named by its row and column."
    )
    if blank:
        yield f"Crossed out: {blank} blank, not printed."
    if len(table.tiles) > 1 and paging.overlap:
        yield (
            f"Sheets overlap by {paging.length(paging.overlap)}. Cut one along its thin frame, lay "
            "it on the frame of the next so that the halves of the diamonds meet, and paste."
        )
    elif len(table.tiles) > 1:
        yield (
            "Sheets do not overlap. Trim the margins where diamonds are cut, lay sheet to sheet so "
            "that the parts of the diamonds meet, and tape."
        )
    yield "Make a toile first: sew and fit the pattern in cheap cloth before you cut the good one."


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


class _Growing:
    """A page while it is filled; places are counted from the corner within its margins."""

    def __init__(self, paper: tuple[float, float], margin: float) -> None:
        self.paper = paper
        self.corner = complex(margin, margin)
        self.wide = paper[0] - 2 * margin
        self.inks: list[Ink] = []
        self.words: list[Words] = []

    def made(self) -> Page:
        return Page(*self.paper, ink=tuple(self.inks), words=tuple(self.words))

    def heading(self, sheet: Sheet, high: float) -> float:
        """What the print is, from the top down; gives back how much of the height it takes."""
        used = 0.0
        about = ", ".join(filter(None, (sheet.made_for, sheet.state)))
        for line, size, bold in ((sheet.title, _TITLE, True), (about, _FOR, False)):
            if line:
                held = min(size, size * self.wide / Text(line, 0j, size).width)
                used += held * LINE
                self._write(line, complex(0, high - used + 0.4 * held), held, bold)
        if sheet.settings:
            room = _Room(0.0, high - used, self.wide, 4 * _TEXT * LINE)
            used += self.lines([set_words(sheet.settings)], room)
        return used + _FOR * bool(used)

    def squares(self, first: int, last: int, beside: bool, sheet: Sheet | None = None) -> None:
        """The squares from one number to another, at the foot. sheet: as the first of them says."""
        group = squares(first, last, beside, sheet)
        shift = translation(self.corner)
        for stroke in group.strokes:
            self.inks.append(Ink(stroke.path.moved(shift), pen(stroke).width))
        for text in group.texts:
            foot = text.at - CAPITAL * text.size * 1j + self.corner
            self.words.append(Words(text.content, foot, text.size, side=MIDDLE))

    def plan(self, table: Table, room: _Room) -> float:
        """The plan; gives back its height."""
        inks, words, used = plan(table, room.wide, room.high)
        shift = translation(self.corner + room.place)
        self.inks += [ink.changed(path=ink.path.moved(shift)) for ink in inks]
        self.words += [line.changed(at=shift(line.at)) for line in words]
        return used

    def lines(self, sentences: Sequence[str], room: _Room) -> float:
        """Sentences as large as the room allows; gives back how much of its height they take."""
        broken, size = fitted(sentences, room.wide, room.high, _TEXT, 1.5)
        down = 0.0
        for sentence in broken:
            for line in sentence:
                down += size * LINE
                self._write(line, room.place - (down - 0.4 * size) * 1j, size)
            down += size * LINE / 2
        return down

    def number(self, words: str) -> None:
        """Which page it is, in the lower right corner."""
        at = self.corner + complex(self.wide, 0.3 * SMALL)
        self.words.append(Words(words, at, SMALL, side=RIGHT))

    def _write(self, line: str, at: complex, size: float, bold: bool = False) -> None:
        self.words.append(Words(line, at + self.corner, size, bold))
