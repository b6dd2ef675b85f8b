"""What the pictures of a story show: pure data, before anything is drawn."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from oaktag.compiler.geometry import ring_area
from oaktag.compiler.revise.story.shared import shared
from oaktag.compiler.revise.story.telling import story as told_of

if TYPE_CHECKING:
    from collections.abc import Iterable
    from typing import Any

    from oaktag.compiler.revise.story.telling import Picture, Story

PROGRAMS = Path(__file__).resolve().parents[2] / "programs"
BODY = {"waist_girth": 720.0, "hip_girth": 960.0, "waist_to_hip": 200.0}
BUST = {
    "bust_girth": 920.0,
    "waist_girth": 720.0,
    "neck_girth": 360.0,
    "shoulder_length": 125.0,
}

STRIP = 'pattern "Strip"\npiece band\n  strip 100 cm by 30 cm\n'


def area(rings: Iterable[Any]) -> Any:
    """The union of rings as shapely sees them."""
    polygons = [Polygon([(p.real, p.imag) for p in ring.flattened(0.01)]) for ring in rings]
    return unary_union([polygon.buffer(0) for polygon in polygons])


def string(path: Any) -> LineString:
    return LineString([(p.real, p.imag) for p in path.flattened(0.002)])


def picture(story: Story, word: str) -> Picture:
    found = [one for one in story.pictures if one.word == word]
    assert len(found) == 1, f"{len(found)} pictures of {word}"
    return found[0]


# -- one picture a step


def test_a_picture_for_each_step(teller: Any) -> None:
    pictures = teller.pictures(teller.darted)
    assert [(one.first, one.last, one.word) for one in pictures] == [
        (1, 1, "outline"),
        (2, 2, "dart"),
        (3, 3, "line"),
        (4, 4, "close"),
    ]


def test_captions_and_lines_as_written(teller: Any) -> None:
    outline, dart, line, close = teller.pictures(teller.darted)
    assert outline.caption == "a panel to try things on"
    assert (dart.caption, line.caption) == ("", "")
    assert close.caption == "the waist becomes smaller, the hem wider"
    assert [(q.file, q.line, q.text) for q in close.quotes] == [
        ("panel.oak", 17, ("close waist_dart into flare",))
    ]
    assert outline.quotes[0].line == 9
    assert outline.quotes[0].text == (
        "outline",
        "  waist = top_left to top_right",
        "  side = top_right to foot_right",
        "  hem = foot_right to foot_left",
        "  centre = foot_left to top_left",
    )


def test_lines_that_go_on_below(teller: Any) -> None:
    text = STRIP + (
        "  line across = on start 1/2\n"
        "    # right through the middle\n"
        "\n"
        "    to on end 1/2\n"
        "\n"
        "    # nothing after this\n"
        "  lengthen at across by 2 cm\n"
    )
    quote = teller.pictures(text)[1].quotes[0]
    assert quote.text == (
        "line across = on start 1/2",
        "  # right through the middle",
        "",
        "  to on end 1/2",
    )


def test_a_caption_above_repeat_is_that_of_its_first_step(teller: Any) -> None:
    text = STRIP + (
        "  # slashes, evenly\n"
        "  repeat i from 1 to 2\n"
        "    place = i/3\n"
        "    line slash[i] = on base place from start to on top place from start\n"
        "    # opened\n"
        "    spread slash[i] by 1 cm at base hinged on top\n"
    )
    captions = [one.caption for one in teller.pictures(text)]
    assert captions == ["", "slashes, evenly", "opened", "slashes, evenly", "opened"]


def test_a_used_pattern_is_quoted_under_its_own_name(teller: Any) -> None:
    teller.stories(teller.darted, "blocks/panel.oak")
    text = """\
        pattern "Made over"
        use "../blocks/panel.oak" as block
        piece front from block.panel
          true hem
        """
    story = teller.stories(text, "plays/front.oak")["front"]
    files = [quote.file for one in story.pictures for quote in one.quotes]
    assert files == ["../blocks/panel.oak"] * 4 + ["front.oak"]
    assert story.pictures[3].caption == "the waist becomes smaller, the hem wider"


def test_a_pattern_of_oaktag_is_quoted_under_its_own_name(teller: Any) -> None:
    front = teller.of_file(str(PROGRAMS / "ferry.oak"))["front"]
    assert front.pictures[0].quotes[0].file == "oaktag/stdlib/skirts/straight.oak"
    assert picture(front, "unfold").quotes[0].file == "ferry.oak"


# -- what a repeat did more than twelve times


def slashes(count: int, more: str = "") -> str:
    return (
        STRIP
        + f"  repeat i from 1 to {count}\n"
        + f"    line slash[i] = on base i/{count + 1} from start\n"
        + f"      to on top i/{count + 1} from start\n"
        + more
    )


@pytest.mark.parametrize(
    ("count", "groups"), [(12, [(n, n) for n in range(1, 14)]), (13, [(1, 1), (2, 14)])]
)
def test_more_than_twelve_alike_are_one(
    teller: Any, count: int, groups: list[tuple[int, int]]
) -> None:
    pictures = teller.pictures(slashes(count))
    assert [(one.first, one.last) for one in pictures] == groups
    assert len(pictures[-1].names) == (1 if count == 12 else 13)
    assert pictures[-1].turns == (1 if count == 12 else 13)


def test_all_that_a_turn_does_belongs_together(teller: Any) -> None:
    spread = "    spread slash[i] by 1 cm at base hinged on top\n"
    pictures = teller.pictures(slashes(14, spread) + "  true base\n")
    assert [(one.first, one.last, one.turns) for one in pictures] == [
        (1, 1, 1),
        (2, 29, 14),
        (30, 30, 1),
    ]
    assert [quote.text[0].split()[0] for quote in pictures[1].quotes] == ["line", "spread"]


def test_a_long_repeat_in_a_short_one(teller: Any) -> None:
    text = STRIP + (
        "  repeat i from 1 to 2\n"
        "    line across[i] = on start i/3 to on end i/3\n"
        "    repeat j from 1 to 15\n"
        "      drill at on across[i] j/16\n"
    )
    groups = [(one.first, one.last, one.turns) for one in teller.pictures(text)]
    assert groups == [(1, 1, 1), (2, 2, 1), (3, 17, 15), (18, 18, 1), (19, 33, 15)]


def test_a_turn_may_skip_some_of_it(teller: Any) -> None:
    more = "    if i > 3\n      drill at on slash[i] 1/2\n"
    groups = [(one.first, one.last, one.turns) for one in teller.pictures(slashes(20, more))]
    assert groups == [(1, 1, 1), (2, 38, 20)]


def test_let_in_paper_lies_where_the_last_turn_left_it(teller: Any) -> None:
    spread = "    spread slash[i] by 1 cm at base hinged on top\n"
    one = teller.pictures(slashes(14, spread))[1]
    paper = area([one.paper.outline])
    let_in = area(one.let_in)
    assert len(one.let_in) == 14
    assert let_in.area == pytest.approx(one.area_let_in, rel=1e-3)  # and none on another
    assert let_in.difference(paper.buffer(0.01)).area == pytest.approx(0, abs=1e-6)


# -- paper let in and cut away


@pytest.mark.parametrize(
    ("file", "measures"),
    [
        ("ferry.oak", {}),
        ("a_line.oak", BODY),
        ("yoke_skirt.oak", BODY),
        ("waistband.oak", BODY),
        ("bodice.oak", BUST),
        ("flounce.oak", {}),
    ],
)
def test_paper_is_accounted_for(teller: Any, file: str, measures: dict[str, float]) -> None:
    """Shapely's areas: after = before + let in - cut away, and let-in paper lies on the piece."""
    for story in teller.of_file(str(PROGRAMS / file), **measures).values():
        before = 0.0
        for one in story.pictures:
            after = area([one.paper.outline])
            if before:
                gained = one.area_let_in - one.area_cut_away
                assert after.area == pytest.approx(before + gained, rel=1e-4), one.word
            if one.let_in:
                off = area(one.let_in).difference(after.buffer(0.05)).area
                assert off == pytest.approx(0, abs=0.01), one.word
            before = after.area


