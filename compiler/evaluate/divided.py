"""Seams that no `sew` line names: those between the parts of divided pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import find
from oaktag.compiler.paper.label import Label

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span


def divided_seams(pattern: Pattern) -> Iterator[Seam]:
    """What was one line when a piece was divided is sewn together again.

    Each piece that has the one side of it meets each that has the other. An unfolded piece meets
    as many halves as it has.
    """
    sides: dict[str, dict[str, list[Piece]]] = {}
    for piece in pattern.made:
        for seam, part in dict.fromkeys((edge.seam, edge.part) for edge in piece.edges):
            if seam and not _is_sewn(pattern, piece, seam):
                sides.setdefault(seam, {}).setdefault(part, []).append(piece)
    for seam, parts in sides.items():
        if len(parts) != 2:
            continue
        firsts, seconds = parts.values()
        for first in firsts:
            for second in seconds:
                yield from _between(seam, first, second)


def _between(seam: str, first: Piece, second: Piece) -> Iterator[Seam]:
    most = max(_copies(first), _copies(second))
    one, other = _side(first, seam, most), _side(second, seam, most)
    span = _divided_at(first, seam)
    if one and other and span:
        yield Seam(one, other, 0.0, False, span)


def _side(piece: Piece, seam: str, copies: int) -> tuple[SeamSide, ...]:
    """A piece's side of a seam, so often that it makes up that many halves."""
    name = next(edge.label.name for edge in piece.edges if edge.seam == seam)
    index = next(edge.label.index for edge in piece.edges if edge.seam == seam)
    try:
        edge = find(piece, Label(name, index))
    except PaperError:
        return ()  # in several places: how they meet is for the file to say
    if not isinstance(edge, Edge):
        return ()
    written = f"{piece.name}.{Label(name, index)}"
    return (SeamSide(written, piece, edge),) * (copies // _copies(piece))


def _copies(piece: Piece) -> int:
    """How many of what was drawn an unfolded piece holds."""
    return int(2 ** (len(piece.halves) // 2))


def _is_sewn(pattern: Pattern, piece: Piece, seam: str) -> bool:
    """Whether a `sew` line names the piece's side of a seam."""
    labels = [edge.label for edge in piece.edges if edge.seam == seam]
    return any(
        side.piece.name == piece.name and any(label.answers(side.edge.label) for label in labels)
        for sewn in pattern.seams
        for side in (*sewn.first, *sewn.second)
    )


def _divided_at(piece: Piece, seam: str) -> Span | None:
    """The line of the file that made a seam."""
    for step in reversed(piece.steps):
        if step.verb == "divide" and any(edge.seam == seam for edge in step.paper.edges):
            return step.span
    return None
