"""Drawing the outline of a piece from its edges."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate import paths
from oaktag.compiler.evaluate.binding import label_of
from oaktag.compiler.geometry import Path, chain, line, ring_area, self_crossings
from oaktag.compiler.paper.chain import Edge, Run
from oaktag.compiler.paper.step import Change
from oaktag.lang import ast
from oaktag.lang.diagnostics import Diagnostic, Label, Mistake, error, mistake
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from oaktag.compiler.evaluate.scope import Scope

MEETS = 0.01  # mm: ends nearer than this are one corner


def outline(statement: ast.Outline, scope: Scope) -> Change:
    """The piece with its outline: edges drawn in the order their directions need, then joined."""
    piece = scope.piece
    assert piece is not None
    if piece.edges:
        raise mistake(
            "outline-twice",
            "this piece has its outline already",
            statement.span,
            help="begin another piece for it; `redraw` changes an edge of this one",
        )
    if len(statement.edges) < 2:
        raise mistake(
            "open-outline",
            "one edge does not close an outline",
            statement.span,
            help="list the edges in order, each beginning where the one before ends",
        )
    drawn = _drawn(statement, scope)
    edges = []
    for i, edge in enumerate(statement.edges):
        path, following = drawn[i], drawn[(i + 1) % len(drawn)]
        if abs(path.end - following.start) > 1e-7:
            path = chain([path, line(path.end, following.start)])
        edges.append(
            Edge(
                label_of(edge.target, scope),
                (Run(path),),
                line=edge.span.line,
                file=edge.span.source.name,
            )
        )
    ring = chain(drawn)
    crossings = self_crossings(ring, closed=True)
    if crossings:
        raise _crossing(statement, drawn, crossings[0], scope)
    if abs(ring_area(ring)) < 1.0:
        raise mistake(
            "no-area",
            "this outline has no area",
            statement.span,
            help="look at the points from which its edges are drawn: they lie on one line",
        )
    return Change(piece.changed(edges=tuple(edges)), let_in=(ring,))


def _drawn(statement: ast.Outline, scope: Scope) -> list[Path]:
    """The path of every edge; those that need another's direction wait for it."""
    names = {edge.target.name: i for i, edge in enumerate(statement.edges)}
    done: dict[int, Path] = {}
    waiting: list[int] = []
    failed: set[int] = set()

    def draw(i: int) -> Path:
        if i in done:
            return done[i]
        if i in failed:
            raise Mistake()  # said already
        edge = statement.edges[i]
        if i in waiting:
            circle = [statement.edges[k].target.name for k in waiting[waiting.index(i) :]]
            raise mistake(
                "circle",
                "these edges take their directions from each other in a circle: "
                + ", ".join(f"`{name}`" for name in circle),
                edge.span,
                help="give one of them a direction of its own, like `arriving down`",
            )
        waiting.append(i)

        def square(direction: ast.SquareTo, base: complex) -> complex | None:
            part = direction.edge.parts[0]
            if len(direction.edge.parts) > 1 or part.name not in names:
                return None
            other = draw(names[part.name])
            return other.tangent_at(other.nearest(base)[0]) * 1j

        done[i] = paths.path(edge.path, scope, square)
        waiting.pop()
        return done[i]

    wrong: list[Diagnostic] = []
    missing = False
    for i in range(len(statement.edges)):
        try:
            draw(i)
        except Mistake as found:
            missing = True
            failed.update(waiting)
            waiting.clear()
            wrong.extend(item for item in found.diagnostics if item not in wrong)
    wrong.extend(_gaps(statement, done, scope))
    if wrong or missing:
        raise Mistake(*wrong)
    return [done[i] for i in range(len(statement.edges))]


def _gaps(statement: ast.Outline, done: Mapping[int, Path], scope: Scope) -> Iterator[Diagnostic]:
    """Edges that do not meet; of several gaps at one edge, only the first.

    An edge that runs the wrong way round leaves one at either end.
    """
    count = len(statement.edges)
    apart: set[int] = set()
    for i, edge in enumerate(statement.edges):
        after = (i + 1) % count
        if i not in done or after not in done or apart & {i, after}:
            continue
        path, following = done[i], done[after]
        away = abs(path.end - following.start)
        if away > MEETS:
            apart |= {i, after}
            turned = abs(path.end - following.end) <= MEETS
            yield _gap(edge, statement.edges[after], away, turned, scope)


def _gap(
    edge: ast.EdgeDef, following: ast.EdgeDef, away: float, turned: bool, scope: Scope
) -> Diagnostic:
    """turned: the next edge ends where this one does, so it was drawn the other way round."""
    end = edge.path.legs[-1].to.span if edge.path.legs else edge.path.span
    start = following.path.start.span
    name = following.target.name
    return error(
        "open-outline",
        f"the edge `{edge.target.name}` does not reach the next one",
        end,
        label=f"ends at {end.text}",
        labels=(
            Label(
                start,
                f"`{name}` starts at {start.text}, {show_length(away, scope.unit)} further on",
            ),
        ),
        help=f"turn `{name}` round: let it begin at {end.text}, where this edge ends"
        if turned
        else f"add a leg, `{edge.span.text.rstrip()}, to {start.text}`",
    )


def _crossing(
    statement: ast.Outline, drawn: list[Path], crossing: tuple[float, float, complex], scope: Scope
) -> Mistake:
    first_at, second_at, _ = crossing
    found = []
    for at in (first_at, second_at):
        behind = 0.0
        for edge, path in zip(statement.edges, drawn, strict=True):
            if at <= behind + path.length + 1e-6:
                found.append((edge, at - behind))
                break
            behind += path.length
    (first, from_first), (second, from_second) = found
    names = [f"`{first.target.name}`", f"`{second.target.name}`"]
    message = (
        f"{names[0]} crosses {names[1]}" if first is not second else f"{names[0]} crosses itself"
    )
    return mistake(
        "crossing-outline",
        message,
        first.span,
        label=f"{show_length(from_first, scope.unit)} from its start",
        labels=()
        if first is second
        else (Label(second.span, f"{show_length(from_second, scope.unit)} from its start"),),
        help="walk round the piece in one direction, each edge from one corner to the next",
    )
