"""What changed, in sentences: figures in the new file's unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.units import show_area, show_length, show_number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.revise.diff.changes import (
        Both,
        Changes,
        EdgeChange,
        FoldChange,
        MarkChange,
        PieceChange,
        SeamChange,
        StepChange,
        ValueChange,
    )

_SAME = 0.005  # mm
_NAMES = {"drill": "drill hole", "text": "line of words"}


def told(changes: Changes) -> list[tuple[str, list[str]]]:
    """What there is to tell, under the names of what it is told of; nothing if nothing differs."""
    unit = changes.unit
    parts = [(changes.title.after, list(_of_the_whole(changes)))]
    parts += [(_heading(piece), list(_of_piece(piece, changes))) for piece in changes.pieces]
    parts.append(("seams", [_seam(seam, unit) for seam in changes.seams]))
    parts.append(("bound and fastened", [_came_or_went(line) for line in changes.finishing]))
    return [(name, lines) for name, lines in parts if lines]


def sentences(changes: Changes) -> list[str]:
    """The same, each sentence by itself: `front: side 1.2 cm longer, …`."""
    return [f"{name}: {line}" for name, lines in told(changes) for line in lines]


def _of_the_whole(changes: Changes) -> Iterator[str]:
    if changes.title.differs:
        yield f"titled “{changes.title.after}”, was “{changes.title.before}”"
    for what, values in (("choice", changes.choices), ("measure", changes.measures)):
        for change in values:
            yield f"{what} {change.name}: {_value_change(change, changes.unit)}"


def _heading(piece: PieceChange) -> str:
    return str(piece.name.after or piece.name.before)


def _of_piece(piece: PieceChange, changes: Changes) -> Iterator[str]:
    name, unit = piece.name, changes.unit
    if name.before is None or name.after is None:
        yield _came_or_went_piece(piece, unit)
        return
    if name.differs:
        yield f"was called {name.before}"
    yield from _edges(piece.edges, unit, changes.tolerance)
    if piece.reshaped:
        yield f"another shape, by up to {show_length(piece.reshaped, unit)}; no edge longer"
    if piece.turned:
        yield f"grain turned by {show_number(piece.turned, 1)} deg"
    if piece.area.differs:
        more = "more" if piece.area.more > 0 else "less"
        yield (
            f"{show_area(abs(piece.area.more), unit)} {more} paper: "
            f"{show_area(piece.area.after, unit)}, was {show_area(piece.area.before, unit)}"
        )
    yield from (_fold(fold, unit) for fold in piece.folds)
    yield from (_mark(mark, unit) for mark in piece.marks)
    for change in piece.allowances:
        now, was = (_wide(both, unit) for both in (change.value.after, change.value.before))
        yield f"allowance on {change.name} {now}, was {was}"
    if piece.cut.differs:
        yield f"cut {_listed(piece.cut.after)}, was {_listed(piece.cut.before)}"
    yield from (_step(step) for step in piece.steps)


def _came_or_went_piece(piece: PieceChange, unit: str) -> str:
    if piece.name.before is None:
        cut = f", cut {_listed(piece.cut.after)}" if piece.cut.after else ""
        return f"new piece, {show_area(piece.area.after, unit)}{cut}"
    return f"the piece is gone ({show_area(piece.area.before, unit)})"


def _edges(edges: tuple[EdgeChange, ...], unit: str, tolerance: float) -> Iterator[str]:
    """Edges that changed alike, like the two sides of an unfolded piece, share a sentence."""
    said: dict[str, list[str]] = {}
    for edge in edges:
        said.setdefault(_edge(edge, unit, tolerance), []).append(edge.name)
    for words, names in said.items():
        yield f"{_listed(tuple(names))} {words}"


def _edge(edge: EdgeChange, unit: str, tolerance: float) -> str:
    length, sewn = edge.length, edge.sewn
    if length.before is None:
        return f"is a new edge, {_both(length.after, sewn.after, unit)}"
    if length.after is None:
        return f"is gone ({_both(length.before, sewn.before, unit)})"
    if abs(length.more - sewn.more) <= tolerance and abs(length.after - sewn.after) > _SAME:
        now, was = (_both(length.after, sewn.after, unit), _both(length.before, sewn.before, unit))
        return f"{_more(length, unit)} ({now}; was {was})"
    parts = []
    as_cut = abs(length.before - sewn.before) < _SAME and abs(length.after - sewn.after) < _SAME
    if as_cut or abs(length.more) > tolerance:
        parts.append(_longer(length, unit, "" if as_cut else " as cut"))
    if not as_cut:
        as_sewn = abs(sewn.more) > tolerance
        parts.append(_longer(sewn, unit, " as sewn") if as_sewn else "sewn as before")
    return ", ".join(parts)


def _longer(both: Both, unit: str, how: str) -> str:
    now, was = show_length(both.after, unit), show_length(both.before, unit)
    return f"{_more(both, unit)}{how} ({now}, was {was})"


def _more(both: Both, unit: str) -> str:
    return f"{show_length(abs(both.more), unit)} {'longer' if both.more > 0 else 'shorter'}"


def _both(length: float, sewn: float, unit: str) -> str:
    words = show_length(length, unit)
    return words if abs(length - sewn) < _SAME else f"{words}, {show_length(sewn, unit)} sewn"


def _fold(fold: FoldChange, unit: str) -> str:
    kind = fold.kind
    if kind.before is None:
        wide, deep = show_length(fold.intake.after, unit), show_length(fold.reach.after, unit)
        return f"{fold.name} added: {kind.after}, {wide} wide, {deep} deep"
    if kind.after is None:
        return f"{fold.name} is gone: {kind.before}, {show_length(fold.intake.before, unit)} wide"
    parts = [f"now {kind.after}, was {kind.before}"] if kind.differs else []
    for what, both in (("wide", fold.intake), ("deep", fold.reach)):
        now, was = show_length(both.after, unit), show_length(both.before, unit)
        if now != was:
            parts.append(f"{now} {what}, was {was}")
    if fold.toward.differs:
        now, was = (way or "no side" for way in (fold.toward.after, fold.toward.before))
        parts.append(f"pressed toward {now}, was toward {was}")
    return f"{fold.name} {'; '.join(parts) or 'made otherwise'}"


def _mark(mark: MarkChange, unit: str) -> str:
    where = f" on {mark.edge}" if mark.edge else ""
    kind = _NAMES.get(mark.kind, mark.kind)
    if mark.count.differs:
        return f"{_plural(mark.count.after, kind)}{where}, {_was(mark.count.before)}"
    one = kind if mark.count.after == 1 else _plural(mark.count.after, kind)
    return f"{one}{where} moved by up to {show_length(mark.moved, unit)}"


def _was(count: int) -> str:
    return f"was {count}" if count else "was none"


def _plural(count: int, kind: str) -> str:
    if kind == _NAMES["text"]:
        return f"{count or 'no'} {kind}" if count == 1 else f"{count or 'no'} lines of words"
    ending = "" if count == 1 else "es" if kind.endswith("ch") else "s"
    return f"{count or 'no'} {kind}{ending}"


def _step(step: StepChange) -> str:
    line, caption = step.line, step.caption
    often = f", {step.times} times" if step.times > 1 else ""
    if line.before is None:
        return f"step added: {_captioned(line.after, caption.after)}{often}"
    if line.after is None:
        return f"step left out: {_captioned(line.before, caption.before)}{often}"
    if line.differs:
        words = f"{caption.after}: " if caption.after else ""
        return f"step changed: {words}`{line.after}`, was `{line.before}`{often}"
    return f"remark above `{line.after}`: {caption.after or 'none'}, was {caption.before or 'none'}"


def _captioned(line: str, caption: str) -> str:
    return f"{caption} (`{line}`)" if caption else f"`{line}`"


def _seam(seam: SeamChange, unit: str) -> str:
    apart, name = seam.apart, seam.name.after or seam.name.before
    if apart.before is None:
        return f"{name} is a new seam{_mismatch(apart.after, unit)}"
    if apart.after is None:
        return f"{name} is sewn no more"
    if not apart.after:
        return f"{name} matches again"
    if not apart.before:
        return f"{name} no longer matches: its sides differ by {_size(apart.after, unit)}"
    return (
        f"{name} does not match: its sides differ by {_size(apart.after, unit)}, "
        f"before by {_size(apart.before, unit)}"
    )


def _mismatch(apart: float, unit: str) -> str:
    return f", which does not match: its sides differ by {_size(apart, unit)}" if apart else ""


def _size(apart: float, unit: str) -> str:
    return show_length(abs(apart), unit)


def _came_or_went(line: Both) -> str:
    return f"added: `{line.after}`" if line.before is None else f"left out: `{line.before}`"


def _value_change(change: ValueChange, unit: str) -> str:
    value = change.value
    if value.before is None:
        return f"new, {shown(value.after, unit)}"
    if value.after is None:
        return f"is gone (was {shown(value.before, unit)})"
    return f"{shown(value.after, unit)}, was {shown(value.before, unit)}"


def shown(value: Any, unit: str) -> str:
    """A choice or a measure as it would be written."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not isinstance(value, Quantity):
        return str(value)
    if value.kind == "length":
        return show_length(value.amount, unit)
    if value.kind == "angle":
        return f"{show_number(value.amount, 2)} deg"
    return show_number(value.amount, 4)


def _wide(widths: tuple[float, ...], unit: str) -> str:
    each = dict.fromkeys(show_length(width, unit) if width else "none" for width in widths)
    return " and ".join(each)


def _listed(words: tuple[str, ...]) -> str:
    if not words:
        return "not at all"
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"
