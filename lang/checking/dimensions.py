"""What kind of thing a value is, and what may be added to, multiplied by or compared with what.

A kind is its own plain name, so that a message can say it. The functions give the kind of a
result, or none where the calculation has no meaning. They hold before anything is drawn, where a
name with a mistake behind it is `UNKNOWN`, and while drawing, where every value is known.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

Kind: TypeAlias = str

NUMBER: Kind = "number"
WHOLE: Kind = "whole number"
LENGTH: Kind = "length"
AREA: Kind = "area"
ANGLE: Kind = "angle"
YES_NO: Kind = "yes or no"
POINT: Kind = "point"
LINE: Kind = "drawn line"
EDGE: Kind = "edge"
SECTION: Kind = "section of an edge"
DART: Kind = "dart"
OPENING: Kind = "opening"
HALF: Kind = "half"
PIECE: Kind = "piece"
PATTERN: Kind = "pattern"
UNKNOWN: Kind = "unknown"

NUMBERS = (NUMBER, WHOLE)
MEASURED = (LENGTH, AREA, ANGLE)
REAL = (*NUMBERS, *MEASURED)
VALUES = (*REAL, YES_NO)
EDGES = (EDGE, SECTION)
LINES = (*EDGES, LINE)
FOLDS = (DART, OPENING)
ON_PAPER = (POINT, *LINES, *FOLDS, HALF)


def with_article(kind: Kind) -> str:
    """`a length`, `an edge`."""
    return f"{'an' if kind[0] in 'aeo' else 'a'} {kind}"


def either(kinds: Sequence[Kind]) -> str:
    """`a length or a number`."""
    implied = {WHOLE} if NUMBER in kinds else set()
    if EDGE in kinds:
        implied.add(SECTION)
    names = [with_article(kind) for kind in kinds if kind not in implied]
    return " or ".join([", ".join(names[:-1]), names[-1]] if names[1:] else names)


def fits(kind: Kind, wanted: Sequence[Kind]) -> bool:
    """Whether a thing of a kind may stand where one of others is wanted."""
    return kind == UNKNOWN or kind in wanted or (kind == WHOLE and NUMBER in wanted)


def sum_of(first: Kind, second: Kind) -> Kind | None:
    """The kind of a sum or a difference: both sides are of one kind."""
    if UNKNOWN in (first, second):
        return UNKNOWN
    if first in NUMBERS and second in NUMBERS:
        return WHOLE if first == second == WHOLE else NUMBER
    return first if first == second and first in MEASURED else None


def product_of(first: Kind, second: Kind) -> Kind | None:
    """A number times anything measured; a length times a length is an area."""
    if UNKNOWN in (first, second):
        return UNKNOWN
    if first in NUMBERS and second in NUMBERS:
        return WHOLE if first == second == WHOLE else NUMBER
    if first in NUMBERS and second in MEASURED:
        return second
    if second in NUMBERS and first in MEASURED:
        return first
    return AREA if first == second == LENGTH else None


def quotient_of(first: Kind, second: Kind) -> Kind | None:
    """Anything measured by a number or by its own kind; an area by a length is a length."""
    if UNKNOWN in (first, second):
        return UNKNOWN
    if first in REAL and second in NUMBERS:
        return NUMBER if first in NUMBERS else first
    if first in MEASURED and first == second:
        return NUMBER
    return LENGTH if (first, second) == (AREA, LENGTH) else None


def comparable(operator: str, first: Kind, second: Kind) -> bool:
    """Whether two values can be compared: `=` or one of `< > <= >=`."""
    if UNKNOWN in (first, second) or sum_of(first, second):
        return True
    return operator == "=" and first == second and first in (POINT, YES_NO)


class Function(Record):
    """A function of the language: how it is written, how many values, and what comes out."""

    use: str
    count: range
    result: Callable[[Sequence[Kind]], Kind | None]


def _given(wanted: Sequence[Kind], result: Kind) -> Callable[[Sequence[Kind]], Kind | None]:
    """All values of the wanted kinds make one result."""

    def of(kinds: Sequence[Kind]) -> Kind | None:
        return result if all(fits(kind, wanted) for kind in kinds) else None

    return of


def _alike(kinds: Sequence[Kind]) -> Kind | None:
    """Values of one kind, kept."""
    found: Kind | None = kinds[0] if fits(kinds[0], REAL) else None
    for kind in kinds[1:]:
        found = found and sum_of(found, kind)
    return found


def _root(kinds: Sequence[Kind]) -> Kind | None:
    return {AREA: LENGTH, UNKNOWN: UNKNOWN, NUMBER: NUMBER, WHOLE: NUMBER}.get(kinds[0])


_ONE, _TWO, _SOME = range(1, 2), range(2, 3), range(1, 1000)
_TURN = Function("an angle, as in `sin(30 deg)`", _ONE, _given((ANGLE,), NUMBER))
_TURN_BACK = Function("a number, as in `asin(1/2)`", _ONE, _given((NUMBER,), ANGLE))
_PICK = Function("values of one kind, as in `max(4 cm, depth)`", _SOME, _alike)

FUNCTIONS: dict[str, Function] = {
    "length": Function(
        "an edge, a drawn line, an opening or a path, as in `length(front.waist)`",
        _ONE,
        _given((*LINES, OPENING), LENGTH),
    ),
    "sewn": Function(
        "an edge or a drawn line, as in `sewn(front.side)`", _ONE, _given(LINES, LENGTH)
    ),
    "distance": Function("two points, as in `distance(P, Q)`", _TWO, _given((POINT,), LENGTH)),
    "angle": Function(
        "three points, as in `angle(P, Q, R)`, measured at Q",
        range(3, 4),
        _given((POINT,), ANGLE),
    ),
    "area": Function("a piece, as in `area(front)`", _ONE, _given((PIECE,), AREA)),
    "count": Function(
        "a row of names, as in `count(drape[1..3])`", _ONE, lambda kinds: WHOLE if kinds else None
    ),
    "min": _PICK,
    "max": _PICK,
    "abs": Function("a number, a length, an area or an angle", _ONE, _alike),
    "sqrt": Function("a number or an area", _ONE, _root),
    "round": Function("two values of one kind, as in `round(depth, 1 mm)`", _TWO, _alike),
    "sin": _TURN,
    "cos": _TURN,
    "tan": _TURN,
    "asin": _TURN_BACK,
    "acos": _TURN_BACK,
    "atan": _TURN_BACK,
}


def result_of(name: str, kinds: Sequence[Kind]) -> Kind | None:
    """The kind a function of the language gives for values of these kinds."""
    function = FUNCTIONS.get(name)
    if function is None or len(kinds) not in function.count:
        return None
    return function.result(kinds)
