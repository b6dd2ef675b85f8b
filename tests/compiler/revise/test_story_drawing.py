"""How the story's pictures look: read by programs we did not write, and printed in grey."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest

from oaktag.compiler.revise.story.ink import FINE, clean, fitting, width_of, wrapped
from oaktag.compiler.revise.story.page import page
from oaktag.compiler.revise.story.sheet import sheets, step_pages

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from typing import Any

PROGRAMS = Path(__file__).resolve().parents[2] / "programs"
SVG = "{http://www.w3.org/2000/svg}"
BODY = {"waist_girth": 720.0, "hip_girth": 960.0, "waist_to_hip": 200.0}
BUST = {
    "bust_girth": 920.0,
    "waist_girth": 720.0,
    "neck_girth": 360.0,
    "shoulder_length": 125.0,
}
EVERY = [
    ("ferry.oak", {}),
    ("straight.oak", BODY),
    ("a_line.oak", BODY),
    ("bodice.oak", BUST),
    ("yoke_skirt.oak", BODY),
    ("waistband.oak", BODY),
    ("flounce.oak", {}),
]


def every_page(teller: Any, file: str, measures: dict[str, float]) -> Iterator[bytes]:
    for story in teller.of_file(str(PROGRAMS / file), **measures).values():
        yield from step_pages(story, "Title", "cm")
        yield from sheets(story, "Title", "cm")


# -- well-formed, and nothing cut off


@pytest.mark.parametrize(("file", "measures"), EVERY)
def test_pages_are_sound(teller: Any, file: str, measures: dict[str, float]) -> None:
    count = 0
    for data in every_page(teller, file, measures):
        root = ElementTree.fromstring(data)
        text = data.decode()
        assert not re.search(r"nan|inf\b|e-\d", re.sub(r"<text.*?</text>", "", text))
        names = [one.get("id") for one in root.iter() if one.get("id")]
        assert len(names) == len(set(names))
        assert set(re.findall(r"url\(#([^)]*)\)", text)) <= set(names)
        count += 1
    assert count > 2


@pytest.mark.parametrize(("file", "measures"), EVERY)
def test_nothing_is_cut_off(teller: Any, file: str, measures: dict[str, float]) -> None:
    """svgelements' boxes of all lines and our estimate of all words lie on the page."""
    from svgelements import Path as SvgPath

    for data in every_page(teller, file, measures):
        root = ElementTree.fromstring(data)
        _, _, width, height = map(float, (root.get("viewBox") or "").split())
        assert (width, height) in [(210, 297), (297, 210), (420, 297), (297, 420)]
        for one in shown(root):
            if one.tag == f"{SVG}path":
                left, top, right, bottom = SvgPath(one.get("d")).bbox()
            elif one.tag == f"{SVG}text":
                size, x, y = (float(one.get(key) or 0) for key in ("font-size", "x", "y"))
                wide = width_of(one.text or "", size, mono="Mono" in (one.get("font-family") or ""))
                middle = one.get("text-anchor") == "middle"
                left, right = (x - wide / 2, x + wide / 2) if middle else (x, x + wide)
                top, bottom = y - size, y
            else:
                continue
            assert left >= 5 and top >= 5, ElementTree.tostring(one)[:200]
            assert right <= width - 5 and bottom <= height - 5, ElementTree.tostring(one)[:200]


def shown(root: ElementTree.Element) -> Iterator[ElementTree.Element]:
    """All that is drawn, but for patterns and what a frame cuts off on purpose."""
    for one in root:
        if one.tag != f"{SVG}defs" and not one.get("clip-path"):
            yield one
            yield from shown(one)


def test_names_do_not_lie_on_each_other(teller: Any) -> None:
    for data in every_page(teller, "ferry.oak", {}):
        boxes = []
        for one in ElementTree.fromstring(data).iter(f"{SVG}text"):
            if one.get("paint-order"):
                size, x, y = (float(one.get(key) or 0) for key in ("font-size", "x", "y"))
                # What the letters of Arial take: about half their height each.
                half = len(one.text or "") * size * 0.25
                boxes.append((x - half, y - 0.7 * size, x + half, y))
        for i, a in enumerate(boxes):
            for b in boxes[i + 1 :]:
                apart = a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]
                assert apart, (a, b)


