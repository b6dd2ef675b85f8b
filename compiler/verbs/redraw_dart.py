"""`redraw` of a dart: its point moves, its mouth stays."""

from __future__ import annotations

from oaktag.compiler.geometry import contains, line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import check_ending, equal_legs
from oaktag.compiler.paper.opening import DART, Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import check_simple, difference
from oaktag.compiler.paper.step import Change
from oaktag.compiler.verbs.dart_on import SHALLOWEST


def redraw_dart(piece: Piece, dart: Opening, to: complex) -> Change:
    """Moves a dart's point; the ends of its legs are brought to one length, the edge eased to
    them.
    """
    if not isinstance(dart, Opening) or dart.kind != DART:
        raise PaperError(
            "only a dart has a point that can be moved",
            help="an edge is redrawn with `redraw EDGE = …`",
            about="dart",
            code="not-a-dart",
        )
    if not contains(piece.outline, to):
        raise PaperError(
            f"the point of `{dart.label}` would fall {{0}} outside the paper",
            piece.outline.nearest(to)[1],
            help="move it to a point on the piece",
            about="to",
            code="dart-outside",
        )
    mouth = next(
        edge for edge in piece.edges if any(run.opening == dart.label for run in edge.runs)
    )
    if mouth.path.nearest(to)[1] < SHALLOWEST:
        raise PaperError(
            f"the point of `{dart.label}` would lie on `{mouth.label}`, the edge it is drawn on",
            help="move it to a point inside the paper, or on another edge",
            about="to",
            code="flat-dart",
        )
    evened = equal_legs(piece, dart.label, to)
    check_ending(dart.label, dart.ending, abs(evened.first - to))
    moved = dart.changed(
        first=line(to, evened.first), second=line(to, evened.second), trimmed=False
    )
    after = evened.piece.with_opening(moved)
    check_simple(
        after,
        "with equal legs the outline does not work",
        piece,
        "lead it squarer to the edge",
    )
    return Change(after, *difference(evened.old, evened.new, piece.inward))
