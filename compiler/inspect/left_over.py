"""What is left lying about: edges nobody sews, pieces nobody cuts, and paper without grain."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.compiler.inspect.edges import loose_edges
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import CutOrder, Pattern
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.source import Source

STIFFENING = ("interfacing", "canvas", "wadding")  # cloths whose edges are held by others
FINISHING = re.compile(r"^(allow|sew|notch|notches|true|bind|fasten|mark|text)\b")


def loose(pattern: Pattern) -> Iterator[Diagnostic]:
    """One note a piece with the edges that are neither sewn, hemmed, bound, closed nor on the fold.

    Only in a file that sews and gives allowances: a block is not finished here.
    """
    sews = any(seam.span.text.startswith("sew") for seam in pattern.seams)
    if not sews or not pattern.allowances:
        return
    for piece in pattern.made:
        orders = _orders(pattern, piece)
        if orders and all(order.cloth in STIFFENING for order in orders):
            continue
        edges = loose_edges(pattern, piece)
        if not edges:
            continue
        names = _names(piece, edges)
        listed = f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
        be, each = ("are", "each") if len(names) > 1 else ("is", "it")
        yield Diagnostic(
            "note",
            "loose-edge",
            f"{listed} of `{piece.name}` {be} neither sewn nor hemmed, bound or fastened, nor on "
            "the fold",
            orders[0].span if orders else None,
            file=pattern.file,
            help=f"say what becomes of {each}: `sew … to …`, `allow … as hem`, `bind`, `fasten`; "
            f"or `allow none on {piece.name}.{names[0][1:-1]}` if it is to stay as it is cut",
        )


def _names(piece: Piece, edges: list[Edge]) -> list[str]:
    """The names of edges; both halves of one by their common name."""
    found: dict[str, None] = {}
    for edge in edges:
        alike = [other for other in piece.edges if other.label.name == edge.label.name]
        whole = all(any(other is one for one in edges) for other in alike)
        found[f"`{edge.label.name if whole else edge.label}`"] = None
    return list(found)


def _orders(pattern: Pattern, piece: Piece) -> list[CutOrder]:
    return [order for order in pattern.cuts if order.piece == piece.name]


def without_grain(pattern: Pattern) -> Iterator[Diagnostic]:
    """Pieces that are cut, and of which nothing says how they lie on the cloth."""
    for piece in pattern.made:
        orders = _orders(pattern, piece)
        if piece.grain is not None or not orders:
            continue
        fold = next((edge for edge in piece.edges if edge.on_fold), None)
        longest = max(piece.edges, key=lambda edge: abs(edge.end - edge.start))
        yield Diagnostic(
            "warning",
            "no-grain",
            f"`{piece.name}` is cut, but has no grain: nothing says how it lies on the cloth",
            orders[0].span,
            help=f"add `grain along {(fold or longest).label}` to the piece, or another line that "
            "runs with the warp",
        )


def nobody_cuts(pattern: Pattern) -> Iterator[Diagnostic]:
    """Pieces that are in no `cut` line, and that no other line makes use of.

    A piece that was divided, copied, joined, faced or measured is of use; one that is sewn but not
    cut is told of at its seam.
    """
    if not pattern.cuts:
        return
    source = pattern.cuts[0].span.source
    cut = {order.piece for order in pattern.cuts}
    sewn = {side.piece.name for seam in pattern.seams for side in (*seam.first, *seam.second)}
    lines = [line.partition("#")[0] for line in source.text.split("\n")]
    for name, piece in pattern.pieces.items():
        if name in cut or name in sewn or piece.parts:
            continue
        plain = name.partition("[")[0]
        head = re.compile(rf"^\s*piece\s+{re.escape(plain)}\b")
        if _of_use(plain, lines, head):
            continue
        yield Diagnostic(
            "warning",
            "nobody-cuts",
            f"`{name}` is drawn, but nobody cuts it, and nothing is made from it",
            _place(source, lines, head),
            file=pattern.file,
            help=f"add `cut 1 {name} in main`, or take the piece out",
        )


def _of_use(name: str, lines: list[str], head: re.Pattern[str]) -> bool:
    """Whether a line names a piece for another reason than to finish that piece."""
    word = re.compile(rf"(?<![\w.]){re.escape(name)}\b")
    for line in lines:
        if FINISHING.match(line) or not word.search(line):
            continue
        if not word.search(head.sub("", line, count=1)):
            continue
        return True
    return False


def _place(source: Source, lines: list[str], head: re.Pattern[str]) -> Span | None:
    start = 0
    for line, whole in zip(lines, source.text.split("\n"), strict=True):
        if head.match(line):
            indent = len(line) - len(line.lstrip())
            return Span(source, start + indent, start + len(line.rstrip()))
        start += len(whole) + 1
    return None
