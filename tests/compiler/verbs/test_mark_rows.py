"""Rows of buttons and buttonholes, shapes of notches, words of lines: they go with the paper."""

from __future__ import annotations

import cmath
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from oaktag.compiler.paper.piece import Piece
    from tests.compiler.conftest import Board

INCH = 25.4  # mm, exact
MIDDLE = """
line middle = on waist 3 cm from centre to on hem 3 cm from centre
"""
ROW = "along middle from on middle 4 cm from waist to on middle 24 cm from waist"


def places(piece: Piece, kind: str) -> list[complex]:
    return [mark.at for mark in piece.marks if mark.kind == kind]


class TestButtons:
    def test_they_stand_evenly_from_the_first_point_to_the_last(self, board: Board) -> None:
        panel = board.piece(f"{MIDDLE}buttons 5 {ROW} size 18 mm")
        assert places(panel, "button") == pytest.approx(
            [30 - 40j, 30 - 90j, 30 - 140j, 30 - 190j, 30 - 240j]
        )
        assert {mark.size for mark in panel.marks} == {18.0}

    def test_one_alone_lies_at_the_first_point(self, board: Board) -> None:
        panel = board.piece(f"{MIDDLE}buttons 1 {ROW} size 18 mm")
        assert places(panel, "button") == pytest.approx([30 - 40j])

    def test_their_number_may_be_chosen(self, board: Board) -> None:
        panel = board.piece(
            f"{MIDDLE}buttons (few + 1) {ROW} size 18 mm", head="choose few = 2 from 1 to 5"
        )
        assert len(places(panel, "button")) == 3

    def test_they_may_go_the_other_way(self, board: Board) -> None:
        row = "along middle from on middle 24 cm from waist to on middle 4 cm from waist"
        panel = board.piece(f"{MIDDLE}buttons 3 {row} size 18 mm")
        assert places(panel, "button") == pytest.approx([30 - 240j, 30 - 140j, 30 - 40j])

    def test_what_is_folded_away_does_not_count(self, board: Board) -> None:
        panel = board.piece(
            """
            dart tuck on centre at 30 cm from waist intake 4 cm length 12 cm
            buttons 3 along centre from on centre 4 cm from waist to on centre 44 cm from waist
              size 18 mm
            """
        )
        first, second, third = (-place.imag for place in places(panel, "button"))
        # The dart lies between 28 and 32 cm; sewn, it leaves nothing between the buttons.
        assert (first, second) == pytest.approx((40, 240))
        assert third - second - 40 == pytest.approx(second - first)

    @pytest.mark.parametrize(
        ("line", "message", "place"),
        [
            (
                f"buttons none_at_all {ROW} size 18 mm",
                "0 cannot be set out in a row",
                "none_at_all",
            ),
            (f"buttons 40 {ROW} size 18 mm", "40 buttons of 1.8 cm have no room there", "40"),
            (f"buttons 501 {ROW} size 18 mm", "more than 500 in a row", "501"),
            (
                "buttons 3 along middle from origin to on middle 4 cm from waist size 18 mm",
                "this point lies 3 cm away from `middle`",
                "origin",
            ),
        ],
    )
    def test_what_cannot_be_set_out(
        self, board: Board, line: str, message: str, place: str
    ) -> None:
        wrong = board.mistake(f"{MIDDLE}{line}", head="none_at_all = 0")
        assert wrong.message.startswith(message)
        assert wrong.span is not None
        assert wrong.span.text == place
        assert wrong.help

    def test_a_half_button_is_refused(self, board: Board) -> None:
        assert board.mistakes(f"{MIDDLE}buttons 2.5 {ROW} size 18 mm")

    def test_the_words_stay_free_as_names(self, board: Board) -> None:
        panel = board.piece(
            f"{MIDDLE}buttons = 3\nbuttonholes = 18 mm\nbuttons buttons {ROW} size buttonholes"
        )
        assert len(panel.marks) == 3


class TestButtonholes:
    """As long as the button and 1/8 in (learnsomethingnew365); across, it begins 1/8 in past the
    line (trantor.is, sewing basics).
    """

    def test_along_the_line_they_lie_on_it(self, board: Board) -> None:
        panel = board.piece(f"{MIDDLE}buttonholes 3 {ROW} size 18 mm")
        assert places(panel, "buttonhole") == pytest.approx([30 - 40j, 30 - 140j, 30 - 240j])
        for mark in panel.marks:
            assert mark.size == pytest.approx(18 + INCH / 8)
            assert mark.direction == pytest.approx(-1j)

    @pytest.mark.parametrize(("from_edge", "outward"), [("centre", -1), ("side", 1)])
    def test_across_they_begin_past_it_toward_the_nearer_edge(
        self, board: Board, from_edge: str, outward: int
    ) -> None:
        drawn = f"line middle = on waist 3 cm from {from_edge} to on hem 3 cm from {from_edge}"
        panel = board.piece(f"{drawn}\nbuttonholes 2 {ROW} size 18 mm across")
        line = 30 if from_edge == "centre" else 370
        for mark in panel.marks:
            ends = [mark.at + mark.direction * mark.size / 2 * end for end in (-1, 1)]
            outer, inner = sorted((end.real for end in ends), key=lambda x: -x * outward)
            assert outer == pytest.approx(line + outward * INCH / 8)
            assert abs(outer - inner) == pytest.approx(18 + INCH / 8)

    def test_they_lie_where_the_buttons_do(self, board: Board) -> None:
        panel = board.piece(
            f"{MIDDLE}buttons 4 {ROW} size 15 mm\nbuttonholes 4 {ROW} size 15 mm across"
        )
        heights = [[at.imag for at in places(panel, kind)] for kind in ("button", "buttonhole")]
        assert heights[0] == pytest.approx(heights[1])


