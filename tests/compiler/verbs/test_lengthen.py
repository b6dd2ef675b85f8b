"""`lengthen` and `shorten`: paper let in or taken out across a piece."""

from __future__ import annotations

import pytest


def test_a_block_is_lengthened_at_the_hip(board, look):
    before = board.piece("", board.quarter)
    quarter = board.piece("lengthen at hip_line by 4 cm", board.quarter)
    for name, gain in (("side", 40), ("centre", 40), ("waist", 0), ("hem", 0)):
        assert look.edge(quarter, name).length == pytest.approx(
            look.edge(before, name).length + gain, abs=1e-6
        )
    assert quarter.area == pytest.approx(before.area + 250 * 40, rel=1e-9)
    look.conserved(quarter)


def test_the_line_stays_drawn_and_can_be_used_again(board, look):
    once = board.piece("lengthen at hip_line by 4 cm", board.quarter)
    assert not once.openings
    assert look.edge(once, "hip_line").start == pytest.approx(-200j, abs=1e-9)
    twice = board.piece("lengthen at hip_line by 4 cm\nlengthen at hip_line by 1 cm", board.quarter)
    assert look.edge(twice, "centre").length == pytest.approx(650, abs=1e-6)


@pytest.mark.parametrize("first", ["lengthen", "shorten"])
def test_shortened_and_lengthened_it_is_as_it_was(board, look, first):
    second = {"lengthen": "shorten", "shorten": "lengthen"}[first]
    before = board.piece("", board.quarter)
    after = board.piece(f"{first} at hip_line by 3 cm\n{second} at hip_line by 3 cm", board.quarter)
    assert after.area == pytest.approx(before.area, rel=1e-6)
    for name in ("waist", "hem", "centre"):
        assert look.edge(after, name).length == pytest.approx(
            look.edge(before, name).length, abs=1e-6
        )
    look.conserved(after)


def test_the_part_with_the_upper_end_of_the_grain_stays(board, look):
    quarter = board.piece("lengthen at hip_line by 4 cm", board.quarter)
    assert look.edge(quarter, "waist").start == pytest.approx(0j, abs=1e-9)
    held = board.piece("lengthen at hip_line by 4 cm holding hem", board.quarter)
    assert look.edge(held, "hem").end == pytest.approx(-600j, abs=1e-9)
    assert look.edge(held, "waist").start == pytest.approx(40j, abs=1e-9)


def test_the_fold_stays_a_fold(board):
    quarter = board.piece("lengthen at hip_line by 4 cm", board.quarter)
    (fold,) = [edge for edge in quarter.edges if edge.on_fold]
    assert fold.length == pytest.approx(640, abs=1e-6)


def test_across_both_halves_of_an_unfolded_piece(board, look):
    skirt = board.piece(
        """
        line across = on right.side 22 cm from waist to on left.side 22 cm from waist
        lengthen at across by 4 cm
        """,
        board.skirt,
    )
    for name in ("right.side", "left.side"):
        before = look.edge(board.piece("", board.skirt), name).length
        assert look.edge(skirt, name).length == pytest.approx(before + 40, abs=1e-6)
    assert look.edge(skirt, "across").length == pytest.approx(500, abs=1e-6)
    assert look.edge(skirt, "centre").length == pytest.approx(640, abs=1e-6)
    look.conserved(skirt)


@pytest.mark.parametrize("amount", ["-2 cm", "2 cm - 4 cm"])
def test_less_than_nothing_is_refused(board, amount):
    wrong = board.mistake(f"lengthen at hip_line by {amount}", board.quarter)
    assert wrong.message == "the amount cannot be less than nothing: this is -2 cm"
    assert "shorten" in wrong.help
    assert wrong.span.text == amount


@pytest.mark.parametrize("verb", ["lengthen", "shorten"])
def test_a_line_that_does_not_go_across_is_shown(board, verb):
    wrong = board.mistake(
        f"line short = hip_centre to hip_centre right 5 cm\n{verb} at short by 2 cm",
        board.quarter,
    )
    assert wrong.message == "`short` ends 5 cm away from the edge of the paper"
    assert wrong.span.text == "short"
