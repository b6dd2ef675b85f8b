"""The plan of all sheets: which shows what, and which are blank."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import contains, line, polyline
from oaktag.compiler.paging.ink import crosses, grown, overlap
from oaktag.compiler.paging.page import MIDDLE, Ink, Words
from oaktag.compiler.sheet.drawing import CUT, Text
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from oaktag.compiler.geometry import Box, Path
    from oaktag.compiler.paging.tiles import Table

_FINE, _BOLD = 0.1, 0.35  # mm
_LARGEST = 2.6  # mm: of the type for sheets
_SIZES = (2.8, 2.4, 2.0, 1.6)  # mm: of the type for pieces
_UPRIGHT = 90.0  # degrees: of names on pieces too narrow for them across
_NEAR = 1.5  # mm: from a piece to a name beside it
_AWAY = [0.75 * step for step in range(-12, 13)]  # of their size: how far names give way
_FLAT = 2.0  # mm on the pieces


def plan(table: Table, wide: float, high: float) -> tuple[list[Ink], list[Words], float]:
    """Lines, words and height of a plan, its upper left corner at 0, in a room of this size (mm).

    The cut lines of the pieces, small, over the cells of the sheets; blank cells are crossed out.
    Names of pieces keep clear of those of sheets and of each other, and lie within the plan. A name
    that finds no such place is left out.
    """
    right, top = table.size
    scale = min(wide / right, high / top)
    origin = complex(0, top)

    def down(place: complex) -> complex:
        return (place - origin) * scale

    papers = [
        [
            polyline([down(point + group.at) for point in stroke.path.flattened(_FLAT)])
            for stroke in group.strokes
            if stroke.layer == CUT
        ]
        for group in table.groups
    ]
    inks, words = _cells(table, down, [path for paper in papers for path in paper])
    inks += [Ink(path, _BOLD) for paper in papers for path in paper]
    laid = [_Laid(paper) for paper in papers]
    for group, own in zip(table.groups, laid, strict=True):
        others = [one for one in laid if one is not own]
        for text in group.texts:
            if text.kind == "name":
                said = group.plate.name if group.plate else text.content
                taken = [_room(line) for line in words]
                field = _Field((0.0, -top * scale, right * scale, 0.0), own, others, taken)
                words += _named(said, down(text.at + group.at), field)
    return inks, words, top * scale


def _cells(
    table: Table, down: Callable[[complex], complex], drawn: Sequence[Path]
) -> tuple[list[Ink], list[Words]]:
    """The cells of the sheets, and in a corner of each that is printed its name.

    drawn: the lines it does not stand over, if there is a corner without.
    """
    inks: list[Ink] = []
    words: list[Words] = []
    lines = [path.flattened(_FLAT) for path in drawn]
    printed = {(tile.row, tile.column) for tile in table.tiles}
    for tile in table.every:
        a, b = down(complex(*tile.cell[:2])), down(complex(*tile.cell[2:]))
        corners = [a, complex(b.real, a.imag), b, complex(a.real, b.imag), a]
        inks.append(Ink(polyline(corners), _FINE))
        if (tile.row, tile.column) in printed:
            text = Text(tile.name, 0j, _LARGEST)
            room = min(0.8 * (b - a).real / text.width, 0.6 * (b - a).imag / _LARGEST, 1.0)
            size = _LARGEST * room
            wide = size / _LARGEST * text.width
            places = [
                complex(x, y)
                for y in (b.imag - size, a.imag + 0.3 * size)
                for x in (a.real + 0.3 * size, b.real - 0.3 * size - wide)
            ]
            tried = [Words(tile.name, place, size) for place in places]
            free = (one for one in tried if not any(crosses(p, _room(one)) for p in lines))
            words.append(next(free, tried[0]))
        else:
            inks += [Ink(line(a, b), _FINE), Ink(line(corners[1], corners[3]), _FINE)]
    return inks, words


class _Laid:
    """A piece on the plan: the lines that its paper ends at."""

    def __init__(self, paper: Sequence[Path]) -> None:
        self.rings = [path for path in paper if path.closed]
        self.lines = [(path.box(), path.flattened(_FLAT)) for path in paper]

    def bears(self, place: complex) -> bool:
        """Whether a place lies on its paper."""
        return any(contains(ring, place) for ring in self.rings)

    def ends_in(self, box: Box) -> bool:
        """Whether its paper ends within a box."""
        return any(overlap(room, box) and crosses(points, box) for room, points in self.lines)

    def surrounds(self, box: Box) -> bool:
        """Whether a box can lie on its paper, going by the boxes of its lines alone."""
        return any(_within(box, room) for room, _ in self.lines)


class _Field(Record):
    """Where a name may stand: within the plan, on its own piece, over no other and no words."""

    plan: Box
    own: _Laid
    others: Sequence[_Laid]
    taken: Sequence[Box]

    def on_piece(self, box: Box, middle: complex) -> bool:
        """Whether words lie on the piece, from end to end."""
        return (
            self.own.surrounds(box)
            and not any(overlap(box, one) for one in self.taken)
            and self.own.bears(middle)
            and not self.own.ends_in(box)
        )

    def beside_piece(self, box: Box, middle: complex) -> bool:
        """Whether words lie on no piece, and near to this one alone."""
        near = grown(box, _NEAR)
        return (
            _within(box, self.plan)
            and not any(overlap(box, one) for one in self.taken)
            and self.own.ends_in(near)
            and not self.own.ends_in(box)
            and not self.own.bears(middle)
            and not any(one.ends_in(near) or one.bears(middle) for one in self.others)
        )

    def from_piece(self, box: Box, middle: complex) -> bool:
        """Whether words that begin and end beside the piece have their middle on it."""
        return (
            _within(box, self.plan)
            and not any(overlap(box, one) for one in self.taken)
            and self.own.bears(middle)
            and not any(one.ends_in(box) or one.bears(middle) for one in self.others)
        )


def _named(name: str, at: complex, field: _Field) -> list[Words]:
    """A piece's name as near to a place as there is room: on the piece, level or upright; else
    beside it; else reaching beyond it where nothing lies; else none.
    """
    level, both = (0.0,), (0.0, _UPRIGHT)
    for fits, angles in (
        (field.on_piece, both),
        (field.beside_piece, level),
        (field.from_piece, level),
    ):
        for size in _SIZES:
            near = sorted((complex(x, y) * size for x in _AWAY for y in _AWAY), key=abs)
            for angle in angles:
                for off in near:
                    words = Words(name, at + off, size, True, MIDDLE, angle)
                    box = _room(words)
                    if fits(box, complex((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)):
                        return [words]
    return []


def _within(box: Box, room: Box) -> bool:
    return room[0] <= box[0] and room[1] <= box[1] and box[2] <= room[2] and box[3] <= room[3]


def _room(words: Words) -> Box:
    """What words take at most, with a little air; they stand level, or upright on their middle."""
    wide = Text(words.content, 0j, words.size).width
    air = 0.1 * words.size
    before = wide / 2 if words.side == MIDDLE else 0.0
    left, right = -before - air, wide - before + air
    foot, head = -3 * air, 0.75 * words.size + air
    x, y = words.at.real, words.at.imag
    if words.angle == _UPRIGHT:
        return x - head, y + left, x - foot, y + right
    return x + left, y + foot, x + right, y + head
