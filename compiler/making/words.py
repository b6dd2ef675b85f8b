"""How figures and names are put into sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from oaktag.compiler.evaluate.pattern import CutOrder, SeamSide
    from oaktag.compiler.paper.label import Label

_NUMBERS = (
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)
WAYS = ("up", "down", "left", "right")
_MOST = 4  # names that are written out, of a row


def number(count: int) -> str:
    """In words, up to twelve."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def often(count: int) -> str:
    """`twice`, `three times`."""
    return {1: "once", 2: "twice"}.get(count, f"{number(count)} times")


def listed(names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)


def row_of(labels: Sequence[Label]) -> str:
    """Names of one row: all of a few, the first and the last of many."""
    names = [str(label) for label in labels]
    return f"{names[0]} to {names[-1]}" if len(names) > _MOST else listed(names)


def how_often(count: int, pair: bool, fold: bool) -> str:
    """`1 on the fold`, `2 as a pair`, `4 as pairs`."""
    together = "" if not pair else " as a pair" if count == 2 else " as pairs"
    return f"{count}{together}{' on the fold' if fold else ''}"


def order(cut: CutOrder, fold: bool) -> str:
    """`cut 1 on the fold in main`. fold: whether the piece lies on it."""
    return f"cut {how_often(cut.count, cut.pair, fold)} in {cut.cloth}"


def chain(sides: Sequence[SeamSide]) -> str:
    """The edges of a chain: `back.waist, front.waist (twice) and back.waist`."""
    names: list[list[str]] = []
    for side in sides:
        if names and names[-1][0] == side.name:
            names[-1].append(side.name)
        else:
            names.append([side.name])
    return listed([f"{one[0]} ({often(len(one))})" if one[1:] else one[0] for one in names])


def repeated(counts: Mapping[str, int]) -> str:
    """How often and in which cloths something is done again; nothing if it is done once.

    counts: by cloth, `""` for several together.
    """
    first, *others = counts.items()
    _, count = first
    if not others:
        return "" if count == 1 else f" Do this {often(count)}."
    if all(other == count for _, other in others):
        more = "" if count == 1 else f" Do this {often(count)}, and"
        names = listed([name for name, _ in others])
        return f"{more} the same in {names}." if more else f" Do the same in {names}."
    return f" Do this {listed([f'{often(c)} in {name}' for name, c in counts.items()])}."
