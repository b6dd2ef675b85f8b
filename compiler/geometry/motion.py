"""Rigid motions of the paper: turning, shifting and flipping it over."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.errors import GeometryError

if TYPE_CHECKING:
    from typing import Final


class Motion:
    """Maps z to turn*z + shift, or to turn*conj(z) + shift when the paper is flipped over.

    `turn` is a complex number of size 1, `shift` is in mm. Lengths and areas are kept.
    """

    __slots__ = ("flipped", "shift", "turn")

    turn: Final[complex]
    shift: Final[complex]
    flipped: Final[bool]

    def __init__(self, turn: complex = 1, shift: complex = 0, flipped: bool = False) -> None:
        self.turn = complex(turn)
        self.shift = complex(shift)
        self.flipped = flipped

    def __call__(self, point: complex) -> complex:
        if self.flipped:
            point = point.conjugate()
        return self.turn * point + self.shift

    def direction(self, vector: complex) -> complex:
        """Where the motion points a vector; its length stays."""
        return self.turn * (vector.conjugate() if self.flipped else vector)

    def then(self, following: Motion) -> Motion:
        """This motion first, the following one after it."""
        turn, shift = self.turn, self.shift
        if following.flipped:
            turn, shift = turn.conjugate(), shift.conjugate()
        turn = following.turn * turn
        size = abs(turn)
        # Rounding would let the size drift over long chains of moves, and with it every length.
        if size != 1.0:
            turn /= size
        return Motion(
            turn, following.turn * shift + following.shift, self.flipped != following.flipped
        )

    def inverse(self) -> Motion:
        """The motion that takes everything back."""
        back = self.turn.conjugate()
        if self.flipped:
            return Motion(self.turn, -self.turn * self.shift.conjugate(), True)
        return Motion(back, -back * self.shift)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Motion):
            return NotImplemented
        return (
            self.turn == other.turn and self.shift == other.shift and self.flipped == other.flipped
        )

    def __hash__(self) -> int:
        return hash((Motion, self.turn, self.shift, self.flipped))

    def __repr__(self) -> str:
        return f"Motion(turn={self.turn!r}, shift={self.shift!r}, flipped={self.flipped!r})"


IDENTITY = Motion()


def rotation(about: complex, angle_radians: float) -> Motion:
    """A turn about a point, anticlockwise for a positive angle."""
    turn = complex(math.cos(angle_radians), math.sin(angle_radians))
    return Motion(turn, about - turn * about)


def translation(vector: complex) -> Motion:
    """A shift along a vector in mm."""
    return Motion(1, vector)


def reflection(a: complex, b: complex) -> Motion:
    """A flip over the line through a and b. Raises GeometryError if they are one point."""
    along = _unit(b - a)
    turn = along * along
    return Motion(turn / abs(turn), a - turn * complex(a).conjugate(), True)


def carrying(a: complex, b: complex, c: complex, d: complex) -> Motion:
    """The motion that lays a onto c and the direction a to b along the direction c to d.

    Raises GeometryError if either pair is one point.
    """
    turn = _unit(d - c) * _unit(b - a).conjugate()
    turn /= abs(turn)
    return Motion(turn, c - turn * a)


def _unit(vector: complex) -> complex:
    size = abs(vector)
    if size == 0:
        raise GeometryError("two points in the same place give no direction")
    return vector / size
