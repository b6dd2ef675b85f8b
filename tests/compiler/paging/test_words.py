"""What is written on the sheets of a print: where it can be read, and nothing under it."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import pytest
from shapely.affinity import rotate
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
BLOUSE = """
pattern "Mate's blouse"
use facings.neck as neck
use bodices.basic as bodice
use sleeves.set_in as set_in
piece front from bodice.front
piece back from bodice.back
piece sleeve from set_in.sleeve
piece front_facing from neck.front_facing
piece back_facing from neck.back_facing
allow 1 cm on front, back, sleeve, front_facing, back_facing
cut 1 front in main
cut 2 back in main
cut 2 sleeve in main
cut 1 front_facing in main
cut 2 back_facing in main
"""
PAPERS = ["a4", "letter", "a3", "a5"]


def points(path: Path) -> list[tuple[float, float]]:
    return [(place.real, place.imag) for place in path.flattened(0.1)]


@pytest.fixture(
    scope="module",
    params=["small", "bodices/basic", "skirts/circle", "trousers/basic", "blouse"],
)
def sheet(request: pytest.FixtureRequest, board: Board, cutter: Cutter) -> Sheet:
    if request.param == "small":
        return lay_out(board.pattern(SMALL))
    if request.param == "blouse":
        return lay_out(board.pattern(BLOUSE, **cutter.size("5")), "size 5")
    return lay_out(cutter.draw(STDLIB / f"{request.param}.oak", cutter.size("5")), "size 5")


def letters(words: Words) -> Polygon:
    """The room that words take: what is thought of them is on the wide side."""
    wide = 0.9 * Text(words.content, 0j, words.size).width
    left = words.at.real - {"left": 0.0, "middle": wide / 2, "right": wide}[words.side]
    level = box(left, words.at.imag, left + wide, words.at.imag + 0.7 * words.size)
    return rotate(level, words.angle, (words.at.real, words.at.imag))


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


@pytest.mark.parametrize("wide", [180.0, 100.0, 60.0])
def test_on_the_plan_names_lie_within_it_and_over_no_other(sheet: Sheet, wide: float) -> None:
    laid = table(sheet.groups[1:], on_paper("a4"))
    _, words, high = plan(laid, wide, 1.2 * wide)
    across = high * laid.size[0] / laid.size[1]
    for name in words:
        assert box(0, -high, across, 0).contains(letters(name)), name
    for one, other in itertools.combinations(map(letters, words), 2):
        assert not one.intersects(other)


def test_on_the_plan_no_name_reaches_over_another_piece(sheet: Sheet) -> None:
    laid = table(sheet.groups[1:], on_paper("a4"))
    _, words, high = plan(laid, 100.0, 120.0)
    scale, top = high / laid.size[1], laid.size[1]
    papers = {
        group.plate.name: Polygon(
            [((x + group.at.real) * scale, (y + group.at.imag - top) * scale)
             for x, y in points(max((one.path for one in group.strokes if one.layer == "cut"),
                                    key=lambda path: path.length))]
        )
        for group in laid.groups
        if group.plate
    }  # fmt: skip
    named = [one for one in words if one.bold]
    assert len(named) >= len(papers) - 1
    for name in named:
        assert name.size >= 1.6
        for other in set(papers) - {name.content}:
            assert not papers[other].intersects(letters(name)), (name, other)
