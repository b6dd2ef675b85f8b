"""Words along drawn lines, and the lines at which a piece is made longer or shorter."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from oaktag.compiler.geometry import Path, chain, line, line_meetings, meetings, translation
from oaktag.compiler.paper.chain import SEAM, Line
from oaktag.compiler.paper.straight import EVEN, furthest_off
from oaktag.compiler.sheet.drawing import DRAWN, Stroke, Text
from oaktag.compiler.sheet.identity import spelled
from oaktag.compiler.sheet.lettering import beside, frame

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.paper.chain import Chain, Edge
    from oaktag.compiler.paper.piece import Piece

    Points = Sequence[complex]

WORDS = 4.0  # mm
LENGTHENING = "lengthen or shorten here"
APART = 6.0  # mm between the two strokes of such a line; common practice, no source
_FLAT = 0.5  # mm
_LEVELS = frozenset(
    ("high_hip", "hip", "seat", "waist", "underbust", "bust", "chest", "crotch", "thigh", "knee")
).union(("calf", "ankle", "biceps", "bicep", "elbow", "wrist", "crease"))
_FOLDS = frozenset(("fold", "fold_line"))
_CENTRES = frozenset(("centre", "center"))
_SIDES = ("front", "back")


def drawn_strokes(piece: Piece, drawn: Line) -> Iterator[Stroke]:
    """The strokes of a drawn line; none where paper was let in, for there it was never drawn."""
    for path in _stretches(drawn):
        if to_lengthen(piece, drawn):
            for side in (-APART / 2, APART / 2):
                for part in _beside(piece, path, side):
                    yield Stroke(DRAWN, "lengthening line", part)
        else:
            yield Stroke(DRAWN, "drawn line", path)


def to_lengthen(piece: Piece, drawn: Line) -> bool:
    """Whether the piece can be lengthened at a line: not where darts or pleats were let into it, or
    into the other half of it, and not where it is no longer straight, since paper was turned.
    """
    if not drawn.lengthening:
        return False
    name, index = drawn.label.name, drawn.label.index
    halves = [line for line in piece.lines if (line.label.name, line.label.index) == (name, index)]
    if any(run.role != SEAM for half in halves for run in half.runs):
        return False
    places = [place for half in halves for place in half.path.flattened(_FLAT)]
    return all(furthest_off(half, places) <= EVEN for half in halves)


def line_texts(piece: Piece, obstacles: Sequence[Points]) -> list[Text]:
    """What is written along the lines of a piece, each thing once, where there is room for it."""
    outline = piece.outline.flattened(_FLAT)
    texts: list[Text] = []
    told: list[tuple[str, str, Chain]] = []
    chains: list[Line | Edge] = [*piece.lines, *(edge for edge in piece.edges if not edge.on_fold)]
    for item in chains:
        said = words_of(piece, item)
        if not said or any(_goes_on(said, item, other) for other in told):
            continue
        text = Text(said, 0j, WORDS, kind="line")
        for path in sorted(_written_along(piece, item), key=lambda path: -path.length):
            around = [*obstacles, *(frame(other).flattened(_FLAT) for other in texts)]
            placed = beside(text, path, outline, around)
            if placed is not None:
                texts.append(placed)
                told.append((said, item.label.name, item))
                break
    return texts


def words_of(piece: Piece, item: Line | Edge) -> str:
    """What is to be written along a line or an edge: what the file says, or what its name tells.

    A level of the body, `hip_line`, a fold and a crease are written as they are called; `centre` is
    the centre front or back, if the name of the piece tells which.
    """
    if isinstance(item, Line) and to_lengthen(piece, item):
        return LENGTHENING
    if item.words is not None:
        return item.words
    name = item.label.name
    if not isinstance(item, Line):
        return centre_words(piece, name) if item.on_fold else ""
    if name.endswith("_line") and name.removesuffix("_line") in _LEVELS:
        return spelled(name)
    if name in _FOLDS:
        return spelled(name)
    return "crease line" if name == "crease" else centre_words(piece, name)


def centre_words(piece: Piece, name: str) -> str:
    """`centre front` for a line `centre` on the piece `front`; nothing for other names."""
    word, _, side = name.removesuffix("_line").partition("_")
    if word not in _CENTRES or side not in ("", *_SIDES):
        return ""
    of_piece = [one for one in _SIDES if one in piece.name.lower().split("_")]
    side = side or (of_piece[0] if len(of_piece) == 1 else "")
    return f"{word} {side}".rstrip()


def _written_along(piece: Piece, item: Line | Edge) -> Iterator[Path]:
    """The paths beside which the words of a line may stand."""
    for path in _stretches(item):
        if isinstance(item, Line) and to_lengthen(piece, item):
            yield from _beside(piece, path, APART / 2)
            yield from _beside(piece, path, -APART / 2)
        else:
            yield path


def _goes_on(said: str, item: Chain, told: tuple[str, str, Chain]) -> bool:
    """Whether a line only goes on from one that has the same words, as after `unfold`."""
    words, name, other = told
    return (
        said == words
        and name == item.label.name
        and any(
            abs(one - end) < 0.1
            for one in (item.start, item.end)
            for end in (other.start, other.end)
        )
    )


def _stretches(item: Chain) -> Iterator[Path]:
    for role, runs in itertools.groupby(item.runs, key=lambda run: run.role):
        if role == SEAM:
            yield chain(run.path for run in runs)


def _beside(piece: Piece, path: Path, off: float) -> Iterator[Path]:
    """A line set off to one side, led to the outline or cut off at it where it ended there."""
    way = path.end - path.start
    if abs(way) < 1e-6:
        return
    moved = path.moved(translation(way / abs(way) * 1j * off))
    for back in (True, False):
        moved = _to_outline(piece, moved.reversed() if back else moved, abs(off))
        moved = moved.reversed() if back else moved
    yield moved


def _to_outline(piece: Piece, path: Path, near: float) -> Path:
    """A line whose end is led on to the outline, or cut off there, if that is no further away."""
    end, way = path.end, path.end_direction
    hits = [far for far, _, _ in line_meetings(end, way, piece.outline) if abs(far) <= 3 * near]
    if not hits:
        return path
    far = min(hits, key=abs)
    if far > 1e-6:
        return path.joined(line(end, end + way * far))
    inside = [hit.first_at for hit in meetings(path, piece.outline) if hit.first_at > near]
    return path.part(0.0, max(inside)) if inside and max(inside) < path.length - 1e-6 else path
