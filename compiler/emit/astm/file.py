"""The interchange form for patterns: DXF after ASTM D6673-10, one block a piece.

The file has the form that most readers take: tags of DXF R12, an empty HEADER, no TABLES, BLOCKS,
ENTITIES; all text in 7 bits. METRIC is in millimetres with two decimals, ENGLISH in inches with
four.

In each block, by layer: 1 the cut line (the outline where there is no allowance) and what is said
of the piece, 2 and 3 the turn and curve points, 4 and 80 to 83 the notches by shape, 6 the mirror
line of a half, 7 the grain, 8 what is drawn inside, 13 drill holes, 14 the sewing line, 15 what is
written on the piece. Layers 5 and 9 to 11 have no counterpart here; 84 to 87 are for validation
curves, which are left out.
"""

from __future__ import annotations

import cmath
import math
from typing import TYPE_CHECKING

from oaktag import __version__
from oaktag.compiler.emit.astm.inside import Inside, inside_of
from oaktag.compiler.emit.astm.points import Points, points_of
from oaktag.compiler.emit.astm.tags import METRIC, Tags
from oaktag.compiler.emit.astm.words import Wording, day
from oaktag.compiler.sheet.lay_out import cut_pieces
from oaktag.compiler.sheet.shelves import set_out
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import CutOrder, Pattern
    from oaktag.compiler.paper.piece import Piece

VERSION = "D6673-10"
BOUNDARY, TURN, CURVE = 1, 2, 3
MIRROR, GRAIN, INTERNAL, DRILL, SEW, NOTE = 6, 7, 8, 13, 14, 15
NOTCHES = {"slit": 4, "v": 4, "t": 80, "castle": 81, "check": 82, "u": 83}
HIGH = 3.5  # mm: letters. Source: the guide “ePattern ASTM standard” (2011), as quoted
CAPITAL = 0.7  # of the size of type: DXF measures letters by their capitals
_LINE = 1.7 * HIGH


class _Block(Record):
    """One piece as it is cut from one cloth."""

    block: str
    name: str
    piece: Piece
    orders: tuple[CutOrder, ...]


def astm(
    pattern: Pattern, made_for: str = "", units: str = METRIC
) -> tuple[bytes, tuple[str, ...]]:
    """The pieces that are cut as one file, and what is to be said about it, as warnings.

    made_for: the body or size, as the labels say it. units: `metric` or `english`. A piece that is
    cut from several cloths stands in the file once for each, since the form names one material a
    piece. Raises PaperError as `cut_line` does, and OutputError for words of which plain letters
    leave nothing.
    """
    wording = Wording()
    style = _style(pattern, made_for, units, wording)
    blocks = list(_blocks(pattern, wording))
    tags = Tags(units)
    tags.begin("HEADER")
    tags.end()
    tags.begin("BLOCKS")
    boxes = []
    drawn: dict[str, Inside] = {}
    for block in blocks:
        inside = drawn.get(block.piece.name)
        if inside is None:
            inside = drawn[block.piece.name] = inside_of(pattern, block.piece, made_for)
            if len(inside.mirrors) > 1:
                wording.warnings.append(
                    f"`{block.piece.name}` lies on {len(inside.mirrors)} folds: the ASTM form "
                    "knows one mirror line a piece; unfold it about all but one"
                )
        tags.begin_block(block.block)
        _draw(tags, block, inside, wording)
        tags.end_block()
        boxes.append(inside.boundary.box())
    tags.end()
    tags.begin("ENTITIES")
    for number, words in enumerate(style):
        tags.text(BOUNDARY, words, complex(0.0, -number * _LINE), HIGH)
    for block, shift in zip(blocks, set_out(boxes)[0] if boxes else [], strict=True):
        tags.insert(block.block, shift)
    tags.end()
    return tags.written(), tuple(wording.warnings)


