"""What is done to the single pieces before they are joined: interfacing, darts, pleats, gathers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.pattern import SeamSide
from oaktag.compiler.making.counts import is_interfacing, piece_times
from oaktag.compiler.making.joining import ends_on_fold
from oaktag.compiler.making.operation import FIRST, FOLDS, Operation
from oaktag.compiler.making.words import WAYS, listed, repeated, row_of
from oaktag.compiler.paper.opening import DART, FISHEYE, GATHER, PLEAT
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.paper.step import Step

FLAT = 0.1  # mm: what opens no wider needs no sewing
SAME = 0.5  # mm: figures nearer than this are told once


def interfacings(pattern: Pattern) -> Iterator[Operation]:
    """The pieces that are cut in interfacing too."""
    for order in pattern.cuts:
        if is_interfacing(order.cloth):
            sentence = f"Put the interfacing on {order.piece}."
            yield Operation("interfacing", sentence, FIRST, (order.piece,), span=order.span)


def folds(pattern: Pattern, piece: Piece) -> Iterator[Operation]:
    """Darts, then pleats, then gathers, in the order in which they were drawn; rows together.

    As of a seam it is said how often, and that a lining has them too.
    """
    rows: dict[tuple[str, str, str, str], list[Opening]] = {}
    for item in piece.openings:
        if item.opens > FLAT:
            rows.setdefault((item.kind, item.style, item.label.name, item.toward), []).append(item)
    ways = {DART: _darts, FISHEYE: _darts, PLEAT: _pleats, GATHER: _gathers}
    counts = piece_times(pattern, piece) if rows else {}
    for kinds in ((DART, FISHEYE), (PLEAT,), (GATHER,)):
        for (kind, *_), row in rows.items():
            if kind in kinds:
                halves = 2 if _over_fold(piece, row) else 1
                again = repeated({cloth: count // halves for cloth, count in counts.items()})
                sentence = ways[kind](piece, row, pattern.unit) + again
                step = _maker(piece, row[0])
                said = (step.caption, step.span) if step else (None, None)
                word = "dart" if kind == FISHEYE else kind
                yield Operation(word, sentence, FOLDS, (piece.name,), (), *said)


def _darts(piece: Piece, row: Sequence[Opening], unit: str) -> str:
    fish_eye = row[0].kind == FISHEYE
    what = "fish-eye dart" if fish_eye else "dart"
    figures = [f"{_spanned([item.intake for item in row], unit)} wide"]
    if not fish_eye and all(item.hinged for item in row):
        long = [abs((item.first.end + item.second.end) / 2 - item.tip) for item in row]
        figures.append(f"{_spanned(long, unit)} long")
    press = _toward(row[0])
    pressed = f" and press {_it(row)} {press}" if press else ""
    return f"Sew the {_named(what, row)} of {piece.name} ({', '.join(figures)}){pressed}."


def _pleats(piece: Piece, row: Sequence[Opening], unit: str) -> str:
    style = row[0].style
    what = "pleat" if style == "knife" else f"{style} pleat"
    wide = (
        f"{_spanned([item.opens for item in row], unit)} of cloth in {'each' if row[1:] else 'it'}"
    )
    toward = _toward(row[0]) if style == "knife" else ""
    lie = f", so that {'they lie' if row[1:] else 'it lies'} {toward}," if toward else ""
    return f"Fold the {_named(what, row)} of {piece.name} ({wide}){lie} and baste {_it(row)}."


def _gathers(piece: Piece, row: Sequence[Opening], unit: str) -> str:
    edges = _gathered(piece, row)
    told = [
        f"{piece.name}.{edge.label} from {show_length(edge.length, unit)} "
        f"to {show_length(edge.sewn, unit)}"
        for edge in edges
    ]
    where = listed(told) if told else f"{piece.name} at {row_of([item.label for item in row])}"
    halves = " on each side of the fold" if _over_fold(piece, row) else ""
    return f"Gather {where}{halves}."


def _gathered(piece: Piece, row: Sequence[Opening]) -> list[Edge]:
    labels = {item.label for item in row}
    return [edge for edge in piece.edges if any(run.opening in labels for run in edge.runs)]


def _over_fold(piece: Piece, row: Sequence[Opening]) -> bool:
    """Whether what is gathered goes on beyond the fold: both halves are gathered at once."""
    edges = _gathered(piece, row) if row[0].kind == GATHER else []
    sides = [SeamSide(f"{piece.name}.{edge.label}", piece, edge) for edge in edges]
    return bool(sides) and all(ends_on_fold(side) for side in sides)


def _named(what: str, row: Sequence[Opening]) -> str:
    return f"{what}{'s' if row[1:] else ''} {row_of([item.label for item in row])}"


def _it(row: Sequence[Opening]) -> str:
    return "them" if row[1:] else "it"


def _toward(item: Opening) -> str:
    """The side to which it was trimmed: `toward centre`, `down`; nothing if it was not."""
    if not item.trimmed or item.toward in ("", "both sides"):
        return ""
    return item.toward if item.toward in WAYS else f"toward {item.toward}"


def _spanned(lengths: Sequence[float], unit: str) -> str:
    """One length, or the least and the greatest."""
    low, high = min(lengths), max(lengths)
    if high - low < SAME:
        return show_length(high, unit)
    least = show_length(low, unit).removesuffix(f" {unit}")
    return f"{least} to {show_length(high, unit)}"


def _maker(piece: Piece, item: Opening) -> Step | None:
    """The step that trimmed it, else the last that names it."""
    steps = [
        step
        for step in reversed(piece.steps)
        if step.span is not None and item.label.name in step.span.text
    ]
    trims = [step for step in steps if step.verb == "fold-trim"]
    makers = [step for step in steps if step.verb in ("dart", "spread", "close", "redraw")]
    return next(iter((*trims, *makers)), None)
