"""`redraw` of a dart: its point moves, its mouth stays."""

from __future__ import annotations

from oaktag.compiler.geometry import contains, line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import with_mouth
from oaktag.compiler.paper.opening import DART, Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change
from oaktag.compiler.verbs.dart_on import equal_legs


def redraw_dart(piece: Piece, dart: Opening, to: complex) -> Change:
    """Moves a dart's point; the ends of its legs are brought to one length, the edge eased to
    them.
    """
    if not isinstance(dart, Opening) or dart.kind != DART:
        raise PaperError("only a dart has a point that can be moved", about="dart")
    if not contains(piece.outline, to):
        raise PaperError(
            f"the point of `{dart.label}` would fall {{0}} outside the paper",
            piece.outline.nearest(to)[1],
            about="to",
            code="dart-outside",
        )
    first, second = equal_legs(to, dart.first.end, dart.second.end)
    moved = dart.changed(first=line(to, first), second=line(to, second), trimmed=False)
    return Change(with_mouth(piece, dart.label, first, second).with_opening(moved))
