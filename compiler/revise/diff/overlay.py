"""The pieces before and after, laid on each other: pages to look at and to print without colour."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.geometry import IDENTITY
from oaktag.compiler.revise.diff.laying import laid_on
from oaktag.compiler.revise.diff.words import told
from oaktag.compiler.revise.story.drawing import (
    HEAVY,
    LIGHT,
    LIGHT_COLOUR,
    OUTLINE,
    THIN,
    patterns,
)
from oaktag.compiler.revise.story.ink import FINE, figure, fitting, text, width_of, wrapped
from oaktag.compiler.revise.story.sheet import EDGE, GAP, TITLE, page, ruler
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.geometry import Box, Path
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.revise.diff.changes import Changes, PieceChange
    from oaktag.compiler.revise.story.ink import View

WIDE, HIGH = 210.0, 297.0  # mm: A4, ISO 216
COLUMNS = 2
TALLEST = 120.0  # mm of a picture
NAME, WORDS = 3.4, 2.4  # mm
MOST_LINES = 14  # of words below a picture
BEFORE, AFTER, GROWN, SHRUNK = "before", "after", "grown", "gone"


class _Paper(Record):
    """The outlines and lines of one piece, as they are laid on each other."""

    old: Piece | None
    new: Piece | None

    @property
    def box(self) -> Box:
        boxes = [piece.outline.box() for piece in (self.old, self.new) if piece is not None]
        return (
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )


def overlay(changes: Changes, old: Pattern, new: Pattern, compared: str) -> list[bytes]:
    """Pages of the pieces that changed, all on one scale; none if no piece did.

    compared: in words, for the head of the pages. Paper that is new is hatched, paper that is
    gone is dotted.
    """
    pairs = [(change, _laid(change, old.pieces, new.pieces)) for change in changes.pieces]
    shown = [(_heading(change), paper) for change, paper in pairs if paper is not None]
    if not shown:
        return []
    cell = (WIDE - 2 * EDGE - (COLUMNS - 1) * GAP) / COLUMNS
    lines = dict(told(changes))
    scale = max(fitting(paper.box, cell, TALLEST, FINE).scale for _, paper in shown)
    done, body, y = [], list(_head(compared)), EDGE + TITLE
    for start in range(0, len(shown), COLUMNS):
        row = shown[start : start + COLUMNS]
        pictures = [
            _picture(paper, name, lines.get(name, []), cell, scale, start + number)
            for number, (name, paper) in enumerate(row)
        ]
        high = max(height for height, _ in pictures)
        if y > EDGE + TITLE and y + high > HIGH - EDGE - TITLE:
            done.append(_page(body, compared, scale, changes.unit))
            body, y = list(_head(compared)), EDGE + TITLE
        for column, (_, drawn) in enumerate(pictures):
            at = f"{figure(EDGE + column * (cell + GAP))} {figure(y)}"
            body.append(f'<g transform="translate({at})">{drawn}</g>')
        y += high + GAP
    done.append(_page(body, compared, scale, changes.unit))
    return done


def _laid(change: PieceChange, old: Mapping[str, Piece], new: Mapping[str, Piece]) -> _Paper | None:
    before, after = (
        pieces.get(name) if name else None
        for pieces, name in ((old, change.name.before), (new, change.name.after))
    )
    before, after = (piece if piece and piece.edges else None for piece in (before, after))
    if before is None and after is None:
        return None
    if before is not None and after is not None:
        motion = laid_on(before, after, by_grain=not change.turned)
        if motion is not IDENTITY:
            after = after.moved(motion)
    return _Paper(before, after)


def _heading(change: PieceChange) -> str:
    return str(change.name.after or change.name.before)


def _head(name: str) -> Iterator[str]:
    (words,) = wrapped(name, WIDE - 2 * EDGE, 4, bold=True, most=1)
    yield patterns()
    yield text(words, complex(EDGE, EDGE + 4), 4, bold=True)


def _page(body: Sequence[str], name: str, scale: float, unit: str) -> bytes:
    foot = complex(EDGE, HIGH - EDGE)
    return page(WIDE, HIGH, name, [*body, _key(foot), ruler(scale, WIDE - EDGE, foot.imag, unit)])


def _picture(
    paper: _Paper, name: str, lines: Sequence[str], cell: float, scale: float, number: int
) -> tuple[float, str]:
    """How high a picture is with what is said of it, and the picture itself, at the origin."""
    view = fitting(paper.box, cell, TALLEST, FINE).changed(scale=scale)
    view = view.changed(left=(cell - view.width) / 2)
    parts = list(_drawn(paper, view, f"piece-{number}"))
    y = view.height + NAME
    parts.append(text(name, complex(0, y), NAME, bold=True))
    rows = [row for line in lines for row in wrapped(line, cell, WORDS)]
    for row in rows[:MOST_LINES]:
        y += WORDS * 1.35
        parts.append(text(row, complex(0, y), WORDS))
    if len(rows) > MOST_LINES:
        y += WORDS * 1.35
        parts.append(text("…", complex(0, y), WORDS))
    return y + 1, "\n".join(parts)


def _drawn(paper: _Paper, view: View, key: str) -> Iterator[str]:
    old = _data(paper.old, view)
    new = _data(paper.new, view)
    if new:
        yield _less(new, old, view, f"{key}-grown", "let-in")
    if old:
        yield _less(old, new, view, f"{key}-gone", "cut-away")
        inner = "".join(view.path(path) for path in _inner(paper.old))
        yield _line(old, HEAVY, LIGHT_COLOUR) + _line(inner, LIGHT, LIGHT_COLOUR)
    if paper.new is not None:
        inner = "".join(view.path(path) for path in _inner(paper.new))
        yield _line(new, OUTLINE) + _line(inner, THIN)


def _less(shape: str, without: str, view: View, key: str, fill: str) -> str:
    """A shape filled, but for what lies in another."""
    box = f'x="0" y="0" width="{figure(view.left + view.width)}" height="{figure(view.height)}"'
    mask = (
        f'<mask id="{key}" maskUnits="userSpaceOnUse" {box}><rect {box} fill="#fff"/>'
        f'<path d="{without}" fill="#000"/></mask>'
        if without
        else ""
    )
    masked = f' mask="url(#{key})"' if without else ""
    return f'{mask}<path d="{shape}" fill="url(#{fill})"{masked}/>'


def _data(piece: Piece | None, view: View) -> str:
    return view.path(piece.outline, close=True) if piece is not None else ""


def _inner(piece: Piece | None) -> Iterator[Path]:
    """Darts, pleats and drawn lines."""
    if piece is not None:
        for opening in piece.openings:
            yield from (opening.first, opening.second)
        yield from (drawn.path for drawn in piece.lines)


def _line(data: str, width: float, colour: str = "#000") -> str:
    if not data:
        return ""
    return (
        f'<path d="{data}" fill="none" stroke="{colour}" stroke-width="{figure(width)}"'
        ' stroke-linejoin="round"/>'
    )


def _key(at: complex) -> str:
    size, x = 2.6, at.real
    parts = []
    for kind in (BEFORE, AFTER, GROWN, SHRUNK):
        if kind in (GROWN, SHRUNK):
            fill = "let-in" if kind == GROWN else "cut-away"
            parts.append(
                f'<rect x="{figure(x)}" y="{figure(at.imag - size)}" width="{figure(2 * size)}"'
                f' height="{figure(1.2 * size)}" fill="url(#{fill})" stroke="#000"'
                f' stroke-width="{THIN}"/>'
            )
        else:
            wide, colour = (HEAVY, LIGHT_COLOUR) if kind == BEFORE else (OUTLINE, "#000")
            start = f"M{figure(x)} {figure(at.imag - 0.4 * size)}h{figure(2 * size)}"
            parts.append(_line(start, wide, colour))
        parts.append(text(kind, complex(x + 2.5 * size, at.imag), size))
        x += 4 * size + width_of(kind, size)
    return "".join(parts)
