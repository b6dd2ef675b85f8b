"""What else lies on a piece: notches, drill holes, buttons, text, sections, grain, fold; strips."""

from __future__ import annotations

import pytest


class TestNotches:
    def test_measured_as_sewn_from_the_named_end(self, board):
        panel = board.piece(
            """
            dart tuck on waist at 1/2 intake 4 cm length 12 cm
            notch on waist at 10 cm from centre
            notch on waist at 10 cm from side double
            notch on waist at 30 cm from centre
            notch on waist at 1/4
            """
        )
        at = [mark.at for mark in panel.marks]
        # 36 cm are sewn; beyond the dart 4 cm are passed over.
        assert at == pytest.approx([100 + 0j, 300 + 0j, 340 + 0j, 90 + 0j], abs=1e-9)
        assert [mark.double for mark in panel.marks] == [False, True, False, False]
        assert all(mark.direction == pytest.approx(-1j) for mark in panel.marks)

    def test_on_several_edges_at_once(self, board):
        panel = board.piece("notch on side, centre at 20 cm from waist")
        assert [mark.at for mark in panel.marks] == pytest.approx([400 - 200j, -200j])
        assert [mark.direction for mark in panel.marks] == pytest.approx([-1 + 0j, 1 + 0j])
        assert [str(mark.edge) for mark in panel.marks] == ["side", "centre"]

    def test_at_a_point_on_the_outline(self, board):
        panel = board.piece("notch at top_right\nnotch at on hem 1/2 double")
        corner, middle = panel.marks
        assert corner.direction == pytest.approx((-1 - 1j) / abs(1 + 1j))
        assert middle.direction == pytest.approx(1j)
        assert middle.double

    @pytest.mark.parametrize(
        ("line", "message", "place"),
        [
            (
                "notch on waist at 50 cm",
                "`waist` is 40 cm long as sewn, so a notch at 50 cm falls off it",
                "50 cm",
            ),
            (
                "notch at origin right 5 cm down 3 cm",
                "a notch lies on the outline: this point is 3 cm away from it",
                "origin right 5 cm down 3 cm",
            ),
            (
                "notch on side at 3 cm from hip",
                "nothing here is called `hip`",
                "hip",
            ),
            (
                "notch on side at 3 cm from centre",
                "neither end of `side` lies on `centre`",
                "centre",
            ),
        ],
    )
    def test_off_the_edge(self, board, line, message, place):
        wrong = board.mistake(line)
        assert wrong.message.startswith(message)
        assert wrong.span.text == place
        assert wrong.help


def test_from_an_edge_that_touches_both_ends_is_not_clear(board):
    wrong = board.mistake(
        "notch on hem at 3 cm from side",
        on="""\
piece leaf
  tip = origin
  foot = tip down 30 cm
  outline
    side = tip curve to foot bowed right 5 cm
    hem = foot curve to tip bowed left 5 cm
""",
    )
    assert wrong.message == "both ends of `hem` lie on `side`, so the start is not clear"
    assert wrong.help == "measure from a point: `from` and the name of an end point"
    assert wrong.span.text == "side"


def test_buttons_buttonholes_drills_and_text(board):
    panel = board.piece(
        """
        drill at origin right 5 cm down 5 cm
        button at on centre 10 cm from waist size 18 mm
        buttonhole at on side 10 cm from waist size 21 mm
        buttonhole at on side 20 cm from waist size 21 mm along side
        text "cut on the fold" at origin right 10 cm down 30 cm
        """
    )
    assert [mark.kind for mark in panel.marks] == [
        "drill",
        "button",
        "buttonhole",
        "buttonhole",
        "text",
    ]
    drill, button, across, along, text = panel.marks
    assert drill.at == 50 - 50j
    assert (button.at, button.size) == (-100j, 18)
    assert across.direction == 1
    assert along.direction == pytest.approx(-1j)
    assert text.text == "cut on the fold"


@pytest.mark.parametrize("line", ["button at origin size much", "buttonhole at origin size much"])
def test_a_button_of_nothing(board, line):
    wrong = board.mistake(line, head="much = 0 mm")
    assert "above nothing" in wrong.message
    assert wrong.span.text == "much"


