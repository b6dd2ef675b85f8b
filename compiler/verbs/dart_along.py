"""`dart … along …`: a fish-eye dart, pointed at both ends, on no edge."""

from __future__ import annotations

from oaktag.compiler.geometry import contains, polyline
from oaktag.compiler.paper.chain import Line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import FISHEYE, Opening
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change


def dart_along(piece: Piece, target: Label, line: Line, intake: Quantity, at: complex) -> Change:
    """Draws a dart along the whole of a line, widest at a point on it; the line is its middle."""
    path = line.path
    where, away = path.nearest(at)
    if away > ON or not 1e-6 < where < path.length - 1e-6:
        raise PaperError(
            f"the widest place of `{target}` lies {{0}} away from `{line.label}`"
            if away > ON
            else f"the widest place of `{target}` is an end of `{line.label}`",
            away,
            help=f"name a point between its ends: `at on {line.label} 1/2`",
            about="at",
            code="off-line",
        )
    if intake.amount <= 0:
        raise PaperError(
            f"`{target}` takes in {{0}}: a dart takes in more than nothing",
            intake.amount,
            help="give it an intake, or leave it out",
            about="intake",
            code="no-intake",
        )
    across = path.tangent_at(where) * 1j * intake.amount / 2
    sides = [polyline([path.start, at + across * side, path.end]) for side in (1, -1)]
    for place in (path.start, path.end, at + across, at - across):
        if not contains(piece.outline, place):
            raise PaperError(
                f"`{target}` runs {{0}} outside the paper",
                piece.outline.nearest(place)[1],
                help="draw its line inside the piece, or take in less",
                about="line",
                code="dart-outside",
            )
    drawn = Opening(target, FISHEYE, sides[0], sides[1])
    return Change(piece.changed(openings=(*piece.openings, drawn)))
