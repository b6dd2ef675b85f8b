"""The first page of sheets that are pasted together: what to do, the plan, the test squares."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import translation
from oaktag.compiler.paging.furniture import SMALL
from oaktag.compiler.paging.page import MIDDLE, RIGHT, Ink, Page, Words
from oaktag.compiler.paging.plan import plan
from oaktag.compiler.paging.squares import APART, FOUR, TEN, squares
from oaktag.compiler.sheet.drawing import Text
from oaktag.compiler.sheet.look import CAPITAL, pen

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.paging.paging import Paging
    from oaktag.compiler.paging.tiles import Table

_TITLE, _FOR, _TEXT = 8.0, 5.0, 3.2  # mm: sizes of type
_LINE = 1.4  # from line to line, of the size
_WORDS = 50.0  # mm: what the words need across the page
_NARROW = 50.0  # mm: what words and plan need beside the squares


def cover(table: Table, paging: Paging, title: str, made_for: str) -> list[Page]:
    """The first page; where the paper is small, each square on one more.

    The squares stand in a row at its foot, or above each other at its left.
    """
    wide, high = (side - 2 * paging.margin for side in table.paper)
    corner = complex(paging.margin, paging.margin)
    page = _Growing(corner, wide)
    head = high - page.heading(title, made_for, high, wide)
    lines = _advice(table, paging)
    row = TEN + APART + FOUR + APART
    if wide >= row + _NARROW and head >= FOUR + _NARROW:
        page.squares(0, 1, beside=True)
        beside, above = (wide - row, head), (wide, head - FOUR - APART - _WORDS)
        if _scale(table, *above) > _scale(table, *beside):
            page.lines(lines, complex(0, head), wide, _WORDS - APART)
            page.plan(table, complex(0, head - _WORDS), *above)
        else:
            page.plan(table, complex(row, head), *beside)
            page.lines(lines, complex(0, head), row - APART, head - FOUR - APART)
        return _numbered([page], table)
    if wide >= FOUR + APART + _NARROW and head >= TEN + FOUR + 2 * APART:
        page.squares(0, 1, beside=False)
        room = wide - FOUR - APART
        used = page.plan(table, complex(FOUR + APART, head), room, 0.5 * head) + APART
        page.lines(lines, complex(FOUR + APART, head - used), room, head - used)
        return _numbered([page], table)
    used = page.plan(table, complex(0, head), wide, 0.5 * head) + APART
    page.lines(lines, complex(0, head - used), wide, head - used)
    more = [_Growing(corner, wide), _Growing(corner, wide)]
    for number, other in enumerate(more):
        other.squares(number, number, beside=True)
    return _numbered([page, *more], table)


def _numbered(pages: Sequence[_Growing], table: Table) -> list[Page]:
    count = len(pages) + len(table.tiles)
    for number, page in enumerate(pages, 1):
        page.number(f"page {number} of {count}")
    return [page.made(*table.paper) for page in pages]


def _scale(table: Table, wide: float, high: float) -> float:
    return min(wide / table.size[0], high / table.size[1])


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

    def __init__(self, corner: complex, wide: float) -> None:
        self.corner = corner
        self.wide = wide
        self.inks: list[Ink] = []
        self.words: list[Words] = []

    def made(self, width: float, height: float) -> Page:
        return Page(width, height, ink=tuple(self.inks), words=tuple(self.words))

    def heading(self, title: str, made_for: str, head: float, wide: float) -> float:
        """Title and size from the top down; gives back how much of the height they take."""
        used = 0.0
        for line, size, bold in ((title, _TITLE, True), (made_for, _FOR, False)):
            if line:
                fitted = min(size, size * wide / Text(line, 0j, size).width)
                used += fitted * _LINE
                self._write(line, complex(0, head - used + 0.4 * fitted), fitted, bold)
        return used + _FOR * bool(used)

    def squares(self, first: int, last: int, beside: bool) -> None:
        """The squares from one number to another, at the foot."""
        group = squares(first, last, beside)
        shift = translation(self.corner)
        for stroke in group.strokes:
            self.inks.append(Ink(stroke.path.moved(shift), pen(stroke).width))
        for text in group.texts:
            foot = text.at - CAPITAL * text.size * 1j + self.corner
            self.words.append(Words(text.content, foot, text.size, side=MIDDLE))

    def plan(self, table: Table, place: complex, wide: float, high: float) -> float:
        """The plan from its upper left corner; gives back its height."""
        inks, words, used = plan(table, wide, high)
        shift = translation(self.corner + place)
        self.inks += [ink.changed(path=ink.path.moved(shift)) for ink in inks]
        self.words += [line.changed(at=shift(line.at)) for line in words]
        return used

    def lines(self, texts: Iterator[str], place: complex, wide: float, high: float) -> None:
        """Sentences from their upper left corner, as large as the room allows."""
        sentences = list(texts)
        size = _TEXT
        while size > 1.5:
            broken = [_broken(sentence, size, wide) for sentence in sentences]
            lines = sum(map(len, broken)) + 0.5 * (len(broken) - 1)
            if lines * size * _LINE <= high:
                break
            size *= 0.95
        down = 0.0
        for sentence in broken:
            for line in sentence:
                down += size * _LINE
                self._write(line, place - (down - 0.4 * size) * 1j, size)
            down += size * _LINE / 2

    def number(self, words: str) -> None:
        """Which page it is, in the lower right corner."""
        at = self.corner + complex(self.wide, 0.3 * SMALL)
        self.words.append(Words(words, at, SMALL, side=RIGHT))

    def _write(self, line: str, at: complex, size: float, bold: bool = False) -> None:
        self.words.append(Words(line, at + self.corner, size, bold))


def _broken(sentence: str, size: float, wide: float) -> Sequence[str]:
    """Lines that fit a width."""
    lines = [""]
    for word in sentence.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and Text(longer, 0j, size).width > wide:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines
