"""Notches in their allowance, words along lines, labels along the grain."""

from __future__ import annotations

import itertools
import math
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon

from oaktag.compiler.sheet import Text, lay_out
from oaktag.compiler.sheet.lettering import frame

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.sheet import Group
    from tests.compiler.conftest import Board
    from tests.conftest import Cutter

STDLIB = File(__file__).parents[3] / "stdlib"
SHAPES = ("slit", "v", "t", "castle", "u")


def points(path: Path, flat: float = 0.005) -> list[tuple[float, float]]:
    return [(p.real, p.imag) for p in path.flattened(flat)]


def drawn(board: Board, lines: str, after: str = "", head: str = "") -> Group:
    """The panel with further lines, as it is drawn."""
    body = "".join(f"  {row.strip()}\n" for row in lines.strip().splitlines())
    return lay_out(board.pattern(f"{head}\n{board.panel}{body}{after}\n")).groups[1]


def seam(group: Group) -> Polygon:
    """The outline, from its edges."""
    edges = [LineString(points(s.path)) for s in group.strokes if s.edge]
    (found,) = shapely.polygonize([shapely.set_precision(edge, 1e-6) for edge in edges]).geoms
    return found


def cut_line(group: Group) -> Polygon:
    (line,) = [stroke.path for stroke in group.strokes if stroke.kind == "cut line"]
    return Polygon(points(line))


def notched(group: Group) -> list[LineString]:
    return [LineString(points(s.path)) for s in group.strokes if s.kind == "notch"]


class TestNotches:
    @pytest.mark.parametrize("shape", SHAPES)
    @pytest.mark.parametrize("allowance", [5.0, 6.0, 10.0, 15.0, 40.0])
    def test_they_begin_on_the_cut_line_and_keep_clear_of_the_seam(
        self, board: Board, shape: str, allowance: float
    ) -> None:
        group = drawn(
            board,
            f"notch on side at 1/3 as {shape}\nnotch on waist at 1/2 double as {shape}",
            f"allow {allowance} mm on panel",
        )
        paper, cloth = seam(group), cut_line(group)
        for line in notched(group):
            assert paper.distance(line) >= min(3.2, allowance) - 1e-6
            assert cloth.buffer(1e-6).contains(line)
            assert cloth.exterior.distance(line) < 5.0 + 1e-9
        deepest = min(paper.distance(line) for line in notched(group))
        assert deepest == pytest.approx(max(3.2, allowance - 5.0), abs=0.01)
        assert min(cloth.exterior.distance(line) for line in notched(group)) < 1e-6

    def test_a_nick_is_left_in_an_allowance_too_narrow(self, board: Board) -> None:
        group = drawn(board, "notch on side at 1/3", "allow 3 mm on panel")
        (line,) = notched(group)
        assert line.length == pytest.approx(1.0)

    def test_what_is_asked_for_is_cut(self, board: Board) -> None:
        group = drawn(board, "notch on side at 1/3 deep 8 mm", "allow 1 cm on panel")
        (line,) = notched(group)
        assert line.length == pytest.approx(8.0)
        assert seam(group).distance(line) == pytest.approx(2.0)

    def test_at_a_corner_it_begins_where_the_corner_is_cut(self, board: Board) -> None:
        group = drawn(board, "notch at top_right", "allow 1 cm on panel")
        (line,) = notched(group)
        assert Point(line.coords[0]).distance(Point(410, 10)) < 1e-6
        assert line.length == pytest.approx(5.0)

    def test_each_shape_is_what_it_is_called(self, board: Board) -> None:
        lines = {}
        for shape in SHAPES:
            group = drawn(
                board, f"notch on side at 20 cm as {shape} deep 5 mm", "allow 1 cm on panel"
            )
            lines[shape] = notched(group)
        (slit,), (v,), (castle,), (u,) = (lines[name] for name in ("slit", "v", "castle", "u"))
        stem, bar = lines["t"]
        assert list(slit.coords) == [(410.0, -200.0), (405.0, -200.0)]
        assert Polygon(v.coords).area == pytest.approx(5 * 5 / 2)
        assert Polygon(castle.coords).area == pytest.approx(25)
        assert Polygon(u.coords).area == pytest.approx(4 * 3 + math.pi * 2**2 / 2, rel=2e-3)
        assert u.bounds[0] == pytest.approx(405, abs=0.01)
        assert (stem.length, bar.length) == pytest.approx((5, 4))
        assert bar.bounds[0] == bar.bounds[2] == pytest.approx(405)

    @pytest.mark.parametrize("shape", SHAPES)
    def test_the_two_of_a_double_one_stay_apart(self, board: Board, shape: str) -> None:
        group = drawn(board, f"notch on side at 1/2 double as {shape}", "allow 2 cm on panel")
        sides = [line for line in notched(group) if line.centroid.y > -300]
        others = [line for line in notched(group) if line.centroid.y < -300]
        assert len(sides) == len(others)
        assert min(a.distance(b) for a in sides for b in others) >= 2.9

    def test_used_patterns_get_the_shape_of_the_file(self, board: Board) -> None:
        text = """
notches as castle deep 4 mm
use "inner.oak" as inner
piece flap from inner.flap
  notch on end at 1/2 as slit
allow 1 cm on flap
"""
        inner = 'pattern "Inner"\npiece flap\n  strip 20 cm by 10 cm\n  notch on base at 1/2\n'
        group = lay_out(board.pattern(text, {"inner.oak": inner})).groups[1]
        castle, slit = sorted(notched(group), key=lambda line: -len(line.coords))
        assert len(castle.coords) == 4
        assert (len(slit.coords), slit.length) == (2, pytest.approx(4.0))


