"""`true a then b` outside a piece: edges that flow into each other across seams."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.doubts import doubtful
from oaktag.compiler.evaluate.drawing import with_step
from oaktag.compiler.evaluate.expressions import located
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import find
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.smoothing import WITHIN
from oaktag.compiler.verbs.true_across import true_across
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake, mistake

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.scope import Scope

Sides = tuple[str, Label]


def flowing(statement: ast.TrueAcross, sews: Sequence[ast.Sew], scope: Scope) -> list[Piece]:
    """The pieces after their edges were trued across the seams between them."""
    if len(statement.edges) < 2:
        raise mistake(
            "one-edge",
            "outside a piece, `true` joins two edges or more",
            statement.span,
            help="write `true front.waist then back.waist`, or true a single edge inside its piece",
        )
    within = scope.length(statement.within) if statement.within is not None else WITHIN
    done: dict[str, Piece] = {}

    def edge(ref: ast.Ref) -> tuple[Piece, Edge]:
        owner, value = scope.owner(ref), scope.value(ref)
        if not isinstance(value, Edge):
            raise mistake("not-an-edge", f"`{ref.span.text}` is not an edge", ref.span)
        scope.check_own(owner, ref)
        piece = done.get(owner.name, owner)
        found = find(piece, value.label)
        return piece, found if isinstance(found, Edge) else value

    sewn: list[tuple[Sides, Sides]] = []
    sure = True
    for sew in sews:
        try:
            sewn += _sewn(sew, scope)
        except Mistake:
            sure = False  # it is told at that line
    for ref, following in zip(statement.edges, statement.edges[1:], strict=False):
        (first, own), (second, other) = edge(ref), edge(following)
        if first.name == second.name:
            raise mistake(
                "same-piece",
                "both edges belong to one piece",
                following.span,
                help="true them inside the piece",
            )
        try:
            seam, other_seam = _between(first, own, second, other, sewn, ref, following)
        except Mistake as wrong:
            raise (wrong if sure else doubtful()) from None
        try:
            changes = true_across(first, own, seam, second, other, other_seam, within)
        except PaperError as wrong:
            raise located(wrong, statement, scope.unit) from None
        for before, change in zip((first, second), changes, strict=True):
            done[before.name] = with_step(before, change, statement)
    return list(done.values())


def _sewn(sew: ast.Sew, scope: Scope) -> list[tuple[Sides, Sides]]:
    """Which edges are sewn together, link by link."""
    pairs = []
    for left in sew.first:
        for right in sew.second:
            sides = []
            for link in (left, right):
                value = scope.value(link.edge)
                if isinstance(value, Edge):
                    sides.append((scope.owner(link.edge).name, value.label))
            if len(sides) == 2:
                pairs.append((sides[0], sides[1]))
    return pairs


def _between(
    first: Piece,
    edge: Edge,
    second: Piece,
    other: Edge,
    sewn: Sequence[tuple[Sides, Sides]],
    ref: ast.Ref,
    following: ast.Ref,
) -> tuple[Edge, Edge]:
    """The two neighbours of the edges that are sewn together; else those of one name."""
    pairs = [(a, b) for a in _beside(first, edge) for b in _beside(second, other)]
    together = [
        (a, b)
        for a, b in pairs
        if any(
            {(first.name, a.label), (second.name, b.label)} == {left, right} for left, right in sewn
        )
    ]
    found = together or [(a, b) for a, b in pairs if a.label.name == b.label.name]
    met = [
        (a, b)
        for a, b in found
        if _ends_meet(_neighbours(first, a), edge, _neighbours(second, b), other)
    ]
    if found and not met:
        raise mistake(
            "no-seam",
            f"`{ref.span.text}` and `{following.span.text}` do not meet: they lie at different "
            f"ends of the seam `{found[0][0].label}`",
            ref.span.to(following.span),
            help="name the edges that meet where the seam ends",
        )
    found = met
    if len(found) != 1:
        raise mistake(
            "no-seam",
            f"no seam joins `{ref.span.text}` and `{following.span.text}`"
            if not found
            else f"more than one seam joins `{ref.span.text}` and `{following.span.text}`",
            ref.span.to(following.span),
            help="say which edges beside them are sewn: `sew front.side to back.side`",
        )
    return found[0]


def _neighbours(piece: Piece, seam: Edge) -> tuple[Edge, Edge]:
    """The edges before and behind a seam."""
    count = len(piece.edges)
    at = next(i for i, item in enumerate(piece.edges) if item is seam)
    return piece.edges[at - 1], piece.edges[(at + 1) % count]


def _ends_meet(
    beside: tuple[Edge, Edge], edge: Edge, other_beside: tuple[Edge, Edge], other: Edge
) -> bool:
    """Whether two edges lie at ends of a seam that meet: like-named neighbours do."""
    names, others = ([item.label.name for item in pair] for pair in (beside, other_beside))
    alike = sum(a == b for a, b in zip(names, others, strict=True))
    turned = sum(a == b for a, b in zip(names, others[::-1], strict=True))
    same_end = beside[0].label.answers(edge.label) == other_beside[0].label.answers(other.label)
    return alike == turned or same_end == (alike > turned)


def _beside(piece: Piece, edge: Edge) -> list[Edge]:
    """The edges that meet an edge at its two ends."""
    return [
        item
        for item in piece.edges
        if not item.label.answers(edge.label)
        and any(abs(a - b) < 1e-6 for a in (item.start, item.end) for b in (edge.start, edge.end))
    ]
