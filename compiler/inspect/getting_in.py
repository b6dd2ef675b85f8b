"""Whether she gets in, and whether she can walk: rules of common practice, told as notes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.edges import beside, copies, means, unsewn
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.units import roughly, show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span

# mm: 2 in; an opening is half of hips less waist and about so much more.
# Source: threadsmagazine.com, on the length of zips.
GETTING_IN = 50.8
STEP = 500.0  # mm: a short step, such as a narrow skirt allows; common practice, no source
LEG = 870.0  # mm: from the hips to the floor; common practice, no source
ROUND_A_LEG = 380.0  # mm: round one knee; common practice, no source
LEGS = frozenset({"crotch", "inside", "inseam", "inside_leg", "rise"})  # edges of trousers


def opening(pattern: Pattern) -> Iterator[Diagnostic]:
    """A note for a waist that does not open wide enough to go over the hips.

    Only in a file that is ready to cut and knows the hips.
    """
    hips = _measure(pattern, "hip_girth")
    edges = list(_named(pattern, "waist"))
    if hips is None or not edges or _is_gathered(pattern, edges):
        return
    waist = sum(edge.sewn * copies(pattern, piece) for piece, edge in _once(pattern, edges))
    if waist >= hips:
        return
    needed = (hips - waist + GETTING_IN) / 2
    opens = max((closure.opening for closure in pattern.closures), default=0.0)
    for piece, edge in edges:
        for other in beside(piece, edge):
            if not other.on_fold:
                opens = max(opens, unsewn(pattern, piece, other))
    if opens >= needed - 0.5:
        return
    unit = pattern.unit
    how = f"opens by {show_length(opens, unit)}" if opens else "does not open"
    yield Diagnostic(
        "note",
        "opening-small",
        f"the waist is {show_length(waist, unit)} round as sewn and {how}; over hips of "
        f"{show_length(hips, unit)} it should open by {roughly(needed, unit)} (common "
        f"practice: half of what the hips have more, and {roughly(GETTING_IN / 2, unit)})",
        _cut_at(pattern, edges[0][0]),
        file=pattern.file,
        help="leave so much of a seam open, as a `section` that is not sewn, and close it: "
        "`fasten back.placket with zip`",
    )


def stride(pattern: Pattern) -> Iterator[Diagnostic]:
    """A note for a skirt whose hem is too narrow for a short step.

    Legs of LEG open from the hips; at the hem they are as far apart as the step is at the floor, in
    proportion, and the hem goes round both: twice that, and once round a leg.
    """
    to_hip = _measure(pattern, "waist_to_hip")
    named = list(_named(pattern, "hem")) or list(_turned_up(pattern))
    hems = [
        (piece, edge) for piece, edge in named if any(_is(other, "waist") for other in piece.edges)
    ]
    if to_hip is None or not hems:
        return
    if any(edge.label.name in LEGS for piece, _ in hems for edge in piece.edges):
        return
    sweep = sum(edge.sewn * copies(pattern, piece) for piece, edge in hems)
    if sweep >= ROUND_A_LEG + 2 * STEP:
        return
    slit, below = 0.0, LEG
    for piece, edge in hems:
        below = min(below, _length(piece, edge) - to_hip)
        for other in beside(piece, edge):
            if not other.on_fold and not _is(other, "waist"):
                slit = max(slit, unsewn(pattern, piece, other))
    needed = ROUND_A_LEG + 2 * STEP * max(below - slit, 0.0) / LEG
    if sweep >= needed:
        return
    unit = pattern.unit
    long = max(below - (sweep - ROUND_A_LEG) * LEG / (2 * STEP), 0.0)
    yield Diagnostic(
        "note",
        "hem-narrow",
        f"the hem is {show_length(sweep, unit)} round, {roughly(max(below, 0.0), unit)} below "
        f"the hips; for a step of {roughly(STEP, unit)} it should be {roughly(needed, unit)} "
        "(common practice, no source)",
        _cut_at(pattern, hems[0][0]),
        file=pattern.file,
        help=f"widen the hem, or leave a slit of {roughly(long, unit)} in a seam",
    )


def _measure(pattern: Pattern, name: str) -> float | None:
    """A measure of the pattern or of one it uses, in mm."""
    from oaktag.compiler.evaluate.pattern import Pattern as Used

    found = pattern.measures.get(name)
    if found is not None:
        return found.amount
    for value in pattern.names.values():
        if isinstance(value, Used):
            within = _measure(value, name)
            if within is not None:
                return within
    return None


def _is(edge: Edge, word: str) -> bool:
    """Whether an edge is called so: `waist`, `waistline`, `waist_seam`."""
    return edge.label.name.startswith(word)


def _turned_up(pattern: Pattern) -> Iterator[tuple[Piece, Edge]]:
    """The edges that the file turns up as hems."""
    hems = [item for item in pattern.allowances if item.hem and item.edges]
    for piece, edge in _cut_first(pattern):
        if any(
            item.piece == piece.name and means(piece, named.label, edge)
            for item in hems
            for named in item.edges or ()
        ):
            yield piece, edge


def _named(pattern: Pattern, word: str) -> Iterator[tuple[Piece, Edge]]:
    """The edges called so."""
    return ((piece, edge) for piece, edge in _cut_first(pattern) if _is(edge, word))


def _cut_first(pattern: Pattern) -> Iterator[tuple[Piece, Edge]]:
    """The edges of pieces cut in the first cloth, if the file is ready to cut."""
    if not pattern.cuts or not pattern.allowances:
        return
    main = pattern.cuts[0].cloth
    cut = {order.piece for order in pattern.cuts if order.cloth == main}
    for piece in pattern.made:
        if piece.name in cut:
            yield from ((piece, edge) for edge in piece.edges)


def _once(pattern: Pattern, edges: list[tuple[Piece, Edge]]) -> Iterator[tuple[Piece, Edge]]:
    """Of edges that are sewn to each other, as a bodice's waist to a skirt's, one side."""
    for piece, edge in edges:
        sewn_to = any(
            any(side.piece is piece and means(piece, side.edge.label, edge) for side in seam.second)
            and any(side.edge.label.name == edge.label.name for side in seam.first)
            for seam in pattern.seams
        )
        if not sewn_to:
            yield piece, edge


def _is_gathered(pattern: Pattern, edges: list[tuple[Piece, Edge]]) -> bool:
    """Whether a seam takes in some of the edges: then their own length says nothing."""
    return any(
        seam.gathering
        and any(side.piece is piece for side in (*seam.first, *seam.second) for piece, _ in edges)
        for seam in pattern.seams
    )


def _length(piece: Piece, hem: Edge) -> float:
    """From the waist to the hem, over the middle of both, in mm."""
    waist = next(edge for edge in piece.edges if _is(edge, "waist"))
    return abs(hem.path.point_at(hem.length / 2) - waist.path.point_at(waist.length / 2))


def _cut_at(pattern: Pattern, piece: Piece) -> Span | None:
    return next((order.span for order in pattern.cuts if order.piece == piece.name), None)
