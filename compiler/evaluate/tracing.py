"""`trace`: the outline of a piece from a drawing made elsewhere."""

from __future__ import annotations

from collections.abc import Mapping

from oaktag.compiler.evaluate.binding import label_of
from oaktag.compiler.evaluate.scope import Scope
from oaktag.compiler.geometry import Motion, Path, translation
from oaktag.compiler.paper.chain import Edge, Run
from oaktag.compiler.paper.mark import Grain, Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change
from oaktag.compiler.tracing import (
    Digitised,
    TracingError,
    corners_from_upper_left,
    outline_of,
    read_drawing,
)
from oaktag.compiler.tracing.drawing import enlarged
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake, mistake
from oaktag.lang.units import show_length

AGREES = 0.005  # share of a stated length by which the drawing may differ from it
FIRST = 1.0  # mm: a smaller difference is never a mistake


def trace(statement: ast.Trace, scope: Scope, drawings: Mapping[str, bytes]) -> Change:
    """The piece with the traced outline, its upper left corner at the origin.

    If the file does not say how large it is, the stated length does; if it does, both must agree.
    Grain, notches and drill holes come with it where the file tells them from other lines.
    """
    piece = scope.piece
    assert piece is not None
    if piece.edges:
        raise mistake("outline-twice", "this piece has its outline already", statement.span)
    names = [label_of(target, scope) for target in statement.edges]
    try:
        drawing = read_drawing(statement.path, drawings[statement.path], statement.piece)
        edges = corners_from_upper_left(
            outline_of(drawing, statement.path), len(names), statement.path
        )
    except TracingError as wrong:
        message = wrong.message
        for number, length in enumerate(wrong.lengths):
            message = message.replace(f"{{{number}}}", show_length(length, scope.unit))
        span = statement.piece_span if wrong.of_piece else statement.path_span
        raise mistake("cannot-trace", message, span, help=wrong.help) from None
    factor = _scale(edges, [str(name) for name in names], statement, scope, drawing.scaled)
    if factor != 1:
        edges = [enlarged(edge, factor) for edge in edges]
    place: Motion = translation(-edges[0].start)
    made = piece.changed(
        edges=tuple(
            Edge(
                name,
                (Run(path.moved(place)),),
                line=statement.span.line,
                file=statement.span.source.name,
            )
            for name, path in zip(names, edges, strict=True)
        )
    )
    made = _marked(made, drawing.marks, factor, place)
    return Change(made, let_in=(made.outline,))


def _marked(piece: Piece, marks: Digitised, factor: float, place: Motion) -> Piece:
    """The piece with what else the file says of it; notches lie on the nearest edge."""
    grain = Grain(*(place(end * factor) for end in marks.grain)) if marks.grain else None
    found = [Mark("drill", place(at * factor)) for at in marks.drills]
    for at, shape, deep in marks.notches:
        there = place(at * factor)
        edge = min(piece.edges, key=lambda edge: edge.path.nearest(there)[1])
        where, _ = edge.path.nearest(there)
        found.append(
            Mark(
                "notch",
                edge.path.point_at(where),
                edge.path.tangent_at(where) * piece.inward,
                edge=edge.label,
                shape=shape,
                deep=deep * factor or None,
            )
        )
    return piece.changed(grain=grain, marks=tuple(found))


def _scale(
    edges: list[Path], names: list[str], statement: ast.Trace, scope: Scope, scaled: bool
) -> float:
    """Millimetres to a unit of the edges; raises Mistake if it is not known or not as stated."""
    if statement.scale_edge is None or statement.scale_length is None:
        if scaled:
            return 1.0
        raise mistake(
            "no-scale",
            f"{statement.path} does not say how large it is",
            statement.path_span,
            help=f"state the length of an edge: `with {names[0]} = 68 cm`",
        )
    name = statement.scale_edge.span.text
    if name not in names:
        raise mistake(
            "unknown-name",
            f"`{name}` is not one of the edges named here",
            statement.scale_edge.span,
        )
    stated = scope.length(statement.scale_length)
    found = edges[names.index(name)].length
    if not scaled:
        return stated / found
    if abs(found - stated) > max(FIRST, stated * AGREES):
        raise _disagreeing(statement, name, found, stated, scope.unit)
    return 1.0


def _disagreeing(
    statement: ast.Trace, name: str, found: float, stated: float, unit: str
) -> Mistake:
    assert statement.scale_length is not None
    return mistake(
        "scale-differs",
        f"`{name}` is {show_length(found, unit)} in {statement.path}, but "
        f"{show_length(stated, unit)} is stated",
        statement.scale_length.span,
        label=f"{show_length(abs(found - stated), unit)} apart",
        help="measure the paper again; if the drawing was printed or scanned smaller or larger, "
        "save it without a size, and the stated length gives it one",
    )
