"""Walking seams: the two sides must have the same length as sewn."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from oaktag.compiler.inspect.edges import copies
from oaktag.compiler.inspect.notches import first_missed
from oaktag.compiler.inspect.walk import apart, matches, named, over, signed, walk
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
        if matches(seam):
            continue
        if seam.gathering:
            yield _nothing_to_gather(seam, unit)
            continue
        eased = f", {show_length(seam.easing, unit)} of it eased" if seam.easing else ""
        yield error(
            "unequal-seam",
            f"the two sides of this seam do not match: {named(seam.first)} is "
            f"{show_length(seam.first_sewn, unit)} as sewn, {named(seam.second)} is "
            f"{show_length(seam.second_sewn, unit)}, a difference of {signed(apart(seam), unit)}"
            f"{eased}{_where(walk(seam), unit)}",
            seam.span,
            label=_difference(seam, unit),
            help=_remedy(seam, unit),
        )


def _difference(seam: Seam, unit: str) -> str:
    there, wrong = show_length(abs(apart(seam)), unit), show_length(abs(over(seam)), unit)
    if abs(apart(seam)) < seam.easing:
        return f"there are only {there} to ease in, {wrong} too few"
    longer, _ = _longer(seam)
    return f"{named(longer)} is {wrong} too long"


def _longer(seam: Seam) -> tuple[tuple[SeamSide, ...], tuple[SeamSide, ...]]:
    """The longer and the shorter side."""
    if apart(seam) >= 0:
        return seam.second, seam.first
    return seam.first, seam.second


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


def _remedy(seam: Seam, unit: str) -> str:
    """What she can do: lengthen, shorten, ease or gather."""
    wrong = show_length(abs(over(seam)), unit)
    if seam.easing:
        there = show_length(abs(apart(seam)), unit)
        return f"say what there is to ease, `easing {there}`, or redraw one side by {wrong}"
    longer, shorter = _longer(seam)
    return (
        f"lengthen {named(shorter)} or shorten {named(longer)} by {wrong}; or take the difference "
        f"up in the seam: `easing {wrong}`, `gathering`, or a dart or pleat in {named(longer)}"
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
            (key,), there = _key((side,)), copies(pattern, side.piece)
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


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def uncut(pattern: Pattern) -> Iterator[Diagnostic]:
    """Pieces of this pattern that are sewn, while only others are cut.

    A piece of another pattern that is copied as it is, to walk a seam along it, is cut there.
    """
    cut = {order.piece for order in pattern.cuts}
    own = {id(piece) for piece in pattern.pieces.values()}
    told: set[str] = set()
    for seam in pattern.seams if cut else ():
        for side in (*seam.first, *seam.second):
            name = side.piece.name
            steps = side.piece.steps
            drawn = any(one.span and one.span.source.name == pattern.file for one in steps)
            if id(side.piece) in own and drawn and name not in cut and name not in told:
                told.add(name)
                yield Diagnostic(
                    "note",
                    "not-cut",
                    f"`{name}` is sewn here but never cut, so it is not drawn",
                    seam.span,
                    help=f"add `cut 1 {name} in main`, or take the seam out",
                )
