"""The cubic Bézier segment."""

from __future__ import annotations

import math
from bisect import bisect_right
from typing import TYPE_CHECKING

from oaktag.compiler.geometry.roots import bernstein_roots
from oaktag.compiler.geometry.vectors import cross, dot

if TYPE_CHECKING:
    from typing import Final

    from oaktag.compiler.geometry.motion import Motion
    from oaktag.compiler.geometry.vectors import Box

# Abscissae and weights of Gauss-Legendre quadrature with 16 points on [0, 1].
_GAUSS = (
    (0.005299532504175031, 0.013576229705877088),
    (0.0277124884633837, 0.031126761969323728),
    (0.06718439880608412, 0.0475792558412463),
    (0.1222977958224985, 0.062314485627767036),
    (0.19106187779867811, 0.07479799440828835),
    (0.2709916111713863, 0.08457825969750132),
    (0.35919822461037054, 0.09130170752246182),
    (0.4524937450811813, 0.09472530522753432),
    (0.5475062549188188, 0.09472530522753432),
    (0.6408017753896295, 0.09130170752246182),
    (0.7290083888286136, 0.08457825969750132),
    (0.8089381222013219, 0.07479799440828835),
    (0.8777022041775016, 0.062314485627767036),
    (0.9328156011939159, 0.0475792558412463),
    (0.9722875115366163, 0.031126761969323728),
    (0.994700467495825, 0.013576229705877088),
)
# A handle shorter than this (mm) gives no direction worth the name.
_NO_HANDLE = 1e-9
_DEEPEST = 40


