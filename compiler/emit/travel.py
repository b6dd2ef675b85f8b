"""In what order a pen draws, so that it travels little between its strokes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_MOST = 400  # lines: of more, each stretch of so many is put in order by itself
_PASSES = 12


class Run(Record):
    """Strokes that are drawn one after another, like the dashes of a line or a line of words.

    ring: one stroke that ends where it begins, so that it may be begun at any of its points.
    """

    strokes: tuple[tuple[complex, ...], ...]
    ring: bool = False

    @property
    def start(self) -> complex:
        return self.strokes[0][0]

    @property
    def end(self) -> complex:
        return self.strokes[-1][-1]

    @property
    def inside(self) -> float:
        """What is travelled between its own strokes."""
        pairs = zip(self.strokes, self.strokes[1:], strict=False)
        return sum(abs(after[0] - before[-1]) for before, after in pairs)

    def turned(self) -> Run:
        """Drawn from its end."""
        return self.changed(strokes=tuple(stroke[::-1] for stroke in reversed(self.strokes)))

    def begun_at(self, number: int) -> Run:
        """A ring begun at another of its points."""
        (stroke,) = self.strokes
        return self.changed(strokes=((*stroke[number:-1], *stroke[: number + 1]),))


def run(*strokes: tuple[complex, ...]) -> Run:
    """Strokes in their order."""
    ring = len(strokes) == 1 and len(strokes[0]) > 2 and strokes[0][0] == strokes[0][-1]
    return Run(strokes, ring)


def travel(runs: Sequence[Run], start: complex) -> float:
    """How far the pen goes without drawing, from `start`."""
    total, at = 0.0, start
    for one in runs:
        total += abs(one.start - at) + one.inside
        at = one.end
    return total


def shortened(runs: Sequence[Run], start: complex) -> list[Run]:
    """The same runs in an order, each from the end, that makes the travel from `start` short.

    Always to the nearest (a ring from its nearest point), then improved by turning stretches of the
    order about (2-opt; Croes 1958) until nothing is gained. Never longer than as given.
    """
    order: list[Run] = []
    at = start
    for first in range(0, len(runs), _MOST):
        part = list(_nearest(runs[first : first + _MOST], at))
        for _ in range(2):
            part = _begun(_untangled(part, at), at)
        order += part
        at = order[-1].end
    return order if travel(order, start) < travel(runs, start) else list(runs)


def _nearest(runs: Sequence[Run], at: complex) -> Iterator[Run]:
    left = list(runs)
    while left:
        best, choice, chosen = float("inf"), 0, left[0]
        for number, one in enumerate(left):
            if one.ring:
                stroke = one.strokes[0]
                away, place = min((abs(p - at), k) for k, p in enumerate(stroke[:-1]))
                if away < best:
                    best, choice, chosen = away, number, one.begun_at(place)
                continue
            away = abs(one.start - at)
            if away < best:
                best, choice, chosen = away, number, one
            away = abs(one.end - at)
            if away < best:
                best, choice, chosen = away, number, one.turned()
        left.pop(choice)
        at = chosen.end
        yield chosen


def _untangled(runs: list[Run], at: complex) -> list[Run]:
    """Stretches are turned about as long as that saves travel."""
    heads = [at] + [one.start for one in runs]
    tails = [at] + [one.end for one in runs]
    order = list(runs)
    count = len(order)
    for _ in range(_PASSES):
        changed = False
        for i in range(1, count):
            for k in range(i, count + 1):
                before, first, last = tails[i - 1], heads[i], tails[k]
                gain = abs(first - before) - abs(last - before)
                if gain <= -1e-9 and k == count:
                    continue
                if k < count:
                    after = heads[k + 1]
                    gain += abs(after - last) - abs(after - first)
                if gain > 1e-6:
                    order[i - 1 : k] = [one.turned() for one in reversed(order[i - 1 : k])]
                    heads[i : k + 1], tails[i : k + 1] = (
                        tails[k : i - 1 : -1],
                        heads[k : i - 1 : -1],
                    )
                    changed = True
        if not changed:
            break
    return order


def _begun(runs: list[Run], at: complex) -> list[Run]:
    """Rings begun where the way in and out of them is shortest."""
    order = list(runs)
    for number, one in enumerate(order):
        if one.ring:
            after = order[number + 1].start if number + 1 < len(order) else None
            stroke = one.strokes[0][:-1]
            costs = [
                (abs(p - at) + (abs(p - after) if after is not None else 0.0), k)
                for k, p in enumerate(stroke)
            ]
            order[number] = one.begun_at(min(costs)[1])
        at = order[number].end
    return order
