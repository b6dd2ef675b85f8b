"""`mark`: words along drawn lines and edges, and lines at which a piece is lengthened."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Edge, Line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import whole_edge
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.straight import EVEN, furthest_off


def mark(
    piece: Piece, lines: tuple[object, ...], words: str | None = None, lengthening: bool = False
) -> Change:
    """Gives lines their words, by default their own names, or marks them as lines to lengthen at.

    Of an edge, all its parts get the words; they are written once.
    """
    drawn: set[int] = set()
    named: set[int] = set()
    for item in lines:
        if isinstance(item, Line):
            bow = furthest_off(item, item.path.flattened(0.01)) if lengthening else 0.0
            if bow > EVEN:
                raise PaperError(
                    f"`{item.label}` bows by {{0}}, and a piece is made longer along a straight "
                    "line",
                    bow,
                    help="draw a straight line there and mark that",
                    about="lines",
                    code="bent-line",
                )
            drawn.update(i for i, line in enumerate(piece.lines) if line.label.answers(item.label))
        elif isinstance(item, Edge) and not lengthening:
            label = whole_edge(piece, item)[0].label
            named.update(i for i, edge in enumerate(piece.edges) if edge.label.answers(label))
        else:
            raise PaperError(
                f"`{getattr(item, 'label', 'this')}` is not a drawn line",
                help="draw a line from edge to edge first, like `line length_line = low right to "
                "side`"
                if lengthening
                else "name a line or an edge of this piece",
                about="lines",
                code="not-a-line",
            )
    after = piece.changed(
        lines=tuple(
            _marked(line, words, lengthening) if i in drawn else line
            for i, line in enumerate(piece.lines)
        ),
        edges=tuple(
            edge.changed(words=_said(edge, words)) if i in named else edge
            for i, edge in enumerate(piece.edges)
        ),
    )
    return Change(after)


def _marked(line: Line, words: str | None, lengthening: bool) -> Line:
    if lengthening:
        return line.changed(lengthening=True)
    return line.changed(words=_said(line, words))


def _said(item: Edge | Line, words: str | None) -> str:
    """The words themselves, or a name as it is read: `hip_line` as `hip line`."""
    if words is not None:
        return words.strip()
    return item.label.name.replace("_", " ")
