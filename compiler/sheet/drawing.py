"""A drawing without format: strokes and words in millimetres, y up, on named layers."""

from __future__ import annotations

from oaktag.compiler.geometry import Box, Path
from oaktag.record import Record

CUT = "cut"
SEAM = "seam"
FOLD = "fold"
INTAKE = "intake"
DRAWN = "drawn"
MARKS = "marks"
GRAIN = "grain"
TEXT = "text"
LAYERS = (CUT, SEAM, FOLD, INTAKE, DRAWN, MARKS, GRAIN, TEXT)
"""One for each kind of line, in the order in which they are drawn."""


class OutlineEdge(Record):
    """The edge of the outline that a stroke shows: lengths in mm, as cut and as sewn.

    line: where it was drawn; 0 if nowhere. file: of which file, if not of the pattern's own. about:
    the same in words.
    """

    name: str
    line: int
    file: str
    length: float
    sewn: float
    about: str


class Stroke(Record):
    """A line to be drawn. kind: what it is, in words. edge: if it is part of the outline."""

    layer: str
    kind: str
    path: Path
    edge: OutlineEdge | None = None
    dashed: bool = False


class Text(Record):
    """A line of words, its middle on the point `at`, half the height of a capital above its foot.

    size: of the type, in mm; capitals are about 0.7 of it high. angle: in degrees.
    """

    content: str
    at: complex
    size: float
    angle: float = 0.0
    kind: str = "label"

    @property
    def width(self) -> float:
        """How much room the words take at most, in mm, in a common typeface without serifs."""
        return self.size * sum(map(_letter_width, self.content))


class Plate(Record):
    """What a label says, and where on its piece it may stand.

    state: revision and date. others: for which body or size, and what was set. outline: the ring of
    the piece; obstacles: what is drawn inside it. way: the direction of the grain.
    """

    name: str
    title: str
    state: str
    cuts: tuple[str, ...]
    others: tuple[str, ...]
    outline: tuple[complex, ...]
    obstacles: tuple[tuple[complex, ...], ...]
    way: complex = 1j

    @property
    def lines(self) -> list[str]:
        """All of it, from the top down."""
        lines = (self.name, self.title, self.state, *self.cuts, *self.others)
        return [line for line in lines if line]


class Group(Record):
    """What belongs together, as a rule a piece; `at` is added to every point of it.

    plate: of what its label is made, if it has one, so that it can be set anew.
    """

    name: str
    title: str
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...] = ()
    at: complex = 0j
    plate: Plate | None = None


class Sheet(Record):
    """The whole drawing; its lower left corner is the origin. Sizes in mm.

    made_for: the body or size, in words. state: revision and date. settings: what was set from
    outside, one by one.
    """

    title: str
    width: float
    height: float
    groups: tuple[Group, ...]
    made_for: str = ""
    state: str = ""
    settings: tuple[str, ...] = ()


def extent(group: Group) -> Box:
    """Left, bottom, right and top of all strokes of a group, without `at`."""
    boxes = [stroke.path.box() for stroke in group.strokes]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _letter_width(letter: str) -> float:
    """In parts of the type size; on the wide side."""
    if letter in "mwMW@%æœÆŒ—…" or letter >= "\u1100":
        return 1.0
    if letter > "\u024f":  # other scripts: Greek, Cyrillic, Georgian, …
        return 1.1 if letter.isupper() else 0.85
    return 0.8 if letter.isupper() else 0.64
