"""Paper moves rigidly: whatever is done, places on one part keep their distances."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

# Places left and right of a cut from the middle of the waist to the middle of the hem.
LEFT = [(x, y) for x in (2, 9, 15) for y in (3, 25, 57)]
RIGHT = [(x, y) for x in (25, 31, 38) for y in (3, 25, 57)]
PINS = "\n".join(
    f"pin[{number}] = origin right {x} cm down {y} cm"
    for number, (x, y) in enumerate([*LEFT, *RIGHT], 1)
)
CUT = "line cut = on waist 1/2 to on hem 1/2"
DART = "dart tuck on waist at 1/2 intake 4 cm length 14 cm\nline cut = tuck.point down to hem"


def pins(piece):
    found = sorted(
        (point.label.index, point.at) for point in piece.points if point.label.name == "pin"
    )
    assert len(found) == len(LEFT) + len(RIGHT)
    places = [at for _, at in found]
    return places[: len(LEFT)], places[len(LEFT) :]


def distances(places):
    return [abs(a - b) for a, b in combinations(places, 2)]


@pytest.mark.parametrize(
    ("drawn", "verb"),
    [
        (CUT, "spread cut by 4 cm"),
        (CUT, "spread cut by 7 cm at hem hinged on waist as pleat"),
        (CUT, "spread cut by 2 cm at waist and 9 cm at hem"),
        (CUT, "spread cut by 7 cm at hem hinged on waist holding side"),
        (CUT, "overlap cut by 2 cm"),
        (CUT, "overlap cut by 2 cm at hem hinged on waist"),
        (CUT, "lengthen at cut by 3 cm"),
        (CUT, "shorten at cut by 3 cm"),
        (DART, "close tuck into cut"),
        (DART, "close tuck by 1/3 into cut as dart"),
        (DART, "fold-trim tuck toward side"),
        (DART, "mirror"),
        (DART, "unfold along hem into upper and lower\nhalve along hem keeping upper"),
        (DART, "redraw hem = foot_right curve to foot_left bowed down 3 cm\ntrue hem, waist"),
    ],
)
def test_both_parts_keep_their_distances(board, drawn, verb):
    before = pins(board.piece(f"{PINS}\n{drawn}"))
    after = pins(board.piece(f"{PINS}\n{drawn}\n{verb}"))
    for old, new in zip(before, after, strict=True):
        assert distances(new) == pytest.approx(distances(old), abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(
    amounts=st.lists(st.floats(0.1, 6), min_size=1, max_size=6),
    waist=st.floats(0.4, 0.6),
    hem=st.floats(0.45, 0.6),
)
def test_also_after_many_steps(board, amounts, waist, hem):
    """One opening in another, each beside the last: rounding does not add up."""
    lines = [f"line cut = on waist {waist:.3f} from centre to on hem {hem:.3f} from centre"]
    for number, amount in enumerate(amounts):
        lines.append(f"line cut{number} = on hem 0.48 from centre up to waist")
        lines.append(f"spread cut{number} by {amount:.3f} cm")
    before = pins(board.piece(PINS))
    piece = board.piece("\n".join([PINS, *lines]))
    for old, new in zip(before, pins(piece), strict=True):
        assert distances(new) == pytest.approx(distances(old), abs=1e-8)
    assert piece.area == pytest.approx(240_000 + sum(round(a, 3) for a in amounts) * 6000, rel=1e-9)


def test_runs_keep_their_lengths(board):
    """What is sewn, run by run, before and after; an opening adds runs and takes none away."""
    drawn = (
        "curve cut = on waist 1/3 from centre curve to on hem 1/2 from centre bowed right 3 cm\n"
    )
    before = board.piece(drawn, board.quarter)
    after = board.piece(drawn + "spread cut by 5 cm at hem hinged on waist as pleat", board.quarter)
    for old, new in zip(before.edges, after.edges, strict=True):
        kept = [run.length for run in new.runs if run.role == "seam"]
        assert sum(kept) == pytest.approx(old.length, abs=1e-6)
