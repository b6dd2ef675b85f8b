"""Names for files made from names in a pattern."""

from __future__ import annotations

import os
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.compiler.cli.options import Given

LONGEST = 50  # letters: even of four bytes each, with a number and an ending, no disk finds it long
# Devices under Windows, which no file can be called.
_DEVICES = {
    "con",
    "prn",
    "aux",
    "nul",
    *(f"{word}{n}" for word in ("com", "lpt") for n in range(10)),
}


def file_names(names: Iterable[str]) -> list[str]:
    """For each name one that every system takes for a file or folder, and no two the same.

    `front.yoke` becomes `front-yoke`, `gore[2]` `gore-2`. Names that differ only in what some disks
    do not tell apart, such as capitals, are numbered.
    """
    found: list[str] = []
    taken: set[str] = set()
    for name in names:
        plain = _plain(name)
        free, number = plain, 1
        while _key(free) in taken:
            number += 1
            free = f"{plain}-{number}"
        taken.add(_key(free))
        found.append(free)
    return found


def stem_for(file: str, given: Given) -> str:
    """The name of the files without ending: two bodies or sizes do not overwrite each other."""
    stem = os.path.splitext(os.path.basename(file))[0]
    if given.body:
        stem += f"-{file_names([os.path.splitext(os.path.basename(given.body))[0]])[0]}"
    elif given.size:
        stem += f"-size-{file_names([given.size])[0]}"
    return stem


def _plain(name: str) -> str:
    """Letters of any script, figures, `_` and `-`; everything else becomes a `-`."""
    letters = "".join(
        letter if letter in "_-" or unicodedata.category(letter)[0] in "LMN" else " "
        for letter in unicodedata.normalize("NFC", name)
    )
    plain = "-".join(letters.split())[:LONGEST].strip("-") or "unnamed"
    return f"{plain}-" if plain.casefold() in _DEVICES else plain


def _key(name: str) -> str:
    """The same for names that some disk takes for one."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFKC", name).casefold())
