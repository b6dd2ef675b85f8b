"""Notches, drill holes, buttons, buttonholes and words, as they are drawn on a piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.notching import notches
from oaktag.compiler.geometry import line, line_meetings
from oaktag.compiler.sheet.drawing import MARKS, Stroke, Text
from oaktag.compiler.sheet.symbols import bar, circle, cross

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.piece import Piece

WORDS = 5.0  # mm


def mark_strokes(pattern: Pattern, piece: Piece, mark: Mark, around: Path | None) -> list[Stroke]:
    """The strokes of one mark; words have none. around: the cut line, if it is not the outline."""
    if mark.kind == "notch":
        paths = [path for one in notches(pattern, piece, mark, around) for path in one.path]
    elif mark.kind == "drill":
        paths = [circle(mark.at, 1.5), *cross(mark.at, 6.0)]
    elif mark.kind == "button":
        paths = [circle(mark.at, mark.size / 2), *cross(mark.at, mark.size / 2)]
    elif mark.kind == "buttonhole":
        ends = [mark.at + mark.direction * mark.size / 2 * side for side in (-1, 1)]
        paths = [line(*ends), *(bar(end, mark.direction * 1j, 4.0) for end in ends)]
    else:
        paths = []
    return [Stroke(MARKS, mark.kind, path) for path in paths]


def words(piece: Piece, mark: Mark) -> Text | None:
    """The words of a `text` mark, moved sideways or made smaller so that they stay on the piece."""
    if mark.kind != "text" or not mark.text.strip():
        return None
    text = Text(mark.text, mark.at, WORDS, kind="words")
    hits = [away for away, _, _ in line_meetings(mark.at, 1 + 0j, piece.outline)]
    left = max((-away for away in hits if away < 0), default=0.0, key=lambda away: -away)
    right = min((away for away in hits if away > 0), default=0.0)
    room = 0.9 * (left + right)
    if room <= 0:
        return text
    if text.width > room:
        text = text.changed(size=text.size * room / text.width)
    half = text.width / 2
    shift = max(half - 0.95 * left, 0.0) - max(half - 0.95 * right, 0.0)
    return text.changed(at=mark.at + shift)