def said(group: Group, kind: str = "line") -> list[str]:
    return [text.content for text in group.texts if text.kind == kind]


LEVEL = "line {0} = on centre {1} cm from waist to on side {1} cm from waist"


class TestWordsAlongLines:
    def test_a_level_of_the_body_says_what_it_is(self, board: Board) -> None:
        lines = "\n".join(LEVEL.format(f"{name}_line", at) for name, at in (
            ("hip", 20), ("knee", 40), ("high_hip", 10), ("drape", 50),
        ))  # fmt: skip
        assert said(drawn(board, lines)) == ["hip line", "knee line", "high hip line"]

    @pytest.mark.parametrize(
        ("piece", "line", "words"),
        [
            ("front", "centre", "centre front"),
            ("front_skirt", "centre", "centre front"),
            ("back", "center", "center back"),
            ("sleeve", "centre", "centre"),
            ("sleeve", "centre_back", "centre back"),
            ("front", "centre_line", "centre front"),
        ],
    )
    def test_the_centre_says_of_which_side(
        self, board: Board, piece: str, line: str, words: str
    ) -> None:
        text = (
            f"piece {piece}\n  strip 30 cm by 60 cm\n"
            f"  line {line} = on base 1/2 from start to on top 1/2 from start\n"
        )
        (found,) = [t for t in lay_out(board.pattern(text)).groups[1].texts if t.kind == "line"]
        assert found.content == words
        assert found.angle == pytest.approx(90)

    def test_an_edge_on_the_fold_says_so_with_its_sign(self, board: Board) -> None:
        text = board.panel.replace("panel", "front") + "  fold on centre\n"
        (words,) = said(lay_out(board.pattern(text)).groups[1], "fold")
        assert words == "centre front, place on fold"

    def test_words_of_the_file_come_first_and_none_silence_it(self, board: Board) -> None:
        level = LEVEL.format("hip_line", 20)
        assert said(drawn(board, f'{level}\nmark hip_line as "high"')) == ["high"]
        assert said(drawn(board, f'{level}\nmark hip_line as ""')) == []

    def test_they_are_written_once_across_the_fold(self, board: Board) -> None:
        group = drawn(board, f"{LEVEL.format('hip_line', 20)}\nunfold along side into near and far")
        assert said(group) == ["hip line"]

    def test_a_line_to_lengthen_at_is_double_and_says_so(self, board: Board) -> None:
        group = drawn(board, f"{LEVEL.format('low', 30)}\nmark low for lengthening")
        first, second = (
            LineString(points(s.path)) for s in group.strokes if s.kind == "lengthening line"
        )
        assert first.distance(second) == pytest.approx(6)
        assert said(group) == ["lengthen or shorten here"]
        for line in (first, second):
            ends = [Point(line.coords[0]), Point(line.coords[-1])]
            assert max(seam(group).exterior.distance(end) for end in ends) < 1e-6

    def test_it_ends_on_slanted_edges(self, board: Board) -> None:
        text = """
piece cone
  outline
    top = origin to origin right 10 cm
    side = origin right 10 cm to origin right 25 cm down 40 cm
    hem = origin right 25 cm down 40 cm to origin left 15 cm down 40 cm
    other = origin left 15 cm down 40 cm to origin
  line low = on other 20 cm from top to on side 20 cm from top
  mark low for lengthening
"""
        group = lay_out(board.pattern(text)).groups[1]
        ring = seam(group).exterior
        for stroke in group.strokes:
            if stroke.kind == "lengthening line":
                for end in (stroke.path.start, stroke.path.end):
                    assert ring.distance(Point(end.real, end.imag)) < 1e-6

    def test_not_where_a_pleat_was_let_into_it(self, board: Board) -> None:
        group = drawn(
            board,
            f"""{LEVEL.format("low", 30)}
            mark low for lengthening
            line slit = on waist 1/2 to on hem 1/2
            spread slit by 4 cm as pleat
            fold-trim slit toward centre""",
        )
        assert said(group) == []
        assert not [s for s in group.strokes if s.kind == "lengthening line"]

    def test_nor_into_the_other_half(self, board: Board) -> None:
        group = drawn(
            board,
            f"""{LEVEL.format("low", 30)}
            mark low for lengthening
            unfold along side into near and far
            line slit = on near.waist 1/2 to on near.hem 1/2
            spread slit by 4 cm as pleat
            fold-trim slit toward left""",
        )
        assert said(group) == []

    def test_not_where_closing_a_dart_has_bent_it(self, board: Board) -> None:
        dart = (
            "dart tuck on waist at 1/2 intake 4 cm length 16 cm\nline slit = tuck.point down to hem"
        )
        marked = f"{LEVEL.format('low', 40)}\nmark low for lengthening\n{dart}\n"
        assert said(drawn(board, marked)) == ["lengthen or shorten here"]
        group = drawn(board, f"{marked}close tuck into slit")
        assert said(group) == []
        assert [s.kind for s in group.strokes if s.kind.endswith("line")].count("drawn line") >= 1
        assert not [s for s in group.strokes if s.kind == "lengthening line"]

    def test_not_where_both_halves_are_straight_but_at_an_angle(self, board: Board) -> None:
        aslant = "line low = on side 40 cm from waist to on centre 35 cm from waist\n"
        marked = f"{aslant}mark low for lengthening\n"
        assert said(drawn(board, marked)) == ["lengthen or shorten here"]
        whole = drawn(board, f"{marked}unfold along centre into near and far")
        assert said(whole) == ["centre"]
        level = f"{LEVEL.format('low', 40)}\nmark low for lengthening\n"
        whole = drawn(board, f"{level}unfold along centre into near and far")
        assert said(whole) == ["lengthen or shorten here", "centre"]

    def test_a_line_that_bows_is_no_line_to_lengthen_at(self, board: Board) -> None:
        bowed = (
            "curve low = on side 40 cm from waist curve to on centre 40 cm from waist bowed down "
        )
        (found,) = board.mistakes(f"{bowed}2 cm\nmark low for lengthening")
        assert "bows by 2 cm" in found.message
        assert board.piece(f"{bowed}0.5 mm\nmark low for lengthening")

    def test_no_room_no_words(self, board: Board) -> None:
        text = """
piece loop
  strip 5 cm by 12 mm
  line level = on start 1/2 to on end 1/2
  mark level as "these are far too many words for so small a piece"
"""
        group = lay_out(board.pattern(text)).groups[1]
        assert said(group) == []
        assert said(group, "name") == ["loop"]

    def test_a_dart_says_to_which_side_it_is_pressed(self, board: Board) -> None:
        group = drawn(
            board,
            """dart tuck on waist at 1/2 intake 4 cm length 16 cm
            fold-trim tuck toward centre""",
        )
        assert said(group, "fold words") == ["press toward centre"]

    def test_a_dart_is_drilled_half_an_inch_before_its_tip(self, board: Board) -> None:
        group = drawn(board, "dart tuck on waist at 1/2 intake 4 cm length 16 cm ending 2 cm short")
        hole = [LineString(points(s.path)) for s in group.strokes if s.kind == "dart drill hole"]
        assert len(hole) == 2
        for line in hole:
            assert line.centroid.distance(Point(200, -140 + 12)) < 1e-6


