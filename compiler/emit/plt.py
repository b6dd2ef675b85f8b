"""HP-GL/2 for roll plotters, and the few commands of it that old pen plotters know as HP-GL.

One plotter unit is 0.025 mm, exactly. x runs along the roll, y across it, from the lower left
corner. Curves are drawn as straight moves within half a unit of them, words and dashes as strokes
of the pen, so that every plotter draws the same.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.emit.errors import OutputError
from oaktag.compiler.emit.lettering import lettered
from oaktag.compiler.emit.travel import Run, run, shortened, travel
from oaktag.compiler.geometry import IDENTITY, translation
from oaktag.compiler.sheet.drawing import CUT, SEAM, Text
from oaktag.compiler.sheet.look import pen as look
from oaktag.compiler.sheet.roll import Rolled, TooWide, frames, on_roll
from oaktag.compiler.sheet.scale import NAME as SQUARE
from oaktag.lang.units import show_length
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from oaktag.compiler.sheet.drawing import Group, Sheet, Stroke

    Points = tuple[complex, ...]

UNITS = 40  # a millimetre
OLD_REACH = 32767 / UNITS  # mm: old plotters count in 16 bits
MARGIN = 10.0  # mm at all four sides
FRAME = 5000.0  # mm; longer than any garment, and short enough to be carried to the table
PENS = {"cut": 1, "seam": 2, "marks": 3, "text": 4}
"""The pen of each kind of line, drawn from the last to the first: what is cut comes last."""

_FLAT = 0.5 / UNITS
_MOST_POINTS = 60  # in one command: old plotters hold little
_ARM = 4.0  # mm of the crosses at joints


class Roll(Record):
    """Lengths in mm. margin: at all sides. frame: the longest that is plotted in one go.

    old: only the commands and the reach of old pen plotters. turning: pieces too wide for the roll
    are turned by a quarter. unit: in which lengths are told.
    """

    width: float
    margin: float = MARGIN
    frame: float = FRAME
    pens: dict[str, int] = PENS
    old: bool = False
    turning: bool = False
    unit: str = "cm"


class Plot(Record):
    """files: one, or of an old plotter one for each frame. Lengths in mm.

    length: of paper. travelled: how far the pen goes without drawing; as_laid: how far it would,
    with each pen, in the order of the sheet. missing: letters that became boxes. turned: the names
    of pieces that were turned by a quarter.
    """

    files: tuple[bytes, ...]
    frames: int
    length: float
    travelled: float
    as_laid: float
    missing: str
    turned: tuple[str, ...]


class _Line(Record):
    """kind: a key of the pens. dashes: lengths drawn and left out, or none."""

    kind: str
    points: tuple[Points, ...]
    dashes: tuple[float, ...] = ()


def plt(sheet: Sheet, roll: Roll) -> Plot:
    """The sheet laid anew along a roll; the same bytes for the same sheet.

    Raises OutputError if a piece is wider than the roll, or if margins leave no paper.
    """
    width, frame = roll.width - 2 * roll.margin, roll.frame - 2 * roll.margin
    if roll.old:
        width = min(width, OLD_REACH - 2 * roll.margin)
        frame = min(frame, OLD_REACH - 2 * roll.margin)
    if min(width, frame) <= 0:
        short = "roll" if width <= 0 else "frame"
        whole = roll.width if width <= 0 else roll.frame
        raise OutputError(
            f"margins of {show_length(roll.margin, roll.unit)} leave nothing of a {short} of "
            f"{show_length(whole, roll.unit)}",
            f"make the margins smaller, or the {short} larger",
        )
    try:
        rolled = on_roll(sheet, width, roll.turning)
    except TooWide as wide:
        raise _too_wide(wide, width, roll) from None
    lines, missing = _lines(rolled)
    parts = frames(rolled.rows, frame)
    commands: list[list[str]] = []
    travelled = as_laid = 0.0
    for number, (start, end) in enumerate(parts):
        drawn = [clipped for line in lines for clipped in _between(line, start, end)]
        drawn += _joints(rolled, parts, number, roll.margin)
        shift = complex(roll.margin - start, roll.margin)
        told, away, laid = _framed(drawn, shift, roll)
        size = (end - start + 2 * roll.margin, width + 2 * roll.margin)
        commands.append(_whole(told, size, roll))
        travelled += away
        as_laid += laid
    texts = ["".join(command) for command in commands]
    return Plot(
        tuple(text.encode("ascii") for text in (texts if roll.old else ["".join(texts)])),
        len(parts),
        sum(end - start + 2 * roll.margin for start, end in parts),
        travelled,
        as_laid,
        missing,
        rolled.turned,
    )


def _too_wide(wide: TooWide, width: float, roll: Roll) -> OutputError:
    def say(length: float) -> str:
        return show_length(length, roll.unit)

    reach = min(roll.width, OLD_REACH) if roll.old else roll.width
    paper = f"the roll of {say(roll.width)}"
    if reach < roll.width:
        paper = f"the {say(reach)} that an old plotter reaches"
    way = "take a wider roll or smaller margins" if reach == roll.width else "leave out --old-hpgl"
    room = f"{paper} has {say(width)} between its margins of {say(roll.margin)}"
    if wide.group.name == SQUARE:
        return OutputError(f"the test square is {say(wide.width)} wide; {room}", way)
    if not roll.turning and wide.height <= width:
        way += f", turn the piece by a quarter, for it is {say(wide.height)} high (--turn)"
    return OutputError(
        f"`{wide.group.name}` is {say(wide.width)} wide with its allowances; {room}",
        f"{way}, or divide the piece",
    )


def _lines(rolled: Rolled) -> tuple[list[_Line], str]:
    """All that is drawn, in the order of the sheet, and the letters that are missing."""
    lines: list[_Line] = []
    missing = ""
    for group in rolled.sheet.groups:
        lines += [_line(stroke, group) for stroke in group.strokes]
        for text in group.texts:
            strokes, lacking = lettered(text.changed(at=text.at + group.at))
            missing += lacking
            if strokes:
                lines.append(_Line("text", tuple(strokes)))
    return lines, "".join(dict.fromkeys(missing))


def _line(stroke: Stroke, group: Group) -> _Line:
    motion = translation(group.at) if group.at else IDENTITY
    points = stroke.path.moved(motion).flattened(_FLAT)
    if stroke.path.closed:
        points = (*points[:-1], points[0])
    kind = {CUT: "cut", SEAM: "seam"}.get(stroke.layer, "marks")
    return _Line(kind, (points,), look(stroke).dashes)


def _between(line: _Line, start: float, end: float) -> Iterator[_Line]:
    """What of a line lies between two places of the roll, as one line for each part of it."""
    whole = tuple(points for points in line.points if _lies(points, start, end))
    if line.kind == "text":
        cut = [part for points in line.points for part in _clipped(points, start, end)]
        if cut:
            yield line.changed(points=tuple(cut))
    elif whole == line.points:
        yield line
    else:
        for points in line.points:
            for part in _clipped(points, start, end):
                yield line.changed(points=(part,))


def _lies(points: Points, start: float, end: float) -> bool:
    return all(start - 1e-6 <= p.real <= end + 1e-6 for p in points)


def _clipped(points: Points, start: float, end: float) -> list[Points]:
    """The parts of a polyline between x = start and x = end."""
    if _lies(points, start, end):
        return [points]
    parts: list[list[complex]] = []
    for first, last in itertools.pairwise(points):
        inside = _segment(first, last, start, end)
        if inside is None:
            continue
        if parts and parts[-1][-1] == inside[0]:
            parts[-1].append(inside[1])
        else:
            parts.append(list(inside))
    if len(parts) > 1 and points[0] == points[-1] and parts[-1][-1] == parts[0][0]:
        parts[0][:0] = parts.pop()[:-1]
    return [tuple(part) for part in parts]


def _segment(
    first: complex, last: complex, start: float, end: float
) -> tuple[complex, complex] | None:
    way = last - first
    if way.real == 0:
        return (first, last) if start <= first.real <= end else None
    near, far = sorted(((start - first.real) / way.real, (end - first.real) / way.real))
    if near >= 1 or far <= 0:
        return None
    a = first if near <= 0 else first + way * near
    b = last if far >= 1 else first + way * far
    return a, b


def _joints(
    rolled: Rolled, parts: Sequence[tuple[float, float]], number: int, margin: float
) -> Iterator[_Line]:
    """Crosses where a row goes on in another frame, the same in both, with the joint's number."""
    start, end = parts[number]
    arm = min(_ARM, 0.8 * margin / 2)
    if arm <= 0.5:  # no margin: the crosses stand over the drawing, as far as they reach
        arm = _ARM
    away = margin / 2 if margin / 2 > arm else -arm
    for place, count in ((start, number), (end, number + 1)):
        if not any(first < place - 1e-6 and place + 1e-6 < last for first, last in rolled.rows):
            continue
        for y in (-away, rolled.sheet.height + away):
            at = complex(place, y)
            long = (at - arm, at + arm)
            if margin < arm:
                long = (max(at.real - arm, start) + 1j * y, min(at.real + arm, end) + 1j * y)
            yield _Line("marks", (long,))
            yield _Line("marks", ((at - arm * 1j, at + arm * 1j),))
            if margin >= 2 * _ARM:
                word = Text(str(count), at + complex(-arm * 0.6, arm * 0.6), arm)
                yield _Line("text", tuple(lettered(word)[0]))


