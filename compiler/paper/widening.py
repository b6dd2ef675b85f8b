"""Slashes and how far they open: what spreading and overlapping share."""

from __future__ import annotations

import math

from oaktag.compiler.geometry import Motion, Path, line, rotation, translation
from oaktag.compiler.paper.arguments import Amount
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.parting import Slash
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.slashing import check_once, drawn_line, slash


def slashed(
    piece: Piece,
    lines: tuple[object, ...],
    kind: str,
    amounts: tuple[Amount, ...],
    hinge: Edge | None,
) -> list[Slash]:
    """The cuts along the lines, each from its joined or inner end to the end where it opens."""
    for amount in amounts:
        if amount.by.amount < 0:
            raise PaperError(
                "the amount cannot be less than nothing: this is {0}",
                amount.by.amount,
                help="`spread` and `lengthen` let paper in, `overlap` and `shorten` take it out",
                about="amounts",
                code="negative-amount",
            )
    if len(amounts) > 1 and hinge is not None:
        raise PaperError(
            "opened by two amounts, a line is hinged at neither end",
            help="leave out `hinged on`, or the second amount",
            about="hinge",
            code="hinge-and-two",
        )
    check_once([drawn_line(drawn, "lines").label for drawn in lines], "lines")
    inner = amounts[1].at if len(amounts) > 1 else None
    return [slash(piece, drawn, kind, amounts[0].at, inner, hinge) for drawn in lines]


def opening_motion(
    cut_line: Slash, amounts: tuple[Amount, ...], hinge: Edge | None, left: bool
) -> Motion:
    """How the part on one side of a slash moves to open it, if the other side stays."""
    path = cut_line.path
    chord = path.end - path.start
    side = 1 if left else -1
    by = amounts[0].by.amount
    if len(amounts) > 1:
        return _turned(path, by, amounts[1].by.amount, side)
    if hinge is not None:
        return _turned(path, by, 0.0, side)
    return translation(chord / abs(chord) * 1j * side * by)


def let_in(opening: Opening) -> Path:
    """The paper an opening lets in, as a closed ring."""
    ring = opening.first.joined(line(opening.first.end, opening.second.end))
    ring = ring.joined(opening.second.reversed())
    return ring if opening.hinged else ring.joined(line(opening.second.start, opening.first.start))


def _turned(path: Path, outer: float, inner: float, side: int) -> Motion:
    """A turn that opens a path by `outer` at its end and by `inner` at its start.

    An opening that is r from the centre of a turn by an angle measures 2 r sin(angle / 2) across.
    """
    chord = path.end - path.start
    half = (outer - inner) / (2 * abs(chord))
    if abs(half) > 1:
        raise PaperError(
            "an opening of {0} is wider than a line {1} long can open",
            abs(outer - inner),
            abs(chord),
            help="open it less, or draw a longer line",
            about="amounts",
            code="too-wide",
        )
    if abs(half) < 1e-12:
        return translation(chord / abs(chord) * 1j * side * outer)
    centre = path.start - chord / abs(chord) * (inner / (2 * half))
    return rotation(centre, 2 * math.asin(half) * side)
