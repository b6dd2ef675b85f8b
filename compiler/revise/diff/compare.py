"""Two patterns compared: their pieces, seams, choices and measures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import widths
from oaktag.compiler.inspect.walk import matches, over
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.revise.diff.changes import (
    Both,
    Changes,
    PieceChange,
    SeamChange,
    ValueChange,
)
from oaktag.compiler.revise.diff.laying import displaced, grain_turned, laid_on
from oaktag.compiler.revise.diff.paper import edge_changes, fold_changes, mark_changes
from oaktag.compiler.revise.diff.renamed import pairs, with_new_names
from oaktag.compiler.revise.diff.steps import step_changes

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from oaktag.compiler.evaluate.pattern import Binding, Closure, Pattern, Seam, Value
    from oaktag.compiler.paper.piece import Piece

TOLERANCE = 0.1  # mm: less is rounding
TURNED = 0.5  # degrees: less is what the slant of an edge makes


def compare(old: Pattern, new: Pattern, tolerance: float = TOLERANCE) -> Changes:
    """All that differs; lengths that differ by no more than `tolerance` (mm) are the same."""
    found = list(pairs(old.pieces, new.pieces))
    renamed = {was.name: now.name for was, now in found if was and now and was.name != now.name}
    pieces = [_piece(old, new, was, now, renamed, tolerance) for was, now in found]
    return Changes(
        Both(old.title, new.title),
        new.unit,
        tolerance,
        tuple(_values(old.choices, new.choices)),
        tuple(_values(old.measures, new.measures)),
        tuple(piece for piece in pieces if not piece.nothing),
        tuple(_seams(old, new, renamed, tolerance)),
        tuple(_finishing(old, new, renamed)),
        Both(*_revisions(old, new)),
    )


def _revisions(old: Pattern, new: Pattern) -> Iterator[str]:
    """As their heads say it, `4 of 20 November 2026`; a date that both have is left out."""
    for pattern in (old, new):
        dated = pattern.date and old.date != new.date
        yield f"{pattern.revision} of {pattern.date}" if dated else pattern.revision


def _piece(
    old: Pattern,
    new: Pattern,
    before: Piece | None,
    after: Piece | None,
    renamed: Mapping[str, str],
    tolerance: float,
) -> PieceChange:
    name = Both(before and before.name, after and after.name)
    area = Both(before and before.area, after and after.area)
    cut = Both(*(_orders(pattern, piece) for pattern, piece in ((old, before), (new, after))))
    if before is None or after is None:
        return PieceChange(name, area, cut=cut)
    if abs(area.more) <= tolerance * before.outline.length:
        middle = (before.area + after.area) / 2
        area = Both(middle, middle)
    if not (before.edges and after.edges):
        return PieceChange(name, area, cut=cut, steps=tuple(step_changes(before, after, renamed)))
    turned = grain_turned(before, after)
    turned = turned if turned > TURNED else 0.0
    motion = laid_on(before, after, by_grain=not turned)
    edges = tuple(edge_changes(before, after, tolerance))
    moved = 0.0 if edges else displaced(before, after, motion)
    return PieceChange(
        name,
        area,
        edges,
        tuple(fold_changes(before, after, tolerance)),
        tuple(mark_changes(before, after, motion, tolerance)),
        tuple(_allowances(old, new, before, after, tolerance)),
        cut,
        tuple(step_changes(before, after, renamed)),
        moved if moved > tolerance else 0.0,
        turned,
    )


def _values(old: Mapping[str, Value], new: Mapping[str, Value]) -> Iterator[ValueChange]:
    for name in dict.fromkeys((*new, *old)):
        value = Both(old.get(name), new.get(name))
        if value.differs and not _alike(value.before, value.after):
            yield ValueChange(name, value)


def _alike(one: object, other: object) -> bool:
    return (
        isinstance(one, Quantity)
        and isinstance(other, Quantity)
        and one.kind == other.kind
        and abs(one.amount - other.amount) < 1e-6
    )


def _orders(pattern: Pattern, piece: Piece | None) -> tuple[str, ...]:
    """`2 as a pair in main`, for each cloth a piece is cut in."""
    if piece is None:
        return ()
    return tuple(
        f"{order.count}{' as a pair' if order.pair else ''} in {order.cloth}"
        for order in pattern.cuts
        if order.piece == piece.name
    )


def _allowances(
    old: Pattern, new: Pattern, before: Piece, after: Piece, tolerance: float
) -> Iterator[ValueChange]:
    """Edges of both papers whose allowance is another, or (a part of an edge) begins elsewhere."""
    was = _by_edge(old, before)
    for name, stretches in _by_edge(new, after).items():
        if name not in was:
            continue
        wide = [tuple(width for *_, width in part) for part in (was[name], stretches)]
        if wide[0] != wide[1] and any(abs(a - b) > tolerance for a in wide[0] for b in wide[1]):
            yield ValueChange(name, Both(*wide))


def _by_edge(pattern: Pattern, piece: Piece) -> dict[str, list[tuple[float, float, float]]]:
    found: dict[str, list[tuple[float, float, float]]] = {}
    for edge in piece.edges:
        found.setdefault(str(edge.label), []).extend(widths(piece, edge, pattern.allowances))
    return found


def _seams(
    old: Pattern, new: Pattern, renamed: Mapping[str, str], tolerance: float
) -> Iterator[SeamChange]:
    before, after = _by_name(old, renamed), _by_name(new, {})
    for name in dict.fromkeys((*after, *before)):
        was, now = before.get(name), after.get(name)
        apart = Both(was and _apart(was), now and _apart(now))
        if was is None or now is None or abs(apart.more) > tolerance:
            yield SeamChange(Both(was and _named(was, {}), now and _named(now, {})), apart)


def _by_name(pattern: Pattern, renamed: Mapping[str, str]) -> dict[str, Seam]:
    return {_named(seam, renamed): seam for seam in pattern.seams}


def _named(seam: Seam, renamed: Mapping[str, str]) -> str:
    """What is sewn to what, in words, with the new names of pieces."""
    sides = []
    for chain in (seam.first, seam.second):
        parts = [link.name.split(".", 1) for link in chain]
        names = [".".join([renamed.get(part[0], part[0]), *part[1:]]) for part in parts]
        sides.append(" then ".join(names))
    return " to ".join(sides)


def _apart(seam: Seam) -> float:
    """How far the sides are from matching; 0 where they match, or one is gathered."""
    return 0.0 if matches(seam) else over(seam)


def _finishing(old: Pattern, new: Pattern, renamed: Mapping[str, str]) -> Iterator[Both]:
    """Bindings and closures that came or went, as they are written."""
    before, after = (
        [*map(_written, pattern.bindings), *map(_written, pattern.closures)]
        for pattern in (old, new)
    )
    lines = [with_new_names(line, renamed) for line in before]
    gone = (was for was, line in zip(before, lines, strict=True) if line not in after)
    yield from (Both(was, None) for was in gone)
    yield from (Both(None, line) for line in after if line not in lines)


def _written(said: Binding | Closure) -> str:
    return " ".join(said.span.text.split())
