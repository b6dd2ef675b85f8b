"""Everything that is drawn of one piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.finish.grain import grain_line
from oaktag.compiler.sheet.drawing import (
    CUT,
    FOLD,
    GRAIN,
    LAYERS,
    SEAM,
    Group,
    OutlineEdge,
    Stroke,
    Text,
)
from oaktag.compiler.sheet.fold_edge import fold_sign
from oaktag.compiler.sheet.folds import fold_words, folded_away, opening_strokes, opening_words
from oaktag.compiler.sheet.label import label, plate
from oaktag.compiler.sheet.lettering import beside, frame
from oaktag.compiler.sheet.line_words import drawn_strokes, line_texts
from oaktag.compiler.sheet.marks import mark_strokes, words
from oaktag.compiler.sheet.symbols import arrow
from oaktag.compiler.sheet.tag import tag
from oaktag.lang.source import seen_from
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece

    Points = Sequence[complex]

_FLAT = 0.5  # mm: how exactly curves are looked at when a label is placed
_BARB = 6.0  # mm


def piece_group(pattern: Pattern, piece: Piece, made_for: str) -> Group:
    """The piece with its allowances, marks and label, where it lies on its own paper."""
    around = cut_line(piece, pattern.allowances)
    inside = list(_inside(pattern, piece, around))
    texts = list(_texts(piece))
    outline = piece.outline.flattened(_FLAT)
    for edge in piece.edges:
        if edge.on_fold:
            signs, text = fold_sign(piece, edge, outline, _obstacles(inside, texts))
            inside += signs
            texts.append(text)
    away = [rung for opening in piece.openings for rung in folded_away(opening)]
    texts += line_texts(piece, away + _obstacles(inside, texts))
    for text, fold in filter(None, (fold_words(piece, opening) for opening in piece.openings)):
        placed = beside(text, fold, outline, _obstacles(inside, texts))
        texts += [placed] if placed else []
    inside += _grain(piece, away + _obstacles(inside, texts))
    obstacles = away + _obstacles(inside, texts)
    words = plate(pattern, piece, made_for, outline, obstacles)
    block, unsaid = label(words)
    texts += block
    if unsaid:
        cut = piece.outline if around is None else around
        signs, beside_it = tag(cut.box(), piece.outline, [words.name, *unsaid])
        inside += signs
        texts += beside_it
    strokes = [*_outline(pattern, piece, around), *inside]
    strokes.sort(key=lambda stroke: LAYERS.index(stroke.layer))
    return Group(piece.name, _title(pattern, piece), tuple(strokes), tuple(texts), plate=words)


def _obstacles(strokes: Sequence[Stroke], texts: Sequence[Text]) -> list[Points]:
    paths = [stroke.path for stroke in strokes] + [frame(text) for text in texts]
    return [path.flattened(_FLAT) for path in paths]


def _outline(pattern: Pattern, piece: Piece, around: Path | None) -> Iterator[Stroke]:
    yield Stroke(CUT, "cut line", piece.outline if around is None else around)
    for edge in piece.edges:
        about = _edge(pattern, piece, edge)
        if edge.on_fold:
            yield Stroke(FOLD, "fold", edge.path, about)
        else:
            yield Stroke(SEAM, "seam", edge.path, about)


def _inside(pattern: Pattern, piece: Piece, around: Path | None) -> Iterator[Stroke]:
    for opening in piece.openings:
        yield from opening_strokes(piece, opening)
    for drawn in piece.lines:
        yield from drawn_strokes(piece, drawn)
    for mark in piece.marks:
        yield from mark_strokes(pattern, piece, mark, around)


def _grain(piece: Piece, obstacles: Sequence[Points]) -> list[Stroke]:
    ends = grain_line(piece, obstacles)
    if ends is None:
        return []
    size = min(_BARB, abs(ends[1] - ends[0]) / 6)
    return [Stroke(GRAIN, "grain", path) for path in arrow(*ends, size, both=True)]


def _texts(piece: Piece) -> Iterator[Text]:
    for opening in piece.openings:
        yield from opening_words(piece, opening)
    for mark in piece.marks:
        text = words(piece, mark)
        if text:
            yield text


def _edge(pattern: Pattern, piece: Piece, edge: Edge) -> OutlineEdge:
    name = f"{piece.name}.{edge.label}"
    length = show_length(edge.length, pattern.unit)
    if abs(edge.length - edge.sewn) > 1e-6:
        length += f" ({show_length(edge.sewn, pattern.unit)} sewn)"
    apart = edge.file not in ("", pattern.file)
    file = seen_from(pattern.file, edge.file) if apart else ""
    place = f", line {edge.line}" if edge.line else ""
    place += f" of {file}" if place and file else ""
    about = f"edge {name}, {length}{place}"
    return OutlineEdge(name, edge.line, file, edge.length, edge.sewn, about)


def _title(pattern: Pattern, piece: Piece) -> str:
    return f"{piece.name}, {pattern.title}" if pattern.title else piece.name
