"""What a label says of a piece, and what stands beside it where the piece is small."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from shapely.geometry import LineString, Polygon

from oaktag.compiler.sheet import lay_out
from oaktag.compiler.sheet.drawing import extent
from oaktag.compiler.sheet.label import READABLE
from oaktag.compiler.sheet.lettering import frame
from oaktag.compiler.sheet.scale import SIDE
from tests.conftest import STDLIB

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.sheet import Group
    from tests.compiler.conftest import Board
    from tests.conftest import Cutter

HEAD = """
pattern "Small things for the mate's uniform, act three"
revision "4b" date "1 May 2027"
"""


def points(path: Path) -> list[tuple[float, float]]:
    return [(place.real, place.imag) for place in path.flattened(0.05)]


def drawn(board: Board, text: str) -> Group:
    return lay_out(board.pattern(HEAD + text)).groups[1]


def said(group: Group, *kinds: str) -> list[str]:
    return [text.content for text in group.texts if text.kind in kinds]


def small(board: Board, size: str) -> Group:
    return drawn(board, f"piece loop\n  strip {size}\nallow 6 mm on loop\ncut 5 loop in main\n")


def test_a_small_piece_says_how_it_is_cut_before_anything_else(board: Board) -> None:
    group = small(board, "8 cm by 2 cm")
    assert said(group, "name", "label") == ["loop", "cut 5 in main", "revision 4b, 1 May 2027"]
    assert said(group, "tag") == ["loop", "Small things for the mate's uniform, act three"]
    for text in group.texts:
        assert text.size >= READABLE


@pytest.mark.parametrize("size", ["8 cm by 2 cm", "5 cm by 12 mm", "3 cm by 3 cm", "60 cm by 8 mm"])
def test_of_a_small_piece_nothing_goes_unsaid(board: Board, size: str) -> None:
    told = " ".join(text.content for text in small(board, size).texts)
    for words in ("loop", "cut 5 in main", "revision 4b, 1 May 2027", "Small things"):
        assert words in told


def test_a_tag_leads_to_its_piece_and_lies_beside_it(board: Board) -> None:
    group = small(board, "5 cm by 12 mm")
    cut = Polygon(points(next(s.path for s in group.strokes if s.layer == "cut")))
    around, leader, *_ = (s.path for s in group.strokes if s.kind == "label tag")
    ring = Polygon(points(around))
    assert not ring.intersects(cut)
    assert cut.contains(LineString(points(leader)).boundary.geoms[1])
    assert ring.touches(LineString(points(leader)))
    for text in group.texts:
        if text.kind == "tag":
            assert ring.contains(Polygon(points(frame(text))))
    assert extent(group)[2] == pytest.approx(ring.bounds[2]), "pieces keep clear of it"


def test_a_large_piece_has_no_tag(board: Board) -> None:
    group = drawn(board, "piece flap\n  strip 20 cm by 15 cm\ncut 1 flap in main\n")
    assert said(group, "tag") == []


def test_a_label_keeps_clear_of_the_seam(board: Board) -> None:
    """With more than the air between two of its lines, however narrow the piece is."""
    group = drawn(
        board,
        "piece tab\n  strip 4 cm by 9 cm\nallow 6 mm on tab\ncut 4 tab as pair in main\n",
    )
    seams = [LineString(points(s.path)) for s in group.strokes if s.layer == "seam"]
    for text in group.texts:
        letters = Polygon(points(frame(text)))
        assert min(letters.distance(line) for line in seams) >= 0.4 * text.size


def test_names_are_printed_with_blanks(board: Board) -> None:
    text = "piece collar_stand\n  strip 20 cm by 15 cm\ncut 1 collar_stand in main\n"
    group = drawn(board, text)
    assert said(group, "name") == ["collar stand"]
    assert group.name == "collar_stand", "the drawing keeps the name of the file"


class TestTheSquare:
    @staticmethod
    def words(cutter: Cutter, **settings: float) -> list[str]:
        skirt = cutter.draw(STDLIB / "skirts" / "straight.oak", cutter.size("5"), **settings)
        square = lay_out(skirt, "size 5").groups[0]
        for text in square.texts:
            left, bottom, right, top = frame(text).box()
            assert min(left, bottom) > 0 and max(right, top) < SIDE, text
        return [text.content for text in square.texts]

    def test_it_tells_all_that_was_set(self, cutter: Cutter) -> None:
        many = {"length": 580.0, "waist_ease": 30.0, "hip_ease": 50.0}
        told = " ".join(self.words(cutter, **many))
        assert "set: length 58 cm, waist ease 3 cm, hip ease 5 cm" in told

    def test_it_is_silent_where_nothing_was_set(self, cutter: Cutter) -> None:
        assert not [words for words in self.words(cutter) if "set:" in words]

    def test_it_bears_revision_and_date(self, board: Board) -> None:
        square = lay_out(board.pattern(HEAD + board.panel)).groups[0]
        assert "revision 4b, 1 May 2027" in [text.content for text in square.texts]


def lines_of(group: Group) -> list[str]:
    return [text.content for text in group.texts if text.kind == "line"]


def test_the_fold_of_a_band_says_so(cutter: Cutter) -> None:
    band = cutter.draw(STDLIB / "bands" / "straight.oak", cutter.size("5"))
    assert lines_of(lay_out(band).groups[1]) == ["fold"]


@pytest.mark.parametrize(("name", "said"), [("fold", "fold"), ("fold_line", "fold line")])
def test_a_line_called_fold_says_so(board: Board, name: str, said: str) -> None:
    line = f"  line {name} = on base 1/2 to on top 1/2\n"
    group = drawn(board, f"piece flap\n  strip 20 cm by 15 cm\n{line}cut 1 flap in main\n")
    assert lines_of(group) == [said]
