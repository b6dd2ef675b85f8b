"""What tells one print of a pattern from another: its revision, and what was set for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.expressions import show

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Pattern

_LONG = 40  # letters of settings that a label takes
MORE = "see the test square"


def spelled(name: str) -> str:
    """A name as it is printed: `collar_stand` is the collar stand."""
    return name.replace("_", " ")


def state(pattern: Pattern) -> str:
    """The revision and the date of the file, or nothing."""
    revision = f"revision {pattern.revision}" if pattern.revision else ""
    return ", ".join(filter(None, (revision, pattern.date)))


def settings(pattern: Pattern) -> tuple[str, ...]:
    """Each choice and measure that was set from outside, `length 58 cm`."""
    values = {**pattern.measures, **pattern.choices}
    return tuple(f"{spelled(name)} {show(values[name], pattern.unit)}" for name in pattern.chosen)


def set_words(told: Sequence[str]) -> str:
    """Settings as one sentence."""
    return f"set: {', '.join(told)}"


def shortened(told: Sequence[str]) -> str:
    """As many settings as a label takes, and where the others stand."""
    whole = ", ".join(told)
    if len(whole) <= _LONG or len(told) == 1:
        return whole
    count = len(told) - 1
    while count > 1 and len(", ".join(told[:count])) > _LONG:
        count -= 1
    return f"{', '.join(told[:count])} and {len(told) - count} more, {MORE}"