def free(group: Group) -> None:
    """All words lie on the paper, and none over another."""
    paper = seam(group).buffer(1e-6)
    frames = [Polygon(points(frame(text))) for text in group.texts]
    for text, place in zip(group.texts, frames, strict=True):
        if text.kind == "tag":
            assert not paper.intersects(place), text
            continue
        assert paper.contains(place), text
    for (a, one), (b, other) in itertools.combinations(zip(group.texts, frames, strict=True), 2):
        assert one.intersection(other).area < 1e-6, (a, b)


BLOCKS = sorted(str(path.relative_to(STDLIB)) for path in STDLIB.rglob("*.oak"))


@pytest.mark.parametrize("block", BLOCKS)
def test_the_words_on_every_block_touch_nothing(cutter: Cutter, block: str) -> None:
    """Words along lines and of folds cross nothing that is drawn, labels neither."""
    sheet = lay_out(cutter.draw(STDLIB / block, cutter.size("5")), "size 5")
    for group in sheet.groups[1:]:
        free(group)
        strokes = [LineString(points(s.path, 0.05)) for s in group.strokes if s.layer != "cut"]
        for text in group.texts:
            if text.kind in ("line", "fold words", "name", "label") and text.size > 2:
                place = Polygon(points(frame(text)))
                crossed = [line for line in strokes if line.intersects(place)]
                assert not crossed, (group.name, text.content)


