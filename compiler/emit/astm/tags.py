"""Entities of the interchange form as DXF R12 writes them: a group code a line, its value below.

Written directly: the form is a dozen kinds of line, and ezdxf always adds the tables, the header
and the model space that the form does without.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

METRIC = "metric"
ENGLISH = "english"
UNITS = (METRIC, ENGLISH)
INCH = 25.4  # mm
_CLOSED = 1


class Tags:
    """The lines of a file as it grows. All lengths are given in mm."""

    def __init__(self, units: str) -> None:
        self.units = units
        self.lines: list[str] = []

    def figure(self, length: float) -> str:
        """A length as the form writes it: mm with two decimals, inches with four."""
        written = f"{length / INCH:.4f}" if self.units == ENGLISH else f"{length:.2f}"
        return written.removeprefix("-") if float(written) == 0 else written

    def tag(self, code: int, value: str) -> None:
        self.lines += [f"{code:>3}", value]

    def begin(self, section: str) -> None:
        self.tag(0, "SECTION")
        self.tag(2, section)

    def end(self) -> None:
        self.tag(0, "ENDSEC")

    def entity(self, kind: str, layer: int) -> None:
        self.tag(0, kind)
        self.tag(8, str(layer))

    def place(self, at: complex, code: int = 10, depth: float = 0.0) -> None:
        """A point; depth: its z."""
        self.tag(code, self.figure(at.real))
        self.tag(code + 10, self.figure(at.imag))
        self.tag(code + 20, self.figure(depth))

    def begin_block(self, name: str) -> None:
        self.entity("BLOCK", 1)
        self.tag(2, name)
        self.tag(70, "0")
        self.place(0j)

    def end_block(self) -> None:
        self.entity("ENDBLK", 1)

    def insert(self, name: str, at: complex) -> None:
        self.entity("INSERT", 1)
        self.tag(2, name)
        self.place(at)

    def line(self, layer: int, start: complex, end: complex) -> None:
        self.entity("LINE", layer)
        self.place(start)
        self.place(end, 11)

    def polyline(self, layer: int, points: Sequence[complex], closed: bool) -> None:
        self.entity("POLYLINE", layer)
        self.tag(66, "1")
        self.place(0j)
        self.tag(70, str(_CLOSED if closed else 0))
        for point in points:
            self.entity("VERTEX", layer)
            self.place(point)
        self.entity("SEQEND", layer)

    def point(self, layer: int, at: complex) -> None:
        self.entity("POINT", layer)
        self.place(at)

    def notch(self, layer: int, at: complex, deep: float, wide: float, angle: float) -> None:
        """deep: as z; wide: at the edge, as thickness; angle: in degrees from the x axis."""
        self.entity("POINT", layer)
        self.place(at, depth=deep)
        self.tag(39, self.figure(wide))
        self.tag(50, f"{angle % 360:.2f}")

    def text(self, layer: int, words: str, at: complex, high: float, angle: float = 0.0) -> None:
        """Words that start at a point, on their foot."""
        self.entity("TEXT", layer)
        self.place(at)
        self.tag(40, self.figure(high))
        self.tag(1, words)
        if angle:
            self.tag(50, f"{angle % 360:.2f}")

    def written(self) -> bytes:
        self.tag(0, "EOF")
        return ("\n".join(self.lines) + "\n").encode("ascii")