class TestTheyGoWithThePaper:
    def test_unfolded_there_is_an_image_of_each(self, board: Board) -> None:
        piece = board.piece(
            f"{MIDDLE}buttons 3 {ROW} size 18 mm\nbuttonholes 2 {ROW} size 18 mm across\n"
            "unfold along side into near and far"
        )
        buttons, holes = places(piece, "button"), places(piece, "buttonhole")
        assert len(buttons) == 6
        assert len(holes) == 4
        for one, image in zip(buttons[:3], buttons[3:], strict=True):
            assert image == pytest.approx(complex(800 - one.real, one.imag))
        ways = [mark.direction for mark in piece.marks if mark.kind == "buttonhole"]
        assert ways == pytest.approx([1, 1, -1, -1])

    def test_halved_again_they_are_as_they_were(self, board: Board) -> None:
        before = board.piece(f"{MIDDLE}buttons 3 {ROW} size 18 mm")
        after = board.piece(
            f"{MIDDLE}buttons 3 {ROW} size 18 mm\n"
            "unfold along side into near and far\nhalve along side keeping near"
        )
        assert places(after, "button") == pytest.approx(places(before, "button"))

    def test_spread_they_keep_their_distance_on_each_part(self, board: Board) -> None:
        piece = board.piece(
            f"{MIDDLE}buttons 5 {ROW} size 18 mm\n"
            "line cut = on centre 10 cm from waist to on side 10 cm from waist\n"
            "lengthen at cut by 6 cm"
        )
        apart = [abs(b - a) for a, b in pairwise(places(piece, "button"))]
        assert sorted(apart) == pytest.approx([50, 50, 50, 110])

    def test_divided_each_part_has_its_own(self, board: Board) -> None:
        text = f"""{board.panel}  line middle = on waist 3 cm from centre to on hem 3 cm from centre
  buttons 5 {ROW} size 18 mm
  notch on side at 50 cm from waist as v deep 4 mm
  line yoke_line = on centre 15 cm from waist to on side 15 cm from waist
  divide along yoke_line into yoke and skirt
piece yoke from panel.yoke
piece skirt from panel.skirt
"""
        pieces = board.pattern(text).pieces
        assert len(places(pieces["yoke"], "button")) == 3
        assert len(places(pieces["skirt"], "button")) == 2
        (notch,) = [mark for mark in pieces["skirt"].marks if mark.kind == "notch"]
        assert (notch.shape, notch.deep) == ("v", 4)

    def test_turned_over_they_are_on_the_other_side(self, board: Board) -> None:
        piece = board.piece(f"{MIDDLE}buttonholes 2 {ROW} size 18 mm across\nmirror")
        for mark in piece.marks:
            assert mark.at.real > 300
            assert mark.direction == pytest.approx(-1)


class TestShapesOfNotches:
    def test_shape_and_depth_are_kept_on_the_mark(self, board: Board) -> None:
        panel = board.piece(
            """
            notch on side at 1/2 as castle deep 5 mm
            notch on side at 1/3 double as v
            notch at on hem 1/2 as u deep 1/8 in
            notch on waist at 1/2
            """
        )
        said = [(mark.shape, mark.deep, mark.double) for mark in panel.marks]
        assert said == [
            ("castle", 5.0, False), ("v", None, True), ("u", INCH / 8, False), ("", None, False),
        ]  # fmt: skip

    @pytest.mark.parametrize(
        "line", ["notch on side at 1/2 deep thin", "notch at origin deep thin"]
    )
    def test_a_depth_of_nothing_is_refused(self, board: Board, line: str) -> None:
        wrong = board.mistake(line, head="thin = 0 mm")
        assert wrong.message == "a notch 0 cm deep would not be seen"
        assert wrong.span is not None
        assert wrong.span.text == "thin"

    def test_off_the_edge_of_a_finished_piece(self, board: Board) -> None:
        (wrong,) = board.wrong(
            "piece one\n  strip 10 cm by 20 cm\npiece two\n  strip 10 cm by 30 cm\n"
            "notch on two.end, one.end at 25 cm\n"
        )
        assert wrong.message == "`one.end` is 20 cm long as sewn, so a notch at 25 cm falls off it"
        assert wrong.span is not None
        assert wrong.span.text == "25 cm"
        assert wrong.span.line == 6

    def test_on_the_edge_that_is_double(self, board: Board) -> None:
        panel = board.piece("fold on centre\nnotch on centre at 1/2 double")
        (mark,) = panel.marks
        assert mark.at == pytest.approx(-300j)

    def test_the_file_may_say_it_for_all(self, board: Board) -> None:
        pattern = board.pattern(f"notches as t deep 4 mm\n{board.panel}  notch on side at 1/2\n")
        assert (pattern.notch_shape, pattern.notch_deep) == ("t", 4.0)

    @pytest.mark.parametrize(
        ("head", "code"),
        [
            ("notches as v\nnotches as t", "said-twice"),
            ('revision "1"\nrevision "2"', "said-twice"),
            ("if 1 < 2\n  notches as v", "misplaced"),
        ],
    )
    def test_the_head_says_it_once(self, board: Board, head: str, code: str) -> None:
        (wrong,) = board.wrong(f"{head}\n{board.panel}")
        assert wrong.code == code


