"""Darts, and the openings a slash leaves when paper is spread."""

from __future__ import annotations

import cmath
from functools import cached_property

from oaktag.compiler.geometry import Motion, Path, carrying, line, ring_area, rotation
from oaktag.compiler.paper.label import Label
from oaktag.record import Record

DART = "dart"
PLEAT = "pleat"
GATHER = "gather"
FLARE = "flare"
FISHEYE = "fish-eye dart"


WAYS = {"up": 1j, "down": -1j, "left": -1 + 0j, "right": 1 + 0j}
"""Directions of the sheet by the word with which a file names them."""


class Opening(Record):
    """Two sides that come together when the paper is closed or sewn.

    Walking the outline in its direction, the mouth runs from the end of `first` to the end of
    `second`; a slash that opens at both ends has a second mouth from the start of `second` to the
    start of `first`. Both sides start at the hinge, at the dart's point or at the far edge.
    about: the place about which it closes, where its sides do not meet on this piece.
    ending: how far before the point the sewing ends, in mm. toward: after trimming, the side on
    which the folded paper lies, as it was said; pressed: `first` or `second`, where that is one of
    the two. broken: a later cut ran across it, and its sides lead over what that let in or took
    out.
    """

    label: Label
    kind: str
    first: Path
    second: Path
    style: str = "knife"
    ending: float = 0.0
    trimmed: bool = False
    toward: str = ""
    about: complex | None = None
    broken: bool = False
    pressed: str = ""

    @property
    def hinged(self) -> bool:
        """Whether the two sides meet at their start."""
        return abs(self.first.start - self.second.start) < 1e-6

    @property
    def point(self) -> complex:
        return self.first.start

    @cached_property
    def tip(self) -> complex:
        """Where the sewing ends."""
        middle = (self.first.end + self.second.end) / 2
        way = middle - self.point
        return self.point + way / abs(way) * self.ending if abs(way) > 0 else self.point

    @property
    def mouth(self) -> Path:
        """The straight across the opening; of a fish-eye dart, across its widest place."""
        if self.kind == FISHEYE:
            return line(self.first.segments[0].end, self.second.segments[0].end)
        return line(self.first.end, self.second.end)

    @property
    def intake(self) -> float:
        """The opening at the mouth, measured straight across, in mm."""
        return self.mouth.length

    @property
    def opens(self) -> float:
        """The wider of its two ends, measured straight across, in mm."""
        return max(abs(self.first.end - self.second.end), abs(self.first.start - self.second.start))

    @cached_property
    def closing(self) -> Motion:
        """The motion that lays the second side on the first."""
        if self.about is not None:
            turn = (self.first.end - self.about) / (self.second.end - self.about)
            return rotation(self.about, cmath.phase(turn))
        return self.closing_at(self.first, self.second)

    def closing_at(self, first: Path, second: Path) -> Motion:
        """The motion that lays one side on the other, both ending at a mouth.

        Where the opening is broken, the last stretches of its sides are laid on each other.
        """
        if not self.broken:
            return carrying(second.start, second.end, first.start, first.end)
        onward = (first.end_direction, second.end_direction)
        return carrying(second.end, second.end + onward[1], first.end, first.end + onward[0])

    @cached_property
    def area(self) -> float:
        ring = self.first.joined(line(self.first.end, self.second.end))
        ring = ring.joined(self.second.reversed())
        if not self.hinged:
            ring = ring.joined(line(self.second.start, self.first.start))
        return abs(ring_area(ring))

    def moved(self, motion: Motion) -> Opening:
        first, second = self.first.moved(motion), self.second.moved(motion)
        about = None if self.about is None else motion(self.about)
        toward = _turned_over(self.toward, motion) if motion.flipped else self.toward
        return self.changed(first=first, second=second, about=about, toward=toward)

    def swapped(self) -> Opening:
        """The same opening, met from the other side: the paper was turned over."""
        pressed = {"first": "second", "second": "first"}.get(self.pressed, "")
        return self.changed(first=self.second, second=self.first, pressed=pressed)


def _turned_over(toward: str, motion: Motion) -> str:
    """The direction to which one that was said points when the paper is turned over."""
    if toward not in WAYS:
        return toward
    way = motion.direction(WAYS[toward])
    return max(WAYS, key=lambda word: (WAYS[word] * way.conjugate()).real)
