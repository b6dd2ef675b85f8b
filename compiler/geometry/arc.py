"""The segment of a circle."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.vectors import cross, dot

if TYPE_CHECKING:
    from typing import Final

    from oaktag.compiler.geometry.motion import Motion
    from oaktag.compiler.geometry.vectors import Box

_QUARTER = math.pi / 2


class Arc:
    """A part of a circle: centre and start in mm, sweep in radians, anticlockwise if positive.

    `end` follows from the sweep; whoever knows it exactly may hand it over, so that neighbours
    meet without a rounding step. A whole circle has a sweep of two pi.
    """

    __slots__ = ("_box", "centre", "end", "start", "sweep")

    centre: Final[complex]
    start: Final[complex]
    sweep: Final[float]
    end: Final[complex]

    def __init__(
        self, centre: complex, start: complex, sweep: float, end: complex | None = None
    ) -> None:
        self.centre = centre
        self.start = start
        self.sweep = sweep
        if end is None:
            if abs(sweep) == 2 * math.pi:
                end = start
            else:
                end = centre + (start - centre) * complex(math.cos(sweep), math.sin(sweep))
        self.end = end
        self._box: Box | None = None

    @property
    def radius(self) -> float:
        """Radius in mm."""
        return abs(self.start - self.centre)

    @property
    def length(self) -> float:
        """Length in mm."""
        return abs(self.start - self.centre) * abs(self.sweep)

    def point(self, t: float) -> complex:
        """The point at the share t of the sweep, 0 to 1; the ends are exact."""
        if t == 0:
            return self.start
        if t == 1:
            return self.end
        angle = t * self.sweep
        return self.centre + (self.start - self.centre) * complex(math.cos(angle), math.sin(angle))

    def derivative(self, t: float) -> complex:
        """Change of the point with t, in mm."""
        angle = t * self.sweep
        spoke = (self.start - self.centre) * complex(math.cos(angle), math.sin(angle))
        return complex(-spoke.imag, spoke.real) * self.sweep

    def tangent(self, t: float) -> complex:
        """Direction of travel, of size 1; to the right for an arc without length."""
        along = self.derivative(t)
        size = abs(along)
        return along / size if size else 1 + 0j

    def curvature(self, t: float) -> float:
        """One over the radius in mm, negative on a clockwise arc."""
        return math.copysign(1 / self.radius, self.sweep) if self.radius else math.inf

    def split(self, t: float) -> tuple[Arc, Arc]:
        """The two parts before and after t."""
        middle = self.point(t)
        return (
            Arc(self.centre, self.start, self.sweep * t, middle),
            Arc(self.centre, middle, self.sweep * (1 - t), self.end),
        )

    def part(self, t0: float, t1: float) -> Arc:
        """The part from t0 to t1."""
        return Arc(self.centre, self.point(t0), self.sweep * (t1 - t0), self.point(t1))

    def reversed(self) -> Arc:
        """The same arc travelled the other way."""
        return Arc(self.centre, self.end, -self.sweep, self.start)

    def moved(self, motion: Motion) -> Arc:
        """The arc after a rigid motion."""
        sweep = -self.sweep if motion.flipped else self.sweep
        return Arc(motion(self.centre), motion(self.start), sweep, motion(self.end))

    def parameter_at(self, length: float) -> float:
        """The t at which so many mm have been travelled."""
        whole = self.length
        return min(1.0, max(0.0, length / whole)) if whole else 0.0

    def length_to(self, t: float) -> float:
        """The mm travelled up to t."""
        return t * self.length

    def area(self) -> float:
        """Half the integral of x dy - y dx along the arc, in mm²."""
        return cross(self.start, self.end) / 2 + self.bulge()

    def bulge(self) -> float:
        """The signed area between arc and chord in mm², positive to the right of the chord."""
        spoke = self.start - self.centre
        return dot(spoke, spoke) * (self.sweep - math.sin(self.sweep)) / 2

    def box(self) -> Box:
        """Left, bottom, right and top in mm."""
        if self._box is None:
            self._box = self._bounds()
        return self._box

    def _bounds(self) -> Box:
        a, b, centre, radius = self.start, self.end, self.centre, self.radius
        left, right = min(a.real, b.real), max(a.real, b.real)
        bottom, top = min(a.imag, b.imag), max(a.imag, b.imag)
        spoke = a - centre
        begin = math.atan2(spoke.imag, spoke.real)
        low, high = min(begin, begin + self.sweep), max(begin, begin + self.sweep)
        for quarter in range(math.ceil(low / _QUARTER), math.floor(high / _QUARTER) + 1):
            side = quarter % 4
            if side == 0:
                right = max(right, centre.real + radius)
            elif side == 1:
                top = max(top, centre.imag + radius)
            elif side == 2:
                left = min(left, centre.real - radius)
            else:
                bottom = min(bottom, centre.imag - radius)
        return left, bottom, right, top

    def nearest(self, p: complex) -> tuple[float, float]:
        """The t of the point nearest to p, and its distance in mm."""
        spoke, ray = self.start - self.centre, p - self.centre
        if self.sweep and (ray.real or ray.imag) and (spoke.real or spoke.imag):
            angle = math.atan2(cross(spoke, ray), dot(spoke, ray))
            if self.sweep < 0:
                angle = -angle
            if angle < 0:
                angle += 2 * math.pi
            t = angle / abs(self.sweep)
            if t <= 1:
                return t, abs(abs(ray) - abs(spoke))
        first, last = abs(p - self.start), abs(p - self.end)
        return (0.0, first) if first <= last else (1.0, last)

    def flattened(self, tolerance: float) -> list[complex]:
        """The points after the start of a chain of straight steps within tolerance (mm)."""
        radius = self.radius
        if radius <= tolerance:
            step = _QUARTER
        else:
            step = min(_QUARTER, 4 * math.asin(math.sqrt(tolerance / (2 * radius))))
        count = max(1, math.ceil(abs(self.sweep) / step))
        return [self.point(k / count) for k in range(1, count)] + [self.end]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Arc):
            return NotImplemented
        return (
            self.start == other.start and self.sweep == other.sweep and self.centre == other.centre
        )

    def __hash__(self) -> int:
        return hash((Arc, self.centre, self.start, self.sweep))

    def __repr__(self) -> str:
        return f"Arc(centre={self.centre!r}, start={self.start!r}, sweep={self.sweep!r})"
