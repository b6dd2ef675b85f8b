"""What makes a pattern sewable: seams that match, folds that are trimmed, nothing left over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.closing import uneven
from oaktag.compiler.inspect.doubts import in_vain, pairs_on_fold, unequal_legs
from oaktag.compiler.inspect.flow import broken
from oaktag.compiler.inspect.folds import untrimmed
from oaktag.compiler.inspect.getting_in import opening, stride
from oaktag.compiler.inspect.left_over import loose, nobody_cuts, without_grain
from oaktag.compiler.inspect.marks import misplaced
from oaktag.compiler.inspect.notches import missed
from oaktag.compiler.inspect.partly import inspect_part, whole
from oaktag.compiler.inspect.seams import twice, uncut, unequal
from oaktag.compiler.inspect.wide import too_wide

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.lang.diagnostics import Diagnostic

__all__ = ["inspect", "inspect_part", "whole"]

LOOKS = (
    # cannot be sewn
    unequal,
    missed,
    too_wide,
    # likely mistakes
    twice,
    broken,
    untrimmed,
    uneven,
    misplaced,
    unequal_legs,
    without_grain,
    nobody_cuts,
    pairs_on_fold,
    in_vain,
    # common practice
    uncut,
    loose,
    opening,
    stride,
)


def inspect(pattern: Pattern) -> tuple[Diagnostic, ...]:
    """Everything that keeps the pieces from being sewn together, and what should be looked at."""
    return tuple(found for look in LOOKS for found in look(pattern))
