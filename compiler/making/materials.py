"""What has to be bought besides cloth, as far as the file says: bindings, zips, buttons.

Thread, needles and whatever else the file does not speak of are not made up.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.making.bias import pieced_side, square_side, strips_needed
from oaktag.compiler.making.counts import cloths, copies, first_times, on_fold
from oaktag.compiler.making.zips import needed_at_waist, trade_length
from oaktag.lang.units import MILLIMETRES
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Binding, Closure, Pattern, SeamSide
    from oaktag.compiler.paper.mark import Mark
    from oaktag.compiler.paper.piece import Piece

JOINING = 50.0  # mm for each length bound in one go, to join it and turn it in: common practice
LIGNES = 40  # to the inch. Source: yourbuttonshop.blogspot.com
_ON = 0.5  # mm: a button this near to the fold is there once


class Strip(Record):
    """The bias strips of one cloth and one width together, in mm.

    cut: their width. length: as sewn, with `JOINING` for each run. side: of the square with as much
    cloth. strips, pieced: how many strips across a square, and its side, if they are seamed.
    """

    cloth: str
    cut: float
    length: float
    runs: int
    side: float
    strips: int
    pieced: float


class Zip(Record):
    """A zip for an opening, in mm. said: the file gives its length. needed: to get over the hips.

    length: none if no zip of the trade is so long.
    """

    opening: str
    long: float
    count: int
    length: float | None
    said: bool
    needed: float | None


class Fastening(Record):
    """What else closes an opening: hooks, ties, … each: the length of one, if the file says."""

    kind: str
    opening: str
    long: float
    count: int
    each: float | None


class Buttons(Record):
    """Buttons or buttonholes of one size, in mm."""

    kind: str
    size: float
    count: int
    pieces: tuple[str, ...]


class Materials(Record):
    strips: tuple[Strip, ...]
    zips: tuple[Zip, ...]
    fastenings: tuple[Fastening, ...]
    buttons: tuple[Buttons, ...]


def materials(pattern: Pattern) -> Materials:
    """Everything the file asks for but the cloth that is in the cut list."""
    return Materials(
        _strips(pattern),
        tuple(_zip(pattern, one) for one in pattern.closures if one.kind == "zip"),
        tuple(_fastening(pattern, one) for one in pattern.closures if one.kind != "zip"),
        _buttons(pattern),
    )


def lignes(size: float) -> int:
    """The line, or ligne, of a button of a size in mm, to whole ones."""
    return round(size / MILLIMETRES["in"] * LIGNES)


def runs(pattern: Pattern, binding: Binding) -> int:
    """How often a binding is sewn on."""
    return first_times(pattern, binding.edges)


def often(pattern: Pattern, closure: Closure) -> int:
    """How often an opening is there; one that closes on itself takes both its sides."""
    return first_times(pattern, (*closure.first, *(closure.second or closure.first)))


def _strips(pattern: Pattern) -> tuple[Strip, ...]:
    found: dict[tuple[str, float], tuple[float, int]] = {}
    for binding in pattern.bindings:
        key = (binding.cloth, round(binding.cut_width, 6))
        length, count = found.get(key, (0.0, 0))
        more = runs(pattern, binding)
        found[key] = (length + more * (binding.sewn + JOINING), count + more)
    strips = []
    for (cloth, cut), (length, count) in found.items():
        number = strips_needed(length, cut)
        square = (square_side(length, cut), number, pieced_side(number, cut))
        strips.append(Strip(cloth, cut, length, count, *square))
    return tuple(strips)


def opening_name(closure: Closure) -> str:
    """`back.placket`, or both sides: `back.placket to front.placket`."""
    first, second = (
        " then ".join(side.name for side in sides) for sides in (closure.first, closure.second)
    )
    return f"{first} to {second}" if second else first


def _zip(pattern: Pattern, closure: Closure) -> Zip:
    long, said = closure.opening, closure.length is not None
    length = closure.length if said else trade_length(long, pattern.unit)
    count = often(pattern, closure)
    return Zip(opening_name(closure), long, count, length, said, _needed(pattern, closure))


def _needed(pattern: Pattern, closure: Closure) -> float | None:
    """What the body needs to get in, if it begins at the waist and the girths are known."""
    waist, hip = (pattern.measures.get(name) for name in ("waist_girth", "hip_girth"))
    if waist is None or hip is None or not any(_at_waist(side) for side in closure.first):
        return None
    return needed_at_waist(waist.amount, hip.amount)


def _at_waist(side: SeamSide) -> bool:
    ends = (side.edge.start, side.edge.end)
    return any(
        edge.label.name == "waist" and abs(place - end) < _ON
        for edge in side.piece.edges
        for place in (edge.start, edge.end)
        for end in ends
    )


def _fastening(pattern: Pattern, closure: Closure) -> Fastening:
    count = often(pattern, closure)
    return Fastening(closure.kind, opening_name(closure), closure.opening, count, closure.length)


def _buttons(pattern: Pattern) -> tuple[Buttons, ...]:
    """Buttons and buttonholes by size, in the first cloth in which their piece is cut."""
    found: dict[tuple[str, float], tuple[int, tuple[str, ...]]] = {}
    for piece in pattern.made:
        for mark in piece.marks:
            if mark.kind in ("button", "buttonhole"):
                key = (mark.kind, round(mark.size, 6))
                count, pieces = found.get(key, (0, ()))
                count += _copies(pattern, piece) * (2 if _doubled(piece, mark) else 1)
                found[key] = (count, tuple(dict.fromkeys((*pieces, piece.name))))
    return tuple(Buttons(*key, *counted) for key, counted in found.items())


def _copies(pattern: Pattern, piece: Piece) -> int:
    counts = [copies(pattern, piece.name, cloth) for cloth in cloths(pattern)]
    return next((count for count in counts if count), 1)


def _doubled(piece: Piece, mark: Mark) -> bool:
    """Whether a mark of a piece on the fold is there again on its other half."""
    folds = [edge for edge in piece.edges if edge.on_fold]
    return on_fold(piece) and all(edge.path.nearest(mark.at)[1] > _ON for edge in folds)