class TestPleatsAndDartsTurnedOver:
    """The arrow of a pleat, and what a dart is pressed toward, go with the paper."""

    PLEAT = """
    line slit = on waist 1/3 from centre to on hem 1/3 from centre
    spread slit by 4 cm as pleat
    fold-trim slit toward left
    """

    def test_mirrored(self, board: Board) -> None:
        (plain,) = board.piece(self.PLEAT).openings
        (turned,) = board.piece(f"{self.PLEAT}\n    mirror").openings
        assert (plain.toward, turned.toward) == ("left", "right")
        for pleat, sign in ((plain, -1), (turned, 1)):
            sides = {"first": pleat.first.end, "second": pleat.second.end}
            onto = sides.pop(pleat.pressed)
            (other,) = sides.values()
            assert (onto - other).real * sign > 0

    def test_unfolded(self, board: Board) -> None:
        piece = board.piece(f"{self.PLEAT}\n    unfold along side into near and far")
        near, far = piece.openings
        assert (near.toward, far.toward) == ("left", "right")
        for pleat, sign in ((near, -1), (far, 1)):
            sides = {"first": pleat.first.end, "second": pleat.second.end}
            onto = sides.pop(pleat.pressed)
            (other,) = sides.values()
            assert (onto - other).real * sign > 0

    def test_turned_over_about_a_level_line_up_is_down(self, board: Board) -> None:
        piece = board.piece(
            """
            line slit = on centre 1/3 from waist to on side 1/3 from waist
            spread slit by 4 cm as pleat
            fold-trim slit toward down
            unfold along hem into upper and lower
            """
        )
        assert [pleat.toward for pleat in piece.openings] == ["down", "up"]

    def test_edges_keep_their_names(self, board: Board) -> None:
        piece = board.piece(
            """
            dart tuck on waist at 1/3 from centre intake 3 cm length 12 cm
            fold-trim tuck toward side
            unfold along centre into right and left
            """
        )
        assert {dart.toward for dart in piece.openings} == {"side"}


class TestMark:
    LINE = "line level = on centre 20 cm from waist to on side 20 cm from waist"

    def test_a_line_gets_words(self, board: Board) -> None:
        panel = board.piece(f'{self.LINE}\nmark level as "knee"')
        assert [line.words for line in panel.lines] == ["knee"]
        panel = board.piece(f"{self.LINE}\nmark level")
        assert [line.words for line in panel.lines] == ["level"]

    def test_a_line_to_lengthen_at_can_be_lengthened_at(self, board: Board) -> None:
        panel = board.piece(f"{self.LINE}\nmark level for lengthening\nlengthen at level by 5 cm")
        (line,) = panel.lines
        assert line.lengthening
        assert panel.area == pytest.approx(400 * 650)

    def test_it_goes_with_the_paper(self, board: Board) -> None:
        panel = board.piece(
            f"""
            {self.LINE}
            mark level for lengthening
            mark side as "slit here"
            unfold along side into near and far
            """
        )
        assert [line.lengthening for line in panel.lines] == [True, True, False]
        assert panel.lines[2].words == "slit here"
        back = board.piece(
            """
            mark side as "slit here"
            unfold along side into near and far
            halve along side keeping near
            """
        )
        assert [edge.words for edge in back.edges if edge.label.name == "side"] == ["slit here"]

    def test_only_a_drawn_line_is_for_lengthening(self, board: Board) -> None:
        wrong = board.mistake("mark side for lengthening")
        assert wrong.message == "`side` is not a drawn line"
        assert wrong.span is not None
        assert wrong.span.text == "side"
        assert wrong.help.startswith("draw a line from edge to edge first")

    def test_a_dart_is_not_a_line(self, board: Board) -> None:
        wrong = board.mistake("dart tuck on waist at 1/2 intake 3 cm length 12 cm\nmark tuck")
        assert wrong.span is not None
        assert wrong.span.text == "tuck"

    def test_mark_stays_free_as_a_name(self, board: Board) -> None:
        panel = board.piece(f"{self.LINE}\nmark = origin down 5 cm\nbutton at mark size 1 cm")
        assert places(panel, "button") == pytest.approx([-50j])
        assert cmath.isfinite(panel.marks[0].at)
