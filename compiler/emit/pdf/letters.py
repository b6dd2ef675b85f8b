"""The typeface: Open Sans, which has Latin, Greek and Cyrillic letters; embedded, what is used."""

from __future__ import annotations

import os
from functools import cache
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from oaktag.compiler.sheet.drawing import Sheet

REGULAR, BOLD = "OpenSans-Regular", "OpenSans-Bold"
LACKING = "\ufffd"  # what is printed for a letter that the typeface has not


@cache
def face(name: str) -> Any:
    """One weight of the typeface, known to reportlab from then on."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    # Its own module would bring in a picture library, only to be asked for a path.
    place = find_spec("ttf_opensans")
    assert place is not None and place.submodule_search_locations is not None
    font = TTFont(name, os.path.join(place.submodule_search_locations[0], "ttf", f"{name}.ttf"))
    pdfmetrics.registerFont(font)
    return font


def printable(words: str) -> str:
    """The words with a sign for each letter that the typeface lacks."""
    known = face(REGULAR).face.charToGlyph
    return "".join(letter if ord(letter) in known else LACKING for letter in words)


def missing_letters(sheet: Sheet) -> str:
    """The letters that a PDF of the sheet shows as a question mark in a diamond, each once."""
    words = [sheet.title, sheet.made_for, sheet.state, *sheet.settings]
    words += [text.content for group in sheet.groups for text in group.texts]
    known = face(REGULAR).face.charToGlyph
    return "".join(sorted({letter for letter in "".join(words) if ord(letter) not in known}))
