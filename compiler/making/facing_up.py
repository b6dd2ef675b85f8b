"""Which face of the paper lies up when a piece is cut, where that makes a difference.

The paper lies with its drawn face up on the right side of the cloth. What is cut as a pair, on the
fold, or is its own mirror image may as well be turned over.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.finish.allowance import cut_line
from oaktag.compiler.geometry.symmetry import carries, mirrors
from oaktag.compiler.making.counts import is_interfacing, on_fold
from oaktag.compiler.making.words import order

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import CutOrder, Pattern
    from oaktag.compiler.geometry import Motion
    from oaktag.compiler.paper.piece import Piece

ALIKE = 1.0  # mm: by so much a piece may miss its mirror image
UP, DOWN = "right side up", "wrong side up"
_ALONG = 0.01  # of a direction: so much may the grain turn
_LINING = "lining"


def orders_of(pattern: Pattern, piece: Piece) -> list[str]:
    """How a piece is cut, in words: `cut 1 in main, right side up`.

    Raises PaperError as `cut_line` does.
    """
    fold = on_fold(piece)
    return [
        f"{order(cut, fold)}{f', {face}' if face else ''}" for cut, face in faces_of(pattern, piece)
    ]


def faces_of(pattern: Pattern, piece: Piece) -> list[tuple[CutOrder, str]]:
    """Each line that cuts a piece, with the face that lies up; empty where that is all the same.

    Raises PaperError as `cut_line` does.
    """
    cuts = [cut for cut in pattern.cuts if cut.piece == piece.name]
    single = [cut for cut in cuts if not cut.pair]
    alike = on_fold(piece) or not single or own_mirror_image(pattern, piece)
    return [(cut, "" if alike else _face(piece, cut, cuts)) for cut in cuts]


def own_mirror_image(pattern: Pattern, piece: Piece) -> bool:
    """Whether a piece with its allowances, lines and marks may be turned over."""
    around = cut_line(piece, pattern.allowances) or piece.outline
    ways = [piece.grain.end - piece.grain.start] if piece.grain else []
    return any(_keeps(motion, piece) for motion in mirrors(around, filter(abs, ways), ALIKE))


def _keeps(motion: Motion, piece: Piece) -> bool:
    """Whether a reflection carries all that lies on a piece to its like.

    The grain may come to lie along itself, or on the true bias across itself.
    """
    if piece.grain is not None:
        way = piece.grain.end - piece.grain.start
        turned = motion.direction(way) * way.conjugate()
        if min(abs(turned.real), abs(turned.imag)) > _ALONG * abs(turned):
            return False
    lines = [line.path for line in piece.lines]
    sides = [side for item in piece.openings for side in (item.first, item.second)]
    if not all(carries(motion, paths, ALIKE) for paths in ([piece.outline], lines, sides) if paths):
        return False
    marks = [mark for mark in piece.marks if mark.kind != "text"]
    return all(
        any(
            (other.kind, other.double) == (mark.kind, mark.double)
            and abs(other.at - motion(mark.at)) <= ALIKE
            for other in marks
        )
        for mark in marks
    )


def _face(piece: Piece, cut: CutOrder, cuts: list[CutOrder]) -> str:
    """The face that lies up; nothing is said of pairs and of interfacing.

    A lining cut from the piece that it lines, and a facing, turn their right side to the body.
    """
    if cut.pair or is_interfacing(cut.cloth):
        return ""
    inside = [one.cloth.partition("_")[0] == _LINING for one in cuts]
    turned = cut.cloth.partition("_")[0] == _LINING and not all(inside)
    if piece.steps and piece.steps[0].verb == "facing":
        turned ^= sum(step.verb == "mirror" for step in piece.steps) % 2 == 0
    return DOWN if turned else UP
