"""`divide`: cut the piece in two, each part a piece to go on with."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.half import alone
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import FLARE
from oaktag.compiler.paper.parting import cut
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.slashing import slash, still_part, without_lines
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.taking import run_through, take


def divide(
    piece: Piece, along: object, first: Label, second: Label, holding: object = None
) -> Change:
    """Cuts along a line; the first name is the part that stays still.

    Both parts keep fold and grain; both new edges bear the line's name and are one seam. A dart the
    line runs through is cut too, and each part has its share of it. A part that holds one half of
    an unfolded piece alone is named as before it was unfolded.
    """
    if piece.parts:
        raise PaperError(
            "this piece is divided already",
            help=f"go on with a part: `piece NAME from {piece.name}.{piece.parts[0][0]}`",
            code="divided-twice",
        )
    cut_line = slash(piece, along, FLARE, about="along")
    through, runs = run_through(without_lines(piece, [cut_line.label]), cut_line.path)
    parts, _ = cut(through, [cut_line], "along")
    still = still_part(parts, holding)
    edge = Edge(cut_line.label, runs, seam=f"{piece.name}.{cut_line.label}")
    taken = [
        alone(take(parts, number, cut_line, edge.changed(part=name.name)), piece.halves).changed(
            name=f"{piece.name}.{name.name}"
        )
        for name, number in ((first, still), (second, 1 - still))
    ]
    split = set.intersection(*({item.seam for item in part.edges} for part in taken))
    return Change(
        piece.changed(
            parts=tuple(
                (name.name, _unknown(part, split - {edge.seam}))
                for name, part in zip((first, second), taken, strict=True)
            )
        )
    )


def _unknown(part: Piece, seams: set[str]) -> Piece:
    """The part, its share of a seam made before no longer known as that seam: it is cut in two."""
    return part.changed(
        edges=tuple(
            edge.changed(seam="", part="") if edge.seam in seams else edge for edge in part.edges
        )
    )
