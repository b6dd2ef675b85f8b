"""`line` and `curve`: lines drawn on the paper."""

from __future__ import annotations

from oaktag.compiler.geometry import Path
from oaktag.compiler.paper.chain import Line, Run
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change


def draw(piece: Piece, word: str, target: Label, path: Path) -> Change:
    """Draws a line under a name; `line` and `curve` are one to the paper."""
    return Change(piece.changed(lines=(*piece.lines, Line(target, (Run(path),)))))
