"""Ink on a page: figures, text and its width, paths on a reduced scale. In mm, y down."""

from __future__ import annotations

import math
from html import escape
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Arc, Cubic, Line
from oaktag.compiler.sheet.drawing import Text
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.geometry import Box, Path, Segment

SANS = "Arial, Liberation Sans, sans-serif"
MONO = "DejaVu Sans Mono, Consolas, monospace"
RULERS = (1.0, 2.0, 2.5, 4.0, 5.0, 8.0)
"""Scales to which a ruler can be laid: 1 : 2, 1 : 2.5, 1 : 4, …, 1 : 20, …"""
FINE = (1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 6.0, 7.0, 8.0, 9.0)


class View(Record):
    """Where paper lies on a page, in a frame.

    scale: mm of paper in a mm of page. left, top, margin: of the frame. pen: how thick lines are,
    where 1 is right for a picture that fills a page.
    """

    box: Box
    scale: float
    left: float = 0.0
    top: float = 0.0
    margin: float = 2.0
    pen: float = 1.0

    @property
    def width(self) -> float:
        return (self.box[2] - self.box[0]) / self.scale + 2 * self.margin

    @property
    def height(self) -> float:
        return (self.box[3] - self.box[1]) / self.scale + 2 * self.margin

    def at(self, point: complex) -> complex:
        """The place on the page of a point of the paper, y down."""
        return complex(
            self.left + self.margin + (point.real - self.box[0]) / self.scale,
            self.top + self.margin + (self.box[3] - point.imag) / self.scale,
        )

    def path(self, path: Path, close: bool = False) -> str:
        """A path as SVG path data."""
        steps = [f"M{place(self.at(path.start))}"]
        for segment in path.segments:
            steps += self._segment(segment)
        return "".join(steps) + ("Z" if close else "")

    def _segment(self, segment: Segment) -> list[str]:
        end = place(self.at(segment.end))
        if isinstance(segment, Line):
            return [f"L{end}"]
        if isinstance(segment, Cubic):
            return [f"C{place(self.at(segment.first))} {place(self.at(segment.second))} {end}"]
        assert isinstance(segment, Arc)
        if abs(segment.sweep) > 3:  # half a circle and more has two ways from end to end
            first, second = segment.split(0.5)
            return self._segment(first) + self._segment(second)
        radius = figure(segment.radius / self.scale)
        return [f"A{radius} {radius} 0 0 {0 if segment.sweep > 0 else 1} {end}"]


def fitting(box: Box, width: float, height: float, scales: Sequence[float] = RULERS) -> View:
    """The view on the largest scale at which the paper fits into a frame on the page.

    scales: what to choose from between 1 and 10; larger ones are tenfold. Nothing is enlarged.
    """
    view = View(box, 1.0)
    across, up = box[2] - box[0], box[3] - box[1]
    needed = max(across / (width - 2 * view.margin), up / (height - 2 * view.margin), 1.0)
    decade = 10.0 ** math.floor(math.log10(needed))
    return view.changed(
        scale=next(one * decade for one in (*scales, 10) if one * decade >= needed * (1 - 1e-9))
    )


def figure(amount: float) -> str:
    """A figure on the page, to a thousandth of a millimetre."""
    text = f"{amount:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def place(point: complex) -> str:
    return f"{figure(point.real)} {figure(point.imag)}"


def clean(text: str) -> str:
    """Text as it may stand in SVG and HTML, in an attribute too."""
    allowed = "".join(
        letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text
    )
    return escape(allowed)


def text(
    words: str,
    at: complex,
    size: float,
    *,
    anchor: str = "start",
    mono: bool = False,
    bold: bool = False,
    colour: str = "#000",
    halo: bool = False,
) -> str:
    """A line of text. halo: with a white rim, so that it can be read on lines and hatching."""
    rim = ' stroke="#fff" stroke-width=".8" stroke-linejoin="round" paint-order="stroke"'
    return (
        f'<text x="{figure(at.real)}" y="{figure(at.imag)}" font-size="{figure(size)}"'
        f' font-family="{MONO if mono else SANS}"'
        + (f' text-anchor="{anchor}"' if anchor != "start" else "")
        + (' font-weight="bold"' if bold else "")
        + f' fill="{colour}"'
        + (rim if halo else "")
        + (' xml:space="preserve"' if mono else "")
        + f">{clean(words)}</text>"
    )


def width_of(words: str, size: float, *, mono: bool = False, bold: bool = False) -> float:
    """About how wide a text is in mm, rather too wide than too narrow."""
    if not mono:
        return Text(words, 0j, size).width * (0.95 if bold else 0.88)
    return size * sum(0.61 if letter < "\u1100" else 1.05 for letter in words)


def wrapped(
    words: str, width: float, size: float, *, mono: bool = False, bold: bool = False, most: int = 99
) -> list[str]:
    """A text in lines no wider than a width in mm; what goes beyond `most` lines is left out.

    Lines keep the indentation of the first; those of a quoted one are set in further.
    """

    def fits(line: str) -> bool:
        return width_of(line, size, mono=mono, bold=bold) <= width

    start = words[: len(words) - len(words.lstrip(" "))]
    lines, line, rest = [], start, words.split()
    while rest:
        word = rest.pop(0)
        longer = f"{line} {word}" if line.strip() else line + word
        if fits(longer):
            line = longer
        elif line.strip():
            lines.append(line)
            line = start + "  " if mono else start
            rest.insert(0, word)
        else:  # one word, wider than a line
            cut = next((n for n in range(len(word) - 1, 1, -1) if fits(line + word[:n])), 1)
            lines.append(line + word[:cut])
            rest.insert(0, word[cut:])
    lines.append(line)
    return lines if len(lines) <= most else [*lines[: most - 1], f"{lines[most - 1]} …"]
