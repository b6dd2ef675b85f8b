"""`adjust`: the value that makes a condition hold."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from oaktag.compiler.evaluate.expressions import show
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake, mistake

EXACT = 1e-6  # mm, degrees or plainly: how nearly both sides are brought together
AGREES = 0.01  # the same: sides farther apart do not agree
PATIENCE = 8  # trials, after which
NEAR = 1e-3  # is enough
NARROW = 1e-9  # share of a bracket below which it is not halved again
TRIALS = 80
STEPS = 24  # how finely a range is searched where an end of it cannot be drawn

Pair = tuple[Quantity, Quantity]


def solve(
    statement: ast.Adjust,
    low: Quantity,
    high: Quantity,
    attempt: Callable[[Quantity], Pair],
    unit: str,
) -> Quantity:
    """The value between low and high at which both sides of the condition agree.

    attempt: both sides for a value; raises Mistake where the pieces cannot be drawn. Raises Mistake
    with what was found at both ends if there is no such value.
    """
    sides: dict[float, Pair] = {}
    failed: dict[float, Mistake] = {}

    def apart(amount: float) -> float | None:
        try:
            left, right = sides[amount] = attempt(low.changed(amount=amount))
        except Mistake as wrong:
            failed[amount] = wrong
            return None
        return left.amount - right.amount

    found = root(apart, low.amount, high.amount)
    if found is not None:
        left, right = sides[found]
        if abs(left.amount - right.amount) <= AGREES:
            return low.changed(amount=found)
    if not sides:
        raise failed[low.amount]
    raise _no_solution(statement, (low, high), sides, unit)


def root(function: Callable[[float], float | None], low: float, high: float) -> float | None:
    """Where a function comes to nothing between two values, or none if it is not found there.

    The function may have no value in places: where a spread would tear the paper, say. Then the
    range is searched in steps, from low to high.
    """
    left, right = function(low), function(high)
    if left is not None and right is not None and _opposite(left, right):
        return _between(function, low, left, high, right)
    step = (high - low) / STEPS
    place, value, leap = low, left, step
    while abs(high - place) > abs(step) / 2:
        ahead = place + leap if abs(high - place) > abs(leap) else high
        found = right if ahead == high else function(ahead)
        if found is None and leap != step:
            leap = step
            continue
        if value is not None and found is not None:
            if _opposite(value, found):
                return _between(function, place, value, ahead, found)
            leap = _leap(value, found, ahead - place, step)
        place, value = ahead, found
    return None


def _leap(before: float, here: float, gone: float, step: float) -> float:
    """How far ahead to look next: a little beyond where the way so far, led on, comes to nothing.

    If that lies behind, or nearer than a step, a step.
    """
    if abs(here) >= abs(before):
        return step
    far = 1.1 * gone * here / (before - here)
    return far if abs(far) > abs(step) else step


def _opposite(left: float, right: float) -> bool:
    return abs(left) <= EXACT or abs(right) <= EXACT or (left > 0) != (right > 0)


def _between(
    function: Callable[[float], float | None], low: float, left: float, high: float, right: float
) -> float | None:
    """The place between two of opposite sign where a function comes to nothing.

    Inverse quadratic interpolation where it is sure to help, else halving. Source: T. R.
    Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear
    function without using derivatives", Advances in Engineering Software 28 (1997).
    """
    if abs(left) <= EXACT:
        return low
    if abs(right) <= EXACT:
        return high
    # The bracket is between `new` and `other`; `old` is the place `new` has replaced.
    new, at_new, other, at_other = low, left, high, right
    share = left / (left - right)
    for trial in range(TRIALS):
        place = new + share * (other - new)
        value = function(place)
        if value is None:
            return None
        if abs(value) <= (EXACT if trial < PATIENCE else NEAR):
            return place
        if (value > 0) == (at_new > 0):
            old, at_old = new, at_new
        else:
            old, at_old, other, at_other = other, at_other, new, at_new
        new, at_new = place, value
        if abs(other - new) <= NARROW * abs(high - low):
            return new
        across, risen = (new - other) / (old - other), (at_new - at_other) / (at_old - at_other)
        share = 0.5
        if risen**2 < across and (1 - risen) ** 2 < 1 - across:
            share = at_new / (at_other - at_new) * at_old / (at_other - at_old) + (old - new) / (
                other - new
            ) * at_new / (at_old - at_new) * at_other / (at_old - at_other)
        share = min(max(share, 1e-9), 1 - 1e-9)
    return new


def _no_solution(
    statement: ast.Adjust, ends: tuple[Quantity, Quantity], sides: Mapping[float, Pair], unit: str
) -> Mistake:
    """What both sides are at the two ends, or at the outermost values that can be drawn."""
    name = statement.target.name
    told = []
    for end, nearest in zip(ends, (min(sides), max(sides)), strict=True):
        if end.amount not in sides:
            told.append(f"at {show(end, unit)} the pieces cannot be drawn")
        if len(told) < 2 or nearest != min(sides):
            left, right = sides[nearest]
            here = show(end.changed(amount=nearest), unit)
            told.append(f"at {here} they are {show(left, unit)} and {show(right, unit)}")
    return mistake(
        "no-solution",
        f"no `{name}` between {show(ends[0], unit)} and {show(ends[1], unit)} brings both sides "
        f"together: {'; '.join(told)}",
        statement.condition.span,
        help="widen the range, or change what is asked for",
    )
