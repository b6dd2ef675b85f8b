"""Pieces set out on sheets and rolls: none over another, none lost, no sheet more than needed."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.compiler.geometry import Arc, Path, polyline
from oaktag.compiler.paging import PagingError, on_paper, on_roll
from oaktag.compiler.paging.pages import paged
from oaktag.compiler.paging.roll import strip
from oaktag.compiler.paging.tiles import table
from oaktag.compiler.sheet import Group, Sheet, Stroke, Text
from oaktag.compiler.sheet.drawing import extent

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.paging.tiles import Table


def block(name: str, wide: float, high: float) -> Group:
    """A rectangular piece; its lower left corner lies somewhere."""
    corner = complex(37, -91)
    ring = [corner + way for way in (0j, wide + 0j, complex(wide, high), high * 1j, 0j)]
    return Group(name, name, (Stroke("cut", "cut line", polyline(ring)),))


def disc(name: str, radius: float) -> Group:
    east, west = radius + 0j, -radius + 0j
    ring = Path((Arc(0j, east, math.pi, west), Arc(0j, west, math.pi, east)))
    return Group(name, name, (Stroke("cut", "cut line", ring),))


def laid(group: Group) -> tuple[float, float, float, float]:
    left, bottom, right, top = extent(group)
    x, y = group.at.real, group.at.imag
    return left + x, bottom + y, right + x, top + y


def apart(groups: Sequence[Group]) -> bool:
    boxes = [laid(group) for group in groups]
    return all(
        a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        for a, b in itertools.combinations(boxes, 2)
    )


def seen(made: Table, place: complex) -> bool:
    """Whether some sheet that is printed shows a point."""
    return any(
        left <= place.real <= right and bottom <= place.imag <= top
        for left, bottom, right, top in (tile.window for tile in made.tiles)
    )


SIDES = st.floats(20, 900)
PAPERS = st.sampled_from(["a4", "letter", "a3", "a4-or-letter", "a5"])


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(SIDES, SIDES), min_size=1, max_size=6), PAPERS, st.floats(0, 30))
def test_no_piece_over_another_and_nothing_lost(
    sizes: list[tuple[float, float]], paper: str, overlap: float
) -> None:
    pieces = [block(f"piece{number}", *size) for number, size in enumerate(sizes)]
    made = table(pieces, on_paper(paper).changed(overlap=overlap))
    assert apart(made.groups)
    for group in made.groups:
        left, bottom, right, top = laid(group)
        for across, up in itertools.product((k / 12 for k in range(13)), repeat=2):
            place = complex(left + across * (right - left), bottom + up * (top - bottom))
            assert seen(made, place)
    assert len(made.tiles) <= len(made.every) == made.rows * made.columns


def count(pieces: list[Group], paper: str, **changes: object) -> int:
    return len(table(pieces, on_paper(paper).changed(**changes)).tiles)


def test_a_piece_that_fits_a_sheet_lies_on_one() -> None:
    assert count([block("cuff", 189, 276)], "a4") == 1
    assert count([block("cuff", 180, 260), block("collar", 170, 250)], "a4") == 2
    assert count([block("cuff", 276, 189)], "a4") == 1, "turned, the sheet takes it"
    assert count([block("cuff", 276, 189)], "a4", orientation="portrait") == 2


def test_the_count_of_sheets_for_a_known_piece() -> None:
    """n = ceil((size - overlap) / (usable - overlap)): 600 by 1000 mm on A4 with margins and an
    overlap of 10 mm are 4 by 4 sheets. The lines' own width is within the half mm that is spared.
    """
    assert count([block("panel", 600, 1000)], "a4", orientation="portrait") == 16
    assert count([block("panel", 730 - 1, 1078 - 1)], "a4", orientation="portrait") == 16
    assert count([block("panel", 730 + 1, 1078 - 1)], "a4", orientation="portrait") == 20


def test_small_pieces_share_a_sheet() -> None:
    small = [block(f"tab{number}", 60, 80) for number in range(6)]
    assert count(small, "a4") == 1
    # They fill what a large piece leaves free of its sheets.
    assert count([block("panel", 400, 300), *small], "a4") == count(
        [block("panel", 400, 300)], "a4"
    )


def test_sheets_outside_a_curve_are_blank_and_those_inside_are_not() -> None:
    made = table([disc("cape", 800)], on_paper("a4").changed(orientation="portrait"))
    names = {tile.name for tile in made.tiles}
    assert "1-1" not in names, "a corner of the square around the circle"
    middle = f"{(made.rows + 1) // 2}-{(made.columns + 1) // 2}"
    assert middle in names, "nothing is drawn there, but it is paper of the piece"


def test_a_sheet_whose_ink_a_neighbour_shows_is_not_printed() -> None:
    """One that goes 4 mm into the overlap of 10 mm is on the first sheet as a whole."""
    assert count([block("panel", 188, 150)], "a4", orientation="portrait") == 1
    made = table(
        [block("one", 188, 270), block("two", 188, 270)],
        on_paper("a4").changed(orientation="portrait"),
    )
    assert len(made.tiles) == 2


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(SIDES, SIDES), min_size=1, max_size=6))
def test_on_a_roll_no_piece_over_another(sizes: list[tuple[float, float]]) -> None:
    pieces = [block(f"piece{number}", *size) for number, size in enumerate(sizes)]
    made = strip(pieces, on_roll(941.0))
    assert apart(made.groups)
    assert made.width == 921.0
    boxes = [laid(group) for group in made.groups]
    assert min(box[0] for box in boxes) >= 0
    assert max(box[2] for box in boxes) <= made.width
    assert (min(b[1] for b in boxes), made.height) == pytest.approx(
        (0.5, max(b[3] for b in boxes) + 0.5)
    )


def test_a_piece_wider_than_the_roll() -> None:
    sash = block("sash", 1200, 300)
    with pytest.raises(PagingError, match="sash is 1200 mm wide, and a roll of 914 mm") as why:
        strip([sash], on_roll(914.0))
    assert why.value.help == (
        "turn it by a quarter (`--turn`), take a roll of 1221 mm or more (`--roll`), or print "
        "sheets to be pasted together (`--paper a4`)"
    )
    with pytest.raises(PagingError) as why:
        strip([sash], on_paper("a0"))
    assert why.value.message == (
        "sash is 1200 mm wide, and A0, 841 mm wide, with margins of 10 mm takes 821 mm"
    )
    made = strip([sash], on_roll(914.0).changed(turning=True))
    left, bottom, right, top = laid(made.groups[0])
    assert (right - left, top - bottom) == pytest.approx((300, 1200))


def test_turned_words_go_with_their_piece() -> None:
    text = Text("sash", complex(37 + 600, -91 + 20), 6.0, kind="name")
    sash = block("sash", 1200, 300).changed(texts=(text,))
    (group,) = strip([sash], on_roll(914.0).changed(turning=True)).groups
    _, bottom, right, _ = laid(group)
    place = group.texts[0].at + group.at
    assert group.texts[0].angle == 90.0
    assert (right - place.real, place.imag - bottom) == pytest.approx((20, 600))


def test_a_roll_is_split_between_pieces_where_it_can_be() -> None:
    panels = [block(f"panel{number}", 700, 1500) for number in range(5)]
    made = strip(panels, on_roll(914.0))
    assert made.clean == (True, True)
    for bottom, top in made.parts:
        assert top - bottom <= 5060
        for group in made.groups:
            box = laid(group)
            assert box[3] <= bottom or box[1] >= top or (bottom <= box[1] and box[3] <= top)
    inside = [
        sum(bottom <= laid(group)[1] and laid(group)[3] <= top for group in made.groups)
        for bottom, top in made.parts
    ]
    assert inside == [3, 2]


def test_where_a_piece_goes_on_both_parts_show_the_same_diamonds() -> None:
    sheet = Sheet("Sash", 0.0, 0.0, (block("sash", 400, 8000),))
    made = paged(sheet, on_roll(914.0))
    first, second = made.pages
    places = []
    for page in (first, second):
        assert page.window is not None
        shift = complex(*page.window[:2]) - page.at
        places.append({rounded(mark.path.start + shift) for mark in page.marks})
    assert len(places[0] & places[1]) >= 3
    assert first.window is not None
    assert second.window is not None
    assert second.window[3] - first.window[1] == pytest.approx(10.0)


def rounded(place: complex) -> complex:
    return complex(round(place.real, 6), round(place.imag, 6))


@pytest.mark.parametrize("title", ["Coat", "The harbour master's coat, " * 8, ""])
@pytest.mark.parametrize(
    "paper", ["a5", "a4", "a4-or-letter", "legal", "tabloid", "a2", "130x900mm"]
)
@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
def test_nothing_is_printed_into_the_margins(title: str, paper: str, orientation: str) -> None:
    pieces = (block("back", 700, 900), block("sleeve", 420, 610), block("tab", 30, 40))
    sheet = Sheet(title, 0.0, 0.0, pieces, "Odo Brack")
    made = paged(sheet, on_paper(paper).changed(orientation=orientation))
    for page in made.pages:
        assert (page.width < page.height) == (orientation == "portrait")
        for ink in page.ink:
            left, bottom, right, top = ink.path.box()
            assert 10 <= left <= right <= page.width - 10
            assert 10 <= bottom <= top <= page.height - 10
        for words in page.words:
            wide = 0.9 * Text(words.content, 0j, words.size).width
            left = words.at.real - {"left": 0.0, "middle": wide / 2, "right": wide}[words.side]
            assert 10 <= left <= left + wide <= page.width - 10
            assert 10 <= words.at.imag <= page.height - 10 - 0.7 * words.size
