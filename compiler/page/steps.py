"""The steps of a piece as the page walks through them: the story's pictures and its words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.compiler.page.pieces import edge_object
from oaktag.compiler.revise.story.drawing import drawn, kinds
from oaktag.compiler.revise.story.ink import FINE, fitting
from oaktag.compiler.revise.story.telling import framed, story
from oaktag.compiler.revise.story.words import areas, heading, lengths, names, number

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.revise.story.ink import View
    from oaktag.compiler.revise.story.telling import Picture
    from oaktag.compiler.revise.story.text import Text

    Object = dict[str, Any]

FRAME = 180.0  # mm on the page of the story, whose pens and letters are made for it
LETTERS = 2.4  # mm on that page


def drawn_steps(pattern: Pattern, piece: Piece, text: Text, key: str) -> Object:
    """Every step in order. key: what the names in the drawings begin with.

    `at` and `scale` bring the drawings to full size, y down: they are to be enlarged by `scale`,
    then moved by `at`.
    """
    told = framed(piece, list(story(piece, text)))
    view = fitting(told.box, FRAME, FRAME, FINE)
    left, _, _, top = told.box
    margin = view.margin * view.scale
    return {
        "scale": view.scale,
        "at": [round(left - margin, 3), round(-top - margin, 3)],
        "box": [round(x, 3) + 0.0 for x in (left, -top, told.box[2], -told.box[1])],
        "steps": [_step(pattern, piece, picture, view, key) for picture in told.pictures],
    }


def _step(pattern: Pattern, piece: Piece, picture: Picture, view: View, key: str) -> Object:
    unit, empty = pattern.unit, picture.box is None
    return {
        "number": number(picture),
        "heading": heading(picture),
        "quotes": [
            {"file": quote.file, "line": quote.line, "text": list(quote.text)}
            for quote in picture.quotes
        ],
        "areas": areas(picture, unit),
        "kinds": kinds([picture]),
        "names": names(picture),
        "lengths": [list(row) for row in lengths(picture, unit)],
        "svg": "" if empty else drawn(picture, view, f"{key}-{picture.first}-", LETTERS),
        "edges": [
            edge_object(f"{piece.name}.{edge.label}", edge, pattern) for edge in picture.paper.edges
        ],
    }
