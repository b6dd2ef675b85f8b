"""Edges as chains of runs: two lengths, and places measured as cut, as sewn and as drawn."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oaktag.compiler.geometry import line
from oaktag.compiler.paper.chain import INTAKE, SEAM, Chain, Run
from oaktag.compiler.paper.label import Label


@st.composite
def chains(draw):
    runs, at = [], 0.0
    for number in range(draw(st.integers(1, 6))):
        length = draw(st.floats(1, 200))
        role = draw(st.sampled_from([SEAM, INTAKE]))
        drawn = draw(st.floats(1, 200)) if role == INTAKE and draw(st.booleans()) else None
        opening = Label(f"fold{number}") if role == INTAKE else None
        runs.append(Run(line(complex(at, 0), complex(at + length, 0)), role, opening, drawn))
        at += length
    return Chain(Label("edge"), tuple(runs))


@given(chains())
def test_both_lengths_are_those_of_the_runs(chain):
    assert chain.length == pytest.approx(sum(run.path.length for run in chain.runs))
    assert chain.sewn == pytest.approx(
        sum(run.path.length for run in chain.runs if run.role == SEAM)
    )
    back = chain.reversed()
    assert (back.length, back.sewn) == pytest.approx((chain.length, chain.sewn))


@given(chains(), st.floats(0, 1))
def test_a_place_as_sewn_and_as_cut_are_one(chain, share):
    sewn = share * chain.sewn
    cut = chain.cut_distance(sewn)
    assert 0 <= cut <= chain.length + 1e-9
    assert chain.sewn_distance(cut) == pytest.approx(sewn, abs=1e-6)


@given(chains(), st.floats(0, 1))
def test_a_place_is_the_same_from_either_end(chain, share):
    """But for a place on a fold, which is one place for all the paper folded away there."""
    if not chain.sewn:
        return
    sewn = share * chain.sewn
    forward = chain.cut_distance(sewn)
    backward = chain.length - chain.reversed().cut_distance(chain.sewn - sewn)
    between = chain.path.part(min(forward, backward), max(forward, backward)).length
    assert chain.sewn_distance(forward) == pytest.approx(chain.sewn_distance(backward), abs=1e-6)
    assert between <= sum(run.length for run in chain.runs if run.role == INTAKE) + 1e-6


def test_a_trimmed_fold_is_as_long_as_it_was_drawn():
    chain = Chain(
        Label("waist"),
        (
            Run(line(0j, 100 + 0j)),
            Run(line(100 + 0j, 140 + 0j), INTAKE, Label("tuck"), drawn=30.0),
            Run(line(140 + 0j, 200 + 0j)),
        ),
    )
    assert sum(run.as_drawn for run in chain.runs) == 190
    assert chain.cut_distance_drawn(100) == 100
    assert chain.cut_distance_drawn(115) == 120
    assert chain.cut_distance_drawn(130) == 140
    assert chain.cut_distance_drawn(190) == 200
    assert chain.cut_distance(100) == 100
    assert chain.cut_distance(101) == 141


@pytest.mark.parametrize(
    ("label", "asked", "answers"),
    [
        (Label("side", None, ("right",)), Label("side"), True),
        (Label("side", None, ("right",)), Label("side", None, ("right",)), True),
        (Label("side", None, ("right",)), Label("side", None, ("left",)), False),
        (Label("side", None, ("upper", "right")), Label("side", None, ("right",)), True),
        (Label("side", None, ("upper", "right")), Label("side", None, ("upper",)), True),
        (Label("side", None, ("upper", "right")), Label("side", None, ("right", "upper")), False),
        (Label("drape", 2), Label("drape"), True),
        (Label("drape", 2), Label("drape", 2), True),
        (Label("drape", 2), Label("drape", 3), False),
        (Label("side"), Label("hem"), False),
    ],
)
def test_a_name_answers_to_what_leaves_halves_and_numbers_out(label, asked, answers):
    assert label.answers(asked) == answers


def test_a_name_shows_its_halves_and_number():
    assert str(Label("drape", 2, ("upper", "right"))) == "upper.right.drape[2]"
    assert str(Label("side").within("right").within("upper").without("right")) == "upper.side"
