"""What else is drawn on a piece for the one who cuts and sews it."""

from __future__ import annotations

from oaktag.compiler.geometry import Motion
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.quantity import Quantity
from oaktag.record import Record


class NamedPoint(Record):
    label: Label
    at: complex

    def moved(self, motion: Motion) -> NamedPoint:
        return self.changed(at=motion(self.at))


def depth(deep: Quantity | None) -> float | None:
    """How deep a notch is asked to be, in mm; nothing and less is refused."""
    if deep is None:
        return None
    if deep.amount <= 0:
        raise PaperError(
            "a notch {0} deep would not be seen",
            deep.amount,
            help="give a length above nothing, like `deep 4 mm`, or leave it out",
            about="deep",
            code="no-depth",
        )
    return deep.amount


class Mark(Record):
    """kind: `notch`, `drill`, `button`, `buttonhole` or `text`.

    direction: for a notch, into the paper; for a buttonhole, along it. size: in mm. shape: of a
    notch, empty if it was left to the file. deep: of a notch, from the edge of the cloth, in mm, if
    that was said.
    """

    kind: str
    at: complex
    direction: complex = 0j
    size: float = 0.0
    double: bool = False
    text: str = ""
    edge: Label | None = None
    shape: str = ""
    deep: float | None = None

    def moved(self, motion: Motion) -> Mark:
        return self.changed(at=motion(self.at), direction=motion.direction(self.direction))


class Section(Record):
    """A named part of an edge, between two points that travel with the paper."""

    label: Label
    edge: Label
    start: complex
    end: complex

    def moved(self, motion: Motion) -> Section:
        return self.changed(start=motion(self.start), end=motion(self.end))


class Grain(Record):
    """The direction of the warp, from one point to another."""

    start: complex
    end: complex

    @property
    def upper(self) -> complex:
        return max((self.end, self.start), key=lambda point: (round(point.imag, 6), point.real))

    def moved(self, motion: Motion) -> Grain:
        return Grain(motion(self.start), motion(self.end))
