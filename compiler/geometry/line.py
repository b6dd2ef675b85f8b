"""The straight segment."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Final

    from oaktag.compiler.geometry.motion import Motion
    from oaktag.compiler.geometry.vectors import Box


class Line:
    """A straight segment from start to end, in mm."""

    __slots__ = ("_length", "end", "start")

    start: Final[complex]
    end: Final[complex]

    def __init__(self, start: complex, end: complex) -> None:
        self.start = start
        self.end = end
        self._length = -1.0

    @property
    def length(self) -> float:
        """Length in mm."""
        if self._length < 0:
            self._length = abs(self.end - self.start)
        return self._length

    def point(self, t: float) -> complex:
        """The point at the share t of the way, 0 to 1; the ends are exact."""
        if t == 1:
            return self.end
        return self.start + t * (self.end - self.start)

    def derivative(self, t: float) -> complex:
        """Change of the point with t, in mm."""
        return self.end - self.start

    def tangent(self, t: float) -> complex:
        """Direction of travel, of size 1; to the right for a line without length."""
        return (self.end - self.start) / self.length if self.length else 1 + 0j

    def curvature(self, t: float) -> float:
        """0: a line does not bend."""
        return 0.0

    def split(self, t: float) -> tuple[Line, Line]:
        """The two parts before and after t."""
        middle = self.point(t)
        return Line(self.start, middle), Line(middle, self.end)

    def part(self, t0: float, t1: float) -> Line:
        """The part from t0 to t1."""
        return Line(self.point(t0), self.point(t1))

    def reversed(self) -> Line:
        """The same line travelled the other way."""
        return Line(self.end, self.start)

    def moved(self, motion: Motion) -> Line:
        """The line after a rigid motion."""
        return Line(motion(self.start), motion(self.end))

    def parameter_at(self, length: float) -> float:
        """The t at which so many mm have been travelled."""
        return min(1.0, max(0.0, length / self.length)) if self.length else 0.0

    def length_to(self, t: float) -> float:
        """The mm travelled up to t."""
        return t * self.length

    def area(self) -> float:
        """Half the integral of x dy - y dx along the line, in mm²."""
        a, b = self.start, self.end
        return (a.real * b.imag - a.imag * b.real) / 2

    def bulge(self) -> float:
        """The signed area between segment and chord: 0."""
        return 0.0

    def box(self) -> Box:
        """Left, bottom, right and top in mm."""
        ax, ay = self.start.real, self.start.imag
        bx, by = self.end.real, self.end.imag
        if ax > bx:
            ax, bx = bx, ax
        return (ax, ay, bx, by) if ay < by else (ax, by, bx, ay)

    def nearest(self, p: complex) -> tuple[float, float]:
        """The t of the point nearest to p, and its distance in mm."""
        along = self.end - self.start
        square = along.real * along.real + along.imag * along.imag
        if not square:
            return 0.0, abs(p - self.start)
        off = p - self.start
        t = (along.real * off.real + along.imag * off.imag) / square
        t = 0.0 if t <= 0 else 1.0 if t >= 1 else t
        return t, abs(p - self.point(t))

    def flattened(self, tolerance: float) -> list[complex]:
        """The points after the start of a chain of straight steps: the end alone."""
        return [self.end]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Line):
            return NotImplemented
        return self.start == other.start and self.end == other.end

    def __hash__(self) -> int:
        return hash((Line, self.start, self.end))

    def __repr__(self) -> str:
        return f"Line(start={self.start!r}, end={self.end!r})"