class TestLabels:
    @staticmethod
    def labels(board: Board, lines: str, head: str = "", on: str = "") -> list[Text]:
        body = "".join(f"  {row}\n" for row in lines.splitlines())
        pattern = board.pattern(f"{head}\n{on or board.panel}{body}")
        group = lay_out(pattern, "size 38").groups[1]
        free(group)
        return [text for text in group.texts if text.kind in ("name", "label")]

    @pytest.mark.parametrize(
        ("grain", "angle"),
        [(90, 0), (270, 0), (0, 0), (180, 0), (45, 45), (135, -45), (-45, -45), (225, 45),
         (80, -10), (100, 10), (20, 20)],
    )  # fmt: skip
    def test_they_turn_with_the_grain(self, board: Board, grain: float, angle: float) -> None:
        texts = self.labels(
            board,
            "middle = origin right 20 cm down 30 cm\n"
            f"grain from middle to middle at {grain} deg by 10 cm",
        )
        assert {round(text.angle, 6) for text in texts} == {angle}
        assert all(-90 <= text.angle <= 90 for text in texts)

    def test_they_are_read_from_top_to_bottom(self, board: Board) -> None:
        for grain in (0, 45, 90, 135, 200, 300):
            texts = self.labels(
                board,
                "middle = origin right 20 cm down 30 cm\n"
                f"grain from middle to middle at {grain} deg by 10 cm",
            )
            turn = complex(
                math.cos(math.radians(texts[0].angle)), math.sin(math.radians(texts[0].angle))
            )
            heights = [(text.at / turn).imag for text in texts]
            assert heights == sorted(heights, reverse=True)

    def test_they_bear_revision_and_date(self, board: Board) -> None:
        texts = self.labels(board, "", 'revision "3" date "20 November 2026"')
        assert "revision 3, 20 November 2026" in [text.content for text in texts]
        texts = self.labels(board, "", 'revision "3"')
        assert "revision 3" in [text.content for text in texts]
        assert all("revision" not in t.content for t in self.labels(board, ""))

    def test_they_bear_of_what_was_set_as_much_as_is_short(self, cutter: Cutter) -> None:
        path = STDLIB / "skirts" / "straight.oak"
        texts = lay_out(cutter.draw(path, cutter.size("5"), length=580.0)).groups[1].texts
        assert "length 58 cm" in [text.content for text in texts]
        many = {"length": 580.0, "waist_ease": 30.0, "hip_ease": 50.0}
        texts = lay_out(cutter.draw(path, cutter.size("5"), **many)).groups[1].texts
        told = "length 58 cm, waist ease 3 cm and 1 more, see the test square"
        assert told in [text.content for text in texts]

    @pytest.mark.parametrize(
        "title",
        [
            "Штормовка смотрителя маяка, вторая",
            "灯台守の外套、第二幕",
            "Φόρεμα της βαρκάρισσας",
            "A coat with a title so long that no one would ever want to write it by hand on paper",
            "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
        ],
    )
    @pytest.mark.parametrize("size", ["40 cm by 60 cm", "9 cm by 4 cm", "60 cm by 2 cm"])
    def test_long_and_foreign_titles_stay_inside(self, board: Board, title: str, size: str) -> None:
        text = f'pattern "{title}"\npiece patch\n  strip {size}\ncut 2 patch as pair in main\n'
        group = lay_out(board.pattern(text), "size 38").groups[1]
        free(group)
        assert group.texts[0].content == "patch"

    @pytest.mark.parametrize(
        "words",
        ["lengthen or shorten here", "Штормовка смотрителя маяка", "Φόρεμα της βαρκάρισσας"],
    )
    def test_words_are_no_wider_than_is_thought(self, words: str) -> None:
        """Measured in DejaVu Sans, a wide typeface, where the machine has it."""
        from reportlab.pdfbase.ttfonts import TTFError, TTFont

        try:
            font = TTFont("measured", "DejaVuSans-Bold.ttf")
        except TTFError:
            pytest.skip("DejaVu Sans is not on this machine")
        assert font.stringWidth(words, 1) <= Text(words, 0j, 1.0).width

    @pytest.mark.parametrize("size", ["2 cm by 2 cm", "1 cm by 40 cm", "40 cm by 1 cm"])
    def test_tiny_pieces_bear_at_least_their_name(self, board: Board, size: str) -> None:
        texts = self.labels(board, "", on=f"piece tab\n  strip {size}\n")
        assert texts[0].content == "tab"
        assert texts[0].size >= 2.0
