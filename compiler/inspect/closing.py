"""Openings that close, and edges that are bound: whether that can be done as it is said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.walk import MATCHES, named
from oaktag.lang.diagnostics import Diagnostic, Label
from oaktag.lang.units import show_length, unit_in

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Closure, Pattern

GAP = 10.0  # mm: by so much a zip may be shorter than its opening; common practice, no source


def uneven(pattern: Pattern) -> Iterator[Diagnostic]:
    """Openings whose sides differ, zips that leave a gap, edges that are bound and sewn as well."""
    unit = pattern.unit
    for closure in pattern.closures:
        first, second = closure.opening, sum(side.edge.sewn for side in closure.second)
        if closure.second and abs(first - second) > MATCHES:
            yield Diagnostic(
                "warning",
                "uneven-opening",
                f"the two sides of this opening differ: {named(closure.first)} is "
                f"{show_length(first, unit)}, {named(closure.second)} is "
                f"{show_length(second, unit)}",
                closure.span,
                label=f"{show_length(abs(first - second), unit)} apart",
                help="end both sections at the same distance from the same end",
            )
        if _too_short(closure):
            assert closure.length is not None
            unit = unit_in(closure.span.text, pattern.unit)
            yield Diagnostic(
                "warning",
                "short-zip",
                f"the zip is {show_length(closure.length, unit)} long, the opening "
                f"{show_length(first, unit)}",
                closure.span,
                help="shorten the opening, take a longer zip, or leave `length` out",
            )
    yield from _bound_and_sewn(pattern)


def _too_short(closure: Closure) -> bool:
    zipped = closure.kind == "zip" and closure.length is not None
    return zipped and (closure.length or 0.0) < closure.opening - GAP


def _bound_and_sewn(pattern: Pattern) -> Iterator[Diagnostic]:
    sewn = {
        (side.piece.name, side.edge.label): seam.span
        for seam in pattern.seams
        for side in (*seam.first, *seam.second)
    }
    for binding in pattern.bindings:
        bound = {(side.piece.name, side.edge.label): side for side in binding.edges}
        for key, side in bound.items():
            seam = sewn.get(key)
            if seam is not None:
                yield Diagnostic(
                    "warning",
                    "bound-and-sewn",
                    f"`{side.name}` is bound here, and sewn as well",
                    binding.span,
                    labels=(Label(seam, "sewn here"),),
                    help="a bound edge is sewn to nothing: leave one of the two lines out",
                )