class Cubic:
    """A cubic Bézier curve: start, first handle, second handle and end, in mm."""

    __slots__ = ("_box", "_marks", "end", "first", "second", "start")

    start: Final[complex]
    first: Final[complex]
    second: Final[complex]
    end: Final[complex]

    def __init__(self, start: complex, first: complex, second: complex, end: complex) -> None:
        self.start = start
        self.first = first
        self.second = second
        self.end = end
        self._box: Box | None = None
        # Where the length was measured: values of t, and the lengths up to them.
        self._marks: tuple[list[float], list[float]] | None = None

    @property
    def length(self) -> float:
        """Length in mm, to 1e-9: Gauss-Legendre quadrature of the speed, intervals halved."""
        marks = self._marks
        if marks is None:
            marks = self._marks = self._measured()
        return marks[1][-1]

    def _speed(self) -> tuple[complex, complex, complex]:
        """The derivative as a polynomial in t, constant term first."""
        a, b, c, d = self.start, self.first, self.second, self.end
        return 3 * (b - a), 6 * (a - 2 * b + c), 3 * (d - a + 3 * (b - c))

    def _measured(self) -> tuple[list[float], list[float]]:
        coefficients = self._speed()
        a, b, c, d = self.start, self.first, self.second, self.end
        reach = abs(b - a) + abs(c - b) + abs(d - c)
        tolerance = max(1e-10, 1e-14 * reach)
        ends, lengths = [0.0], [0.0]
        for stop in (*self._slowest(reach / 4), 1.0):
            waiting = [(ends[-1], stop, _travelled(coefficients, ends[-1], stop), 0)]
            while waiting:
                low, high, whole, depth = waiting.pop()
                middle = (low + high) / 2
                left = _travelled(coefficients, low, middle)
                right = _travelled(coefficients, middle, high)
                if abs(left + right - whole) <= tolerance or depth >= _DEEPEST:
                    done = lengths[-1]
                    ends += [middle, high]
                    lengths += [done + left, done + left + right]
                else:
                    waiting += [(middle, high, right, depth + 1), (low, middle, left, depth + 1)]
        return ends, lengths

    def _slowest(self, speed: float) -> list[float]:
        """Where in (0, 1) the curve is slowest, if slower than speed.

        A sharp bend there may hide between the points of the quadrature: it must begin there.
        """
        u, v, w = self.first - self.start, self.second - self.first, self.end - self.second
        chord = self.end - self.start
        if chord and 3 * min(dot(u, chord), dot(v, chord), dot(w, chord)) >= speed * abs(chord):
            return []  # along its chord alone it is fast enough
        x, y = v - u, w - v
        # B'·B'' in Bernstein form of degree three.
        change = (
            dot(u, x),
            (dot(u, y) + 2 * dot(v, x)) / 3,
            (2 * dot(v, y) + dot(w, x)) / 3,
            dot(w, y),
        )
        if min(change) >= 0 or max(change) <= 0:
            return []
        return [t for t in bernstein_roots(change) if 0 < t < 1 and abs(self.derivative(t)) < speed]

    def point(self, t: float) -> complex:
        """The point at t, 0 to 1; the ends are exact."""
        if t == 1:
            return self.end
        s = 1 - t
        return s * s * (s * self.start + 3 * t * self.first) + t * t * (
            3 * s * self.second + t * self.end
        )

    def derivative(self, t: float) -> complex:
        """Change of the point with t, in mm."""
        s = 1 - t
        return 3 * (
            s * s * (self.first - self.start)
            + 2 * s * t * (self.second - self.first)
            + t * t * (self.end - self.second)
        )

    def second_derivative(self, t: float) -> complex:
        """Change of the derivative with t, in mm."""
        bend = self.second - 2 * self.first + self.start
        return 6 * ((1 - t) * bend + t * (self.end - 2 * self.second + self.first))

    def tangent(self, t: float) -> complex:
        """Direction of travel, of size 1, also where a handle has no length.

        At a cusp it is the direction after it; to the right for a curve without length.
        """
        if t <= 0:
            legs = (self.first - self.start, self.second - self.start, self.end - self.start)
        elif t >= 1:
            legs = (self.end - self.second, self.end - self.first, self.end - self.start)
        else:
            legs = (self.derivative(t), self.second_derivative(t), self.end - self.start)
        for leg in legs:
            size = abs(leg)
            if size > _NO_HANDLE:
                return leg / size
        return 1 + 0j

    def curvature(self, t: float) -> float:
        """Bending in 1/mm, positive to the left; infinite where the curve stops and turns."""
        along = self.derivative(t)
        size = abs(along)
        across = cross(along, self.second_derivative(t))
        if size > _NO_HANDLE:
            return across / size**3
        turn = cross(
            self.second_derivative(t), self.end - self.start + 3 * self.first - 3 * self.second
        )
        return math.copysign(math.inf, turn) if abs(turn) > _NO_HANDLE else 0.0

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        """The two parts before and after t."""
        s = 1 - t
        a, b, c, d = self.start, self.first, self.second, self.end
        ab, bc, cd = s * a + t * b, s * b + t * c, s * c + t * d
        abc, bcd = s * ab + t * bc, s * bc + t * cd
        middle = s * abc + t * bcd
        return Cubic(a, ab, abc, middle), Cubic(middle, bcd, cd, d)

    def part(self, t0: float, t1: float) -> Cubic:
        """The part from t0 to t1."""
        if t1 < 1:
            before = self.split(t1)[0]
            return before.split(t0 / t1)[1] if t0 > 0 else before
        return self.split(t0)[1] if t0 > 0 else self

    def reversed(self) -> Cubic:
        """The same curve travelled the other way."""
        back = Cubic(self.end, self.second, self.first, self.start)
        if self._marks:
            ends, lengths = self._marks
            whole = lengths[-1]
            back._marks = [1 - t for t in ends[::-1]], [whole - s for s in lengths[::-1]]
        return back

    def moved(self, motion: Motion) -> Cubic:
        """The curve after a rigid motion, which keeps its lengths."""
        there = Cubic(motion(self.start), motion(self.first), motion(self.second), motion(self.end))
        there._marks = self._marks
        return there

    def parameter_at(self, length: float) -> float:
        """The t at which so many mm have been travelled, by Newton's method kept in bounds."""
        whole = self.length
        if length <= 0 or whole == 0:
            return 0.0
        if length >= whole:
            return 1.0
        assert self._marks is not None
        ends, lengths = self._marks
        at = min(bisect_right(lengths, length), len(ends) - 1) - 1
        origin, low, high = ends[at], ends[at], ends[at + 1]
        wanted, stretch = length - lengths[at], lengths[at + 1] - lengths[at]
        coefficients = self._speed()
        t = low + (high - low) * (wanted / stretch if stretch else 0.0)
        for _ in range(60):
            over = _travelled(coefficients, origin, t) - wanted
            if abs(over) <= 1e-13 + 1e-15 * whole:
                break
            if over > 0:
                high = t
            else:
                low = t
            speed = abs(self.derivative(t))
            following = t - over / speed if speed else low
            if not low < following < high:
                following = (low + high) / 2
            if following in (t, low, high):
                break
            t = following
        return t

    def length_to(self, t: float) -> float:
        """The mm travelled up to t."""
        whole = self.length
        if t <= 0:
            return 0.0
        if t >= 1:
            return whole
        assert self._marks is not None
        ends, lengths = self._marks
        at = bisect_right(ends, t) - 1
        return lengths[at] + _travelled(self._speed(), ends[at], t)

    def area(self) -> float:
        """Half the integral of x dy - y dx along the curve, in mm²."""
        return cross(self.start, self.end) / 2 + self.bulge()

    def bulge(self) -> float:
        """The signed area between curve and chord in mm², positive to the right of the chord."""
        b, c, d = self.first - self.start, self.second - self.start, self.end - self.start
        return 3 * (cross(b, c) + cross(b, d) + 2 * cross(c, d)) / 20

    def box(self) -> Box:
        """Left, bottom, right and top in mm, touching the curve."""
        if self._box is None:
            a, b, c, d = self.start, self.first, self.second, self.end
            left, right = extent(a.real, b.real, c.real, d.real)
            bottom, top = extent(a.imag, b.imag, c.imag, d.imag)
            self._box = (left, bottom, right, top)
        return self._box

    def nearest(self, p: complex) -> tuple[float, float]:
        """The t of the point nearest to p, and its distance in mm."""
        a, b, c, d = self.start - p, self.first - p, self.second - p, self.end - p
        u, v, w = b - a, c - b, d - c
        # (B - p)·B' in Bernstein form of degree five: it vanishes at the nearest point.
        slope = (
            dot(a, u),
            (2 * dot(a, v) + 3 * dot(b, u)) / 5,
            (dot(a, w) + 6 * dot(b, v) + 3 * dot(c, u)) / 10,
            (3 * dot(b, w) + 6 * dot(c, v) + dot(d, u)) / 10,
            (3 * dot(c, w) + 2 * dot(d, v)) / 5,
            dot(d, w),
        )
        best, closest = (0.0, abs(a)) if abs(a) <= abs(d) else (1.0, abs(d))
        for t in bernstein_roots(slope):
            distance = abs(self.point(t) - p)
            if distance < closest:
                best, closest = t, distance
        return best, closest

    def flattened(self, tolerance: float) -> list[complex]:
        """The points after the start of a chain of straight steps within tolerance (mm).

        The count of steps is the bound of Wang (1984) from the second differences.
        """
        a, b, c, d = self.start, self.first, self.second, self.end
        bend = max(abs(a - 2 * b + c), abs(b - 2 * c + d))
        count = max(1, math.ceil(math.sqrt(0.75 * bend / tolerance)))
        return [self.point(k / count) for k in range(1, count)] + [d]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Cubic):
            return NotImplemented
        return (
            self.start == other.start
            and self.first == other.first
            and self.second == other.second
            and self.end == other.end
        )

    def __hash__(self) -> int:
        return hash((Cubic, self.start, self.first, self.second, self.end))

    def __repr__(self) -> str:
        return (
            f"Cubic(start={self.start!r}, first={self.first!r}, "
            f"second={self.second!r}, end={self.end!r})"
        )


