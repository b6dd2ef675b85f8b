"""Whether a finished piece can still be laid on the fold of the cloth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate import expressions
from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import find
from oaktag.compiler.paper.straight import check_one_side, check_straight
from oaktag.lang.diagnostics import mistake

if TYPE_CHECKING:
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang import ast


def check_folds(piece: Piece, statement: ast.PieceDef, unit: str) -> None:
    """Refuses a finished piece whose fold was bent, or that reaches over its fold."""
    for label in {edge.label: None for edge in piece.edges if edge.on_fold}:
        fold = find(piece, label)
        try:
            if isinstance(fold, Edge):
                check_straight(fold, "")
                check_one_side(piece, fold, "")
        except PaperError as wrong:
            found = expressions.located(wrong, statement, unit).diagnostics[0]
            raise mistake(
                "bent-fold",
                f"in the end, {found.message}",
                statement.span,
                help="`unfold` the piece before you cut or spread it across its fold",
            ) from None
