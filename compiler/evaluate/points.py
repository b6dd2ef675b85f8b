"""Where points are: moved, dropped, along edges, at meetings."""

from __future__ import annotations

import cmath
import math
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.pattern import Value
from oaktag.compiler.geometry import Path, circle_meetings, contains, meetings, ray_meetings
from oaktag.compiler.paper.chain import Chain, Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.origin import ON, walked_backwards
from oaktag.lang import ast
from oaktag.lang.diagnostics import mistake
from oaktag.lang.units import show_length, unit_in

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.scope import Scope

WAYS = {"up": 1j, "down": -1j, "left": -1 + 0j, "right": 1 + 0j}


def point(expr: ast.Expr, scope: Scope) -> complex:
    """The place a point expression means."""

    match expr:
        case ast.Moved():
            base = scope.point(expr.base)
            return base + way(expr.direction, base, scope) * scope.length(expr.distance)
        case ast.Dropped():
            return _dropped(expr, scope)
        case ast.Polar():
            angle = math.radians(scope.quantity(expr.angle).amount)
            return scope.point(expr.base) + cmath.rect(scope.length(expr.distance), angle)
        case ast.Toward():
            base, target = scope.point(expr.base), scope.point(expr.target)
            by = scope.quantity(expr.by)
            if by.kind == "number":
                return base + (target - base) * by.amount
            if abs(target - base) < 1e-9:
                raise mistake(
                    "no-direction",
                    "the two points are the same, so there is no way between them",
                    expr.span,
                    help="name another point, or a direction like `down`",
                )
            return base + (target - base) / abs(target - base) * by.amount
        case ast.Midway():
            return (scope.point(expr.first) + scope.point(expr.second)) / 2
        case ast.OnEdge():
            return _on_edge(expr, scope)
        case ast.Meeting():
            return _meeting(expr, scope)
        case ast.AtDistance():
            return _at_distance(expr, scope)
    raise mistake("not-a-point", "this is not a point", expr.span)


def way(direction: ast.Direction, base: complex, scope: Scope) -> complex:
    """The unit direction from a place; square to an edge means into the paper."""

    match direction:
        case ast.Way():
            return WAYS[direction.word]
        case ast.AtAngle():
            return cmath.rect(1.0, math.radians(scope.quantity(direction.angle).amount))
        case ast.TowardPoint():
            target = scope.point(direction.point)
            if abs(target - base) < 1e-9:
                raise mistake(
                    "no-direction",
                    "this is the point itself",
                    direction.span,
                    help="name another point, or a direction like `down`",
                )
            return (target - base) / abs(target - base)
        case ast.SquareTo():
            return _into_the_paper(direction, base, scope)
    raise mistake("no-direction", "this is not a direction", direction.span)


def angle_between(first: complex, corner: complex, last: complex) -> float:
    """The angle at the corner, in degrees, from 0 to 180."""
    if abs(first - corner) < 1e-9 or abs(last - corner) < 1e-9:
        raise PaperError(
            "two of the three points are the same, so there is no angle",
            help="the angle is measured at the second of three points that lie apart",
            code="no-angle",
        )
    return abs(math.degrees(cmath.phase((first - corner) / (last - corner))))


def path_named(ref: ast.Ref, scope: Scope) -> Path:
    """The line or edge of that name as drawn."""

    value = scope.value(ref)
    return _path(value, ref)


def _path(value: Value, ref: ast.Ref) -> Path:
    if isinstance(value, Chain):
        return value.path
    if isinstance(value, Path):
        return value
    if isinstance(value, Opening):
        return value.first
    raise mistake("not-a-line", f"`{ref.span.text}` is neither a line nor an edge", ref.span)


def chain_named(ref: ast.Ref, scope: Scope) -> Chain:
    """The edge or drawn line of that name, with the roles of its runs."""

    value = scope.value(ref)
    if isinstance(value, Chain):
        return value
    if isinstance(value, Opening):
        from oaktag.compiler.paper.chain import Line, Run

        return Line(value.label, (Run(value.first),))
    raise mistake("not-a-line", f"`{ref.span.text}` is neither a line nor an edge", ref.span)


def starting_from(chain: Chain, origin: ast.Expr | None, scope: Scope) -> Chain:
    """The chain walked from the end that `from` names: the one on that edge, or at that point."""

    if origin is None:
        return chain
    try:
        return chain.reversed() if walked_backwards(chain, scope.value(origin)) else chain
    except PaperError as wrong:
        raise mistake(wrong.code, wrong.message, origin.span, help=wrong.help) from None