def _travelled(coefficients: tuple[complex, complex, complex], low: float, high: float) -> float:
    c0, c1, c2 = coefficients
    width = high - low
    total = 0.0
    for x, weight in _GAUSS:
        t = low + width * x
        total += weight * abs(c0 + t * (c1 + t * c2))
    return total * width


def extent(a: float, b: float, c: float, d: float) -> tuple[float, float]:
    """The least and greatest value of one coordinate."""
    low, high = (a, d) if a < d else (d, a)
    if low <= b <= high and low <= c <= high:
        return low, high
    for t in stationary(b - a, c - b, d - c):
        s = 1 - t
        value = s * s * (s * a + 3 * t * b) + t * t * (3 * s * c + t * d)
        low, high = min(low, value), max(high, value)
    return low, high


def stationary(u: float, v: float, w: float) -> list[float]:
    """Where in (0, 1) the quadratic with Bernstein coefficients u, v, w vanishes."""
    a, half, c = u - 2 * v + w, v - u, u
    if abs(a) <= 1e-14 * (abs(u) + abs(v) + abs(w)):
        found = [-c / (2 * half)] if half else []
    else:
        square = half * half - a * c
        if square < 0:
            return []
        # The root of larger size first; the other from their product keeps all its digits.
        q = -(half + math.copysign(math.sqrt(square), half))
        found = [q / a]
        if q:
            found.append(c / q)
    return sorted(t for t in found if 0 < t < 1)
