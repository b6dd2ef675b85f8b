"""The page as one file: it stands by itself, and runs nothing but its own script."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from oaktag.compiler.cli.options import Given
from oaktag.compiler.cli.project import work_out
from oaktag.compiler.page import html
from oaktag.compiler.page.contents import as_text

if TYPE_CHECKING:
    from playwright.sync_api import Page

EXAMPLES = Path(__file__).parents[3] / "examples"
NASTY = "</script><script>alert(1)</script><!--<img src=x onerror=alert(2)>"


def made(path: Path, **settings: str) -> bytes:
    work = work_out(str(path), Given(None, None, None, settings))
    assert work.pattern is not None, [one.message for one in work.diagnostics]
    return html(work.program, work.pattern, "Ines Fell", work.diagnostics)


def baked(data: bytes) -> dict[str, Any]:
    found = re.search(rb'<script type="application/json" id="baked">(.*?)</script>', data, re.S)
    assert found
    told: dict[str, Any] = json.loads(found[1])
    return told


def nasty(tmp_path: Path) -> Path:
    path = tmp_path / "nasty.oak"
    text = (EXAMPLES / "ferry" / "ferry.oak").read_text(encoding="utf-8")
    text = text.replace("Ferrywoman's skirt", NASTY).replace("# close the right dart", f"# {NASTY}")
    path.write_text(text.replace("opening of each drape", NASTY), encoding="utf-8")
    return path


def test_it_asks_for_nothing_else() -> None:
    text = made(EXAMPLES / "ferry" / "ferry.oak").decode()
    assert not re.findall(r'(?:src|href)="(?!data:,)[^"]*"', text)
    assert not re.findall(r"https?://(?!www\.w3\.org/2000/svg)", text)
    assert "default-src 'none'" in text


def test_words_cannot_leave_their_place(tmp_path: Path) -> None:
    data = made(nasty(tmp_path))
    assert data.count(b"<script") == data.count(b"</script") == 2
    assert b"<!--" not in data
    assert b"<img" not in data
    told = baked(data)
    assert told["pattern"]["title"] == NASTY
    assert any(step["heading"].startswith(NASTY) for step in told["steps"]["front"]["steps"])


@pytest.mark.parametrize("words", ["</script>", "\u2028", "<!--", "&amp;", "]]>"])
def test_data_stays_data(words: str) -> None:
    text = as_text({"words": words})
    assert json.loads(text) == {"words": words}
    assert not set(text) & set("<>&\u2028\u2029")


def test_gaps_are_not_filled_by_the_words_of_a_pattern(tmp_path: Path) -> None:
    path = tmp_path / "gaps.oak"
    path.write_text('pattern "{{foot}} {{title}}"\npiece p\n  strip 4 cm by 3 cm\n')
    data = made(path)
    assert data.count(b"<script") == 2
    assert b"<title>{{foot}} {{title}}</title>" in data


def test_it_says_of_what_it_is_a_copy() -> None:
    told = baked(made(EXAMPLES / "ferry" / "ferry.oak", depth="5 in"))["pattern"]
    assert (told["file"], told["for"]) == ("ferry.oak", "Ines Fell")
    depth = next(one for one in told["choices"] if one["name"] == "depth")
    assert (depth["text"], depth["default"]) == ("5 in", "4 1/2 in")


def test_it_bears_revision_and_settings(tmp_path: Path, opened: Callable[..., Page]) -> None:
    text = 'pattern "P"\nrevision "B" date "2 April 2027"\nchoose long = 4 cm\n'
    path = tmp_path / "patch.oak"
    path.write_text(f"{text}piece patch\n  strip long by 3 cm\n")
    copy = tmp_path / "copy.html"
    copy.write_bytes(made(path, long="5 cm"))
    page = opened(copy.as_uri())
    assert page.locator("#revision").inner_text() == "revision B, 2 April 2027"
    assert ", with long 5 cm." in page.locator("#from").inner_text()


def names(page: Page) -> list[list[float]]:
    """Of each name of a piece where its foot stands, and its size, in mm."""
    found: list[list[float]] = page.evaluate(
        """() => [...document.querySelectorAll(".whole > text.name")].map((text) =>
        ["y", "dy", "font-size"].map((name) => +text.getAttribute(name)))"""
    )
    return [[y + down, size] for y, down, size in found]


def test_a_name_written_larger_leaves_its_label_free(
    tmp_path: Path, opened: Callable[..., Page]
) -> None:
    """Seen from afar, names grow; their feet stay where they are, above the label."""
    copy = tmp_path / "copy.html"
    copy.write_bytes(made(EXAMPLES / "lantern" / "skirt.oak"))
    page = opened(copy.as_uri())
    before = names(page)
    for _ in range(4):
        page.get_by_role("button", name="farther").click()
        later = names(page)
        assert [foot for foot, _ in later] == pytest.approx([foot for foot, _ in before])
    assert max(size for _, size in later) > 9.6, "they have grown"


NARROW = """\
pattern "The purser's skirt"
piece back_facing
  strip 30 cm by 4 cm
piece front_facing
  outline
    inside = origin curve to origin right 20 cm up 12 cm leaving right arriving up
    end = origin right 20 cm up 12 cm to origin right 24 cm up 12 cm
    outside = origin right 24 cm up 12 cm curve to origin down 4 cm leaving down arriving left
    middle = origin down 4 cm to origin
  grain along middle
piece tie
  strip 4 cm by 60 cm
piece skirt_front
  outline
    waist = origin to origin right 60 cm
    side = origin right 60 cm to origin right 60 cm down 70 cm
    hem = origin right 60 cm down 70 cm to origin down 70 cm
    centre = origin down 70 cm to origin
  line one = origin right 15 cm to origin right 15 cm down 70 cm
  line two = origin right 30 cm to origin right 30 cm down 70 cm
  line three = origin right 45 cm to origin right 45 cm down 70 cm
  spread one by 12 cm as knife pleat
  spread two by 12 cm as knife pleat
  spread three by 12 cm as knife pleat
  grain along centre
