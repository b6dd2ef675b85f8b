"""Where two cubics meet: halving with fat lines, then Newton's method."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry.vectors import cross, dot

if TYPE_CHECKING:
    from oaktag.compiler.geometry.cubic import Cubic

    Piece = tuple[complex, complex, complex, complex]

# Pieces below this share of the whole are looked at for a touch; below so many mm, given up.
_SMALL = 1e-2
_SMALLEST = 1e-5
# Pairs of pieces looked at. Ordinary curves need some dozens; curves that nearly run along each
# other without touching might go on for long, and there a meeting may be missed.
_BUDGET = 3000


def cubic_hits(
    one: Cubic, other: Cubic, tolerance: float, ends: list[tuple[float, float]]
) -> list[tuple[float, float, complex]]:
    """The shared points of two cubics as (t on one, t on the other, point).

    `ends` are the contacts already known at their end points: between two of them the curves may
    run along each other, which needs no search.
    """
    if _run_together(one, other, tolerance, ends):
        return []
    found: list[tuple[float, float, complex]] = []
    whole_a = (one.start, one.first, one.second, one.end)
    whole_b = (other.start, other.first, other.second, other.end)
    small = _SMALL * max(_size(whole_a), _size(whole_b))
    # In order of size, so that plain crossings are found before any endless grazing.
    queue = [(whole_a, 0.0, 1.0, whole_b, 0.0, 1.0)]
    for a, t0, t1, b, u0, u1 in queue:
        if len(queue) > _BUDGET:
            break
        if _parted(a, b, tolerance) or _parted(b, a, tolerance):
            continue
        if any(t in (t0, t1) and u in (u0, u1) for t, u in ends) and _leave(a, b, tolerance):
            continue
        size_a, size_b = _size(a), _size(b)
        largest = max(size_a, size_b)
        middle_t, middle_u = (t0 + t1) / 2, (u0 + u1) / 2
        if largest < _SMALLEST or _cross_once(a, b):
            hit = _newton(one, other, middle_t, middle_u)
            if hit and _within(hit, t0, t1, u0, u1):
                found.append((*hit, one.point(hit[0])))
                continue
        if largest < small:
            hit = _touch(one, other, middle_t, middle_u, tolerance)
            if hit:
                found.append((*hit, one.point(hit[0])))
                if abs(one.curvature(hit[0]) - other.curvature(hit[1])) * small > _SMALL / 20:
                    # They part at once on both sides: nothing else is near.
                    continue
            ends_along = _alongside(one, other, t0, t1, tolerance)
            if ends_along:
                found.extend(ends_along)
                continue
        if largest < _SMALLEST:
            hit = _nearest_approach(one, other, middle_t, middle_u, tolerance)
            if hit:
                found.append((*hit, one.point(hit[0])))
            continue
        if size_a >= size_b:
            left, right = _halves(a)
            queue.append((left, t0, middle_t, b, u0, u1))
            queue.append((right, middle_t, t1, b, u0, u1))
        else:
            left, right = _halves(b)
            queue.append((a, t0, t1, left, u0, middle_u))
            queue.append((a, t0, t1, right, middle_u, u1))
    return found


def _run_together(
    one: Cubic, other: Cubic, tolerance: float, ends: list[tuple[float, float]]
) -> bool:
    """Whether the curves lie on each other between the outermost contacts of their ends."""
    if len(ends) < 2:
        return False
    low, high = min(t for t, _ in ends), max(t for t, _ in ends)
    if (high - low) * one.length < 1e-3:
        return False
    return all(
        other.nearest(one.point(low + share * (high - low)))[1] <= tolerance
        for share in (0.15, 0.4, 0.62, 0.9)
    )


def _size(piece: Piece) -> float:
    a, b, c, d = piece
    return max(abs(b - a), abs(c - a), abs(d - a))


def _halves(piece: Piece) -> tuple[Piece, Piece]:
    a, b, c, d = piece
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    return (a, ab, abc, middle), (middle, bcd, cd, d)


def _parted(fat: Piece, thin: Piece, gap: float) -> bool:
    """Whether the strip along the chord of one piece, and its ends, keep off the other piece."""
    a, b, c, d = fat
    chord = d - a
    size = abs(chord)
    if size == 0:
        chord, size = 1 + 0j, 1.0
    x, y = chord.real / size, chord.imag / size
    ax, ay = a.real, a.imag
    across_low = across_high = along_low = along_high = 0.0
    for point in (b, c, d):
        px, py = point.real - ax, point.imag - ay
        across, along = x * py - y * px, x * px + y * py
        across_low, across_high = min(across_low, across), max(across_high, across)
        along_low, along_high = min(along_low, along), max(along_high, along)
    acrosses, alongs = [], []
    for point in thin:
        px, py = point.real - ax, point.imag - ay
        acrosses.append(x * py - y * px)
        alongs.append(x * px + y * py)
    return (
        min(acrosses) > across_high + gap
        or max(acrosses) < across_low - gap
        or min(alongs) > along_high + gap
        or max(alongs) < along_low - gap
    )


def _leave(a: Piece, b: Piece, gap: float) -> bool:
    """Whether two pieces that share an end lead away from it to opposite sides."""
    for here, a_out in ((a[0], a), (a[3], a[::-1])):
        for there, b_out in ((b[0], b), (b[3], b[::-1])):
            if abs(here - there) > gap:
                continue
            ahead = b_out[1] - there or b_out[2] - there or b_out[3] - there
            size = abs(ahead)
            if (
                size
                and all(dot(ahead, p - here) <= 0 for p in a_out[1:])
                and all(dot(ahead, p - there) >= 0 for p in b_out[1:])
            ):
                return True
    return False


def _cross_once(a: Piece, b: Piece) -> bool:
    """Whether the directions of the two pieces have none in common: they cross at most once."""
    cone_a, cone_b = _cone(a), _cone(b)
    if cone_a is None or cone_b is None:
        return False
    (a0, a1), (b0, b1) = cone_a, cone_b
    turns = [cross(p, q) for p in (a0, a1) for q in (b0, b1)]
    return min(turns) > 0 or max(turns) < 0


def _cone(piece: Piece) -> tuple[complex, complex] | None:
    """The outermost directions of travel of a piece, if they stay within a quarter turn."""
    a, b, c, d = piece
    legs = [leg for leg in (b - a, c - b, d - c) if leg]
    if not legs:
        return None
    low = high = legs[0]
    for leg in legs[1:]:
        if dot(leg, low) <= 0 or dot(leg, high) <= 0:
            return None
        if cross(low, leg) < 0:
            low = leg
        elif cross(high, leg) > 0:
            high = leg
    if dot(low, high) <= 0:
        return None
    return low / abs(low), high / abs(high)


def _newton(one: Cubic, other: Cubic, t: float, u: float) -> tuple[float, float] | None:
    """The crossing near t and u, or nothing if the method strays or only creeps.

    It creeps towards a touch, where its answer would be far less exact than it looks.
    """
    for _ in range(12):
        gap = other.point(u) - one.point(t)
        along, beside = one.derivative(t), other.derivative(u)
        slant = cross(along, beside)
        if abs(slant) <= 1e-12 * abs(along) * abs(beside) or slant == 0:
            return None
        step_t, step_u = cross(gap, beside) / slant, cross(gap, along) / slant
        t, u = t + step_t, u + step_u
        if not (-0.5 <= t <= 1.5 and -0.5 <= u <= 1.5):
            return None
        if abs(step_t) <= 1e-10 and abs(step_u) <= 1e-10:
            t, u = min(1.0, max(0.0, t)), min(1.0, max(0.0, u))
            return (t, u) if abs(other.point(u) - one.point(t)) <= 1e-9 else None
    return None


def _within(hit: tuple[float, float], t0: float, t1: float, u0: float, u1: float) -> bool:
    t, u = hit
    slack_t, slack_u = 1e-9 + (t1 - t0) * 1e-6, 1e-9 + (u1 - u0) * 1e-6
    return t0 - slack_t <= t <= t1 + slack_t and u0 - slack_u <= u <= u1 + slack_u


def _touch(
    one: Cubic, other: Cubic, t: float, u: float, tolerance: float
) -> tuple[float, float] | None:
    """Where near t and u the curves run side by side, if within tolerance.

    Newton's method on both conditions: equal directions, and the gap square to them.
    """
    for _ in range(12):
        gap = one.point(t) - other.point(u)
        a1, b1 = one.derivative(t), other.derivative(u)
        a2, b2 = one.second_derivative(t), other.second_derivative(u)
        slant, slip = cross(a1, b1), dot(gap, a1)
        slant_t, slant_u = cross(a2, b1), cross(a1, b2)
        slip_t, slip_u = dot(a1, a1) + dot(gap, a2), -dot(b1, a1)
        determinant = slant_t * slip_u - slant_u * slip_t
        if determinant == 0:
            return None
        step_t = (slant * slip_u - slant_u * slip) / determinant
        step_u = (slant_t * slip - slant * slip_t) / determinant
        t, u = t - step_t, u - step_u
        if not (-0.1 <= t <= 1.1 and -0.1 <= u <= 1.1):
            return None
        if abs(step_t) <= 1e-14 and abs(step_u) <= 1e-14:
            break
    t, u = min(1.0, max(0.0, t)), min(1.0, max(0.0, u))
    return (t, u) if abs(one.point(t) - other.point(u)) <= tolerance else None


def _alongside(
    one: Cubic, other: Cubic, t0: float, t1: float, tolerance: float
) -> list[tuple[float, float, complex]]:
    """The ends of a small piece all of which runs within tolerance of the other curve."""
    found = []
    for t in (t0, t1, (t0 + t1) / 2):
        point = one.point(t)
        u, distance = other.nearest(point)
        if distance > tolerance:
            return []
        found.append((t, u, point))
    return found[:2]


def _nearest_approach(
    one: Cubic, other: Cubic, t: float, u: float, tolerance: float
) -> tuple[float, float] | None:
    """The nearest approach of two tiny pieces nobody could solve for, if it is within tolerance."""
    u, distance = other.nearest(one.point(t))
    for _ in range(20):
        if distance <= tolerance * 1e-3:
            break
        t_next, _ = one.nearest(other.point(u))
        u_next, closer = other.nearest(one.point(t_next))
        if closer >= distance:
            break
        t, u, distance = t_next, u_next, closer
    return (t, u) if distance <= tolerance else None
