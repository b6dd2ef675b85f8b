"""Checks what is drawn on a piece: what it needs on the paper, and the names it leaves there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.dimensions import (
    DART,
    EDGE,
    EDGES,
    LINE,
    LINES,
    SECTION,
)
from oaktag.lang.names import Names, Symbol

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from oaktag.lang.values import Values

STRIP_EDGES = ("base", "end", "top", "start")


# ---------------------------------------------------------------- drawing


def draw(values: Values, node: ast.Draw) -> None:
    values.path(node.path)
    values.scope.give(node.target, LINE)


def outline(values: Values, node: ast.Outline) -> None:
    sheet = new_paper(values, node, "an outline")
    names = {edge.target.name for edge in node.edges}

    def beside(ref: ast.Ref) -> bool:
        return len(ref.parts) == 1 and ref.parts[0].index is None and ref.parts[0].name in names

    for edge in node.edges:
        values.path(edge.path, beside=beside)
        values.no_index(edge.target, "an edge of the outline")
        values.scope.give(edge.target, EDGE)
    sheet.outline = tuple(dict.fromkeys(edge.target.name for edge in node.edges))


def new_paper(values: Values, node: ast.Statement, what: str) -> Names:
    """The paper of a piece that has none yet, as each piece gets its paper once."""
    scope = values.scope
    sheet = scope.current
    if scope.turns:
        scope.wrong(
            "outline-twice",
            f"{what} cannot be made again and again",
            node.span,
            help="move it out of the `repeat`",
        )
    elif sheet.outline:
        scope.wrong(
            "outline-twice",
            "this piece has its outline already",
            node.span,
            help="a new piece takes a `piece` line of its own; `redraw` changes an edge",
        )
    return sheet


def given_edges(values: Values, node: ast.Statement, names: Sequence[str], what: str) -> Names:
    """Paper whose edges have names of their own."""
    sheet = new_paper(values, node, what)
    for name in names:
        sheet.symbols[name] = Symbol(EDGE, node.span)
    sheet.outline = tuple(names)
    return sheet


def section(values: Values, node: ast.Section) -> None:
    values.thing(node.edge, EDGES, "`section`")
    values.point(node.start, "`from`")
    values.point(node.end, "`to`")
    values.scope.give(node.target, SECTION)


def dart_on(values: Values, node: ast.DartOn) -> None:
    values.thing(node.edge, EDGES, "`dart … on`")
    values.place(node.at, "`at`")
    values.end_of(node.origin, node.edge)
    values.length(node.intake, "`intake`")
    if node.length is not None:
        values.length(node.length, "`length`")
    if node.to is not None:
        values.point(node.to, "`to`")
    ending(values, node.ending)
    values.scope.give(node.target, DART)


def dart_along(values: Values, node: ast.DartAlong) -> None:
    values.thing(node.line, (LINE,), "`dart … along`")
    values.length(node.intake, "`intake`")
    values.point(node.at, "`at`")
    values.scope.give(node.target, DART)


def ending(values: Values, node: ast.Ending | None) -> None:
    if node is not None:
        values.length(node.short, "`ending … short`")


def fold_on(values: Values, node: ast.FoldOn) -> None:
    values.thing(node.edge, (EDGE,), "`fold on`")


def grain_along(values: Values, node: ast.GrainAlong) -> None:
    values.thing(node.edge, LINES, "`grain along`")


def grain_from(values: Values, node: ast.GrainFrom) -> None:
    values.point(node.start, "`from`")
    values.point(node.end, "`to`")


def notch_on(values: Values, node: ast.NotchOn) -> None:
    values.names(node.edges, EDGES, "`notch on`")
    values.place(node.at, "`at`")
    for edge in node.edges:
        values.end_of(node.origin, edge)


def notch_at(values: Values, node: ast.NotchAt) -> None:
    values.point(node.point, "`notch at`")


def drill(values: Values, node: ast.Drill) -> None:
    values.point(node.point, "`drill at`")


def button(values: Values, node: ast.Button) -> None:
    values.point(node.point, "`button at`")
    values.length(node.size, "`size`")


def buttonhole(values: Values, node: ast.Buttonhole) -> None:
    values.point(node.point, "`buttonhole at`")
    values.length(node.size, "`size`")
    if node.along is not None:
        values.thing(node.along, LINES, "`along`")


def text(values: Values, node: ast.Text) -> None:
    values.point(node.point, "`at`")


# ---------------------------------------------------------------- paper made otherwise


def strip(values: Values, node: ast.Strip) -> None:
    values.length(node.length, "the length of a strip")
    values.length(node.width, "the width of a strip")
    given_edges(values, node, STRIP_EDGES, "a strip")


def facing(values: Values, node: ast.Facing) -> None:
    values.thing(node.edge, EDGES, "`facing on`")
    values.length(node.deep, "`deep`")
    given_edges(values, node, STRIP_EDGES, "a facing").loose = True


def trace(values: Values, node: ast.Trace) -> None:
    new_paper(values, node, "a traced outline")
    for edge in node.edges:
        values.no_index(edge, "an edge of the outline")
        values.scope.give(edge, EDGE)
    values.scope.current.outline = tuple(dict.fromkeys(edge.name for edge in node.edges))
    if node.scale_edge is not None:
        values.thing(node.scale_edge, EDGES, "`with`")
    if node.scale_length is not None:
        values.length(node.scale_length, "`with … =`")


DRAWING: dict[type[ast.Statement], Callable[[Values, Any], None]] = {
    ast.Draw: draw,
    ast.Outline: outline,
    ast.Strip: strip,
    ast.Facing: facing,
    ast.Trace: trace,
    ast.Section: section,
    ast.DartOn: dart_on,
    ast.DartAlong: dart_along,
    ast.FoldOn: fold_on,
    ast.GrainAlong: grain_along,
    ast.GrainFrom: grain_from,
    ast.NotchOn: notch_on,
    ast.NotchAt: notch_at,
    ast.Drill: drill,
    ast.Button: button,
    ast.Buttonhole: buttonhole,
    ast.Text: text,
}
