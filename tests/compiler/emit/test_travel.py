"""The order in which a pen draws."""

from __future__ import annotations

import itertools
import random

import pytest

from oaktag.compiler.emit.travel import Run, run, shortened, travel


def dashes(count: int) -> list[Run]:
    chance = random.Random(count)

    def place() -> complex:
        return complex(chance.uniform(0, 900), chance.uniform(0, 2000))

    return [run((place(), place())) for _ in range(count)]


def drawn(runs: list[Run]) -> list[frozenset[frozenset[complex]]]:
    """What is drawn, whichever way round and wherever begun."""
    return sorted(
        (
            frozenset(
                frozenset(pair) for stroke in one.strokes for pair in itertools.pairwise(stroke)
            )
            for one in runs
        ),
        key=lambda item: sorted(sorted((p.real, p.imag) for p in pair) for pair in item),
    )


@pytest.mark.parametrize("count", [0, 1, 2, 30, 200])
def test_the_same_is_drawn_with_less_travel(count: int) -> None:
    runs = dashes(count)
    order = shortened(runs, 0j)
    assert drawn(order) == drawn(runs)
    assert travel(order, 0j) <= travel(runs, 0j)
    if count > 2:
        assert travel(order, 0j) < 0.5 * travel(runs, 0j)


def test_the_best_order_of_a_few_is_nearly_found() -> None:
    """Against all orders and directions of five lines; within a fifth of the best."""
    runs = dashes(5)
    best = min(
        travel([one.turned() if turn else one for one, turn in zip(order, turns, strict=True)], 0j)
        for order in itertools.permutations(runs)
        for turns in itertools.product((False, True), repeat=5)
    )
    found = travel(shortened(runs, 0j), 0j)
    assert best - 1e-9 <= found <= 1.2 * best


def test_a_ring_is_begun_where_the_pen_comes_by() -> None:
    ring = run((0j, 100 + 0j, 100 + 100j, 100j, 0j))
    assert ring.ring
    (one,) = shortened([ring], 101 + 102j)
    assert one.start == one.end == 100 + 100j
    assert drawn([one]) == drawn([ring])


def test_lines_of_words_stay_whole() -> None:
    words = run((0j, 1 + 0j), (2 + 0j, 3 + 0j))
    far = run((500 + 0j, 501 + 0j))
    assert words.inside == 1.0
    assert shortened([far, words], 600 + 0j)[1].strokes in (words.strokes, words.turned().strokes)
