"""Everything wrong in a file is told in one run, and nothing that only follows from it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect import inspect, inspect_part
from oaktag.lang.diagnostics import render

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.lang.diagnostics import Diagnostic
    from tests.compiler.conftest import Board

# As PANEL of the drawing board, under another name and with its sides crossing.
CROSSING = """\
piece {0}
  {0}_1 = origin
  {0}_2 = origin right 40 cm
  {0}_3 = {0}_2 down 60 cm
  {0}_4 = {0}_1 down 60 cm
  outline
    waist = {0}_1 to {0}_2
    side = {0}_2 to {0}_4
    hem = {0}_4 to {0}_3
    centre = {0}_3 to {0}_1
"""


def places(found: Sequence[Diagnostic]) -> list[tuple[str, str]]:
    return [(one.code, one.span.text if one.span else "") for one in found]


def codes(found: Sequence[Diagnostic]) -> list[str]:
    return [one.code for one in found]


# ------------------------------------------------------------------ within a piece


def test_two_crossing_outlines_in_two_pieces_are_both_told(board):
    found = board.wrong(CROSSING.format("front") + CROSSING.format("back"))
    assert codes(found) == ["crossing-outline"] * 2
    assert [one.span.line for one in found] == [9, 19]


def test_two_notches_off_the_edge_are_both_told(board):
    found = board.mistakes("notch on waist at 50 cm\ndrill at top_left\nnotch on hem at 70 cm")
    assert places(found) == [("off-edge", "50 cm"), ("off-edge", "70 cm")]


def test_all_that_is_wrong_with_one_instruction_is_told(board):
    found = board.mistakes("grain from on waist 50 cm to on hem 70 cm")
    assert places(found) == [("off-edge", "50 cm"), ("off-edge", "70 cm")]


def test_all_gaps_of_an_outline_are_told(board):
    wide = board.panel.replace("hem = foot_right to", "hem = foot_right down 2 cm to")
    wide = wide.replace("waist = top_left to", "waist = top_left up 2 cm to")
    found = board.wrong(wide)
    assert codes(found) == ["open-outline"] * 2
    assert [one.message for one in found] == [
        "the edge `side` does not reach the next one",
        "the edge `centre` does not reach the next one",
    ]


def test_an_edge_the_wrong_way_round_is_one_mistake(board):
    turned = board.panel.replace("hem = foot_right to foot_left", "hem = foot_left to foot_right")
    [found] = board.wrong(turned)
    assert found.help.startswith("turn `hem` round")


def test_a_failed_outline_takes_only_its_own_edges_along(board):
    found = board.wrong(
        CROSSING.format("front")
        + "  notch on waist at 90 cm\n"
        + "  grain along centre\n"
        + "  line flat = front_1 to front_1\n"
        + "  mirror\n"
        + "  unfold along centre into right and left\n"
        + "  true right.hem\n"
    )
    assert codes(found) == ["crossing-outline", "no-length"]


def test_a_failed_line_is_not_missed_again(board):
    found = board.mistakes(
        "line cut = on waist 50 cm to on hem 1/2\n"
        "notch on side at 90 cm\n"
        "spread cut by 2 cm at hem hinged on waist as pleat\n"
        "fold-trim cut toward centre\n"
        "notch on hem at 90 cm\n"
    )
    # What follows the spread would lie elsewhere: the hem may be longer then.
    assert places(found) == [("off-edge", "50 cm"), ("off-edge", "90 cm")]
    assert found[1].span.line == 14


def test_a_failed_spread_tells_nothing_of_the_hem_that_follows(board):
    [found] = board.mistakes(
        "line cut = on waist 1/2 to on hem 1/2\n"
        "spread cut by 2 cm at hem hinged on side as pleat\n"
        "fold-trim cut toward centre\n"
        "true hem\n"
        "notch on hem at 41 cm from side\n"
        "require length(hem) = 42 cm\n"
        "section slit = hem from foot_left to foot_right\n"
    )
    assert found.span.text == "side"


def test_what_needs_no_paper_is_looked_at_after_a_failed_spread(board):
    found = board.mistakes(
        "line cut = on waist 1/2 to on hem 1/2\n"
        "spread cut by 2 cm at hem hinged on side\n"
        "amount = 1 cm / (length(hem) / 40 cm - 1)\n"
        "share = 1 cm / (many - 4)\n"
        "place = origin right 3 cm\n"
        "line flat = place to origin right 3 cm\n"
        "notch on hem at 1 cm / (many - 4)\n"
        "drill at place right share\n"
        "require many = 3\n",
        head="many = 4",
    )
    assert [one.span.text for one in found] == [
        "side",
        "1 cm / (many - 4)",
        "to origin right 3 cm",
        "1 cm / (many - 4)",
        "many = 3",
    ]


def test_a_failed_dart_leaves_the_sewn_length_of_its_edge_open(board):
    found = board.wrong(
        f"{board.panel}"
        "  dart tuck on waist at 1/2 intake 3 cm length 70 cm\n"
        "  fold-trim tuck toward centre\n"
        "  require sewn(waist) = 37 cm\n"
        "  notch on hem at 90 cm\n"
        "require sewn(panel.waist) = 37 cm\n"
        "require length(panel.hem) = 41 cm\n"
    )
    assert [one.span.text for one in found] == ["70 cm", "90 cm", "length(panel.hem) = 41 cm"]


def test_where_the_grain_failed_nothing_is_cut(board):
    found = board.mistakes(
        "line cut = on waist 1/2 to on hem 1/2\n"
        "grain from top_left to top_left right 0 cm\n"
        "notch on waist at 90 cm\n"
        "spread cut by 2 cm at hem hinged on waist\n"
        "require length(waist) = 4 cm\n"
    )
    assert [one.span.line for one in found] == [14, 15]


def test_a_line_in_a_repeat_is_told_once(board):
    [found] = board.mistakes(
        "repeat i from 1 to 4\n"
        "  line cut[i] = on waist i * 12 cm to on hem 1/2\n"
        "  drill at on cut[i] 1/2\n"
        "spread cut[1..4] by 1 cm at hem hinged on waist\n"
    )
    assert found.span.text == "i * 12 cm"
    assert "in the turn where `i` is 4" in render(found)


# ------------------------------------------------------------------ between pieces


def test_pieces_that_copy_a_failed_one_say_nothing_of_its_paper(board):
    found = board.wrong(
        "many = 4\n"
        + CROSSING.format("front")
        + "piece copy from front\n"
        + "  notch on waist at 90 cm\n"
        + "  notch on waist at 1 cm / (many - 4)\n"
        + "piece other\n"
        + "  strip 4 cm by 5 cm\n"
        + "  notch on base at 9 cm\n"
        + "sew front.side to other.end\n"
        + "sew copy.side to other.start\n"
        + "require length(copy.waist) = 3 cm\n"
        + "require length(other.end) = 3 cm\n"
        + "cut 2 front in main\n"
        + "cut 3 other as pair in main\n"
    )
    assert [one.span.text for one in found] == [
        "side = front_2 to front_4",
        "1 cm / (many - 4)",
        "9 cm",
        "length(other.end) = 3 cm",
        "3",
    ]


def test_what_is_sure_of_a_piece_with_a_mistake_is_used(board):
    found = board.wrong(
        f"{board.panel}  notch on waist at 90 cm\n"
        "piece copy from panel\n"
        "  notch on side at 90 cm\n"
        "require length(copy.waist) = 41 cm\n"
        "sew panel.side to copy.side easing 0 cm - 1 cm\n"
    )
    assert codes(found) == ["off-edge", "off-edge", "requirement", "negative-easing"]


def test_an_allowance_holds_for_the_pieces_that_are_sure(board):
    files = (
        f"{board.panel}  divide along centre_line into upper and lower\n".replace(
            "  divide", "  line centre_line = on side 1/2 to on centre 1/2\n  divide"
        )
        + CROSSING.format("front")
        + "allow 1 cm on front, panel.upper\n"
    )
    found = board.wrong(files)
    assert codes(found) == ["crossing-outline", "other-pattern"]


def test_a_used_pattern_with_a_mistake_lends_what_is_sure(board):
    block = (
        'pattern "Block"\nchoose deep = 3 cm\n'
        + board.panel
        + CROSSING.format("front")
        + "wide = length(panel.waist)\n"
    )
    found = board.wrong(
        'pattern "Test"\nuse "block.oak" as block\n'
        "piece mine from block.panel\n  notch on waist at 90 cm\n"
        "piece other from block.front\n  notch on waist at 90 cm\n"
        "require block.wide = 41 cm\n"
        "require length(block.front.waist) = 41 cm\n",
        {"block.oak": block},
    )
    assert sorted(codes(found)) == ["crossing-outline", "off-edge", "requirement"]
    [crossing] = [one for one in found if one.code == "crossing-outline"]
    assert "used here" in render(crossing)


def test_an_adjust_that_rests_on_a_mistake_says_nothing(board):
    found = board.wrong(
        CROSSING.format("front")
        + "adjust wide from 1 cm to 9 cm until length(front.waist) = wide\n"
        + "piece band\n  strip wide by 3 cm\n"
        + "piece tie\n  strip 3 cm by 4 cm\n  notch on base at 9 cm\n"
    )
    assert codes(found) == ["crossing-outline", "off-edge"]


def test_a_measure_that_is_missing_takes_only_what_needs_it_along(board):
    found = board.wrong(
        "measure waist_girth, hip_girth\n"
        "piece band\n  strip waist_girth by 4 cm\n  notch on end at 9 cm\n"
        "piece tie\n  strip hip_girth by 4 cm\n  notch on end at 9 cm\n",
        hip_girth=960.0,
    )
    assert [(one.code, one.span.line) for one in found] == [("missing-measure", 2), ("off-edge", 8)]


# ------------------------------------------------------------------ beside mistakes of names


def test_a_typo_in_one_piece_hides_no_crossing_outline_in_another(board):
    found = board.wrong(f"{board.panel}  notch on wiast at 3 cm\n" + CROSSING.format("back"))
    assert codes(found) == ["unknown-name", "crossing-outline"]


def test_a_typo_hides_no_other_mistake_of_its_piece(board):
    found = board.mistakes(
        "notch on wiast at 3 cm\n"
        "notch on waist at 90 cm\n"
        "line cut = on waist 1/2 to on hme 1/2\n"
        "notch on hem at 90 cm\n"
        "spread cut by 2 cm at hem hinged on waist\n"
        "notch on side at 90 cm\n"
    )
    assert places(found) == [
        ("unknown-name", "wiast"),
        ("unknown-name", "hme"),
        ("off-edge", "90 cm"),
        ("off-edge", "90 cm"),
    ]


def test_after_a_line_that_was_not_understood_the_paper_is_doubtful(board):
    found = board.wrong(
        f"{board.panel}"
        "  notch on waist at 90 cm\n"
        "  lengthn at waist by 3 cm\n"
        "  notch on side at 90 cm\n"
        "piece other\n  strip 3 cm by 4 cm\n  notch on base at 9 cm\n"
        "require length(panel.side) = 3 cm\n"
        "require length(other.end) = 3 cm\n"
    )
    assert [(one.code, one.span.line) for one in found] == [
        ("no-instruction", 13),
        ("off-edge", 12),
        ("off-edge", 17),
        ("requirement", 19),
    ]


def test_in_a_block_that_was_not_understood_in_part_turns_are_not_told_apart(board):
    [found] = board.wrong(
        f"{board.panel}"
        "  repeat i from 1 to 3\n"
        "    notch on waist at 15 cm * i\n"
        "    lengthn at waist by 3 cm\n"
    )
    assert found.code == "no-instruction"


def test_an_edge_that_was_not_understood_leaves_no_gap(board):
    [found] = board.wrong(board.panel.replace("centre = foot_left to", "centre = foot_left ot"))
    assert found.span.text == "ot"


def test_too_many_instructions_are_told_once_and_end_the_work(board):
    found = board.wrong(
        "piece panel\n  strip 4 cm by 5 cm\n  notch on base at 9 cm\n"
        "  repeat i from 1 to 9000\n    drill at origin\n"
        "  repeat k from 1 to 9000\n    repeat n from 1 to 9000\n      drill at origin\n"
    )
    assert sorted(codes(found)) == ["off-edge", "too-long"]


def test_no_more_than_five_hundred_mistakes_are_told(board):
    lines = "".join("  notch on base at 9 cm\n" for _ in range(700))
    assert len(board.wrong(f"piece panel\n  strip 4 cm by 5 cm\n{lines}")) == 500


# ------------------------------------------------------------------ looking over what is sure

SKIRT = """\
pattern "Two panels"
piece front
  strip 40 cm by 60 cm
{0}
piece back
  strip 40 cm by {1}
