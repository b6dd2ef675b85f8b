"""What is written on the sheets of a print: where it can be read, and nothing under it."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import pytest
from shapely.geometry import LineString, Polygon, box

from oaktag.compiler.paging import on_paper
from oaktag.compiler.paging.cover import cover
from oaktag.compiler.paging.pages import paged
from oaktag.compiler.paging.plan import plan
from oaktag.compiler.paging.squares import FOUR, TEN
from oaktag.compiler.paging.tiles import table
from oaktag.compiler.paging.whole_labels import with_whole_labels
from oaktag.compiler.sheet import Text, lay_out
from oaktag.compiler.sheet.lettering import frame
from tests.conftest import STDLIB

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paging.page import Page, Paged, Words
    from oaktag.compiler.sheet import Group, Sheet
    from tests.compiler.conftest import Board
    from tests.conftest import Cutter

SMALL = """
pattern "Small things for the mate's uniform, act three"
revision "4b" date "1 May 2027"
piece loop
  strip 8 cm by 2 cm
piece flap
  strip 12 cm by 5 cm
piece tab
  strip 4 cm by 11 cm
piece godet
  outline
    l = origin to origin right 6 cm down 40 cm
    hem = origin right 6 cm down 40 cm to origin left 6 cm down 40 cm
    r = origin left 6 cm down 40 cm to origin
allow 6 mm on loop, flap, tab
allow 1.5 cm on godet
cut 5 loop in main
cut 4 flap as pair in main
cut 4 tab as pair in main
cut 6 godet in main
"""
PAPERS = ["a4", "letter", "a3", "a5"]


def points(path: Path) -> list[tuple[float, float]]:
    return [(place.real, place.imag) for place in path.flattened(0.1)]


@pytest.fixture(
    scope="module", params=["small", "bodices/basic", "skirts/circle", "trousers/basic"]
)
def sheet(request: pytest.FixtureRequest, board: Board, cutter: Cutter) -> Sheet:
    if request.param == "small":
        return lay_out(board.pattern(SMALL))
    return lay_out(cutter.draw(STDLIB / f"{request.param}.oak", cutter.size("5")), "size 5")


def letters(words: Words) -> Polygon:
    """The room that words take: what is thought of them is on the wide side."""
    wide = 0.9 * Text(words.content, 0j, words.size).width
    left = words.at.real - {"left": 0.0, "middle": wide / 2, "right": wide}[words.side]
    return box(left, words.at.imag, left + wide, words.at.imag + 0.7 * words.size)


def drawn(page: Page, made: Paged) -> list[LineString]:
    """The lines of pieces that a page shows, as they lie on it."""
    assert page.window is not None
    shift = page.at - complex(*page.window[:2])
    shown = box(page.at.real, page.at.imag, page.width - page.at.real, page.height - page.at.imag)
    found = []
    for group in made.groups:
        for stroke in group.strokes:
            moved = [(x + (shift + group.at).real, y + (shift + group.at).imag)
                     for x, y in points(stroke.path)]  # fmt: skip
            line = LineString(moved).intersection(shown)
            if not line.is_empty:
                found.append(line)
    return found


@pytest.mark.parametrize("paper", PAPERS)
def test_the_words_of_a_sheet_lie_over_no_line(sheet: Sheet, paper: str) -> None:
    made = paged(sheet, on_paper(paper))
    for page in made.pages:
        if page.window is None:
            continue
        lines = drawn(page, made)
        for words in page.words:
            crossed = [line for line in lines if line.intersects(letters(words))]
            assert not crossed, words
        for one, other in itertools.combinations(map(letters, page.words), 2):
            assert not one.intersects(other)


def test_every_sheet_bears_the_revision(board: Board) -> None:
    for page in paged(lay_out(board.pattern(SMALL)), on_paper("a4")).pages:
        assert any("revision 4b, 1 May 2027" in words.content for words in page.words)


def whole(group: Group, at: complex, window: tuple[float, float, float, float]) -> bool:
    shown = box(*window)
    labels = [text for text in group.texts if text.kind in ("name", "label")]
    return all(
        shown.contains(Polygon(points(frame(text.changed(at=text.at + at))))) for text in labels
    )


@pytest.mark.parametrize("paper", PAPERS)
def test_each_label_can_be_read_on_one_sheet(sheet: Sheet, paper: str) -> None:
    made = with_whole_labels(table(sheet.groups[1:], on_paper(paper)))
    for group in made.groups:
        assert any(whole(group, group.at, tile.window) for tile in made.tiles), group.name
        assert group.plate is not None
        assert group.texts, group.name
        said = " ".join(text.content for text in group.texts)
        assert group.plate.name in said
        assert all(cut in said for cut in group.plate.cuts)


def test_a_label_that_lies_on_one_sheet_stays(board: Board) -> None:
    sheet = lay_out(board.pattern(SMALL))
    laid = table(sheet.groups[1:], on_paper("a3"))
    assert with_whole_labels(laid) == laid


class TestTheCover:
    @pytest.mark.parametrize("orientation", ["portrait", "landscape", "auto"])
    @pytest.mark.parametrize("paper", ["a4", "letter", "a4-or-letter", "a3"])
    def test_one_page_takes_both_squares(self, sheet: Sheet, paper: str, orientation: str) -> None:
        paging = on_paper(paper).changed(orientation=orientation)
        laid = table(sheet.groups[1:], paging)
        (page,) = cover(laid, paging, sheet)
        sides = [path.path.box() for path in page.ink if path.path.closed]
        high = [round(right - left, 6) for left, _, right, _ in sides]
        assert {TEN, FOUR} <= set(high)
        assert all(words.size >= 1.5 for words in page.words)

    def test_it_tells_revision_and_all_that_was_set(self, cutter: Cutter) -> None:
        many = {"length": 580.0, "waist_ease": 30.0, "hip_ease": 50.0}
        skirt = cutter.draw(STDLIB / "skirts" / "straight.oak", cutter.size("5"), **many)
        sheet = lay_out(skirt.changed(revision="3"), "size 5")
        first, *_ = paged(sheet, on_paper("a4")).pages
        said = [words.content for words in first.words]
        assert "size 5, revision 3" in said
        assert "set: length 58 cm, waist ease 3 cm, hip ease 5 cm" in said

    def test_words_and_squares_stand_apart(self, sheet: Sheet) -> None:
        paging = on_paper("letter")
        (page,) = cover(table(sheet.groups[1:], paging), paging, sheet)
        for one, other in itertools.combinations(map(letters, page.words), 2):
            assert one.intersection(other).area < 1e-6


def test_on_the_plan_no_name_lies_over_another(sheet: Sheet) -> None:
    _, words, _ = plan(table(sheet.groups[1:], on_paper("a4")), 100.0, 120.0)
    for one, other in itertools.combinations(map(letters, words), 2):
        assert not one.intersects(other)
