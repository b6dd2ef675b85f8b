"""What is to be told of allowances: those that cannot be drawn, and those that are hard to sew."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import AllowanceError, cut_line
from oaktag.compiler.finish.beside import HEM
from oaktag.compiler.finish.corners import MITRE
from oaktag.compiler.finish.notching import deep_notches
from oaktag.compiler.finish.sides import sides_of
from oaktag.compiler.geometry import turning
from oaktag.lang.diagnostics import Diagnostic, error
from oaktag.lang.units import show_length, unit_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Allowance, Pattern
    from oaktag.compiler.finish.beside import Side
    from oaktag.compiler.geometry import Segment
    from oaktag.compiler.paper.piece import Piece

    Known = Sequence[tuple[Side, Allowance | None]]

FULLEST = 0.1  # of its length: how much a hem may have to be eased in; common practice, no source


def unfinished(pattern: Pattern) -> tuple[Diagnostic, ...]:
    """Each at the line that gave that edge its allowance."""
    found: list[Diagnostic] = []
    for piece in pattern.pieces.values():
        if not any(item.piece == piece.name for item in pattern.allowances):
            continue
        try:
            cut_line(piece, pattern.allowances)
        except AllowanceError as wrong:
            unit = (
                unit_in(wrong.said.span.text, pattern.unit)
                if wrong.said and wrong.said.span
                else pattern.unit
            )
            figures = [show_length(length, unit) for length in wrong.lengths]
            found.append(
                error(
                    wrong.code,
                    wrong.message.format(*figures),
                    wrong.said.span if wrong.said else None,
                    help=wrong.help.format(*figures),
                )
            )
            continue
        known = sides_of(piece, pattern.allowances)
        found += _bent_hems(piece, known, pattern.unit)
        found += _narrow_slashes(piece, known, pattern.unit)
        found += deep_notches(pattern, piece)
    return tuple(found)


def _bent_hems(piece: Piece, known: Known, unit: str) -> Iterator[Diagnostic]:
    """Hems whose cut edge is much longer, or shorter, than the line on which it comes to lie.

    Two parallels of a line that turns by an angle, twice the hem apart, differ by that times it.
    """
    outward = 1 if piece.signed_area > 0 else -1
    for number, edge in enumerate(piece.edges):
        hems = [(s, said) for s, said in known if s.edge == number and s.corners == HEM and s.width]
        for deep in sorted({side.width for side, _ in hems}):
            sides = [side for side, _ in hems if side.width == deep]
            said = next(said for side, said in hems if side.width == deep)
            bend = outward * sum(_bend(one) for side in sides for one in side.path.segments)
            length = sum(side.path.length for side in sides)
            lies = length - deep * bend
            more = 2 * deep * bend
            if said is None or abs(more) <= FULLEST * lies:
                continue
            longer = more > 0
            most = FULLEST * length / ((2 + FULLEST) * bend if longer else (FULLEST - 2) * bend)
            way_out = f"ease it in, or {_less(most, unit)}" if longer else _less(most, unit)
            folds = (
                f"`{piece.name}.{edge.label}` bends, and its hem is {show_length(deep, unit)} deep"
            )
            figure = show_length(abs(more), unit)
            where = f"{show_length(lies, unit)} long" if lies > 0 else "which is no line any more"
            yield Diagnostic(
                "note",
                "bent-hem",
                f"{folds}: turned up, its cut edge is {figure} {'longer' if longer else 'shorter'} "
                f"than the line it comes to lie on, {where}",
                said.span,
                help=way_out if longer else f"clip and stretch it, or {way_out}",
            )


def _less(most: float, unit: str) -> str:
    step = 25.4 / 8 if unit in ("in", "ft", "yd") else 1.0
    deep = math.floor(most / step) * step
    return f"make it at most {show_length(deep, unit)} deep, or face the edge"


def _bend(segment: Segment) -> float:
    """By how much a segment turns, in radians, anticlockwise positive."""
    steps = [segment.tangent(k / 8) for k in range(9)]
    return sum(turning(a, b) for a, b in itertools.pairwise(steps))


def _narrow_slashes(piece: Piece, known: Known, unit: str) -> Iterator[Diagnostic]:
    """Inner corners at which two allowances lie on each other farther than a mitre would reach."""
    inward = 1 if piece.signed_area > 0 else -1
    count = len(known)
    for at, (side, said) in enumerate(known):
        following, other = known[(at + 1) % count]
        narrow = min(side.width, following.width)
        if side.folds or not narrow:
            continue
        angle = -inward * turning(side.path.end_direction, following.path.start_direction)
        if angle <= 0 or math.tan(angle / 2) <= MITRE:
            continue
        later = other if following.rank > side.rank else said
        names = [f"`{piece.name}.{piece.edges[s.edge].label}`" for s in (side, following)]
        over = min(narrow * math.tan(angle / 2), side.path.length, following.path.length)
        yield Diagnostic(
            "warning",
            "allowances-overlap",
            f"the allowances of {names[0]} and {names[1]} overlap over {show_length(over, unit)} "
            "from the corner between them: the cut line does not reach into it",
            later.span if later else None,
            help="allow less there, or none, and face the slash",
        )
