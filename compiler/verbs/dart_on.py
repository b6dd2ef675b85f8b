"""`dart … on …`: a dart drawn on an edge."""

from __future__ import annotations

from oaktag.compiler.geometry import contains, line
from oaktag.compiler.paper.chain import Chain, Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import with_intake, with_mouth
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import DART, Opening
from oaktag.compiler.paper.origin import walked_backwards
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.step import Change
from oaktag.compiler.verbs.arguments import Ending

EQUAL = 1e-8  # mm: legs that differ by less are equal, and leave no gap when the dart is closed


def dart_on(
    piece: Piece,
    target: Label,
    edge: Edge,
    at: Quantity,
    origin: object,
    intake: Quantity,
    length: Quantity | None = None,
    to: complex | None = None,
    ending: Ending | None = None,
) -> Change:
    """Draws a dart whose mouth has its middle `at` a place on the edge as drawn.

    Its point lies square to the mouth at a length, or where `to` says; then the longer leg's end
    and the edge beside it are eased so that the legs are equal.
    """
    start, end = _mouth(edge, at, origin, intake.amount, target)
    changed = with_intake(piece, edge, start, end, target)
    if changed is None:
        raise PaperError(
            f"the mouth of `{target}`, {{0}} wide, does not fit there: it runs over the end of "
            f"`{edge.label}` or into another dart",
            intake.amount,
            help="move it along the edge, or take in less",
            about="at",
            code="mouth-too-wide",
        )
    first, second = edge.path.point_at(start), edge.path.point_at(end)
    if to is not None:
        point = to
    elif length is not None:
        square = (second - first) / abs(second - first) * piece.inward
        point = (first + second) / 2 + square * length.amount
    else:
        raise PaperError(
            f"`{target}` needs a length, or a point to run to",
            help="add `length 10 cm`, or `to` and a point",
            code="no-point",
        )
    _check_point(piece, target, point, (first + second) / 2, "to" if to is not None else "length")
    if abs(abs(first - point) - abs(second - point)) > EQUAL:
        first, second = equal_legs(point, first, second)
        changed = with_mouth(changed, target, first, second)
    drawn = Opening(
        target,
        DART,
        line(point, first),
        line(point, second),
        ending=ending.short.amount if ending else 0.0,
    )
    return Change(changed.changed(openings=(*changed.openings, drawn)))


def equal_legs(point: complex, first: complex, second: complex) -> tuple[complex, complex]:
    """The ends of two legs brought to their mean length, along their own directions."""
    mean = (abs(first - point) + abs(second - point)) / 2
    return (
        point + (first - point) / abs(first - point) * mean,
        point + (second - point) / abs(second - point) * mean,
    )


def _mouth(
    edge: Edge, at: Quantity, origin: object, intake: float, target: Label
) -> tuple[float, float]:
    """Where the mouth starts and ends, as distances along the edge as cut."""
    if intake <= 0:
        raise PaperError(
            f"`{target}` takes in {{0}}: a dart takes in more than nothing",
            intake,
            about="intake",
            code="no-intake",
        )
    reverse = walked_backwards(edge, origin)
    chain: Chain = edge.reversed() if reverse else edge
    total = sum(run.as_drawn for run in chain.runs)
    wanted = at.along(total)
    if not -1e-6 <= wanted <= total + 1e-6:
        raise PaperError(
            f"`{edge.label}` is {{0}} long, so there is no place on it at {{1}}",
            total,
            wanted,
            about="at",
            code="off-edge",
        )
    middle = chain.cut_distance_drawn(wanted)
    if reverse:
        middle = edge.length - middle
    return middle - intake / 2, middle + intake / 2


def _check_point(piece: Piece, target: Label, point: complex, middle: complex, about: str) -> None:
    if not contains(piece.outline, point):
        raise PaperError(
            f"the point of `{target}` falls {{0}} outside the paper: it is {{1}} long",
            piece.outline.nearest(point)[1],
            abs(point - middle),
            help="make it shorter, or lead it `to` a point on the piece",
            about=about,
            code="dart-too-long",
        )
