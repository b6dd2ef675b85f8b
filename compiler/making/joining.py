"""What is sewn, bound, closed and hemmed, each with a sentence that says how."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.pattern import SeamSide
from oaktag.compiler.inspect.notches import paired
from oaktag.compiler.inspect.walk import walk
from oaktag.compiler.making.counts import first_times
from oaktag.compiler.making.operation import (
    EDGES,
    HEMS,
    LAST,
    SEAMS,
    WAIST,
    Operation,
    pieces_of,
)
from oaktag.compiler.making.words import chain, number, repeated
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from oaktag.compiler.evaluate.pattern import (
        Allowance,
        Binding,
        Closure,
        Pattern,
        Seam,
    )
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece

ON = 0.05  # mm: a place this near to an edge lies on it
SAME = 1.0  # mm: sides that differ by no more are sewn together as one length


def seam(pattern: Pattern, one: Seam, counts: Mapping[str, int] | None) -> Operation:
    """A seam, right sides together; what is left open of it is told.

    counts: how often it is there, by cloth, if that is known.
    """
    unit = pattern.unit
    first, second = chain(one.first), chain(one.second)
    lengths = show_length(one.first_sewn, unit)
    if abs(one.first_sewn - one.second_sewn) > SAME:
        lengths += f" to {show_length(one.second_sewn, unit)}"
    halves = all(ends_on_fold(side) for side in (*one.first, *one.second))
    halves = halves and not one.first[1:] and not one.second[1:]
    if halves:
        lengths += " on each side of the fold"
    if one.gathering:
        longer, shorter = (second, first), show_length(one.first_sewn, unit)
        if one.first_sewn > one.second_sewn:
            longer, shorter = (first, second), show_length(one.second_sewn, unit)
        start = f"Gather {longer[0]} to {shorter} and sew it to {longer[1]}"
    elif first == second and not one.first[1:]:
        start = f"Sew the two edges {first} together ({lengths})"
    else:
        start = f"Sew {first} to {second} ({lengths})"
    more = ["right sides together"]
    if one.easing:
        longer_side = one.second if one.second_sewn >= one.first_sewn else one.first
        eased = "the longer side" if longer_side[1:] else chain(longer_side)
        more.append(f"easing {show_length(one.easing, unit)} of {eased} in")
    extra = [
        f"leave {show_length(opening.opening, unit)} open for the {opening.kind}"
        for opening in pattern.closures
        if lies_in(opening, one)
    ]
    pairs = len(paired(walk(one))[0])
    if pairs:
        extra.append("one notch meets" if pairs == 1 else f"{number(pairs)} notches meet")
    if counts is None:
        again = " Do this wherever these edges meet."
    elif halves:
        again = repeated({cloth: max(1, count // 2) for cloth, count in counts.items()})
    else:
        again = repeated(counts)
    sentence = f"{start}, {', '.join(more)}{''.join(f'; {item}' for item in extra)}.{again}"
    return plain_seam(one).changed(sentence=sentence)


def plain_seam(one: Seam) -> Operation:
    """A seam without a sentence, to find out where it stands."""
    chains = (one.first, one.second)
    return Operation("seam", "", _stage(one), pieces_of(*chains), chains, one.caption, one.span)


def binding(pattern: Pattern, one: Binding) -> Operation:
    """Edges bound with a strip. Where no seam is crossed they may as well be bound first."""
    unit = pattern.unit
    fold = "double" if one.double else "single"
    sentence = (
        f"Bind {chain(one.edges)} ({show_length(one.sewn, unit)}) with a {fold} bias strip of "
        f"{one.cloth}, cut {show_length(one.cut_width, unit)} wide, to "
        f"{show_length(one.width, unit)} finished.{repeated({'': first_times(pattern, one.edges)})}"
    )
    pieces = pieces_of(one.edges)
    stage = EDGES if len(pieces) > 1 else SEAMS
    return Operation("binding", sentence, stage, pieces, (one.edges,), one.caption, one.span)


def closure(pattern: Pattern, one: Closure) -> Operation:
    """A zip is set in among the seams; what else closes comes last."""
    unit = pattern.unit
    where = chain(one.first) + (f" and {chain(one.second)}" if one.second else "")
    long = show_length(one.opening, unit)
    each = f" of {show_length(one.length, unit)}" if one.length is not None else ""
    if one.kind == "zip":
        sentence = f"Set the zip{each} into {where} ({long})."
    elif one.kind == "buttons":
        marked = button_words(pattern, pieces_of(one.first, one.second))
        said = f": {marked}" if marked else ""
        sentence = f"Make {where} close with buttons ({long}){said}."
    elif one.kind == "ties":
        sentence = f"Sew ties{each} to {where} ({long})."
    else:
        sentence = f"Make {where} close with {one.kind} ({long})."
    sides = (*one.first, *(one.second or one.first))
    sentence += repeated({"": first_times(pattern, sides)})
    chains = (one.first, one.second) if one.second else (one.first,)
    stage = SEAMS if one.kind == "zip" else LAST
    pieces = pieces_of(*chains)
    return Operation(one.kind, sentence, stage, pieces, chains, one.caption, one.span)


def buttons(pattern: Pattern) -> Iterator[Operation]:
    """Buttons and buttonholes that are marked on pieces of which no line says that they close."""
    told = {
        name
        for one in pattern.closures
        if one.kind == "buttons"
        for name in pieces_of(one.first, one.second)
    }
    pieces = [piece.name for piece in pattern.made if piece.name not in told]
    words = button_words(pattern, pieces)
    if words:
        marked = tuple(name for name in pieces if button_words(pattern, [name]))
        yield Operation("buttons", f"Make and sew on what closes: {words}.", LAST, marked)


def button_words(pattern: Pattern, pieces: Sequence[str]) -> str:
    """`5 buttonholes on right, 5 buttons on left`, as marked on the pieces."""
    told = []
    for kind in ("buttonhole", "button"):
        for piece in pattern.made:
            count = sum(mark.kind == kind for mark in piece.marks)
            if piece.name in pieces and count:
                told.append(f"{count} {kind}{'s' if count > 1 else ''} on {piece.name}")
    return ", ".join(told)


def hems(pattern: Pattern) -> Iterator[Operation]:
    """What is turned up, by the lines of the file that say so and are not overruled later."""
    groups: dict[object, list[Allowance]] = {}
    for one in pattern.allowances:
        if one.hem and one.width:
            groups.setdefault((one.span, one.width), []).append(one)
    for group in groups.values():
        sides = [side for one in group for side in _turned_up(pattern, one)]
        if not sides:
            continue
        width = show_length(group[0].width, pattern.unit)
        sentence = f"Turn up {chain(sides)} by {width} and sew the hem."
        said = (group[0].caption, group[0].span)
        yield Operation("hem", sentence, HEMS, pieces_of(sides), (tuple(sides),), *said)


def lies_in(opening: Closure, one: Seam) -> bool:
    """Whether an opening is a part of a seam."""
    return any(
        covers(side, part)
        for side in (*one.first, *one.second)
        for part in (*opening.first, *opening.second)
    )


def covers(side: SeamSide, part: SeamSide) -> bool:
    """Whether one edge lies on another of the same piece, from end to end."""
    if side.piece.name != part.piece.name:
        return False
    path = part.edge.path
    places = (path.start, path.point_at(path.length / 2), path.end)
    return all(side.edge.path.distance(place) <= ON for place in places)


def _turned_up(pattern: Pattern, one: Allowance) -> Iterator[SeamSide]:
    """The edges of an allowance that are still a hem after the lines below it."""
    piece = next((item for item in pattern.made if item.name == one.piece), None)
    if piece is None:
        return
    later = pattern.allowances[pattern.allowances.index(one) + 1 :]
    edges: Sequence[Edge] = one.edges if one.edges is not None else piece.edges
    for edge in edges:
        if not edge.on_fold and not any(_overrules(item, piece, edge) for item in later):
            yield SeamSide(f"{piece.name}.{edge.label}", piece, edge)


def _overrules(later: Allowance, piece: Piece, edge: Edge) -> bool:
    if later.piece != piece.name:
        return False
    named = later.edges
    return named is None or any(edge.label.answers(item.label) for item in named)


def ends_on_fold(side: SeamSide) -> bool:
    """Whether an edge is half of one that goes on beyond the fold."""
    ends = (side.edge.start, side.edge.end)
    return any(
        min(abs(end - place) for end in ends for place in (edge.start, edge.end)) <= ON
        for edge in side.piece.edges
        if edge.on_fold
    )


def _stage(one: Seam) -> int:
    """At the waist after the other seams, and so is what faces an edge."""
    sides = (one.first, one.second)
    if any(all(side.edge.label.name == "waist" for side in chain_) for chain_ in sides):
        return WAIST
    faces = {_is_facing(side.piece) for chain_ in sides for side in chain_}
    return EDGES if faces == {True, False} else SEAMS


def _is_facing(piece: Piece) -> bool:
    return any(step.verb == "facing" for step in piece.steps)