def test_the_outline_of_a_new_piece_is_not_let_in(teller: Any) -> None:
    outline = teller.pictures(teller.darted)[0]
    assert outline.let_in == ()
    assert outline.area_let_in == 0
    assert [abs(ring_area(ring)) for ring in outline.fresh] == [pytest.approx(200 * 400)]


# -- where it was


@pytest.mark.parametrize(
    ("file", "measures"),
    [("ferry.oak", {}), ("a_line.oak", BODY), ("yoke_skirt.oak", BODY), ("bodice.oak", BUST)],
)
def test_only_what_differs_is_drawn_where_it_was(
    teller: Any, file: str, measures: dict[str, float]
) -> None:
    """By shapely's measure: all that lies 0.2 mm off the new outline, nothing that lies on it."""
    compared = 0
    for story in teller.of_file(str(PROGRAMS / file), **measures).values():
        old = None
        for one in story.pictures:
            new = one.paper.outline
            if old is not None:
                was = unary_union([string(path) for path in one.was])
                moved = string(old).difference(string(new).buffer(0.2))
                assert moved.difference(was.buffer(0.01)).length < 0.1, one.word
                assert was.difference(string(old).buffer(0.01)).length < 0.1, one.word
                # Lines that part smoothly, as a trued edge does, lie on each other for a while.
                on_it = was.intersection(string(new).buffer(0.005)).length
                assert on_it <= 0.1 * was.length, one.word
                compared += bool(one.was)
            old = new
    assert compared >= 3


