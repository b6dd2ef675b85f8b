"""`erase`: drawn lines are rubbed out."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.slashing import without_lines
from oaktag.compiler.paper.step import Change


def erase(piece: Piece, lines: tuple[object, ...]) -> Change:
    """Takes drawn lines off the paper; points, marks and the outline stay."""
    gone = []
    for item in lines:
        if not isinstance(item, Line):
            is_open = isinstance(item, Opening)
            raise PaperError(
                f"`{getattr(item, 'label', 'this')}` is {'an opening' if is_open else 'no line'}, "
                "and only drawn lines can be erased",
                help="leave it out: paper let in as flare shows no line, and the folds of darts, "
                "pleats and gathers are needed"
                if is_open
                else "name a line drawn with `line` or `curve`",
                about="lines",
                code="not-a-line",
            )
        gone.append(item.label)
    return Change(without_lines(piece, gone))
