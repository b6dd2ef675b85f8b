"""One page: the part of the drawing that it shows, and what is printed around that."""

from __future__ import annotations

from oaktag.compiler.geometry import Box, Path
from oaktag.compiler.sheet.drawing import Group
from oaktag.record import Record

LEFT, MIDDLE, RIGHT = "left", "middle", "right"


class Words(Record):
    """A line of words in page coordinates; `at` is its foot, at the end that `side` names.

    size: of the type, in mm. angle: in degrees.
    """

    content: str
    at: complex
    size: float
    bold: bool = False
    side: str = LEFT
    angle: float = 0.0


class Ink(Record):
    """A stroke of the page itself, or a filled shape where the width is 0. Sizes in mm."""

    path: Path
    width: float = 0.0
    dashes: tuple[float, ...] = ()


class Page(Record):
    """Sizes in mm, y up, from the page's lower left corner.

    window: what is seen of the drawing, in its own coordinates; none on a page of words alone.
    at: where the window's lower left corner lies on the page. marks: what joins it to other pages,
    seen only within the window. ink, words: what is printed wherever it lies.
    """

    width: float
    height: float
    window: Box | None = None
    at: complex = 0j
    marks: tuple[Ink, ...] = ()
    ink: tuple[Ink, ...] = ()
    words: tuple[Words, ...] = ()


class Paged(Record):
    """All pages of a print, with the drawing's pieces where the pages look for them.

    thick: how often wider than on paper lines are drawn. unit: how many units of 1/72 in make one
    of the file's. title, made_for, state: as the drawing says them.
    """

    title: str
    made_for: str
    groups: tuple[Group, ...]
    pages: tuple[Page, ...]
    thick: float = 1.0
    dark: bool = False
    unit: int = 1
    state: str = ""
