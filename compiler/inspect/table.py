"""The seam table: what is sewn to what, both lengths, the difference, and the notches that meet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.notches import paired
from oaktag.compiler.inspect.walk import MATCHES, over, signed, walk
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern, SeamSide

SAME = 0.005  # mm: a smaller difference is none
HEAD = ("seam", "sewn", "to", "sewn", "difference", "ease", "notches")
FOOT = (
    "difference: what the second side is too long (+) or too short (-), its ease taken off; "
    f"{MATCHES:g} mm and less can be sewn together"
)


def seam_table(pattern: Pattern) -> list[str]:
    """One line a seam, in columns, in the unit of the file; nothing if nothing is sewn."""
    if not pattern.seams:
        return []
    rows = [HEAD, *seam_rows(pattern)]
    widths = [max(len(row[i]) for row in rows) for i in range(len(HEAD))]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    return [*lines, FOOT]


def seam_rows(pattern: Pattern) -> list[tuple[str, ...]]:
    """The cells of the table, one row a seam, without the head."""
    unit = pattern.unit
    rows: list[tuple[str, ...]] = []
    for seam in pattern.seams:
        walked = walk(seam)
        pairs, alone = paired(walked)
        notches = str(len(pairs)) + (f", {len(alone)} alone" if alone else "")
        ease = "gathered" if seam.gathering else show_length(seam.easing, unit)
        rows.append(
            (
                _names(seam.first),
                show_length(seam.first_sewn, unit),
                _names(seam.second),
                show_length(seam.second_sewn, unit),
                "none" if abs(over(seam)) < SAME else signed(over(seam), unit),
                "none" if not seam.gathering and not seam.easing else ease,
                notches if pairs or alone else "none",
            )
        )
    return rows


def _names(sides: tuple[SeamSide, ...]) -> str:
    return " then ".join(side.name for side in sides)
