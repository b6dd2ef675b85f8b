"""What makes a pattern sewable: seams that match, folds that are trimmed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.flow import broken
from oaktag.compiler.inspect.folds import untrimmed
from oaktag.compiler.inspect.marks import misplaced
from oaktag.compiler.inspect.notches import missed
from oaktag.compiler.inspect.seams import twice, uncut, unequal

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.lang.diagnostics import Diagnostic

__all__ = ["inspect"]


def inspect(pattern: Pattern) -> tuple[Diagnostic, ...]:
    """Everything that keeps the pieces from being sewn together, and what should be looked at."""
    return (
        *unequal(pattern),
        *twice(pattern),
        *missed(pattern),
        *uncut(pattern),
        *untrimmed(pattern),
        *misplaced(pattern),
        *broken(pattern),
    )
