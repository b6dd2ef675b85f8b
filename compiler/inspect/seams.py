"""Walking seams: the two sides must have the same length as sewn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Diagnostic, error
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Span

MATCHES = 1.0  # mm: sides that differ by no more can be sewn together


def unequal(pattern: Pattern) -> Iterator[Diagnostic]:
    """Seams whose sides do not match: both lengths, the difference, and what can be done."""
    for seam in pattern.seams:
        first, second = seam.first_sewn, seam.second_sewn
        over = second - first - seam.easing
        if (seam.gathering and over > -MATCHES) or abs(over) <= MATCHES:
            continue
        unit = pattern.unit
        longer, shorter = (seam.second, seam.first) if over > 0 else (seam.first, seam.second)
        eased = f", {show_length(seam.easing, unit)} of it eased" if seam.easing else ""
        yield error(
            "unequal-seam",
            f"the two sides of this seam do not match: {_named(seam.first)} is "
            f"{show_length(first, unit)} as sewn, {_named(seam.second)} is "
            f"{show_length(second, unit)}{eased}",
            seam.span,
            label=f"{_named(longer)} is {show_length(abs(over), unit)} too long",
            help=_remedy(seam, shorter, over, unit),
        )


def _named(sides: tuple[SeamSide, ...]) -> str:
    return " then ".join(f"`{side.name}`" for side in sides)


def _remedy(seam: Seam, shorter: tuple[SeamSide, ...], over: float, unit: str) -> str:
    if seam.gathering:
        return "a side that is gathered is the longer one: turn the two round"
    if seam.easing and abs(over + 2 * seam.easing) <= MATCHES:
        return "the side that is eased in comes second: turn the two round"
    ways = [f"lengthen {_named(shorter)}, or shorten the other side"]
    if over > 0 and not seam.easing:
        ways.append(f"ease the second side in: `easing {show_length(over, unit)}`")
    return "; ".join(ways)


def parted(pattern: Pattern) -> Iterator[Diagnostic]:
    """Seams made by `divide` whose two sides no longer match, unless `sew` says how they meet."""
    sides: dict[str, dict[str, list[Piece]]] = {}
    for piece in pattern.made:
        for seam, part in dict.fromkeys(
            (edge.seam, edge.part) for edge in piece.edges if edge.seam
        ):
            sides.setdefault(seam, {}).setdefault(part, []).append(piece)
    for seam, parts in sides.items():
        groups = list(parts.values())
        for first in groups[0]:
            for second in groups[1] if len(groups) == 2 else ():
                if not any(_is_sewn(pattern, piece, seam) for piece in (first, second)):
                    yield from _apart(pattern, seam, first, second)


def _apart(pattern: Pattern, seam: str, first: Piece, second: Piece) -> Iterator[Diagnostic]:
    lengths = [_half(piece, seam) for piece in (first, second)]
    over = lengths[1] - lengths[0]
    if abs(over) <= MATCHES:
        return
    unit = pattern.unit
    edge = seam.rpartition(".")[2]
    shown = [
        f"{'each half of ' if piece.halves else ''}`{piece.name}.{edge}` is "
        f"{show_length(length, unit)}"
        for piece, length in zip((first, second), lengths, strict=True)
    ]
    short, long = (first, second) if over > 0 else (second, first)
    yield error(
        "unequal-seam",
        f"the two sides of `{edge}` do not match any more: as sewn, {shown[0]} and {shown[1]}",
        _divided_at(first, seam) or _divided_at(second, seam),
        label=f"{show_length(abs(over), unit)} apart",
        help=f"change both alike, or say how they meet: `sew {short.name}.{edge} to "
        f"{long.name}.{edge} easing {show_length(abs(over), unit)}`",
    )


def _half(piece: Piece, seam: str) -> float:
    """The sewn length of a seam on a piece; of one half, if it was unfolded."""
    sewn = sum(edge.sewn for edge in piece.edges if edge.seam == seam)
    times: int = 1 << (len(piece.halves) // 2)
    return sewn / times


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
