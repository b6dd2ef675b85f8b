"""Sizes of paper by name, in mm."""

from __future__ import annotations

import re

from oaktag.compiler.paging.errors import PagingError
from oaktag.lang.units import MILLIMETRES
from oaktag.lang.words import nearest

_INCH = MILLIMETRES["in"]


def _inches(width: float, height: float) -> tuple[float, float]:
    return width * _INCH, height * _INCH


EITHER = "a4-or-letter"
"""Fits on both: tiles of 190 by 254 mm and margins of 10 mm."""

# ISO 216; ANSI/ASME Y14.1 for ANSI and Arch sizes. Legal is common practice, no source.
PAPERS = {
    "a0": (841.0, 1189.0),
    "a1": (594.0, 841.0),
    "a2": (420.0, 594.0),
    "a3": (297.0, 420.0),
    "a4": (210.0, 297.0),
    "a5": (148.0, 210.0),
    "letter": _inches(8.5, 11),
    "legal": _inches(8.5, 14),
    "tabloid": _inches(11, 17),
    EITHER: (210.0, 274.0),
    "ansi-a": _inches(8.5, 11),
    "ansi-b": _inches(11, 17),
    "ansi-c": _inches(17, 22),
    "ansi-d": _inches(22, 34),
    "ansi-e": _inches(34, 44),
    "arch-a": _inches(9, 12),
    "arch-b": _inches(12, 18),
    "arch-c": _inches(18, 24),
    "arch-d": _inches(24, 36),
    "arch-e": _inches(36, 48),
}
LARGEST = 5080.0
"""mm: a page of a PDF is no wider or higher (14,400 units of 1/72 in)."""
_SIZE = re.compile(
    r"(\d+(?:\.\d+)?) ?(mm|cm|m|in)? ?[x×] ?(\d+(?:\.\d+)?) ?(mm|cm|m|in)?", re.IGNORECASE
)


def paper_size(words: str) -> tuple[float, float]:
    """Width and height in mm: of `a4`, `letter`, `arch d`, `420x594mm`, `11x17in`.

    Raises PagingError for a paper nobody knows, or one that cannot be.
    """
    shown = " ".join(words.split())
    name = re.sub(r"[ _]", "-", shown.lower())
    if name in PAPERS:
        return PAPERS[name]
    size = _SIZE.fullmatch(shown)
    if size is None:
        near = nearest(name, list(PAPERS))
        start = f"did you mean `{near}`? " if near else ""
        raise PagingError(
            f"there is no paper `{shown}`",
            f"{start}there are {', '.join(PAPERS)}, and any size, as in `420x594mm` or `11x17in`",
        )
    wide, first, high, last = size.groups()
    unit = (last or first or "").lower()
    if not unit:
        raise PagingError(
            f"the paper `{shown}` has no unit", f"write `{shown}mm`, or in inches `{shown}in`"
        )
    factors = (MILLIMETRES[(first or unit).lower()], MILLIMETRES[unit])
    width, height = float(wide) * factors[0], float(high) * factors[1]
    if not width or not height or max(width, height) > LARGEST:
        raise PagingError(
            f"there is no paper of {shown}", "a page may be up to 5080 mm wide and high"
        )
    return width, height
