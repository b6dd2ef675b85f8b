"""The order of making up: what is said, what comes before what, and how it can be changed."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.making.order import in_circles, making

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.making.order import Making
    from tests.compiler.conftest import Board
    from tests.conftest import Cutter

ROOT = Path(__file__).parents[3]
BLOCKS = sorted((ROOT / "stdlib").rglob("*.oak"))
WARDROBE = sorted((ROOT / "examples").glob("[fhl]*/*.oak"))
# The sleeve needs a bodice that lies elsewhere.
PROGRAMS = [
    path for path in sorted((ROOT / "tests" / "programs").glob("*.oak")) if path.stem != "sleeve"
]

PIECES = """
piece front
  outline
    waist = origin to origin right 40 cm
    right_side = origin right 40 cm to origin right 40 cm down 60 cm
    hem = origin right 40 cm down 60 cm to origin down 60 cm
    left_side = origin down 60 cm to origin
piece back
  outline
    waist = origin to origin right 24 cm
    side = origin right 24 cm to origin right 24 cm down 60 cm
    hem = origin right 24 cm down 60 cm to origin down 60 cm
    centre = origin down 60 cm to origin
  section placket = centre from on centre 0 from waist to on centre 18 cm from waist
  dart waist_dart on waist at 1/2 intake 4 cm length 12 cm
  fold-trim waist_dart toward centre
piece band
  strip 80 cm by 6 cm
