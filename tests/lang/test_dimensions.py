"""What may be added to, multiplied by and compared with what."""

from __future__ import annotations

from itertools import product

import pytest

from oaktag.lang.checking.dimensions import (
    ANGLE,
    AREA,
    EDGE,
    EDGES,
    FUNCTIONS,
    LENGTH,
    LINE,
    LINES,
    NUMBER,
    NUMBERS,
    OPENING,
    PIECE,
    POINT,
    REAL,
    SECTION,
    UNKNOWN,
    VALUES,
    WHOLE,
    YES_NO,
    comparable,
    either,
    fits,
    product_of,
    quotient_of,
    result_of,
    sum_of,
    with_article,
)

# How often a kind has the unit of length in it, and that of an angle: the rules of reckoning with
# units, written down another way than in the module.
UNITS = {NUMBER: (0, 0), WHOLE: (0, 0), LENGTH: (1, 0), AREA: (2, 0), ANGLE: (0, 1)}


def plain(kind: str | None) -> str | None:
    return NUMBER if kind == WHOLE else kind


@pytest.mark.parametrize(("first", "second"), [*product(REAL, REAL)])
def test_calculating_keeps_the_units(first: str, second: str) -> None:
    one, other = UNITS[first], UNITS[second]
    by_units = {units: kind for kind, units in UNITS.items() if kind != WHOLE}
    assert plain(sum_of(first, second)) == (plain(first) if one == other else None)
    both = (one[0] + other[0], one[1] + other[1])
    assert plain(product_of(first, second)) == by_units.get(both)
    if second in NUMBERS or first == second or (first, second) == (AREA, LENGTH):
        left = (one[0] - other[0], one[1] - other[1])
        assert plain(quotient_of(first, second)) == by_units[left]
    else:
        assert quotient_of(first, second) is None


def test_whole_numbers_stay_whole_until_they_are_divided() -> None:
    assert sum_of(WHOLE, WHOLE) == product_of(WHOLE, WHOLE) == WHOLE
    assert quotient_of(WHOLE, WHOLE) == NUMBER
    assert sum_of(WHOLE, NUMBER) == product_of(NUMBER, WHOLE) == NUMBER


@pytest.mark.parametrize("kind", [EDGE, LINE, PIECE, POINT, YES_NO])
def test_what_is_not_a_figure_is_not_calculated_with(kind: str) -> None:
    for other in (*VALUES, kind):
        assert sum_of(kind, other) is sum_of(other, kind) is None
        assert product_of(kind, other) is product_of(other, kind) is None
        assert quotient_of(kind, other) is quotient_of(other, kind) is None


def test_comparing() -> None:
    for operator in ("=", "<", ">", "<=", ">="):
        assert comparable(operator, LENGTH, LENGTH)
        assert comparable(operator, WHOLE, NUMBER)
        assert not comparable(operator, LENGTH, NUMBER)
        assert not comparable(operator, EDGE, EDGE)
        for kind in (POINT, YES_NO):
            assert comparable(operator, kind, kind) == (operator == "=")


@pytest.mark.parametrize(
    ("name", "kinds", "result"),
    [
        ("length", [EDGE], LENGTH),
        ("length", [LINE], LENGTH),
        ("length", [OPENING], LENGTH),
        ("length", [POINT], None),
        ("length", [PIECE], None),
        ("sewn", [SECTION], LENGTH),
        ("distance", [POINT, POINT], LENGTH),
        ("distance", [POINT], None),
        ("angle", [POINT, POINT, POINT], ANGLE),
        ("area", [PIECE], AREA),
        ("area", [EDGE], None),
        ("count", [EDGE], WHOLE),
        ("min", [LENGTH, LENGTH, LENGTH], LENGTH),
        ("max", [WHOLE, WHOLE], WHOLE),
        ("max", [WHOLE, NUMBER], NUMBER),
        ("max", [LENGTH, NUMBER], None),
        ("abs", [ANGLE], ANGLE),
        ("abs", [YES_NO], None),
        ("sqrt", [AREA], LENGTH),
        ("sqrt", [WHOLE], NUMBER),
        ("sqrt", [LENGTH], None),
        ("round", [LENGTH, LENGTH], LENGTH),
        ("round", [NUMBER, WHOLE], NUMBER),
        ("round", [LENGTH, WHOLE], None),
        ("sin", [ANGLE], NUMBER),
        ("sin", [NUMBER], None),
        ("atan", [NUMBER], ANGLE),
        ("atan", [LENGTH], None),
        ("nothing", [NUMBER], None),
    ],
)
def test_functions(name: str, kinds: list[str], result: str | None) -> None:
    assert result_of(name, kinds) == result


def test_every_function_of_the_language_is_there() -> None:
    page = "length sewn distance angle area min max abs sqrt sin cos tan asin acos atan round count"
    assert set(FUNCTIONS) == set(page.split())


def test_a_mistake_fits_everywhere() -> None:
    for kind in (*VALUES, POINT, EDGE):
        assert UNKNOWN in (sum_of(UNKNOWN, kind), product_of(kind, UNKNOWN))
        assert quotient_of(UNKNOWN, kind) == UNKNOWN
        assert comparable("<", UNKNOWN, kind)
        assert fits(UNKNOWN, (kind,))
    assert all(result_of(name, [UNKNOWN] * FUNCTIONS[name].count.start) for name in FUNCTIONS)


def test_kinds_are_said_in_words() -> None:
    assert with_article(LENGTH) == "a length"
    assert with_article(EDGE) == "an edge"
    assert either((LENGTH, *NUMBERS)) == "a length or a number"
    assert either(EDGES) == "an edge"
    assert either((*LINES, POINT)) == "an edge, a drawn line or a point"
