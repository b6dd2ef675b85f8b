"""What changed, in sentences: figures in the new file's unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.units import show_area, show_length, show_number

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

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
_LONGEST = 70  # letters of a line of the file
_NAMES = {"drill": "drill hole", "text": "line of words"}


def told(changes: Changes) -> list[tuple[str, list[str]]]:
    """What there is to tell, under the names of what it is told of; nothing if nothing differs.

    Pieces that are cut come before those that are only drafted.
    """
    unit = changes.unit
    parts = [(changes.title.after, list(_of_the_whole(changes)))]
    for piece in sorted(changes.pieces, key=_only_drafted):
        parts.append((_heading(piece), list(_of_piece(piece, changes))))
    parts.append(("seams", [_seam(seam, unit) for seam in changes.seams]))
    parts.append(("bound and fastened", [_came_or_went(line) for line in changes.finishing]))
    return [(name, lines) for name, lines in parts if lines]


def sentences(changes: Changes) -> list[str]:
    """The same, each sentence by itself: `front: side 1.2 cm longer, …`."""
    return [f"{name}: {line}" for name, lines in told(changes) for line in lines]


def briefly(changes: Changes) -> list[str]:
    """The same sentences, those first that reach the cloth: what changed on the pieces that are
    cut, then their seams, then steps, then drafts. What is the same on several pieces is one line.
    """
    cut = [piece.changed(steps=()) for piece in changes.pieces if not _only_drafted(piece)]
    cloth = changes.changed(pieces=tuple(cut))
    alike: dict[str, list[str]] = {}
    for name, lines in told(cloth):
        for line in lines:
            alike.setdefault(line, []).append(name)
    first = [f"{_listed(tuple(names))}: {line}" for line, names in alike.items()]
    said = set(sentences(cloth))
    return first + [line for line in sentences(changes) if line not in said]


def _only_drafted(piece: PieceChange) -> bool:
    return not (piece.cut.before or piece.cut.after)


def _of_the_whole(changes: Changes) -> Iterator[str]:
    if changes.title.differs:
        yield f"titled “{changes.title.after}”, was “{changes.title.before}”"
    if changes.revision.differs:
        state = changes.revision
        yield f"revision {state.after or 'none'}, was {state.before or 'none'}"
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
    yield from _alike((fold.name, _fold(fold, unit)) for fold in piece.folds)
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
    yield from _alike((edge.name, _edge(edge, unit, tolerance)) for edge in edges)


def _alike(named: Iterable[tuple[str, str]]) -> Iterator[str]:
    """What changed alike, like the two sides of an unfolded piece, shares a sentence."""
    said: dict[str, list[str]] = {}
    for name, words in named:
        said.setdefault(words, []).append(name)
    for words, names in said.items():
        halves = len({name.rpartition(".")[2] for name in names}) == 1
        several = words
        if len(names) > 1:
            several = words.replace("is a new edge", "are new edges").replace("is gone", "are gone")
        yield f"{_listed(tuple(sorted(names) if halves else names))} {several}"


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
        return f"added: {kind.after}, {wide} wide, {deep} deep"
    if kind.after is None:
        return f"is gone: {kind.before}, {show_length(fold.intake.before, unit)} wide"
    parts = [f"now {kind.after}, was {kind.before}"] if kind.differs else []
    for what, both in (("wide", fold.intake), ("deep", fold.reach)):
        now, was = show_length(both.after, unit), show_length(both.before, unit)
        if now != was:
            parts.append(f"{now} {what}, was {was}")
    if fold.toward.differs:
        now, was = (way or "no side" for way in (fold.toward.after, fold.toward.before))
        parts.append(f"pressed toward {now}, was toward {was}")
    return "; ".join(parts) or "made otherwise"


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
        now, was = _contrasted(line.after, line.before)
        return f"step changed: {words}`{now}`, was `{was}`{often}"
    now, was = caption.after or "none", caption.before or "none"
    return f"remark above `{_cut(line.after)}`: {now}, was {was}"


def _captioned(line: str, caption: str) -> str:
    return f"{caption} (`{_cut(line)}`)" if caption else f"`{_cut(line)}`"


def _cut(line: str) -> str:
    """A line of the file, no longer than can be read at a glance."""
    return line if len(line) <= _LONGEST else f"{line[: _LONGEST - 2].rstrip()} …"


def _contrasted(line: str, other: str) -> tuple[str, str]:
    """Two lines, where they are long without most of what both begin with: the first word stays."""
    if max(len(line), len(other)) <= _LONGEST:
        return line, other
    words, others = line.split(" "), other.split(" ")
    alike = 0
    while alike < min(len(words), len(others)) and words[alike] == others[alike]:
        alike += 1
    # A few words before the first that differs, so that one sees what it is about.
    kept = max(alike - 3, 0)
    if kept < 3:
        return _cut(line), _cut(other)
    start = " ".join(words[:2])
    return tuple(_cut(f"{start} … {' '.join(one[kept:])}") for one in (words, others))  # type: ignore[return-value]


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
        return show_length(value.amount, value.unit or unit)
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
