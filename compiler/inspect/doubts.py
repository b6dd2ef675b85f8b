"""Steps that do nothing, or something else than they seem to: a word about each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.folds import made_by
from oaktag.compiler.paper.chain import Chain, Edge
from oaktag.compiler.paper.opening import DART
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.paper.step import Step

LEGS = 1.0  # mm: by so much the legs of a dart may differ
NOTHING = 0.01  # mm²: paper that is not there
STRAIGHT = 2.0  # mm: an edge that bends by no more is as good as straight for the grain
ALONG = 0.02  # of a direction: two edges that turn by less lie on one fold
SPREADING = frozenset({"spread", "overlap"})


def unequal_legs(pattern: Pattern) -> Iterator[Diagnostic]:
    """Darts whose two legs differ, so that one edge stands out when they are sewn."""
    unit = pattern.unit
    for piece in pattern.made:
        for opening in piece.openings:
            first, second = opening.first.length, opening.second.length
            if opening.kind != DART or not opening.hinged or abs(first - second) <= LEGS:
                continue
            yield Diagnostic(
                "warning",
                "unequal-legs",
                f"the legs of `{opening.label}` of `{piece.name}` are {show_length(first, unit)} "
                f"and {show_length(second, unit)} long: sewn shut, the edge has a step of "
                f"{show_length(abs(first - second), unit)}",
                made_by(piece, opening),
                help=f"even them out, now that the edge is drawn: `redraw {opening.label} to "
                f"{opening.label}.point`",
            )


def pairs_on_fold(pattern: Pattern) -> Iterator[Diagnostic]:
    """Pieces on the fold that are cut as pairs: each is whole, and its own mirror image."""
    for order in {(cut.span.start, cut.piece): cut for cut in pattern.cuts if cut.pair}.values():
        piece = pattern.pieces.get(order.piece)
        fold = next((edge.label for edge in piece.edges if edge.on_fold), None) if piece else None
        if fold is not None:
            yield Diagnostic(
                "warning",
                "pair-on-fold",
                f"`{order.piece}` lies on the fold, so each one that is cut is whole and its own "
                "mirror image: `as pair` says nothing here",
                order.span,
                help="leave `as pair` out; or, if a left and a right one are meant, take it off "
                f"the fold in its piece: `open {fold}`",
            )


def in_vain(pattern: Pattern) -> Iterator[Diagnostic]:
    """Openings by nothing, grain along what bends, and a second fold."""
    told: set[tuple[int, int]] = set()
    for piece in pattern.made:
        folds: list[tuple[Edge, Step]] = []
        for step in piece.steps:
            if step.span is None or step.span.source.name != pattern.file:
                continue
            place = (step.span.start, step.span.end)
            said = _word(piece, step, folds, pattern.unit)
            if said is not None and place not in told:
                told.add(place)
                yield said


def _word(piece: Piece, step: Step, folds: list[tuple[Edge, Step]], unit: str) -> Diagnostic | None:
    if (
        step.verb in SPREADING
        and step.area_let_in + step.area_cut_away < NOTHING
        and step.span is not None
        and ".." not in step.span.text  # a row may have no members
    ):
        return Diagnostic(
            "note",
            "by-nothing",
            f"nothing is {'let in' if step.verb == 'spread' else 'taken out'} here: the paper "
            "stays as it was",
            step.span,
            help="say by how much, or take the line out",
        )
    if step.verb == "grain":
        return _bent_grain(step, unit)
    if step.verb == "open":
        left = {edge.label for edge in step.paper.edges if edge.on_fold}
        folds[:] = [item for item in folds if item[0].label in left]
    if step.verb == "fold":
        return _second_fold(step, folds)
    return None


def _bent_grain(step: Step, unit: str) -> Diagnostic | None:
    """A word if the grain follows a line that bends."""
    grain = step.paper.grain
    if grain is None or step.span is None or "along" not in step.span.text.split():
        return None
    for chain in (*step.paper.edges, *step.paper.lines):
        if not isinstance(chain, Chain) or abs(chain.start - grain.start) > NOTHING:
            continue
        way = grain.end - grain.start
        if abs(chain.end - grain.end) > NOTHING or abs(way) < NOTHING:
            continue
        bend = max(
            abs(((place - grain.start) * way.conjugate()).imag) / abs(way)
            for place in chain.path.flattened(0.1)
        )
        if bend > STRAIGHT:
            return Diagnostic(
                "warning",
                "bent-grain",
                f"`{chain.label}` bends by {show_length(bend, unit)}; the grain runs straight from "
                "its one end to the other",
                step.span,
                help="lay the grain along a straight edge or line, or say `grain from … to …`",
            )
    return None


def _second_fold(step: Step, folds: list[tuple[Edge, Step]]) -> Diagnostic | None:
    """A word if the piece lies on a fold already, in another direction."""
    before = {str(edge.label) for edge, _ in folds}
    new = [edge for edge in step.paper.edges if edge.on_fold and str(edge.label) not in before]
    folds += [(edge, step) for edge in new]
    if not before or not new:
        return None
    old, own = folds[0][0], new[0]
    turn = own.path.start_direction / old.path.start_direction
    if abs(turn.imag) < ALONG and _on_one_line(old, own):
        return None
    return Diagnostic(
        "note",
        "two-folds",
        f"`{own.label}` is a second fold beside `{old.label}`: the cloth must be folded twice, and "
        "the piece comes out four times as large",
        step.span,
        help=f"leave one of the two out, or `unfold` about one; `fold on {old.label}` is the first",
    )


def _on_one_line(old: Edge, own: Edge) -> bool:
    way = old.path.start_direction
    return abs(((own.start - old.start) * way.conjugate()).imag) < 1.0