def test_nothing_is_drawn_where_it_was_if_nothing_moved(teller: Any) -> None:
    _, dart, line, _ = teller.pictures(teller.darted)
    assert dart.was == line.was == ()


def test_the_part_that_turned_is_drawn_where_it_was(teller: Any) -> None:
    close = teller.pictures(teller.darted)[-1]
    # Upright legs from the middle: all to the right of them has turned, and the mouth is gone.
    (path,) = close.was
    assert path.length == pytest.approx(100 + 10 + 400 + 100)
    (ring,) = close.cut_away
    assert abs(ring_area(ring)) == pytest.approx(20 * 100 / 2)


# -- what is new


def test_lines_and_darts_of_a_step_are_new(teller: Any) -> None:
    names = [[str(label) for label in one.names] for one in teller.pictures(teller.darted)]
    assert names == [[], ["waist_dart"], ["flare"], ["flare"]]


def test_only_the_image_is_new_when_unfolded(teller: Any) -> None:
    text = (
        teller.darted.partition("  line flare")[0] + "  unfold along centre into right and left\n"
    )
    unfold = teller.pictures(text)[-1]
    assert [str(label) for label in unfold.names] == ["left.waist_dart"]


def test_what_moved_is_not_new(teller: Any) -> None:
    text = STRIP + (
        "  line first = on base 1/3 from start to on top 1/3 from start\n"
        "  line second = on base 2/3 from start to on top 2/3 from start\n"
        "  notch on base at 90 cm from start\n"
        "  spread first by 5 cm at base hinged on top\n"
    )
    *_, notch, spread = teller.pictures(text)
    assert [mark.kind for mark in notch.marks] == ["notch"]
    assert [str(label) for label in spread.names] == ["first"]
    assert spread.marks == ()


def test_a_section_that_moved_is_not_new(teller: Any) -> None:
    text = STRIP + (
        "  section slit = base from on base 80 cm from start to on base 90 cm from start\n"
        "  line across = on base 1/2 from start to on top 1/2 from start\n"
        "  spread across by 5 cm at base hinged on top\n"
        "  unfold along start into outer and facing\n"
    )
    _, section, _, spread, unfold = teller.pictures(text)
    assert [str(label) for label in section.names] == ["slit"]
    assert [str(label) for label in spread.names] == ["across"]
    assert "outer.slit" not in {str(label) for label in unfold.names}
    assert "facing.slit" in {str(label) for label in unfold.names}


def test_a_line_on_an_edge_is_new_all_the_same(teller: Any) -> None:
    text = STRIP + "  line mark = on base 0 from start to on base 0 from end\n"
    assert [str(label) for label in teller.pictures(text)[-1].names] == ["mark"]


def test_folds_grain_and_sections_are_new(teller: Any) -> None:
    text = teller.darted.partition("  dart")[0] + (
        "  fold on centre\n"
        "  grain along side\n"
        "  section slit = side from on side 1/2 to on side 0 from hem\n"
    )
    _, fold, grain, section = teller.pictures(text)
    assert [path.length for path in fold.fresh] == [pytest.approx(400)]
    assert (fold.grain, grain.grain, section.grain) == (False, True, False)
    assert [path.length for path in section.fresh] == [pytest.approx(200)]
    assert [str(label) for label in section.names] == ["slit"]


def test_the_new_stretches_of_an_outline(teller: Any) -> None:
    close = teller.pictures(teller.darted)[-1]
    # The hem is led across the gap; a dart of 2 cm at 10 cm opens 30 cm below it by 6 cm.
    assert sum(path.length for path in close.fresh) == pytest.approx(60, abs=0.5)