piece band
  strip 20 cm by 6 cm
{2}
sew front.end to back.start
cut 1 front in main
cut 1 back in main
cut 1 band in main
"""


def told(board, *parts: str, sound: bool = False) -> list[str]:
    from oaktag.compiler.evaluate import evaluate
    from oaktag.lang.project.program import load
    from tests.compiler.conftest import Shelf

    text = SKIRT.format(*parts)
    program = load("pattern.oak", Shelf({"pattern.oak": text}))
    result = evaluate(program)
    seen = inspect(result.pattern) if sound else inspect_part(result.part)
    return [*codes(result.diagnostics), *codes(seen)]


def test_seams_between_sure_edges_are_walked_beside_a_mistake(board):
    line = "  line cut = on base 90 cm to origin"
    assert "unequal-seam" in told(board, line, "63 cm", "")
    assert "unequal-seam" not in told(board, line, "60 cm", "")
    changed = f"{line}\n  divide along cut into upper and lower"
    assert "unequal-seam" not in told(board, changed, "63 cm", "")


def test_a_failed_notch_leaves_none_alone(board):
    [wrong, *more] = told(
        board, "  notch on end at 90 cm", "60 cm\n  notch on start at 9 cm", "  grain along base"
    )
    assert wrong == "off-edge"
    assert "lone-notch" not in more


def test_only_whole_pieces_are_looked_over(board):
    tuck = "  dart {0} on base at 1/2 intake 4 mm length 5 cm"
    parts = [tuck.format("one"), f"60 cm\n{tuck.format('two')}", tuck.format("three")]
    assert told(board, *parts, sound=True) == ["untrimmed"] * 3
    parts[0] += "\n  notch on end at 90 cm"
    assert told(board, *parts) == ["off-edge", "untrimmed", "untrimmed"]


def test_figures_that_come_to_nothing_because_a_requirement_failed_are_not_told(
    board: Board,
) -> None:
    figure = "  steep = asin(a / b)\n"
    for text in (
        f'a = 5\nb = 2\nrequire a <= b "too steep"\n{board.panel}{figure}',
        f'a = 5\nb = 2\n{board.panel}  require a <= b "too steep"\n{figure}',
    ):
        assert codes(board.wrong(text)) == ["requirement"], text
