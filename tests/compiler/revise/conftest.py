"""Stories told of a few lines of the language."""

from __future__ import annotations

import re
import struct
import textwrap
import zlib
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.revise.story.telling import framed, story
from oaktag.compiler.revise.story.text import Text
from oaktag.lang.diagnostics import render
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.revise.story.telling import Picture, Story

# A panel of 20 by 40 cm with a dart in the waist, closed so that the hem opens.
DARTED = """\
pattern "Panel"

piece panel
  top_left = origin
  top_right = origin right 20 cm
  foot_right = top_right down 40 cm
  foot_left = top_left down 40 cm
  # a panel to try things on
  outline
    waist = top_left to top_right
    side = top_right to foot_right
    hem = foot_right to foot_left
    centre = foot_left to top_left
  dart waist_dart on waist at 1/2 from centre intake 2 cm length 10 cm
  line flare = waist_dart.point down to hem
  # the waist becomes smaller, the hem wider
  close waist_dart into flare
"""


class Teller:
    """Tells stories of texts that lie in a folder."""

    darted = DARTED

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def stories(self, text: str, name: str = "panel.oak", **measures: float) -> dict[str, Story]:
        """The story of every piece of a text, which is put into the folder under a name."""
        path = self.folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(textwrap.dedent(text), encoding="utf-8")
        return self.of_file(str(path), **measures)

    def of_file(self, path: str, **measures: float) -> dict[str, Story]:
        return {
            piece.name: framed(piece, list(story(piece, self.text)))
            for piece in self._drawn(path, measures)
        }

    def pieces(self, text: str) -> list[Piece]:
        """The pieces of a text, and what is needed to tell of them."""
        path = self.folder / "pieces.oak"
        path.write_text(text, encoding="utf-8")
        return self._drawn(str(path), {})

    def _drawn(self, path: str, measures: dict[str, float]) -> list[Piece]:
        program = load(path, DiskFiles(path))
        given = {word: Quantity("length", amount) for word, amount in measures.items()}
        result = evaluate(program, given) if program.sound else None
        if result is None or result.pattern is None:
            said = [*program.diagnostics, *(result.diagnostics if result else ())]
            pytest.fail("\n\n".join(render(one) for one in said), pytrace=False)
        self.text = Text(program)
        return list(result.pattern.pieces.values())

    def pictures(self, text: str) -> tuple[Picture, ...]:
        """Those of the last piece."""
        return list(self.stories(text).values())[-1].pictures


@pytest.fixture
def teller(tmp_path: Path) -> Teller:
    (tmp_path / "oaktag.toml").touch()
    return Teller(tmp_path)


@pytest.fixture(scope="session")
def grey() -> Callable[..., list[list[int]]]:
    """Renders a square of 8 mm as a printer without colour would: rows of grey, 0 is black.

    corner: the upper left one, in mm on the page.
    """
    import resvg_py

    def rows(svg: bytes, corner: complex) -> list[list[int]]:
        size = 'width="64" height="64"'
        box = f'viewBox="{corner.real} {corner.imag} 8 8"'
        text = re.sub(
            r'width="[^"]*" height="[^"]*" viewBox="[^"]*"', f"{size} {box}", svg.decode()
        )
        data = bytes(resvg_py.svg_to_bytes(svg_string=text))
        width, _, pixels = _pixels(data)
        # ITU-R BT.601, as printers' drivers weigh colours.
        return [
            [
                round(0.299 * row[4 * x] + 0.587 * row[4 * x + 1] + 0.114 * row[4 * x + 2])
                for x in range(width)
            ]
            for row in pixels
        ]

    return rows


def _pixels(png: bytes) -> tuple[int, int, list[bytearray]]:
    """The rows of a PNG of 8 bits with transparency, not interlaced (W3C PNG, chapter 9)."""
    width, height, depth, kind, _, _, laced = struct.unpack(">IIBBBBB", png[16:29])
    assert (depth, kind, laced) == (8, 6, 0)
    at, packed = 8, b""
    while at < len(png):
        (size,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"IDAT":
            packed += png[at + 8 : at + 8 + size]
        at += size + 12
    raw = zlib.decompress(packed)
    rows: list[bytearray] = []
    above = bytearray(4 * width)
    for y in range(height):
        start = y * (4 * width + 1)
        row = bytearray(raw[start + 1 : start + 1 + 4 * width])
        _undo(raw[start], row, above)
        rows.append(row)
        above = row
    return width, height, rows


def _undo(filtering: int, row: bytearray, above: bytearray) -> None:
    if filtering == 2:
        row[:] = bytes((a + b) & 255 for a, b in zip(row, above, strict=True))
        return
    if not filtering:
        return
    for i in range(len(row)):
        left = row[i - 4] if i >= 4 else 0
        corner = above[i - 4] if i >= 4 else 0
        if filtering == 1:
            guess = left
        elif filtering == 3:
            guess = (left + above[i]) // 2
        else:
            near = left + above[i] - corner
            guess = min((left, above[i], corner), key=lambda one: abs(near - one))
        row[i] = (row[i] + guess) & 255
