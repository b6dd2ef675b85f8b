"""A report as plain text, no wider than 80 columns."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.report.sections import Point, Report, Section, Table

WIDTH = 80
_GAP = 2
_LEAST = 6  # columns: no column of a table is made narrower


def as_text(report: Report) -> bytes:
    """UTF-8, with a line end at the end; what cannot be printed is shown as a box."""
    lines = [*_wrapped(report.title), "=" * min(WIDTH, len(report.title)), ""]
    lines += _wrapped(", ".join(report.about))
    for section in report.sections:
        lines += _section(section)
    return "".join(f"{_clean(line)}\n" for line in lines).encode()


def _section(section: Section) -> Iterator[str]:
    yield from ("", section.title, "-" * len(section.title))
    for words in section.words:
        yield from _wrapped(words)
    if section.table is not None:
        yield from _table(section.table)
        if section.points:
            yield ""
    digits = len(str(len(section.points)))
    for number, point in enumerate(section.points, 1):
        mark = f"{number:>{digits}}. " if section.numbered else "- "
        yield from _point(point, mark)
    for words in section.closing:
        yield from _wrapped(words)


def _point(point: Point, mark: str) -> Iterator[str]:
    yield from _wrapped(point.words, mark, " " * len(mark))
    if point.remark:
        yield from _wrapped(point.remark, " " * len(mark), " " * len(mark))


def _table(table: Table) -> Iterator[str]:
    rows = [table.head, *table.rows]
    widths = _widths(rows)
    for number, row in enumerate(rows):
        cells = [
            _wrapped(cell, width=width) or [""] for cell, width in zip(row, widths, strict=True)
        ]
        for at in range(max(map(len, cells))):
            line = [cell[at] if at < len(cell) else "" for cell in cells]
            padded = (words.ljust(width) for words, width in zip(line, widths, strict=True))
            yield (" " * _GAP).join(padded).rstrip()
        if not number:
            yield (" " * _GAP).join("-" * width for width in widths)


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    """As wide as the widest cell; the widest columns give way where the page is too narrow."""
    columns = list(zip(*rows, strict=True))
    widths = [max(1, *map(len, column)) for column in columns]
    words = [
        max(len(word) for cell in column for word in (*cell.split(), "")) for column in columns
    ]
    room = WIDTH - _GAP * (len(widths) - 1)
    for least in (words, [_LEAST] * len(widths)):  # words are broken only where nothing else helps
        while sum(widths) > room:
            wide = [(width, -at) for at, width in enumerate(widths) if width > least[at]]
            if not wide:
                break
            widths[-max(wide)[1]] -= 1
    return widths


def _wrapped(words: str, first: str = "", rest: str = "", width: int = WIDTH) -> list[str]:
    return textwrap.wrap(
        words,
        width,
        initial_indent=first,
        subsequent_indent=rest,
        break_on_hyphens=False,
    )


def _clean(line: str) -> str:
    return "".join(
        letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in line
    )