def test_all_pictures_of_a_piece_are_on_one_scale(teller: Any) -> None:
    """The bar says how long 10 cm are; the panel's side is 40 cm of it in every picture."""
    from svgelements import Path as SvgPath

    story = teller.stories(teller.darted)["panel"]
    for data in [*step_pages(story, "Panel", "cm"), *sheets(story, "Panel", "cm")]:
        text = data.decode()
        scale = float(re.search(r"scale 1 : ([\d.]+)", text)[1])  # type: ignore[index]
        length, bar = re.search(r"(\d+) cm, scale", text)[1], re.findall(r"v2h([\d.]+)v-2", text)  # type: ignore[index]
        assert float(bar[0]) * scale == pytest.approx(float(length) * 10, abs=0.05)
        lines = [one.get("d") for one in ElementTree.fromstring(data).iter(f"{SVG}path")]
        sides = [
            segment.length()
            for line in lines
            for segment in SvgPath(line)
            if type(segment).__name__ in ("Line", "Close")
        ]
        assert any(length * scale == pytest.approx(400, abs=0.1) for length in sides)


# -- printed without colour


def test_fills_can_be_told_apart_in_grey(teller: Any, grey: Callable[..., list[list[int]]]) -> None:
    """Let-in paper is darker than paper and striped, cut-away paper dotted, plain paper white."""
    half = teller.darted.partition("  dart")[0] + (
        "  unfold along side into right and left\n  halve along side keeping right\n"
    )
    _, unfold, halve = teller.stories(half)["panel"].pictures
    story = teller.stories(half)["panel"]
    pages = list(step_pages(story, "Panel", "cm"))
    inks = []
    for one, data in ((unfold, pages[1]), (halve, pages[2])):
        (ring,) = one.let_in or one.cut_away
        inks.append(grey(data, patch(data, ring)))
    striped, dotted = inks
    # Stripes: along a diagonal everything is alike, across it dark and light alternate.
    along = [abs(striped[y][x] - striped[y + 1][x - 1]) for y, x in places(striped)]
    across = [abs(striped[y][x] - striped[y + 1][x + 1]) for y, x in places(striped)]
    falling, rising = sum(along), sum(across)
    assert max(falling, rising) > 1.5 * min(falling, rising)
    assert 130 < mean(striped) < 230
    assert min(map(min, striped)) < 130
    # Dots: dark spots in white, alike along both diagonals.
    along = [abs(dotted[y][x] - dotted[y + 1][x - 1]) for y, x in places(dotted)]
    across = [abs(dotted[y][x] - dotted[y + 1][x + 1]) for y, x in places(dotted)]
    assert sum(along) == pytest.approx(sum(across), rel=0.2)
    assert 180 < mean(dotted) < 245
    assert min(map(min, dotted)) < 60 and max(map(max, dotted)) == 255
    # And the half that was there before is plain paper.
    assert mean(grey(pages[0], patch(pages[0], None))) == 255


def patch(svg: bytes, ring: Any) -> complex:
    """A place where no names stand, a quarter from the left, in a ring's fill or in the outline."""
    from svgelements import Path as SvgPath

    for one in ElementTree.fromstring(svg).iter(f"{SVG}path"):
        filled = (one.get("fill") or "").startswith("url")
        if filled == (ring is not None) and one.get("stroke-width") != "0.25":
            left, top, right, bottom = SvgPath(one.get("d")).bbox()
            return complex(left + (right - left) * 0.28, top + (bottom - top) * 0.3)
    raise AssertionError("no such path")


def places(rows: list[list[int]]) -> Iterator[tuple[int, int]]:
    return ((y, x) for y in range(len(rows) - 1) for x in range(1, len(rows[0]) - 1))


def mean(rows: list[list[int]]) -> float:
    return sum(map(sum, rows)) / sum(map(len, rows))