class TestSections:
    def test_a_part_of_an_edge_by_name(self, board):
        board.piece(
            """
            section zip = centre from top_left to on centre 18 cm from waist
            require length(zip) = 18 cm
            line across = on zip 1/2 to on side 9 cm from waist
            require distance(on zip 1/2, top_left) = 9 cm
            """
        )

    def test_it_goes_with_its_paper(self, board):
        board.piece(
            """
            section zip = side from top_right to on side 18 cm from waist
            line cut = on waist 1/2 to on hem 1/2
            spread cut by 4 cm at hem hinged on waist
            require length(zip) = 18 cm
            require length(side) = 60 cm
            """
        )

    def test_it_knows_what_is_folded_away(self, board):
        board.piece(
            """
            dart tuck on waist at 1/2 intake 4 cm length 12 cm
            section right_part = waist from on waist 1/4 from centre to top_right
            require length(right_part) = 31 cm
            require sewn(right_part) = 27 cm
            """
        )

    def test_a_section_that_is_lengthened_between_its_ends(self, board):
        board.piece(
            """
            section long_part = side from on side 10 cm from waist to on side 50 cm from waist
            line cut = on centre 30 cm from waist to on side 30 cm from waist
            lengthen at cut by 5 cm
            require length(long_part) = 45 cm
            """
        )

    @pytest.mark.parametrize(
        ("line", "message", "place"),
        [
            (
                "section zip = centre from top_left to origin right 3 cm",
                "this point lies 3 cm away from `centre`",
                "origin right 3 cm",
            ),
            (
                "section zip = centre from top_left to origin",
                "this part of `centre` has no length: its two ends are one point",
                "origin",
            ),
        ],
    )
    def test_ends_off_the_edge(self, board, line, message, place):
        wrong = board.mistake(line)
        assert wrong.message == message
        assert wrong.span.text == place


class TestGrainAndFold:
    def test_grain_along_an_edge_or_from_point_to_point(self, board):
        panel = board.piece("grain along side")
        assert panel.grain.upper == 400 + 0j
        panel = board.piece(
            "grain from origin right 5 cm down 20 cm to origin right 5 cm down 5 cm"
        )
        assert panel.grain.upper == 50 - 50j

    def test_a_later_grain_takes_the_place_of_the_first(self, board):
        panel = board.piece("grain along side\ngrain along centre")
        assert panel.grain.upper == 0

    def test_grain_between_one_point_and_itself(self, board):
        wrong = board.mistake("grain from origin to origin right 0.2 mm")
        assert wrong.message == "the grain needs two points: these two are 0.2 mm apart"
        assert wrong.help

    def test_only_a_straight_edge_lies_on_the_fold(self, board):
        wrong = board.mistake("fold on side", board.quarter)
        assert wrong.message.startswith(
            "`side` is not straight, so it cannot lie on a fold: it bows by"
        )
        assert wrong.help == "straighten it first: `redraw side = …`"
        assert wrong.span.text == "side"


class TestStrips:
    def test_a_strip_has_four_edges_and_lengthwise_grain(self, board, look):
        band = board.piece("require length(base) = 70 cm", "piece band\n  strip 70 cm by 4 cm\n")
        assert [str(edge.label) for edge in band.edges] == ["base", "end", "top", "start"]
        assert [edge.length for edge in band.edges] == [700, 40, 700, 40]
        assert (band.grain.start, band.grain.end) == (0, 700)
        assert {edge.line for edge in band.edges} == {4}
        look.conserved(band)

    @pytest.mark.parametrize(
        ("size", "part"), [("0 cm by 4 cm", "length"), ("4 cm by 0 cm", "width")]
    )
    def test_a_strip_of_nothing(self, board, size, part):
        long, wide = size.split(" by ")
        wrong = board.wrong(f"long = {long}\nwide = {wide}\npiece band\n  strip long by wide\n")
        assert wrong[0].message == f"a strip has a {part} above nothing: this is 0 cm"


def test_mirrored_it_is_turned_over_in_its_place(board, look):
    before = board.piece(
        "dart tuck on waist at 1/3 from centre intake 3 cm length 12 cm", board.quarter
    )
    after = board.piece(
        "dart tuck on waist at 1/3 from centre intake 3 cm length 12 cm\nmirror", board.quarter
    )
    assert after.outline.box() == pytest.approx(before.outline.box())
    assert after.area == pytest.approx(before.area)
    assert after.signed_area == pytest.approx(-before.signed_area)
    for edge in before.edges:
        assert look.edge(after, str(edge.label)).length == pytest.approx(edge.length, abs=1e-9)
    assert look.edge(after, "centre").start.real == pytest.approx(250)
    # It can be worked on like any other.
    worked = board.piece(
        """
        dart tuck on waist at 1/3 from centre intake 3 cm length 12 cm
        mirror
        line cut = on centre 30 cm from hem to on side 30 cm from hem
        spread cut by 2 cm as pleat
        line flare = tuck.point down to hem
        close tuck by 1/2 into flare
        fold-trim tuck toward centre
        unfold along centre into right and left
        """,
        board.quarter,
    )
    look.conserved(worked)
    assert worked.area > 2 * before.area


def test_mirrored_twice_it_is_as_it_was(board):
    before = board.piece("", board.quarter)
    after = board.piece("mirror\nmirror", board.quarter)
    for one, other in zip(before.edges, after.edges, strict=True):
        assert other.start == pytest.approx(one.start, abs=1e-9)
        assert other.length == pytest.approx(one.length, abs=1e-9)