cut 1 front in main
cut 2 back as pair in main
cut 1 band in main
allow 4 cm on front.hem, back.hem as hem
"""
# The lines that make it up, in an order that no one would sew in.
SEWN = (
    "fasten back.placket with zip",
    "sew back.waist from centre then front.waist then back.waist to band.base",
    "sew back.centre to back.centre",
    "sew front.left_side to back.side",
    "sew front.right_side to back.side",
)


def said(board: Board, *lines: str) -> list[str]:
    return [one.said for one in made(board, *lines).operations]


def made(board: Board, *lines: str) -> Making:
    return making(board.pattern(PIECES + "\n".join(lines) + "\n"))


def test_a_skirt_is_made_up_as_a_cutter_would(board: Board) -> None:
    assert said(board, *SEWN) == [
        "Sew the dart waist_dart of back (4 cm wide, 12 cm long) and press it toward centre. "
        "Do this twice.",
        "Sew the two edges back.centre together (60 cm), right sides together; leave 18 cm open "
        "for the zip.",
        "Set the zip into back.placket (18 cm).",
        "Sew front.left_side to back.side (60 cm), right sides together.",
        "Sew front.right_side to back.side (60 cm), right sides together.",
        "Sew back.waist, front.waist and back.waist to band.base (80 cm), right sides together.",
        "Turn up front.hem and back.hem by 4 cm and sew the hem.",
    ]


@pytest.mark.parametrize("lines", list(itertools.permutations(SEWN)))
def test_in_whatever_order_it_is_written_the_waist_waits_for_the_sides(
    board: Board, lines: tuple[str, ...]
) -> None:
    order = said(board, *lines)
    at = {line: place for place, line in enumerate(order)}
    sides = [place for line, place in at.items() if "_side to" in line]
    [zip_] = [place for line, place in at.items() if line.startswith("Set the zip")]
    [centre] = [place for line, place in at.items() if "back.centre" in line]
    [band] = [place for line, place in at.items() if "band" in line]
    assert len(sides) == 2
    assert max(sides) < band
    assert 0 < centre < zip_ < band < at["Turn up front.hem and back.hem by 4 cm and sew the hem."]


def test_where_nothing_else_decides_the_file_does(board: Board) -> None:
    left, right = SEWN[3], SEWN[4]
    first, second = said(board, left, right), said(board, right, left)
    assert [line for line in first if "left_side" in line or "right_side" in line] == [
        "Sew front.left_side to back.side (60 cm), right sides together.",
        "Sew front.right_side to back.side (60 cm), right sides together.",
    ]
    assert first != second
    assert sorted(first) == sorted(second)


def test_a_comment_above_the_line_is_said_instead(board: Board) -> None:
    order = said(
        board,
        "# by hand, with small stitches",
        "sew front.left_side to back.side",
        "# the zip goes in last, under the flap",
        "fasten back.placket with zip",
        "# with the ribbon that is left over",
        "bind back.hem with 1 cm in ribbon",
        "# faced with tape",
        "allow 6 mm on front.hem, back.hem as hem",
    )
    assert order[1:] == [
        "by hand, with small stitches",
        "the zip goes in last, under the flap",
        "with the ribbon that is left over",
        "faced with tape",
    ]


def test_a_comment_above_a_dart_is_kept_beside_what_is_to_be_done(board: Board) -> None:
    text = PIECES.replace("  fold-trim", "  # pressed over a ham\n  fold-trim")
    [dart, _] = making(board.pattern(text)).operations
    assert dart.caption == "pressed over a ham"
    assert dart.said.startswith("Sew the dart waist_dart of back")


def test_a_hem_that_a_later_line_takes_back_is_none(board: Board) -> None:
    order = said(board, "allow 1 cm on back.hem", "allow none on front.hem")
    assert not [line for line in order if "hem" in line]
    assert said(board, "allow 1 cm on back.hem")[-1] == (
        "Turn up front.hem by 4 cm and sew the hem."
    )


def test_gathering_easing_and_notches_are_told(board: Board) -> None:
    order = said(
        board,
        "sew front.hem to band.top gathering",
        "sew back.hem to front.left_side easing 36 cm",
        "notch on front.right_side, back.side at 20 cm from waist",
        "notch on front.right_side, back.side at 40 cm from waist",
        "sew front.right_side to back.side",
    )
    assert order[1:4] == [
        "Gather band.top to 40 cm and sew it to front.hem, right sides together.",
        "Sew back.hem to front.left_side (24 cm to 60 cm), right sides together, "
        "easing 36 cm of front.left_side in.",
        "Sew front.right_side to back.side (60 cm), right sides together; two notches meet.",
    ]


def test_a_seam_is_sewn_as_often_as_it_is_there(board: Board) -> None:
    text = """
    piece front
      strip 40 cm by 60 cm
      fold on start
    piece back
      strip 40 cm by 60 cm
    cut 1 front in main and lining
    cut 2 back as pair in main and lining
    sew front.end to back.end
    """
    [seam] = making(board.pattern(text)).operations
    assert seam.said.endswith("right sides together. Do this twice, and the same in lining.")


def test_darts_and_pleats_say_as_seams_do_how_often_they_are_there_and_in_which_cloths(
    board: Board,
) -> None:
    text = """
    piece front
      strip 40 cm by 60 cm
      fold on start
      dart waist_dart on top at 1/2 intake 4 cm length 12 cm
    piece back
      strip 40 cm by 60 cm
      dart waist_dart on top at 1/2 intake 4 cm length 12 cm
    piece panel
      strip 40 cm by 60 cm
      line a = on top 10 cm from start to on base 10 cm from start
      spread a by 6 cm as pleat
    piece flap
      strip 40 cm by 60 cm
      dart point on top at 1/2 intake 4 cm length 12 cm
    """
    cuts = """
    cut 1 front in main and lining
    cut 2 back as pair in main
    cut 1 back in lining
    cut 1 panel in main and lining
    cut 1 flap in main
    cut 1 flap in interfacing
    """
    operations = making(board.pattern(text + cuts)).operations
    order = [one.said for one in operations if one.kind in ("dart", "pleat")]
    darts = "(4 cm wide, 12 cm long)"
    assert order == [
        f"Sew the dart waist_dart of front {darts}. Do this twice, and the same in lining.",
        f"Sew the dart waist_dart of back {darts}. Do this twice in main and once in lining.",
        "Fold the pleat a of panel (6 cm of cloth in it) and baste it. Do the same in lining.",
        f"Sew the dart point of flap {darts}.",
    ]
    uncut = [one.said for one in making(board.pattern(text)).operations]
    assert uncut[0] == f"Sew the dart waist_dart of front {darts}. Do this twice."
    assert uncut[1] == f"Sew the dart waist_dart of back {darts}."


def test_what_is_gathered_over_the_fold_is_gathered_once(board: Board) -> None:
    text = """
    piece skirt
      strip 40 cm by 60 cm
      fold on start
      line a = on top 10 cm from start to on base 10 cm from start
      spread a by 6 cm as gather
    cut 1 skirt in main and lining
    """
    [gather] = making(board.pattern(text)).operations
    assert gather.said == (
        "Gather skirt.base from 46 cm to 40 cm and skirt.top from 46 cm to 40 cm on each side of "
        "the fold. Do the same in lining."
    )


def test_halves_of_one_seam_are_not_two_seams(board: Board) -> None:
    text = """
    piece yoke
      strip 20 cm by 10 cm
      fold on start
    piece skirt
      strip 20 cm by 60 cm
      fold on start
    cut 1 yoke in main
    cut 1 skirt in main
    sew yoke.base to skirt.top
    """
    [seam] = making(board.pattern(text)).operations
    assert seam.said == (
        "Sew yoke.base to skirt.top (20 cm on each side of the fold), right sides together."
    )


def test_gores_all_alike_are_not_counted(cutter: Cutter) -> None:
    """One side of a gore is sewn to the front or to the next gore: the file does not say which."""
    pattern = cutter.draw(ROOT / "stdlib" / "skirts" / "gored.oak", cutter.size("5"))
    seams = [one.said for one in making(pattern).operations if one.kind == "seam"]
    assert len(seams) == 2
    assert all(seam.endswith("Do this wherever these edges meet.") for seam in seams)


def test_the_sleeve_is_closed_and_then_set_in_and_the_crotch_comes_after_the_legs(
    cutter: Cutter,
) -> None:
    sleeve = cutter.draw(ROOT / "stdlib" / "sleeves" / "set_in.oak", cutter.size("5"))
    closed, set_in = making(sleeve).operations
    assert closed.said.startswith("Sew sleeve.front_seam to sleeve.back_seam")
    assert set_in.said.startswith("Sew front.armhole and back.armhole to sleeve.cap")
    assert set_in.said.endswith("Do this twice.")
    trousers = cutter.draw_all(ROOT / "stdlib" / "trousers" / "basic.oak", cutter.size("5"))
    seams = [one.said.split("(")[0] for one in making(trousers).operations if one.kind == "seam"]
    assert seams == [
        "Sew front.side to back.side ",
        "Sew back.inside to front.inside ",
        "Sew the two edges front.crotch together ",
        "Sew the two edges back.crotch together ",
    ]


def test_two_rounds_that_close_each_other_are_sewn_in_the_order_of_the_file(board: Board) -> None:
    belt = "piece belt\n  strip 80 cm by 8 cm\n"
    for lines in itertools.permutations(
        ["sew belt.start to belt.end", "sew belt.base to belt.top"]
    ):
        pattern = board.pattern(belt + "\n".join(lines) + "\n")
        assert list(in_circles(pattern)) == []
        order = [one.said.split(" (")[0] for one in making(pattern).operations]
        assert order == [line.replace("sew", "Sew") for line in lines]


def test_what_is_put_on_first_and_what_closes_last(board: Board) -> None:
    order = made(
        board,
        "cut 1 band in interfacing",
        *SEWN[1:],
        "fasten band.start to band.end with hooks",
        "bind front.hem then back.hem with 1 cm in trim",
    ).operations
    assert [one.kind for one in order] == [
        *("interfacing", "dart", "seam", "seam", "seam", "binding", "seam", "hem", "hooks"),
    ]
    assert order[0].said == "Put the interfacing on band."
    assert order[-1].said == "Make band.start and band.end close with hooks (6 cm)."


def test_buttons_that_are_marked_are_made_last(board: Board) -> None:
    text = """
    piece right
      strip 10 cm by 60 cm
      button at on start 5 cm from top size 18 mm
      button at on start 15 cm from top size 18 mm
    piece left
      strip 10 cm by 60 cm
      buttonhole at on start 5 cm from top size 21 mm
    """
    [plain] = making(board.pattern(text)).operations
    assert plain.said == "Make and sew on what closes: 1 buttonhole on left, 2 buttons on right."
    closed = text + "\n    fasten right.start to left.start with buttons\n"
    [one] = making(board.pattern(closed)).operations
    assert one.said == (
        "Make right.start and left.start close with buttons (60 cm): 1 buttonhole on left, "
        "2 buttons on right."
    )


def test_seams_that_wait_for_each_other_are_told_of_and_put_in_the_order_of_the_file(
    board: Board,
) -> None:
    pattern = board.pattern(
        "piece a\n  strip 10 cm by 10 cm\npiece b from a\npiece c from a\n"
        "sew a.base then b.base to c.base\n"
        "sew a.end then c.end to b.end\n"
    )
    [warning] = in_circles(pattern)
    assert (warning.severity, warning.code) == ("warning", "order-in-circle")
    assert warning.span is not None
    assert "wait for each other" in warning.message
    assert [one.span.line for one in making(pattern).operations if one.span] == [6, 7]


@pytest.fixture(scope="module")
def patterns(cutter: Cutter) -> list[tuple[str, Pattern]]:
    """All that comes with Oaktag and the wardrobe, each in one size."""
    found = []
    for path in (*BLOCKS, *WARDROBE, *PROGRAMS):
        pattern, said_ = cutter.result(path, cutter.size("5"))
        assert pattern is not None, (path, [one.message for one in said_])
        found.append((path.name, pattern))
    return found


def test_everything_is_done_once_and_after_what_it_waits_for(
    patterns: list[tuple[str, Pattern]],
) -> None:
    count = 0
    for name, pattern in patterns:
        plan = making(pattern)
        assert plan == making(pattern)
        assert plan.circles == (), name
        seams = [one for one in plan.operations if one.kind == "seam"]
        assert sorted(one.span.start for one in seams if one.span) == sorted(
            seam.span.start for seam in pattern.seams
        )
        assert len(plan.after) == len(plan.operations)
        for at, before in enumerate(plan.after):
            assert all(other < at for other in before), name
        count += len(plan.operations)
    assert count > 60


def test_no_joint_is_crossed_before_it_is_made(patterns: list[tuple[str, Pattern]]) -> None:
    """Worked out anew from the corners of the pieces: where a chain goes from one piece to the
    next, the seam that ends at both corners has been sewn.
    """
    crossed = 0
    for name, pattern in patterns:
        seams = [one for one in making(pattern).operations if one.kind == "seam"]
        for at, one in enumerate(seams):
            for chain in one.chains:
                for here, there in itertools.pairwise(chain):
                    if here.piece.name == there.piece.name:
                        continue
                    joints = [
                        place
                        for place, other in enumerate(seams)
                        if place != at
                        and any(
                            ends_at(pattern, other.chains[i], here)
                            and ends_at(pattern, other.chains[1 - i], there)
                            for i in (0, 1)
                        )
                    ]
                    assert all(place < at for place in joints), name
                    crossed += len(joints)
    assert crossed >= 2


def ends_at(pattern: Pattern, sides: object, link: object) -> bool:
    """Whether an edge of a side has a corner in common with a link of another chain."""
    return any(
        side.piece.name == link.piece.name  # type: ignore[attr-defined]
        and side.edge.label != link.edge.label  # type: ignore[attr-defined]
        and min(
            abs(a - b)
            for a in (side.edge.start, side.edge.end)
            for b in (link.edge.start, link.edge.end)  # type: ignore[attr-defined]
        )
        < 0.05
        for side in sides  # type: ignore[attr-defined]
    )
