"""Everything the page is told of a pattern, as plain data for JSON."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING, Any

from oaktag.compiler.inspect.table import seam_rows
from oaktag.compiler.page.choices import choices
from oaktag.compiler.page.pieces import drawn_pieces
from oaktag.compiler.page.steps import drawn_steps
from oaktag.compiler.revise.story.text import Text
from oaktag.compiler.sheet.identity import settings, state
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.lang.project.program import Program

    Object = dict[str, Any]


def contents(program: Program, pattern: Pattern, made_for: str, *, whole: bool = False) -> Object:
    """The pattern without the steps of its pieces. whole: as `drawn_pieces` has it."""
    return {
        "title": pattern.title,
        "file": os.path.basename(program.name),
        "for": made_for,
        "state": state(pattern),
        "set": list(settings(pattern)),
        "unit": pattern.unit,
        "choices": choices(program, pattern),
        "measures": [
            [name, show_length(value.amount, pattern.unit)]
            for name, value in pattern.measures.items()
        ],
        "seams": [list(row) for row in seam_rows(pattern)],
        **drawn_pieces(pattern, made_for, whole),
    }


def steps_of(program: Program, pattern: Pattern, name: str) -> Object:
    """The steps of one piece; raises KeyError if there is none of that name."""
    piece = pattern.pieces[name]
    key = f"piece-{list(pattern.pieces).index(name)}"
    return drawn_steps(pattern, piece, Text(program), key)


def as_text(data: object) -> str:
    """JSON that can stand inside a script element: no `<`, and no line end JavaScript knows."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for letter in "<>&\u2028\u2029":
        text = text.replace(letter, f"\\u{ord(letter):04x}")
    return text
