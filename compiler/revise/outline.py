"""The measured outline of a pattern: its pieces and seams in figures, alone or beside its text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.measured import edge_measures, fold_measures, size
from oaktag.compiler.inspect.walk import over, signed
from oaktag.lang import ast
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern, Seam
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.project.program import Program

SIGN = "#| "
"""What measured lines begin with when they stand beside the text: to the language, a remark."""

_SAME = 0.005  # mm


def outline(pattern: Pattern) -> Iterator[str]:
    """The pieces in the order of the file, each with its edges, folds and cut orders; the seams."""
    yield pattern.title or pattern.file
    for piece in pattern.pieces.values():
        yield ""
        yield from piece_lines(pattern, piece)
    if pattern.seams:
        yield ""
        yield "seams"
        yield from (f"  {_names(seam)}: {_seam(seam, pattern.unit)}" for seam in pattern.seams)


def piece_lines(pattern: Pattern, piece: Piece) -> Iterator[str]:
    """One piece in figures."""
    if not piece.edges:
        yield f"{piece.name}: no outline"
        return
    unit = pattern.unit
    yield f"{piece.name}: {size(piece, unit)}"
    yield from (f"  {line}" for line in edge_measures(piece, unit))
    yield from (f"  {line}" for line in fold_measures(piece, unit))
    for order in pattern.cuts:
        if order.piece == piece.name:
            yield f"  cut {order.count}{' as pair' if order.pair else ''} in {order.cloth}"


def beside_text(program: Program, pattern: Pattern | None, wrong: Sequence[str]) -> Iterator[str]:
    """The lines of the file, with what they come to below them.

    Below a piece stand its figures, below a seam its two lengths. wrong: what keeps the pattern
    from being drawn, told at the end instead.
    """
    source = program.file.span.source
    lines = source.text.splitlines()
    after = _by_line(program, pattern, lines) if pattern is not None else {}
    for number, line in enumerate(lines, 1):
        yield line
        yield from (f"{SIGN}{told}" for told in after.get(number, ()))
    if pattern is None:
        yield from (f"{SIGN}{told}" for told in ("this cannot be drawn:", *wrong))


def _by_line(program: Program, pattern: Pattern, lines: Sequence[str]) -> dict[int, list[str]]:
    """What is told after each line of the file, counted from 1."""
    found: dict[int, list[str]] = {}
    statements = program.file.statements
    starts = [node.span.line for node in statements] + [len(lines) + 1]
    told: set[str] = set()
    for node, start, following in zip(statements, starts, starts[1:], strict=False):
        last = _last_line(lines, start, following)
        for name, piece in pattern.pieces.items():
            if name not in told and _made_in(piece, node, program.name, start, last):
                told.add(name)
                found.setdefault(last, []).extend(piece_lines(pattern, piece))
        for seam in pattern.seams:
            if start <= seam.span.line <= last and isinstance(node, ast.Sew):
                found.setdefault(last, []).append(_seam(seam, pattern.unit))
    return found


def _last_line(lines: Sequence[str], start: int, following: int) -> int:
    """The last line of a statement: what stands before the next, but for blanks and remarks."""
    last = following - 1
    while last > start and (not (text := lines[last - 1].strip()) or text.startswith("#")):
        last -= 1
    return last


def _made_in(piece: Piece, node: ast.Statement, file: str, start: int, last: int) -> bool:
    """Whether a statement of the file draws a piece."""
    if isinstance(node, ast.PieceDef) and node.target.name == piece.name.partition("[")[0]:
        return True
    return any(
        step.span is not None and step.span.source.name == file and start <= step.span.line <= last
        for step in piece.steps
    )


def _seam(seam: Seam, unit: str) -> str:
    first, second = (show_length(one, unit) for one in (seam.first_sewn, seam.second_sewn))
    if seam.gathering:
        return f"{first}, {second}, gathered"
    more = over(seam)
    apart = "" if abs(more) < _SAME else f", difference {signed(more, unit)}"
    return f"{first}, {second}{apart}"


def _names(seam: Seam) -> str:
    sides = (" then ".join(side.name for side in chain) for chain in (seam.first, seam.second))
    return " to ".join(sides)
