"""`dart … on …`: a dart drawn on an edge."""

from __future__ import annotations

import math
from collections.abc import Sequence

from oaktag.compiler.geometry import Path, contains, line
from oaktag.compiler.paper.arguments import Ending
from oaktag.compiler.paper.chain import Chain, Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import whole_edge
from oaktag.compiler.paper.intake import check_edge, check_ending, equal_legs, with_intake
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import DART, Opening
from oaktag.compiler.paper.origin import walked_backwards
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.reshape import check_simple, difference
from oaktag.compiler.paper.step import Change

SHALLOWEST = 0.5  # mm: a dart's point lies at least so far from the edge it is drawn on
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

    Its point lies square to the mouth at a length, or where `to` says; then the ends of the legs
    and the edge beside them are eased so that the legs are equal.
    """
    check_edge(edge, "edge")
    base, begins = whole_edge(piece, edge)
    start, end = (begins + place for place in _mouth(edge, at, origin, intake.amount, target))
    changed = with_intake(piece, base, start, end, target)
    if changed is None:
        raise PaperError(
            f"the mouth of `{target}`, {{0}} wide, does not fit there: it runs over the end of "
            f"`{edge.label}` or into another dart",
            intake.amount,
            help="move it along the edge, or take in less",
            about="at",
            code="mouth-too-wide",
        )
    first, second = base.path.point_at(start), base.path.point_at(end)
    middle = base.path.point_at((start + end) / 2)
    point = _point(piece, target, base, (first, middle, second), length, to)
    let_in: Sequence[Path] = ()
    cut_away: Sequence[Path] = ()
    uneven = abs(abs(first - point) - abs(second - point)) > EQUAL
    if uneven:
        evened = equal_legs(changed, target, point)
        changed, first, second = evened.piece, evened.first, evened.second
        let_in, cut_away = difference(evened.old, evened.new, piece.inward)
    short = ending.short.amount if ending else 0.0
    check_ending(target, short, abs(first - point))
    drawn = Opening(target, DART, line(point, first), line(point, second), ending=short)
    after = changed.changed(openings=(*changed.openings, drawn))
    if uneven:
        check_simple(
            after,
            "with equal legs the outline does not work",
            piece,
            "lead it squarer to the edge",
        )
    return Change(after, let_in, cut_away)


def _point(
    piece: Piece,
    target: Label,
    edge: Edge,
    mouth: tuple[complex, complex, complex],
    length: Quantity | None,
    to: complex | None,
) -> complex:
    """Where the dart turns: as far from both ends of the mouth, unless `to` says where."""
    first, middle, second = mouth
    if to is not None:
        _check_point(piece, target, to, middle, "to")
        if edge.path.nearest(to)[1] < SHALLOWEST:
            raise PaperError(
                f"the point of `{target}` lies on `{edge.label}`, the edge it is drawn on",
                help="lead it to a point inside the paper, or on another edge",
                about="to",
                code="flat-dart",
            )
        return to
    if length is None:
        raise PaperError(
            f"`{target}` needs a length, or a point to run to",
            help="add `length 10 cm`, or `to` and a point",
            code="no-point",
        )
    if length.amount <= 0:
        raise PaperError(
            f"`{target}` is {{0}} long: a dart is longer than nothing",
            length.amount,
            help="give it a length, or leave it out",
            about="length",
            code="no-length",
        )
    square = (second - first) / abs(second - first) * piece.inward
    centre = (first + second) / 2
    # From the mouth's middle on the edge to a point on the upright of its chord.
    aside = (middle - centre) / square
    point = centre + square * (aside.real + math.sqrt(max(length.amount**2 - aside.imag**2, 0.0)))
    _check_point(piece, target, point, middle, "length")
    return point


def _mouth(
    edge: Edge, at: Quantity, origin: object, intake: float, target: Label
) -> tuple[float, float]:
    """Where the mouth starts and ends, as distances along the edge as cut."""
    if intake <= 0:
        raise PaperError(
            f"`{target}` takes in {{0}}: a dart takes in more than nothing",
            intake,
            help="give it an intake, or leave it out with `if`",
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
            help="a bare number is a share of the edge, from 0 to 1",
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
