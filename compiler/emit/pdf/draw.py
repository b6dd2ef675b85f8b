"""Pages drawn with reportlab."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from oaktag.compiler.emit.pdf.letters import BOLD, REGULAR, face, printable
from oaktag.compiler.geometry import Arc, Cubic, cubics
from oaktag.compiler.paging.page import MIDDLE, RIGHT
from oaktag.compiler.sheet.drawing import LAYERS, TEXT
from oaktag.compiler.sheet.look import CAPITAL, pen

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.geometry import Box, Path, Segment
    from oaktag.compiler.paging.page import Ink, Page, Paged, Words
    from oaktag.compiler.sheet.drawing import Stroke, Text

ROUND = 0.001  # mm: how far from its circle an arc may be drawn
PAGE_LAYER = "page"
_INK, _PAPER = 0, 1  # grey


class Brush:
    """Draws pages of a print on a canvas; scale: units of the canvas in a millimetre."""

    def __init__(self, canvas: Any, scale: float, made: Paged) -> None:
        self.canvas = canvas
        self.scale = scale
        self.made = made
        self.ink = _PAPER if made.dark else _INK
        self.reach = made.thick  # mm around a stroke that its ink may take

    def page(self, page: Page) -> None:
        """One page; the layers below each other as on every output, its own on top."""
        canvas = self.canvas
        if self.made.dark:
            canvas.setFillGray(_INK)
            canvas.rect(0, 0, page.width * self.scale, page.height * self.scale, stroke=0, fill=1)
        canvas.setStrokeGray(self.ink)
        canvas.setFillGray(self.ink)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        if page.window is not None:
            canvas.saveState()
            self._clip(page)
            self._drawing(page.window, page.at - complex(*page.window[:2]))
            self._on_layer(PAGE_LAYER, [lambda: self._inks(page.marks)])
            canvas.restoreState()
        self._on_layer(PAGE_LAYER, [lambda: self._inks(page.ink), lambda: self._words(page.words)])

    def _clip(self, page: Page) -> None:
        assert page.window is not None
        left, bottom, right, top = page.window
        outline = self.canvas.beginPath()
        corner = page.at * self.scale
        outline.rect(
            corner.real, corner.imag, (right - left) * self.scale, (top - bottom) * self.scale
        )
        self.canvas.clipPath(outline, stroke=0, fill=0)

    def _drawing(self, window: Box, shift: complex) -> None:
        """What of the drawing touches the window, layer by layer."""
        for layer in LAYERS:
            jobs: list[Any] = []
            for group in self.made.groups:
                for stroke in group.strokes:
                    if stroke.layer == layer and _touch(
                        stroke.path.box(), group.at, window, self.reach
                    ):
                        jobs.append((self._stroke, stroke, group.at + shift))
                if layer == TEXT:
                    for text in group.texts:
                        if _touch(_room(text), group.at, window, 0.0):
                            jobs.append((self._text, text, group.at + shift))
            self._on_layer(layer, [_bound(*job) for job in jobs])

    def _on_layer(self, layer: str, jobs: list[Any]) -> None:
        if not jobs:
            return
        self.canvas.addLiteral(f"/OC /{layer} BDC")
        for job in jobs:
            job()
        self.canvas.addLiteral("EMC")

    def _stroke(self, stroke: Stroke, at: complex) -> None:
        look = pen(stroke)
        self._pen(look.width * self.made.thick, [dash * self.made.thick for dash in look.dashes])
        self.canvas.drawPath(self._path(stroke.path, at), stroke=1, fill=0)

    def _pen(self, width: float, dashes: Any) -> None:
        self.canvas.setLineWidth(width * self.scale)
        self.canvas.setDash([dash * self.scale for dash in dashes])

    def _path(self, path: Path, at: complex) -> Any:
        scale = self.scale
        drawn = self.canvas.beginPath()
        start = (path.start + at) * scale
        drawn.moveTo(start.real, start.imag)
        for segment in _without_arcs(path.segments):
            end = (segment.end + at) * scale
            if isinstance(segment, Cubic):
                first, second = (segment.first + at) * scale, (segment.second + at) * scale
                drawn.curveTo(first.real, first.imag, second.real, second.imag, end.real, end.imag)
            else:
                drawn.lineTo(end.real, end.imag)
        if path.closed:
            drawn.close()
        return drawn

    def _text(self, text: Text, at: complex) -> None:
        bold = text.kind == "name"
        self._line(text.content, text.at + at, text.size, bold, MIDDLE, text.angle, CAPITAL)

    def _words(self, words: tuple[Words, ...]) -> None:
        for line in words:
            self._line(line.content, line.at, line.size, line.bold, line.side, line.angle, 0.0)

    def _line(
        self,
        content: str,
        at: complex,
        size: float,
        bold: bool,
        side: str,
        angle: float,
        sunk: float,
    ) -> None:
        """Words with their foot as much below the point as sunk says, in parts of their size."""
        canvas, name = self.canvas, BOLD if bold else REGULAR
        font = face(name)
        shown, points = printable(content), size * self.scale
        wide = font.stringWidth(shown, points)
        start = -wide / 2 if side == MIDDLE else -wide if side == RIGHT else 0.0
        place = at * self.scale
        turn = math.radians(angle)
        cos, sin = math.cos(turn), math.sin(turn)
        down = -sunk * points
        lines = canvas.beginText()
        lines.setFont(name, points)
        lines.setTextTransform(
            cos,
            sin,
            -sin,
            cos,
            place.real + start * cos - down * sin,
            place.imag + start * sin + down * cos,
        )
        lines.textOut(shown)
        canvas.drawText(lines)

    def _inks(self, inks: tuple[Ink, ...]) -> None:
        for ink in inks:
            path = self._path(ink.path, 0j)
            if ink.width:
                self._pen(ink.width, ink.dashes)
            self.canvas.drawPath(path, stroke=1 if ink.width else 0, fill=0 if ink.width else 1)


def _bound(job: Any, what: Any, at: complex) -> Any:
    return lambda: job(what, at)


def _without_arcs(segments: tuple[Segment, ...]) -> Iterator[Segment]:
    for segment in segments:
        if isinstance(segment, Arc):
            yield from cubics(segment, ROUND)
        else:
            yield segment


def _room(text: Text) -> Box:
    reach = math.hypot(text.width, text.size) / 2
    return text.at.real - reach, text.at.imag - reach, text.at.real + reach, text.at.imag + reach


def _touch(box: Box, at: complex, window: Box, reach: float) -> bool:
    return (
        box[0] + at.real - reach < window[2]
        and box[2] + at.real + reach > window[0]
        and box[1] + at.imag - reach < window[3]
        and box[3] + at.imag + reach > window[1]
    )
