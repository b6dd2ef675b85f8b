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