def _framed(lines: Sequence[_Line], shift: complex, roll: Roll) -> tuple[list[str], float, float]:
    """The commands between the start and the end of a frame, and the travel, as it is and was."""
    kinds: dict[int, list[str]] = {}
    for kind in reversed(PENS):
        kinds.setdefault(roll.pens[kind], []).append(kind)
    at = laid_at = 0j
    told: list[str] = []
    travelled = as_laid = 0.0
    for pen, mine in kinds.items():
        runs = [_run(line, shift) for line in lines if line.kind in mine]
        if not runs:
            continue
        order = shortened(runs, at)
        travelled += travel(order, at)
        as_laid += travel(runs, laid_at)
        at, laid_at = order[-1].end, runs[-1].end
        told.append(f"SP{pen};\n")
        for one in order:
            told += [_drawn(stroke) for stroke in one.strokes]
    return told, travelled, as_laid


def _run(line: _Line, shift: complex) -> Run:
    moved = tuple(tuple(p + shift for p in points) for points in line.points)
    if not line.dashes:
        return run(*moved)
    return run(*(dash for points in moved for dash in _dashed(points, line.dashes)))


def _dashed(points: Points, dashes: Sequence[float]) -> Iterator[Points]:
    """The strokes of a dashed line: it begins and ends with one, drawn in full."""
    length = sum(abs(b - a) for a, b in itertools.pairwise(points))
    turns = round((length - dashes[0]) / sum(dashes))
    if turns < 1:
        yield points
        return
    scale = length / (turns * sum(dashes) + dashes[0])
    drawing, left, number = True, dashes[0] * scale, 0
    stroke = [points[0]]
    for a, b in itertools.pairwise(points):
        rest = abs(b - a)
        while rest > left:
            a += (b - a) / rest * left
            rest -= left
            if drawing:
                yield (*stroke, a)
            stroke = [a]
            number = (number + 1) % len(dashes)
            drawing, left = not drawing, dashes[number] * scale
        left -= rest
        stroke.append(b)
    if drawing and len(stroke) > 1:
        yield tuple(stroke)


def _drawn(stroke: Points) -> str:
    """A move to the stroke, and the stroke, in whole plotter units."""
    places = [(round(p.real * UNITS), round(p.imag * UNITS)) for p in stroke]
    kept = [place for place, _ in itertools.groupby(places)]
    said = f"PU{kept[0][0]},{kept[0][1]};"
    drawn = kept[1:] or kept
    for first in range(0, len(drawn), _MOST_POINTS):
        said += f"PD{_figures(drawn[first : first + _MOST_POINTS])};"
    return said + "\n"


def _figures(places: Iterable[tuple[int, int]]) -> str:
    return ",".join(f"{x},{y}" for x, y in places)


def _whole(told: Sequence[str], size: tuple[float, float], roll: Roll) -> list[str]:
    """A frame as a plot of its own. PS, the size, comes before anything is drawn."""
    if roll.old:
        return ["IN;PA;PU0,0;\n", *told, "PU;SP0;\n"]
    long, wide = (round(length * UNITS) for length in size)
    return [f"IN;PS{long},{wide};\nPA;PU0,0;\n", *told, "PU;SP0;PG;\n"]
