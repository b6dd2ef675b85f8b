"""A text and places in it."""

from __future__ import annotations

import os
from bisect import bisect_right


class Source:
    """A text with the name it is shown under; compared by identity."""

    __slots__ = ("_starts", "name", "text")

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        self._starts: list[int] = []

    def _line_starts(self) -> list[int]:
        if not self._starts:
            starts = [0]
            at = self.text.find("\n")
            while at >= 0:
                starts.append(at + 1)
                at = self.text.find("\n", at + 1)
            self._starts = starts
        return self._starts

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column, both counted from 1, of an offset into the text."""
        starts = self._line_starts()
        line = bisect_right(starts, offset)
        return line, offset - starts[line - 1] + 1

    def line(self, number: int) -> str:
        """The text of a line (counted from 1) without its line end."""
        starts = self._line_starts()
        end = starts[number] - 1 if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end].rstrip("\r")


class Span:
    """A stretch of a text: from one offset up to, not including, another."""

    __slots__ = ("end", "source", "start")

    def __init__(self, source: Source, start: int, end: int) -> None:
        self.source = source
        self.start = start
        self.end = end

    @property
    def line(self) -> int:
        return self.source.place(self.start)[0]

    @property
    def column(self) -> int:
        return self.source.place(self.start)[1]

    @property
    def text(self) -> str:
        return self.source.text[self.start : self.end]

    def to(self, other: Span) -> Span:
        """From the start of this one to the end of the other."""
        return Span(self.source, self.start, other.end)

    def __repr__(self) -> str:
        line, column = self.source.place(self.start)
        return f"{self.source.name}:{line}:{column}"


SHIPPED = os.path.join("oaktag", "stdlib", "")
"""How the names of patterns begin that come with oaktag."""


def seen_from(main: str, name: str) -> str:
    """The name of a file as it lies from another; patterns that come with oaktag by their own."""
    if not name.startswith(SHIPPED):
        name = os.path.relpath(name, os.path.dirname(main) or os.curdir)
    return name.replace(os.sep, "/")