allow 1 cm on back_facing, front_facing, tie, skirt_front
cut 1 back_facing in main
cut 1 front_facing in main
cut 1 tie in main
cut 1 skirt_front in main
"""

# Of each name that is shown: what it says, its height on the screen in px, whether its box lies
# in that of its piece, and whether the cut line goes round each point of the frame of its letters.
PLACES = """() => [...document.querySelectorAll(".whole > text.name:not(.small)")].map((text) => {
  const cut = text.parentNode.querySelector(".cut-line"), matrix = text.getScreenCTM();
  const {x, y, width, height} = text.getBBox(), inverse = cut.getScreenCTM().inverse();
  const around = [];
  for (let i = 0; i <= 20; i++) for (const share of [0, 0.5, 1])
    around.push([x + width * i / 20, y + height * share]);
  const a = text.getBoundingClientRect(), b = cut.getBoundingClientRect();
  return {
    name: [...text.children].map((line) => line.textContent).join(" "),
    lines: text.children.length,
    high: text.getAttribute("font-size") * Math.hypot(matrix.a, matrix.b),
    boxed: a.left >= b.left && a.right <= b.right && a.top >= b.top && a.bottom <= b.bottom,
    inside: around.every(([px, py]) =>
      cut.isPointInFill(new DOMPoint(px, py).matrixTransform(matrix).matrixTransform(inverse))),
  };
})"""


@pytest.mark.parametrize("wide", [700, 1280, 2200])
def test_a_name_written_larger_stays_on_its_piece(
    wide: int, tmp_path: Path, opened: Callable[..., Page]
) -> None:
    path = tmp_path / "purser.oak"
    path.write_text(NARROW)
    copy = tmp_path / "copy.html"
    copy.write_bytes(made(path))
    page = opened(copy.as_uri(), viewport={"width": wide, "height": 800})
    for _ in range(6):
        shown = page.evaluate(PLACES)
        for name in shown:
            assert name["boxed"], name
            assert name["inside"], name
            assert name["high"] >= 7, name
        page.get_by_role("button", name="nearer").click()
    assert {"skirt front", "tie", "back facing", "front facing"} == {one["name"] for one in shown}


def test_a_long_name_stands_in_two_lines(tmp_path: Path, opened: Callable[..., Page]) -> None:
    path = tmp_path / "panel.oak"
    path.write_text(
        'pattern "P"\npiece long_panel_of_the_side_front\n  strip 12 cm by 60 cm\n'
        "  grain from origin right 1 cm down 5 cm to origin right 1 cm down 50 cm\n"
    )
    copy = tmp_path / "copy.html"
    copy.write_bytes(made(path))
    [name] = opened(copy.as_uri()).evaluate(PLACES)
    assert name["lines"] == 2
    assert name["name"] == "long panel of the side front"
    assert name["inside"]


WRITE = """
import sys
from hashlib import sha256
from oaktag.compiler.cli.options import Given
from oaktag.compiler.cli.project import work_out
from oaktag.compiler.page import html
work = work_out(sys.argv[1], Given(None, None, None, {}))
data = html(work.program, work.pattern, "", work.diagnostics)
print(sha256(data).hexdigest(), len(data))
"""


def test_the_bytes_do_not_depend_on_the_process_or_the_folder(tmp_path: Path) -> None:
    copy = tmp_path / "somewhere"
    copy.mkdir()
    (copy / "ferry.oak").write_bytes((EXAMPLES / "ferry" / "ferry.oak").read_bytes())
    calls = [
        (str(EXAMPLES / "ferry" / "ferry.oak"), tmp_path, "0"),
        ("ferry.oak", copy, "7"),
        ("somewhere/ferry.oak", tmp_path, "99"),
    ]
    said = set()
    for path, folder, seed in calls:
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        command = [sys.executable, "-c", WRITE, path]
        done = subprocess.run(command, env=environment, cwd=folder, capture_output=True, check=True)
        said.add(done.stdout)
    assert len(said) == 1


def test_the_copy_in_a_browser(tmp_path: Path, opened: Callable[..., Page]) -> None:
    """Opened from the disk: pieces, steps, hovering, measuring and nearer; nothing is asked for."""
    path = tmp_path / "copy.html"
    path.write_bytes(made(nasty(tmp_path)))
    asked: list[str] = []
    page = opened("about:blank")
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    assert page.locator("h1").inner_text() == NASTY
    assert (
        "A copy of the pattern in nasty.oak, for Ines Fell." in page.locator("#from").inner_text()
    )
    page.get_by_role("button", name="front", exact=True).click()
    page.locator("#step:enabled").wait_for()
    for _ in range(30):
        if NASTY in page.locator("#caption").inner_text():
            break
        page.get_by_role("button", name="the step before").click()
    assert page.locator("#caption h4", has_text=NASTY).count() == 1
    assert page.locator("#paper .story").count() == 1
    page.get_by_role("button", name="all pieces").click()
    page.get_by_role("button", name="back", exact=True).click()
    page.locator("#edges button", has_text="side").hover()
    assert page.locator("#told").inner_text().startswith("back.side: ")
    page.locator("#desk").focus()
    before = page.locator("#paper").get_attribute("transform")
    for key in ("n", "m", "n", "m", "+"):
        page.keyboard.press(key)
    assert "across" in page.locator("#measured").inner_text()
    assert page.locator("#paper").get_attribute("transform") != before
    assert page.locator("#choices input, #choices button").count() == 0
    assert asked == [path.as_uri()]
