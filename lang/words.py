"""Words of the language, and which of them a misspelt one was meant to be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.units import MILLIMETRES

if TYPE_CHECKING:
    from collections.abc import Iterable

# Words that are never names. All others are keywords only where the grammar wants them.
RESERVED = frozenset(
    ("on", "to", "from", "at", "by", "in", "into", "as", "with", "then", "and", "or", "not")
).union(("where", "midway", "yes", "no", "none"))
UNITS = frozenset((*MILLIMETRES, "deg"))
NEVER_NAMES = RESERVED | UNITS
# Directions after a point and in a path; names everywhere else.
WAYS = frozenset(("up", "down", "left", "right"))

# What an opening closes with, as far as Oaktag knows it. Others may be named too.
CLOSURES = ("buckles", "buttons", "hooks", "lacing", "snaps", "ties", "toggles", "zip")


def nearest(word: str, words: Iterable[str]) -> str:
    """The word that was most likely meant, or nothing if none is near.

    Near is one slip (a letter missing, added, wrong, or two swapped) in a word of up to four
    letters, two slips in a longer one. Of several equally near, the first in the alphabet.
    """
    if len(word) > 40:
        return ""
    allowed = 1 if len(word) <= 4 else 2
    best, found = allowed + 1, ""
    for other in sorted(words):
        if abs(len(other) - len(word)) < best and other != word:
            slips = _slips(word.lower(), other.lower())
            if slips < best:
                best, found = slips, other
    return found


def _slips(first: str, second: str) -> int:
    """Optimal string alignment distance (Damerau 1964, without repeated edits)."""
    before: list[int] = []
    row = list(range(len(second) + 1))
    for i, letter in enumerate(first, 1):
        before, last, row = row, before, [i]
        for j, other in enumerate(second, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == second[j - 2] and first[i - 2] == other:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
    return row[-1]
