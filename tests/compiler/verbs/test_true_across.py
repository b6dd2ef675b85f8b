"""`true a then b` across seams: joined edges flow, and the seams between them still match."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

STATED = math.radians(0.1)  # the corner that may be left where two edges meet across a seam

SKIRT = """\
piece {name}
  top = origin
  side_top = top right {waist} cm up {rise} cm
  foot = side_top down 60 cm right {flare} cm
  outline
    waist = top to side_top
    side = side_top to foot
    hem = foot to top down {length} cm
    centre = top down {length} cm to top
"""


def skirt(name, waist=20, rise=1.5, flare=4, length=60.0):
    return SKIRT.format(name=name, waist=waist, rise=rise, flare=flare, length=length)


SEWN = "sew front.side to back.side\n"


def inner_angle(piece, edge, seam):
    """Between two edges at the corner where they meet, inside the paper."""
    outline = {item.label.name: item for item in piece.edges}
    one, other = outline[edge].path, outline[seam].path
    for before, after in ((one, other), (other, one)):
        if abs(before.end - after.start) < 1e-6:
            turn = cmath.phase(after.start_direction / before.end_direction)
            return math.pi - turn * (1 if piece.signed_area > 0 else -1)
    raise AssertionError(f"{edge} and {seam} do not meet")


def corner(one, other, edge, seam="side"):
    """What is left of a straight line where an edge runs on across a seam, in radians."""
    return abs(inner_angle(one, edge, seam) + inner_angle(other, edge, seam) - math.pi)


def test_a_waist_flows_across_the_side_seam(board, look):
    text = skirt("front", rise=3) + skirt("back", waist=22, rise=4, flare=7)
    before = board.pattern(text + SEWN).pieces
    after = board.pattern(text + SEWN + "true front.waist then back.waist\n").pieces
    assert corner(before["front"], before["back"], "waist") > math.radians(5)
    assert corner(after["front"], after["back"], "waist") < STATED
    for name in ("front", "back"):
        assert look.edge(after[name], "waist").path.corners(1e-3) == ()
        assert after[name].steps[-1].verb == "true"
        look.conserved(after[name])


def test_the_seam_keeps_matching(board, look):
    text = skirt("front") + skirt("back", waist=22, rise=2.5, flare=4)
    after = board.pattern(text + SEWN + "true front.waist then back.waist\n").pieces
    lengths = [look.edge(after[name], "side").length for name in ("front", "back")]
    before = [
        look.edge(board.pattern(text).pieces[name], "side").length for name in ("front", "back")
    ]
    assert lengths[0] - before[0] == pytest.approx(lengths[1] - before[1], abs=1e-6)


def test_a_hem_flows_across_all_pieces(board):
    """Three gores, each cut off square to its own middle, become one round hem."""
    text = "".join(skirt(name, flare=6, rise=0, length=60) for name in ("front", "half", "back"))
    sewn = "sew front.side to half.side\nsew half.centre to back.side\n"
    drawn = board.pattern(f"{text}{sewn}true front.hem then half.hem then back.hem within 2 cm\n")
    front, half, back = (drawn.pieces[name] for name in ("front", "half", "back"))
    assert corner(front, half, "hem") < STATED
    left = inner_angle(half, "hem", "centre") + inner_angle(back, "hem", "side")
    assert abs(left - math.pi) < STATED
    assert [piece.steps[-1].verb for piece in (front, half, back)] == ["true"] * 3


@settings(max_examples=25, deadline=None)
@given(
    waists=st.tuples(st.floats(15, 25), st.floats(15, 25)),
    rises=st.tuples(st.floats(-1, 3), st.floats(-1, 3)),
    flares=st.tuples(st.floats(0, 8), st.floats(0, 8)),
    turned=st.booleans(),
)
def test_any_two_edges_flow_within_the_limit(board, look, waists, rises, flares, turned):
    text = "".join(
        skirt(name, waist=round(waist, 2), rise=round(rise, 2), flare=round(flare, 2))
        for name, waist, rise, flare in zip(("front", "back"), waists, rises, flares, strict=True)
    )
    if turned:
        text += "  mirror\n"
    before = board.pattern(text + SEWN).pieces
    after = board.pattern(text + SEWN + "true front.waist then back.waist within 1 cm\n").pieces
    assert corner(after["front"], after["back"], "waist") < STATED
    for name in ("front", "back"):
        old, new = (look.edge(group[name], "waist").path for group in (before, after))
        far = max(old.nearest(new.point_at(new.length * k / 100))[1] for k in range(101))
        # A little of the new line may lie beyond the seam, beside the other piece's edge.
        assert far <= 10.5
        look.conserved(after[name])


def test_an_edge_that_is_sewn_keeps_its_length(board, look):
    text = skirt("front", rise=4) + skirt("back", waist=22, rise=5, flare=9)
    band = "piece band\n  strip 43 cm by 4 cm\n"
    true = "true front.waist then back.waist\n"
    sewn = "sew front.waist then back.waist to band.base gathering\n"
    before = board.pattern(text).pieces
    freely = board.pattern(text + SEWN + true).pieces
    kept = board.pattern(text + band + SEWN + sewn + true).pieces

    def change(pieces):
        return abs(
            sum(
                look.edge(pieces[name], "waist").length - look.edge(before[name], "waist").length
                for name in ("front", "back")
            )
        )

    assert change(kept) <= 0.3 + 1e-6
    assert change(freely) > change(kept)


def test_edges_that_flow_already_stay_as_they_are(board):
    text = skirt("front", rise=0, flare=0) + skirt("back", rise=0, flare=0)
    before = board.pattern(text + SEWN).pieces
    after = board.pattern(text + SEWN + "true front.waist then back.waist\n").pieces
    assert before["front"].edges == after["front"].edges


def test_an_adjust_sees_the_trued_edges(board, look):
    """The condition of an adjust sees the finished pieces, wherever `true` stands."""
    text = skirt("front") + skirt("back", waist=22, rise=2.5, flare=5).replace(
        "right 22 cm", "right wide"
    )
    text = (
        "adjust wide from 15 cm to 30 cm until length(front.waist) + length(back.waist) = 45 cm\n"
        + text
        + SEWN
        + "true front.waist then back.waist\n"
    )
    pieces = board.pattern(text).pieces
    whole = sum(look.edge(pieces[name], "waist").length for name in ("front", "back"))
    assert whole == pytest.approx(450, abs=2e-3)


@pytest.mark.parametrize(
    ("more", "message", "place"),
    [
        ("true front.waist", "outside a piece, `true` joins two edges or more", None),
        (
            "true front.waist then front.hem",
            "both edges belong to one piece",
            "front.hem",
        ),
        (
            "true front.waist then back.hem",
            "`front.waist` and `back.hem` do not meet: they lie at different ends of the seam",
            "front.waist then back.hem",
        ),
        (
            "true front.waist then back.waist within 0.1 mm",
            "",
            None,
        ),
    ],
)
def test_what_cannot_flow_is_said_where_it_stands(board, more, message, place):
    text = skirt("front") + skirt("back", waist=22, rise=2.5, flare=5)
    drawn, said = board.result(f"{text}sew front.side to back.side\n{more}\n")
    if not message:
        assert drawn is not None
        return
    (wrong,) = said
    assert wrong.message.startswith(message), wrong.message
    assert place is None or wrong.span.text == place
    assert wrong.help


def test_a_piece_of_another_pattern_stays_as_it_is(board):
    block = f'pattern "Block"\n{skirt("front")}{skirt("back", waist=22)}{SEWN}'
    (wrong,) = board.wrong(
        'use "block.oak" as block\ntrue block.front.waist then block.back.waist\n',
        files={"block.oak": block},
    )
    assert "`block.front`" in wrong.message
    assert "stays as it is" in wrong.message
    assert "piece front from block.front" in wrong.help
