"""`true a then b`: edges of two pieces flow into each other across the seam between them."""

from __future__ import annotations

import math

from oaktag.compiler.geometry import (
    Motion,
    Path,
    blended,
    carrying,
    chain,
    fair_curve,
    line,
    meetings,
    reflection,
)
from oaktag.compiler.paper.chain import INTAKE, Chain, Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.smoothing import CORNER_KEEPS
from oaktag.compiler.paper.step import Change
from oaktag.compiler.verbs.redraw import redraw

CORNER = 1e-3  # radians: a joint that turns by less flows already
NEAR = 0.1  # mm: a new end this near to the seam's own line is put on it,
LAST = 20.0  # mm: over so much of the edge


def true_across(
    first: Piece,
    edge: Edge,
    seam: Edge,
    second: Piece,
    other: Edge,
    other_seam: Edge,
    within: float,
) -> tuple[Change, Change]:
    """Blends two edges into one line, the pieces laid together along the seam between them.

    edge and seam meet at a corner of the first piece, other and other_seam at one of the second;
    the two seams are sewn together. Both edges keep their far ends; the seam grows or shrinks by
    the same amount on both pieces.
    """
    path, side = _to_corner(edge, seam)
    path_other, side_other = _to_corner(other, other_seam)
    laid = _laid(first, path, side, second, path_other, side_other)
    beyond = path_other.moved(laid).reversed()
    joint = path.joined(beyond)
    if not joint.corners(CORNER):
        return Change(first), Change(second)
    keeping = first.keeps_length(edge) or second.keeps_length(other)
    new = blended(joint, within, CORNER_KEEPS if keeping else math.inf)
    back = side.start - side.start_direction * 4 * within
    across = line(back, side.start).joined(side)
    hits = meetings(new, across)
    if not hits:
        raise PaperError(
            f"`{edge.label}` and `{other.label}` do not flow into each other across "
            f"`{seam.label}` within {{0}}",
            within,
            help="allow more: `within 1 cm`, or redraw one of them first",
            about="edges",
            code="cannot-flow",
        )
    meet = min(hits, key=lambda hit: abs(hit.point - side.start))
    mine, theirs = new.split_at(meet.first_at)
    return (
        redraw(first, edge, _ending_on(mine, side)),
        redraw(second, other, _ending_on(theirs.moved(laid.inverse()).reversed(), side_other)),
    )


def _to_corner(edge: Edge, seam: Edge) -> tuple[Path, Path]:
    """The edge as it runs into the corner, from its last fold on, and the seam as it leaves it."""
    for walked in (edge, edge.reversed()):
        for side in (seam.path, seam.path.reversed()):
            if abs(walked.end - side.start) < 1e-6:
                return _last_stretch(walked), side
    raise PaperError(
        f"`{edge.label}` and `{seam.label}` do not meet at a corner",
        about="edges",
        code="no-corner",
    )


def _last_stretch(edge: Chain) -> Path:
    """The edge from its last dart or pleat to its end."""
    runs = []
    for run in reversed(edge.runs):
        if run.role == INTAKE:
            break
        runs.append(run.path)
    return chain(runs[::-1]) if runs else edge.path


def _laid(
    first: Piece, path: Path, side: Path, second: Piece, path_other: Path, side_other: Path
) -> Motion:
    """How the second piece moves to lie against the first along the seam, at the corner."""
    way, way_other = side.start_direction, side_other.start_direction
    laid = carrying(side_other.start, side_other.start + way_other, side.start, side.start + way)
    own = (-path.end_direction * way.conjugate()).imag
    across = (-laid.direction(path_other.end_direction) * way.conjugate()).imag
    if own * across > 0:  # both would lie on the same side of the seam: turn the second over
        laid = laid.then(reflection(side.start, side.start + way))
    return laid


def _ending_on(path: Path, side: Path) -> Path:
    """The path with its end put on the seam's own line, if it is a hair off."""
    at, away = side.nearest(path.end)
    if not 1e-9 < away < NEAR:
        return path
    kept, last = path.split_at(max(path.length - LAST, path.length / 2))
    end = side.point_at(at)
    return kept.joined(fair_curve([last.start, end], kept.end_direction, path.end_direction))
