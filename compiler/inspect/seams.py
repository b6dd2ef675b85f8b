"""Walking seams: the two sides must have the same length as sewn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Diagnostic, error
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide

MATCHES = 1.0  # mm: sides that differ by no more can be sewn together


def unequal(pattern: Pattern) -> Iterator[Diagnostic]:
    """Seams whose sides do not match: both lengths, the difference, and what can be done."""
    for seam in pattern.seams:
        first, second = seam.first_sewn, seam.second_sewn
        over = second - first - seam.easing
        if (seam.gathering and over > -MATCHES) or abs(over) <= MATCHES:
            continue
        unit = pattern.unit
        if seam.easing and abs(over + 2 * seam.easing) <= MATCHES:
            yield _eased_first(seam, unit)
            continue
        longer, shorter = (seam.second, seam.first) if over > 0 else (seam.first, seam.second)
        eased = f", {show_length(seam.easing, unit)} of it eased" if seam.easing else ""
        yield error(
            "unequal-seam",
            f"the two sides of this seam do not match: {_named(seam.first)} is "
            f"{show_length(first, unit)} as sewn, {_named(seam.second)} is "
            f"{show_length(second, unit)}{eased}",
            seam.span,
            label=f"{_named(longer)} is {show_length(abs(over), unit)} too long",
            help=_remedy(seam, shorter, over, unit),
        )


def _eased_first(seam: Seam, unit: str) -> Diagnostic:
    """It can be sewn, but with the ease on the other side than the file says."""
    return Diagnostic(
        "warning",
        "eased-first",
        f"here {_named(seam.first)} is {show_length(seam.easing, unit)} longer, and is eased in; "
        "`easing` speaks of the second side",
        seam.span,
        help="if that is meant, turn the two round: the side that is eased in comes second",
    )


def _named(sides: tuple[SeamSide, ...]) -> str:
    return " then ".join(f"`{side.name}`" for side in sides)


def _remedy(seam: Seam, shorter: tuple[SeamSide, ...], over: float, unit: str) -> str:
    if seam.gathering:
        return "a side that is gathered is the longer one: turn the two round"
    ways = [f"lengthen {_named(shorter)}, or shorten the other side"]
    if over > 0 and not seam.easing:
        ways.append(f"ease the second side in: `easing {show_length(over, unit)}`")
    return "; ".join(ways)


def uncut(pattern: Pattern) -> Iterator[Diagnostic]:
    """Pieces of this pattern that are sewn, while only others are cut."""
    named = {order.piece for order in pattern.cuts}
    own = {id(piece) for piece in pattern.pieces.values()}
    told: set[str] = set()
    for seam in pattern.seams if named else ():
        for side in (*seam.first, *seam.second):
            name = side.piece.name
            if id(side.piece) in own and name not in named and name not in told:
                told.add(name)
                yield Diagnostic(
                    "note",
                    "not-cut",
                    f"`{name}` is sewn here but never cut, so it is not drawn",
                    seam.span,
                    help=f"add `cut 1 {name} in main`, or take the seam out",
                )
