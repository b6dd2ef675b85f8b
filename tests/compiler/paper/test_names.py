"""Names survive: after any verb the cutter finds her edges, darts and lines under their names."""

from __future__ import annotations

import pytest

from oaktag.compiler.evaluate.scope import on_paper

DRESSED = """
dart back_dart on waist at 1/3 from centre intake 2 cm length 12 cm
line across = on centre 30 cm from hem to on side 30 cm from hem
line pin[1] = on hem 1/4 from centre up 5 cm to on hem 1/4 from centre
line pin[2] = on hem 1/2 from centre up 5 cm to on hem 1/2 from centre
section zip = side from on side 2 cm from waist to on side 12 cm from waist
spot = hip_centre right 3 cm
line cut = on waist 3/4 from centre to on hem 3/4 from centre
"""
NAMES = ("waist", "side", "hem", "centre", "hip_line", "across", "pin[1]", "pin[2]", "zip", "spot")


@pytest.mark.parametrize(
    "verb",
    [
        "spread cut by 4 cm at hem hinged on waist",
        "spread cut by 4 cm as pleat",
        "spread cut by 4 cm as pleat\nfold-trim cut toward side",
        "overlap cut by 5 mm",
        "line flare = back_dart.point down to hem\nclose back_dart by 1/2 into flare",
        "fold-trim back_dart toward centre",
        "lengthen at across by 5 cm",
        "shorten at across by 5 cm",
        "redraw hem = foot_side curve to foot bowed down 3 cm",
        "redraw side = waist_side curve to hip_side, to foot_side right 5 cm",
        "true waist, side, hem within 5 mm",
        "mirror",
        "redraw back_dart to hip_centre right 8 cm up 8 cm",
        "unfold along centre into right and left\nhalve along centre keeping right",
    ],
)
def test_after_any_verb_everything_is_found(board, verb):
    piece = board.piece(f"{DRESSED}{verb}", board.quarter)
    for name in (*NAMES, "back_dart.point", "back_dart.legs"):
        words = []
        for word in name.split("."):
            plain, _, index = word.partition("[")
            words.append((plain, int(index[:-1]) if index else None))
        assert on_paper(piece, words) is not None, name
    assert [str(edge.label) for edge in piece.edges] == ["waist", "side", "hem", "centre"]


def test_the_slashed_line_means_its_opening(board):
    piece = board.piece(
        DRESSED
        + """
spread cut by 4 cm at hem hinged on waist as dart ending 3 cm short
require cut.intake = 4 cm
require distance(cut.point, cut.tip) = 3 cm
""",
        board.quarter,
    )
    assert "cut" not in [str(line.label) for line in piece.lines]


def test_each_edge_once_in_order_and_closed(board):
    """Every edge ends where the next begins, after a long row of steps."""
    piece = board.piece(
        f"""{DRESSED}
lengthen at across by 5 cm
line flare = back_dart.point down to hem
close back_dart into flare
spread cut by 4 cm at hem hinged on waist as pleat
fold-trim cut toward side
true hem
unfold along centre into right and left
""",
        board.quarter.replace("  fold on centre\n", ""),
    )
    for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        assert abs(edge.end - following.start) < 1e-6
        for run, after in zip(edge.runs, edge.runs[1:], strict=False):
            assert abs(run.path.end - after.path.start) < 1e-6
