"""Words of the interchange form: 7-bit letters, short names, no two alike."""

from __future__ import annotations

import itertools
import re

from oaktag.compiler.emit.errors import OutputError

LONGEST_NAME = 20  # letters of a block's name; readers cut longer ones
LONGEST_STYLE = 20
_LONGEST = 255  # letters of any text in DXF R12
_CONTROLS = re.compile(r"[\x00-\x1f\x7f]+")


class Wording:
    """Writes words with plain letters, and collects what is to be said about it."""

    def __init__(self) -> None:
        self.warnings: list[str] = []
        self.names: set[str] = set()
        self.blocks: set[str] = set()

    def plain(self, text: str) -> str:
        """The words with the letters the form has; raises OutputError where none remain.

        `%%` and `^` begin a sign in DXF, so that they are taken apart or left out.
        """
        from anyascii import anyascii

        words = _CONTROLS.sub(" ", anyascii(text)).strip()
        words = words.replace("^", "").replace("%%", "% %").replace("%%", "% %")[:_LONGEST]
        if words == text.strip():
            return words
        if not words.strip():
            raise OutputError(
                f"`{text}` cannot be written in the ASTM form, which has plain letters only",
                "give it a name in letters from a to z",
            )
        warning = f"`{text}` is written `{words}`: the ASTM form has plain letters only"
        if warning not in self.warnings:
            self.warnings.append(warning)
        return words

    def style(self, title: str) -> str:
        """The name of the style, cut to the length that the form has for it."""
        words = self.plain(title) if title.strip() else "untitled"
        short = words[:LONGEST_STYLE].rstrip()
        if short != words and " " in short and words[LONGEST_STYLE].isalnum():
            short = short.rpartition(" ")[0].rstrip(" ,;:")
        if short != words:
            self.warnings.append(
                f"`{words}` is written `{short}`: the ASTM form has {LONGEST_STYLE} letters for "
                "the name of a style"
            )
        return short

    def piece(self, name: str) -> str:
        """The name of a piece, with a number if another has it already."""
        return _free(self.plain(name), self.names, _LONGEST)

    def block(self, name: str) -> str:
        """The name of the block for a piece: without blanks, short, as no other."""
        return _free(re.sub(r"[^A-Za-z0-9_-]+", "_", name), self.blocks, LONGEST_NAME)


def _free(name: str, taken: set[str], longest: int) -> str:
    """The name or one like it, not told from others by capitals only."""
    for number in itertools.count(1):
        tail = f"_{number}" if number > 1 else ""
        free = name[: longest - len(tail)] + tail
        if free.casefold() not in taken:
            break
    taken.add(free.casefold())
    return free


_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)


def day(written: str) -> str:
    """A date as dd-mm-yyyy, or nothing if it cannot be told what day is meant.

    Read are `20 November 2026`, `20 Nov 2026`, `20.11.2026`, `20-11-2026` and `2026-11-20`. With
    strokes it is not told, for `4/5/2026` is another day on each side of the sea.
    """
    words = written.replace(",", " ").split()
    if len(words) == 3 and words[0].rstrip(".").isdigit():
        start = words[1].rstrip(".").lower()
        numbers = [n for n, month in enumerate(_MONTHS, 1) if month.startswith(start)]
        if len(start) < 3 or len(numbers) != 1:
            return ""
        parts = [words[0].rstrip("."), str(numbers[0]), words[2]]
    else:
        parts = re.split(r"[.-]", written.strip())
        if parts and len(parts[0]) == 4:
            parts.reverse()
    if len(parts) != 3 or not all(part.isascii() and part.isdigit() for part in parts):
        return ""
    date, month, year = map(int, parts)
    if not (1 <= date <= 31 and 1 <= month <= 12 and len(parts[2]) == 4):
        return ""
    return f"{date:02}-{month:02}-{year}"