def place_along(chain: Chain, at: ast.Expr, scope: Scope, *, drawn: bool = False) -> float:
    """The distance as cut that `at` means; `drawn`: measured on the edge as it was first drawn."""

    quantity = scope.quantity(at)
    total = sum(run.as_drawn for run in chain.runs) if drawn else chain.sewn
    wanted = quantity.along(total)
    if wanted < -1e-6 or wanted > total + 1e-6:
        unit = unit_in(at.span.text, scope.unit)
        raise mistake(
            "off-edge",
            f"`{chain.label}` is {show_length(total, unit)} long, so there is no point on it at "
            f"{show_length(wanted, unit)}",
            at.span,
            help="a bare number is a share of the edge, from 0 to 1; a length is measured along it",
        )
    return chain.cut_distance_drawn(wanted) if drawn else chain.cut_distance(wanted)


def _on_edge(expr: ast.OnEdge, scope: Scope) -> complex:
    chain = starting_from(chain_named(expr.edge, scope), expr.origin, scope)
    return chain.path.point_at(place_along(chain, expr.at, scope))


def _dropped(expr: ast.Dropped, scope: Scope) -> complex:

    base = scope.point(expr.base)
    onto = path_named(expr.onto, scope)
    heading = way(expr.direction, base, scope)
    hits = ray_meetings(base, heading, onto)
    if not hits and _square_to_line(expr.direction, scope):
        hits = ray_meetings(base, -heading, onto)
    beyond = [hit for hit in hits if hit[0] > 1e-6] or hits
    if not beyond:
        text = expr.direction.span.text
        raise mistake(
            "never-meets",
            f"going {text} from there never meets `{expr.onto.span.text}`",
            expr.span,
            label="starts here and goes past it",
            help="take another direction, or draw the line to a point on the edge: `to on "
            f"{expr.onto.span.text} 1/2`",
        )
    return beyond[0][2]


def _square_to_line(direction: ast.Direction, scope: Scope) -> bool:
    """Whether a direction is square to a drawn line, which may mean either side of it."""
    return isinstance(direction, ast.SquareTo) and not isinstance(scope.value(direction.edge), Edge)


def _meeting(expr: ast.Meeting, scope: Scope) -> complex:
    first, second = path_named(expr.first, scope), path_named(expr.second, scope)
    found = [meeting.point for meeting in meetings(first, second)]
    names = f"`{expr.first.span.text}` and `{expr.second.span.text}`"
    if not found:
        found = [
            end
            for one, other in ((first, second), (second, first))
            for end in (one.start, one.end)
            if other.nearest(end)[1] <= ON
        ]
    if not found:
        raise mistake(
            "never-meets",
            f"{names} do not meet",
            expr.span,
            help="lead one of them on to the other: `to on EDGE …`, or `down to EDGE`",
        )
    if any(abs(place - found[0]) > ON for place in found):
        raise mistake(
            "several",
            f"{names} meet {len(found)} times",
            expr.span,
            help="name the point you mean when you draw it, and use that name",
        )
    return found[0]


def _at_distance(expr: ast.AtDistance, scope: Scope) -> complex:

    line, centre = path_named(expr.line, scope), scope.point(expr.origin)
    radius = scope.length(expr.distance)
    found = [place for _, place in circle_meetings(centre, radius, line)]
    unit = unit_in(expr.distance.span.text, scope.unit)
    name, shown = expr.line.span.text, show_length(radius, unit)
    if not found:
        _, near = line.nearest(centre)
        raise mistake(
            "never-meets",
            f"no point of `{name}` is {shown} from there: the nearest is "
            f"{show_length(near, unit)} away",
            expr.span,
            help="take a greater distance, or another line",
        )
    if any(abs(place - found[0]) > ON for place in found):
        raise mistake(
            "several",
            f"{len(found)} points of `{name}` are {shown} from there",
            expr.span,
            help="draw a shorter line that has just the one you mean",
        )
    return found[0]


def _into_the_paper(direction: ast.SquareTo, base: complex, scope: Scope) -> complex:
    """Square to an edge, into the paper; square to a drawn line, to its left."""
    value = scope.value(direction.edge)
    path = _path(value, direction.edge)
    at, _ = path.nearest(base)
    normal = path.tangent_at(at) * 1j
    piece = scope.piece
    if isinstance(value, Edge) and piece is not None and piece.edges:
        if piece.outline.nearest(path.point_at(path.length / 2))[1] <= ON:  # an edge of this piece
            return path.tangent_at(at) * piece.inward
        inside = [contains(piece.outline, base + normal * side * 0.5) for side in (1, -1)]
        if inside == [False, True]:
            return -normal
    return normal
