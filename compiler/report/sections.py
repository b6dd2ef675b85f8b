"""What a page is made of, in words, before it becomes text or HTML."""

from __future__ import annotations

from oaktag.record import Record


class Table(Record):
    """Cells as they are read. A row is as long as the head."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


class Point(Record):
    """One of several things to do, or to know, with a remark below it, or none."""

    words: str
    remark: str = ""


class Section(Record):
    """words: before the table. points: of a list; `numbered` if they come one after the other.
    closing: after all.
    """

    title: str
    words: tuple[str, ...] = ()
    table: Table | None = None
    points: tuple[Point, ...] = ()
    numbered: bool = False
    closing: tuple[str, ...] = ()


class Report(Record):
    """title: of the pattern. about: for whom, from which file, which revision."""

    title: str
    about: tuple[str, ...]
    sections: tuple[Section, ...]
