"""Walking seams: the two sides must have the same length as sewn."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from oaktag.compiler.inspect.notches import first_missed
from oaktag.compiler.inspect.walk import named, signed, walk
from oaktag.lang.diagnostics import Diagnostic, error
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide
    from oaktag.compiler.inspect.walk import Walk


def unequal(pattern: Pattern) -> Iterator[Diagnostic]:
    """Seams whose sides do not match: both lengths, the difference, and what can be done."""
    unit = pattern.unit
    for seam in pattern.seams:
        walked = walk(seam)
        if walked.matches:
            continue
        if seam.gathering:
            yield _nothing_to_gather(seam, unit)
            continue
        eased = f", {show_length(seam.easing, unit)} of it eased" if seam.easing else ""
        yield error(
            "unequal-seam",
            f"the two sides of this seam do not match: {named(seam.first)} is "
            f"{show_length(seam.first_sewn, unit)} as sewn, {named(seam.second)} is "
            f"{show_length(seam.second_sewn, unit)}, a difference of {signed(walked.apart, unit)}"
            f"{eased}{_where(walked, unit)}",
            seam.span,
            label=_difference(walked, unit),
            help=_remedy(walked, unit),
        )


def _difference(walked: Walk, unit: str) -> str:
    seam, over = walked.seam, show_length(abs(walked.over), unit)
    if seam.easing and abs(walked.apart) < seam.easing:
        return f"there are only {show_length(abs(walked.apart), unit)} to ease in, {over} too few"
    return f"{named(walked.longer)} is {over} too long"


def _where(walked: Walk, unit: str) -> str:
    """How far the sides agree: up to which notch, from the start of the walk."""
    if not walked.first or not walked.second:
        return ""
    pair = first_missed(walked)
    if pair is None:
        last = walked.first[-1]
        return (
            f"; all notches meet, the last {show_length(last.at, unit)} from {walked.origin}, so "
            "the difference lies beyond it"
        )
    first, second = pair
    return (
        f"; from {walked.origin}, the first notches that do not meet are at "
        f"{show_length(first.at, unit)} of `{first.edge}` and {show_length(second.at, unit)} of "
        f"`{second.edge}`"
    )


def _remedy(walked: Walk, unit: str) -> str:
    """What she can do: lengthen, shorten, ease or gather."""
    seam, over = walked.seam, show_length(abs(walked.over), unit)
    if seam.easing:
        apart = show_length(abs(walked.apart), unit)
        return f"say what there is to ease, `easing {apart}`, or redraw one side by {over}"
    longer, shorter = walked.longer, walked.shorter
    return (
        f"lengthen {named(shorter)} or shorten {named(longer)} by {over}; or take the difference "
        f"up in the seam: `easing {over}`, `gathering`, or a dart or pleat in {named(longer)}"
    )


def _nothing_to_gather(seam: Seam, unit: str) -> Diagnostic:
    return Diagnostic(
        "warning",
        "nothing-gathered",
        f"nothing is gathered here: {named(seam.first)} and {named(seam.second)} are both "
        f"{show_length(seam.first_sewn, unit)} as sewn",
        seam.span,
        help="make the side that is gathered longer, or leave `gathering` out",
    )


def twice(pattern: Pattern) -> Iterator[Diagnostic]:
    """Edges sewn more often than they are cut; facings and linings lie on a seam besides."""
    used: dict[tuple[int, str], list[Seam]] = {}
    pairs: dict[frozenset[tuple[tuple[int, str], ...]], Seam] = {}
    for seam in pattern.seams:
        before = pairs.setdefault(frozenset((_key(seam.first), _key(seam.second))), seam)
        if before is not seam and before.span is not seam.span:
            yield _again(seam, f"{named(seam.first)} and {named(seam.second)} are", before)
            continue
        links = (*seam.first, *seam.second)
        counts = Counter(_key((side,)) for side in links)
        besides = _lies_on(pattern, seam.first) or _lies_on(pattern, seam.second)
        for side in {_key((side,)): side for side in links}.values():
            (key,), there = _key((side,)), _copies(pattern, side)
            earlier = used.setdefault(key, [])
            if counts[(key,)] > there:
                yield _too_often(seam, side, counts[(key,)], there)
            elif not besides:
                if len(earlier) + counts[(key,)] > there:
                    yield _again(seam, f"`{side.name}` is", earlier[0])
                earlier += [seam] * counts[(key,)]


def _again(seam: Seam, what: str, before: Seam) -> Diagnostic:
    return Diagnostic(
        "warning",
        "sewn-twice",
        f"{what} sewn already, in line {before.span.line}",
        seam.span,
        help="take one of the two lines out, or say in `cut` that there are more of them",
    )


def _too_often(seam: Seam, side: SeamSide, often: int, there: int) -> Diagnostic:
    return error(
        "sewn-to-itself",
        f"this seam needs `{side.name}` {_times(often)}, but `{side.piece.name}` is cut "
        f"{_times(there)}, and not on the fold",
        seam.span,
        help=f"cut {often} of it, lay it on the fold, or name another edge",
    )


def _lies_on(pattern: Pattern, sides: tuple[SeamSide, ...]) -> bool:
    """Whether a side is a facing, or is not cut in the first cloth: it lies on a seam besides."""
    main = pattern.cuts[0].cloth if pattern.cuts else ""
    return any(
        any(step.verb == "facing" for step in side.piece.steps)
        or all(order.cloth != main for order in pattern.cuts if order.piece == side.piece.name)
        for side in sides
    )


def _key(sides: tuple[SeamSide, ...]) -> tuple[tuple[int, str], ...]:
    return tuple((id(side.piece), str(side.edge.label)) for side in sides)


def _copies(pattern: Pattern, side: SeamSide) -> int:
    """How many edges like this there will be in one cloth; many, if nothing says so."""
    counts: Counter[str] = Counter()
    for order in pattern.cuts:
        if order.piece == side.piece.name:
            counts[order.cloth] += order.count
    own = any(piece is side.piece for piece in pattern.pieces.values())
    if not counts or not own:
        return 1000
    folded = any(edge.on_fold for edge in side.piece.edges)
    return max(counts.values()) * (2 if folded else 1)


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def uncut(pattern: Pattern) -> Iterator[Diagnostic]:
    """Pieces of this pattern that are sewn, while only others are cut."""
    cut = {order.piece for order in pattern.cuts}
    own = {id(piece) for piece in pattern.pieces.values()}
    told: set[str] = set()
    for seam in pattern.seams if cut else ():
        for side in (*seam.first, *seam.second):
            name = side.piece.name
            if id(side.piece) in own and name not in cut and name not in told:
                told.add(name)
                yield Diagnostic(
                    "note",
                    "not-cut",
                    f"`{name}` is sewn here but never cut, so it is not drawn",
                    seam.span,
                    help=f"add `cut 1 {name} in main`, or take the seam out",
                )