def _style(pattern: Pattern, made_for: str, units: str, wording: Wording) -> list[str]:
    """What is said of the whole file; no time of day, since a file says none."""
    lines = [f"Style Name: {wording.style(pattern.title)}"]
    date = day(pattern.date)
    if date:
        lines.append(f"Creation Date: {date}")
    elif pattern.date:
        wording.warnings.append(
            f"the date `{pattern.date}` is left out of the ASTM form: write it like "
            "`20 November 2026`"
        )
    size = wording.plain(made_for.removeprefix("size ")) if made_for else ""
    return [
        *lines,
        f"Author: Oaktag;oaktag;{__version__}",
        f"Sample Size: {size}".rstrip(),
        "Grade Rule Table:",
        f"Units: {units.upper()}",
        f"ASTM/D13 Proposal 1 Version: {VERSION}",
    ]


def _blocks(pattern: Pattern, wording: Wording) -> Iterator[_Block]:
    for piece in cut_pieces(pattern):
        own = [order for order in pattern.cuts if order.piece == piece.name]
        cloths = list(dict.fromkeys(order.cloth for order in own))
        for cloth in cloths or [""]:
            title = piece.name if cloth in cloths[:1] or not cloth else f"{piece.name} {cloth}"
            name = wording.piece(title)
            orders = tuple(order for order in own if order.cloth == cloth)
            yield _Block(wording.block(name), name, piece, orders)


def _draw(tags: Tags, block: _Block, inside: Inside, wording: Wording) -> None:
    said = [f"Piece Name: {block.name}"]
    if block.orders:
        said += [f"Quantity: {_quantity(block.orders)}"]
        said += [f"Material: {wording.plain(block.orders[0].cloth)}"]
    stack = [(NOTE, wording.plain(words)) for words in inside.notes]
    stack += [(BOUNDARY, words) for words in said]
    for number, (layer, words) in enumerate(stack):
        down = number - (len(stack) - 1) / 2
        tags.text(layer, words, inside.calm - 1j * (_LINE * down + HIGH / 2), HIGH)
    points: list[Points] = []

    def draw(layer: int, one: Points) -> None:
        if len(one.at) < 2:
            return  # shorter than the last figure of the form
        if len(one.at) == 2:
            tags.line(layer, *one.at)
        else:
            tags.polyline(layer, one.at, one.closed)
        points.append(one)

    boundary = points_of(inside.boundary, [notch.start for notch in inside.notches])
    draw(BOUNDARY, boundary)
    if inside.seam is not None:
        draw(SEW, points_of(inside.seam))
    for path in inside.lines:
        draw(INTERNAL, points_of(path))
    _corners(tags, points)
    for notch in inside.notches:
        at = min(boundary.at, key=lambda point: abs(point - notch.start))
        tags.notch(NOTCHES[notch.shape], at, notch.depth, notch.width, notch.angle)
    for ends in inside.mirrors:
        tags.line(MIRROR, *ends)
    if inside.grain:
        tags.line(GRAIN, *inside.grain)
    for place in inside.drills:
        tags.point(DRILL, place)
    for text in inside.words:
        plain = text.changed(content=wording.plain(text.content), size=HIGH / CAPITAL)
        turned = cmath.rect(1, math.radians(text.angle))
        foot = text.at - complex(plain.width, HIGH) / 2 * turned
        tags.text(NOTE, plain.content, foot, HIGH, text.angle)


def _corners(tags: Tags, drawn: list[Points]) -> None:
    """Every point of the lines on the layer for its kind; where lines share one, once."""
    for layer, wanted in ((TURN, True), (CURVE, False)):
        places = [
            point
            for one in drawn
            for point, turn in zip(one.at, one.turns, strict=True)
            if turn == wanted
        ]
        seen = {(tags.figure(p.real), tags.figure(p.imag)): p for p in reversed(places)}
        for point in reversed(seen.values()):
            tags.point(layer, point)


def _quantity(orders: tuple[CutOrder, ...]) -> str:
    """How many as drawn and how many mirrored."""
    as_drawn = sum(order.count // 2 if order.pair else order.count for order in orders)
    mirrored = sum(order.count // 2 for order in orders if order.pair)
    return f"{as_drawn},{mirrored}"