def test_a_divided_piece_shows_the_cut_and_each_part_what_it_lost(teller: Any) -> None:
    text = STRIP + (
        "  line across = on start 1/3 to on end 2/3\n"
        "  divide along across into upper and lower\n"
        "piece yoke from band.upper\n"
        "  notch on across at 1/2\n"
    )
    stories = teller.stories(text)
    divide = stories["band"].pictures[-1]
    assert [path.length for path in divide.fresh] == [pytest.approx(1000)]
    yoke = stories["yoke"].pictures
    assert [one.word for one in yoke] == ["strip", "line", "divide", "notch"]
    lost = 1000 * 300 - abs(ring_area(yoke[-1].paper.outline))
    assert yoke[2].area_cut_away == pytest.approx(lost)
    assert yoke[3].was == ()


# -- edge lengths


def told(one: Picture) -> list[tuple[str, float | None, float, float | None, float]]:
    return [
        (
            edge.name,
            edge.before and round(edge.before, 2),
            round(edge.after, 2),
            edge.sewn_before and round(edge.sewn_before, 2),
            round(edge.sewn_after, 2),
        )
        for edge in one.lengths
    ]


def test_edge_lengths_before_and_after(teller: Any) -> None:
    outline, dart, line, close = teller.pictures(teller.darted)
    assert told(outline) == [
        ("waist", None, 200, None, 200),
        ("side", None, 400, None, 400),
        ("hem", None, 200, None, 200),
        ("centre", None, 400, None, 400),
    ]
    assert told(dart) == [("waist", 200, 200, 200, 180)]
    assert told(line) == []
    (waist, hem) = told(close)
    assert waist == ("waist", 200, 180, 180, 180)
    # The legs meet by a turn about the point; 30 cm below it the hem opens three times as wide.
    assert hem[:2] == ("hem", 200)
    assert hem[2] == pytest.approx(260, abs=0.5)


def test_of_an_unfolded_edge_the_whole_is_told(teller: Any) -> None:
    text = teller.darted.partition("  dart")[0] + "  unfold along centre into right and left\n"
    assert told(teller.pictures(text)[-1]) == [
        ("waist", 200, 400, 200, 400),
        ("hem", 200, 400, 200, 400),
    ]


def test_of_two_halves_the_one_that_changed_is_told(teller: Any) -> None:
    front = teller.of_file(str(PROGRAMS / "ferry.oak"))["front"]
    names = [edge.name for edge in picture(front, "close").lengths]
    assert names == ["right.waist", "right.hem"]
    spread = picture(front, "spread").lengths
    assert [edge.name for edge in spread] == ["right.side"]
    # Pleats lengthen the cut edge by their depth each, and leave the seam: 3 times 4 1/2 in.
    assert spread[0].after - (spread[0].before or 0) == pytest.approx(3 * 4.5 * 25.4, abs=0.01)
    assert spread[0].sewn_after == pytest.approx(spread[0].sewn_before, abs=1e-6)


def test_pictures_of_a_piece_share_one_frame(teller: Any) -> None:
    for story in teller.of_file(str(PROGRAMS / "ferry.oak")).values():
        left, bottom, right, top = story.box
        for one in story.pictures:
            assert one.box is not None
            assert left <= one.box[0] and bottom <= one.box[1]
            assert one.box[2] <= right and one.box[3] <= top


# -- what a copy shares with its origin

COPIES = """
piece front from panel
  line low = on side 5 cm from hem to on centre 5 cm from hem
piece plain from panel
piece back from panel
  mirror
piece late from front
  mirror
"""


def test_copies_begin_where_their_origin_ends(teller: Any) -> None:
    pieces = teller.pieces(teller.darted + COPIES)
    assert [(one.origin, one.count) for one in shared(pieces)] == [
        ("", 0), ("panel", 4), ("panel", 4), ("panel", 4), ("front", 5),
    ]  # fmt: skip
    assert [one.said for one in shared(pieces)][-1] == "begins as front, see there"


def test_two_copies_of_one_block_tell_it_once(teller: Any) -> None:
    """The block itself is of another file, so it is told of the first of them, then referred to."""
    teller.stories(teller.darted, "block.oak")
    text = """pattern "Two"
use "block.oak" as block
piece one from block.panel
  mirror
piece two from block.panel
  fold on centre
"""
    first, second = shared(teller.pieces(text))
    assert first.said == ""
    assert second.said == "begins as one up to step 4, see there"


def test_the_pictures_of_a_copy_are_those_of_its_own_steps(teller: Any) -> None:
    pieces = teller.pieces(teller.darted + COPIES)
    every = list(told_of(pieces[1], teller.text))
    own = list(told_of(pieces[1], teller.text, told=4))
    assert own == every[4:]
    assert [one.first for one in own] == [5]