def test_any_number_of_openings_is_one_fill(teller: Any) -> None:
    text = (
        'pattern "Flounce"\npiece flounce\n  strip 4 m by 30 cm\n'
        "  repeat i from 1 to 200\n"
        "    line slash[i] = on base i/201 from start to on top i/201 from start\n"
        "  spread slash[1..200] by 6 mm at base hinged on top\n"
    )
    story = teller.stories(text)["flounce"]
    *_, spread = step_pages(story, "Flounce", "cm")
    root = ElementTree.fromstring(spread)
    assert len(list(root.iter())) < 60
    assert len(spread) < 200_000
    fills = [one for one in root.iter() if (one.get("fill") or "") == "url(#let-in)"]
    assert max(one.get("d", "").count("M") for one in fills) == 200


# -- the page for a browser


class Reader(HTMLParser):
    """What an HTML page consists of."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag != "meta":
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def read(html: bytes) -> Reader:
    reader = Reader()
    reader.feed(html.decode())
    reader.close()
    assert reader.open == []
    return reader


@pytest.mark.parametrize(("file", "measures"), EVERY)
def test_the_page_needs_nothing_else(teller: Any, file: str, measures: dict[str, float]) -> None:
    stories = list(teller.of_file(str(PROGRAMS / file), **measures).values())
    html = page(stories, "Title", file, "cm")
    reader = read(html)
    assert "script" not in {tag for tag, _ in reader.tags}
    names = [given["id"] for _, given in reader.tags if "id" in given]
    assert len(names) == len(set(names))
    for tag, given in reader.tags:
        assert not {"src", "srcset", "data", "onload", "xlink:href"} & set(given), tag
        assert (given.get("href") or "#").startswith("#")
    links = {(given.get("href") or "")[1:] for tag, given in reader.tags if tag == "a"}
    assert links <= set(names)
    assert set(re.findall(r"url\(#([^)]*)\)", html.decode())) <= set(names)
    assert "http" not in html.decode() and "@import" not in html.decode()
    figures = [tag for tag, _ in reader.tags if tag == "figure"]
    assert len(figures) == sum(len(story.pictures) for story in stories)


def test_the_page_tells_what_was_done(teller: Any) -> None:
    html = page(list(teller.stories(teller.darted).values()), "Panel", "panel.oak", "cm")
    words = " ".join(" ".join(read(html).words).split())
    assert "4. the waist becomes smaller, the hem wider" in words
    assert "panel.oak, line 17 17 close waist_dart into flare" in words
    assert "cut away 10 cm²" in words  # 2 by 10 cm, halved
    assert "new: flare" in words
    assert "waist 20 → 18 cm 18 cm" in words


def test_everything_is_escaped(teller: Any) -> None:
    text = (
        'pattern "<b>&amp;\' Two \\ Ways"\n'
        "piece band\n"
        "  # <script>alert(\"x\")</script> & ]]> --> 'q'\n"
        "  strip 20 cm by 10 cm\n"
        '  text "</text><script>" at origin right 10 cm up 5 cm\n'
    )
    story = teller.stories(text)["band"]
    title = "<b>&amp;' Two"
    for data in [*step_pages(story, title, "cm"), *sheets(story, title, "cm")]:
        root = ElementTree.fromstring(data)
        assert (root.findtext(f"{SVG}title") or "").startswith(title)
        assert "script" not in {one.tag.removeprefix(SVG) for one in root.iter()}
    reader = read(page([story], title, "<i>.oak", "cm"))
    assert not {"b", "script", "i"} & ({tag for tag, _ in reader.tags} - {"b"})
    words = "".join(reader.words)
    assert "<script>alert(\"x\")</script> & ]]> --> 'q'" in words
    assert "</text><script>" in words
    assert title in words


def test_letters_that_no_file_may_hold_are_shown_as_such() -> None:
    assert clean("a\x00b\x1b[0m\u202ec\ufffe") == "a\ufffdb\ufffd[0m\ufffdc\ufffd"
    assert clean("Åse ß 裁断 \U0001f9f5") == "Åse ß 裁断 \U0001f9f5"


# -- text and scales


@pytest.mark.parametrize("mono", [False, True])
def test_text_is_wrapped(mono: bool) -> None:
    words = "  spread drape[1..drapes] by depth at right.side hinged on left.side as pleat"
    lines = wrapped(words, 40, 2.2, mono=mono)
    assert len(lines) > 2
    assert " ".join(" ".join(lines).split()) == " ".join(words.split())
    assert all(width_of(line, 2.2, mono=mono) <= 40 for line in lines)
    assert all(line.startswith("  ") for line in lines)


def test_a_word_too_long_for_a_line_is_broken() -> None:
    lines = wrapped("w" * 300, 30, 3)
    assert "".join(lines) == "w" * 300
    assert all(width_of(line, 3) <= 30 for line in lines)
    assert wrapped("", 30, 3) == [""]
    assert wrapped("a b c d", 0.1, 3)  # no room at all: it ends all the same
    assert wrapped(" ".join("abcdefgh"), 6, 3, most=2)[-1].endswith(" …")


@pytest.mark.parametrize(
    ("across", "scale"), [(100, 1), (186, 1), (187, 2), (372, 2), (373, 2.5), (1000, 8), (4000, 25)]
)
def test_scales_are_round(across: float, scale: float) -> None:
    assert fitting((0, 0, across, 50), 190, 190).scale == scale


def test_finer_scales_where_room_is_scarce() -> None:
    assert fitting((0, 0, 187, 50), 190, 190, FINE).scale == 1.2
    view = fitting((-5, 10, 995, 210), 190, 190, FINE)
    assert view.width <= 190 and view.height <= 190
    assert view.at(-5 + 210j) == 2 + 2j


# -- sheets


def test_one_sheet_if_it_can_be_read(teller: Any) -> None:
    story = teller.of_file(str(PROGRAMS / "ferry.oak"))["front"]
    (sheet,) = sheets(story, "Ferry", "cm")
    words = [one.text or "" for one in ElementTree.fromstring(sheet).iter(f"{SVG}text")]
    numbers = [int(found[1]) for word in words if (found := re.match(r"(\d+)\. ", word))]
    assert numbers == list(range(1, 18))


def test_several_sheets_if_one_would_be_too_small(teller: Any) -> None:
    lines = "".join(f"  line l{n} = on start {n}/41 to on end {n}/41\n" for n in range(1, 41))
    story = teller.stories(f'pattern "P"\npiece p\n  strip 40 cm by 40 cm\n{lines}')["p"]
    found = sheets(story, "P", "cm")
    assert len(found) > 1
    scales = {re.search(r"scale 1 : [\d.]+", data.decode())[0] for data in found}  # type: ignore[index]
    assert len(scales) == 1
    numbers = [int(n) for data in found for n in re.findall(r">(\d+)\. line<", data.decode())]
    assert numbers == list(range(2, 42))


def test_titles_and_names_of_any_length_stay_on_the_sheet(teller: Any) -> None:
    name = "very_" * 15 + "lon"  # names have 80 letters at most
    text = f'pattern "P"\npiece {name}\n  # {"word " * 200}\n  strip 40 cm by 10 cm\n'
    text += "".join(f"  line {name}{n} = on start {n}/6 to on end {n}/6\n" for n in range(1, 6))
    story = teller.stories(text)[name]
    for data in [*step_pages(story, "Title " * 99, "cm"), *sheets(story, "Title " * 99, "cm")]:
        root = ElementTree.fromstring(data)
        _, _, width, height = map(float, (root.get("viewBox") or "").split())
        for one in root.iter(f"{SVG}text"):
            size, x, y = (float(one.get(key) or 0) for key in ("font-size", "x", "y"))
            assert y < height - 5
            if one.get("text-anchor") is None:
                mono = "Mono" in (one.get("font-family") or "")
                assert x + width_of(one.text or "", size, mono=mono) < width - 4


# -- golden files


def test_golden(teller: Any, golden: Callable[[str, bytes], None]) -> None:
    story = teller.stories(teller.darted)["panel"]
    golden("close.svg", list(step_pages(story, "Panel", "cm"))[-1])
    golden("sheet.svg", sheets(story, "Panel", "cm")[0])
    golden("panel.html", page([story], "Panel", "panel.oak", "cm"))
