"""`oaktag story`, and the names of its files."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.cli.file_names import file_names

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

MANY = """\
pattern "Many"
piece Gore
  strip 20 cm by 10 cm
piece gore
  strip 20 cm by 10 cm
piece größe
  strip 20 cm by 10 cm
repeat i from 1 to 2
  piece panel[i]
    strip 20 cm by 10 cm
"""


def files(folder: str = "out") -> list[str]:
    found = Path(folder).rglob("*")
    return sorted(str(path.relative_to(folder)) for path in found if path.is_file())


def test_writes_and_tells(oaktag: Callable[..., Result]) -> None:
    result = oaktag("story", "panel.oak", "-o", "stories/today")
    assert result.exit_code == 0
    assert files("stories/today") == [
        "panel-story.html",
        "panel-story/panel/01-outline.svg",
        "panel-story/panel/02-dart.svg",
        "panel-story/panel/sheet.svg",
    ]
    assert result.stdout.splitlines() == [
        "panel: 2 steps",
        "",
        "wrote stories/today/panel-story.html",
        "wrote stories/today/panel-story/panel/sheet.svg",
        "wrote 2 pictures of single steps, in stories/today/panel-story",
    ]
    assert "is not trimmed" in result.stderr  # the warning of check


def test_bodies_and_settings(oaktag: Callable[..., Result]) -> None:
    for number, options in enumerate(([], ["--body", "body.oak"], ["--set", "depth=30 cm"])):
        assert oaktag("story", "panel.oak", "-o", str(number), *options).exit_code == 0
    pages = [Path(f"{number}/panel-story.html").read_text(encoding="utf-8") for number in range(3)]
    assert ["<td>10 cm</td>" in page for page in pages] == [True, False, True]
    assert ["<td>12 cm</td>" in page for page in pages] == [False, True, False]
    assert ["<td>30 cm</td>" in page for page in pages] == [False, False, True]
    assert ["<h1>Panel, for Ines Fell</h1>" in page for page in pages] == [False, True, False]


def test_one_piece(oaktag: Callable[..., Result]) -> None:
    Path("many.oak").write_text(MANY, encoding="utf-8")
    assert oaktag("story", "many.oak", "--piece", "panel[2]").exit_code == 0
    assert files() == [
        "many-story.html",
        "many-story/panel-2/01-strip.svg",
        "many-story/panel-2/sheet.svg",
    ]


def test_names_of_pieces_become_safe_names_of_files(oaktag: Callable[..., Result]) -> None:
    Path("many.oak").write_text(MANY, encoding="utf-8")
    assert oaktag("story", "many.oak").exit_code == 0
    folders = sorted(path.name for path in Path("out/many-story").iterdir())
    assert folders == ["Gore", "gore-2", "größe", "panel-1", "panel-2"]


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (["panel.oak", "--piece", "panle"], "did you mean `panel`?"),
        (["panel.oak", "--piece", "x" * 9], "it has `panel`"),
        (["body.oak"], "is a body"),
        (["missing.oak"], "missing.oak"),
        (["panel.oak", "--body", "body.oak", "--size", "small"], "--size"),
        (["panel.oak", "-o", "body.oak"], "body.oak` is already there"),
    ],
)
def test_calls_that_are_wrong(oaktag: Callable[..., Result], given: list[str], words: str) -> None:
    result = oaktag("story", *given)
    assert result.exit_code == 2
    assert words in result.stderr
    assert not Path("out").exists()


def test_a_pattern_without_pieces(oaktag: Callable[..., Result]) -> None:
    Path("head.oak").write_text('pattern "Head"\nchoose depth = 3 cm\n', encoding="utf-8")
    result = oaktag("story", "head.oak")
    assert result.exit_code == 2
    assert "no story to tell" in result.stderr


def test_nothing_is_written_if_anything_is_wrong(oaktag: Callable[..., Result]) -> None:
    result = oaktag("story", "broken.oak")
    assert result.exit_code == 1
    assert "broken.oak:9" in result.stderr
    assert result.stderr.splitlines()[-1] == "broken.oak: 2 errors; nothing is written"
    assert result.stdout == ""
    assert not Path("out").exists()


def test_whole_or_not_at_all(oaktag: Callable[..., Result]) -> None:
    """A folder stands where the last of the files should go: none of them is written."""
    Path("out/panel-story/panel/sheet.svg").mkdir(parents=True)
    result = oaktag("story", "panel.oak")
    assert result.exit_code == 2
    assert "sheet.svg" in result.stderr
    assert files() == []


def test_pictures_of_an_earlier_run_are_told_and_left_alone(oaktag: Callable[..., Result]) -> None:
    assert oaktag("story", "panel.oak").exit_code == 0
    text = Path("panel.oak").read_text(encoding="utf-8")
    Path("panel.oak").write_text(text.replace("  dart", "  grain along side\n  dart"), "utf-8")
    result = oaktag("story", "panel.oak")
    old = "out/panel-story/panel/02-dart.svg"
    assert result.stdout.splitlines()[-1] == (
        f"no longer part of the story, from an earlier run: {old}"
    )
    assert Path(old).exists()


def test_help_shows_an_example(oaktag: Callable[..., Result]) -> None:
    result = oaktag("story", "--help")
    assert "oaktag story ferry.oak --body bodies/marthe.oak -o out" in result.stdout
    assert "--piece NAME" in result.stdout


def test_long_jobs_tell_how_far_they_are(
    oaktag: Callable[..., Result], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "%" not in oaktag("story", "panel.oak").stderr
    monkeypatch.setattr("oaktag.compiler.cli.story.PATIENCE", 0.0)
    told = [line for line in oaktag("story", "panel.oak").stderr.splitlines() if "%" in line]
    assert told[0] == "drawing panel: 25 % of all is done"
    assert told[-1] == "drawing panel: 100 % of all is done"


def test_same_bytes_in_any_process(oaktag: Callable[..., Result], project: Path) -> None:
    Path("many.oak").write_text(MANY, encoding="utf-8")
    made = []
    for seed, folder in (("1", "first"), ("2", "second")):
        for file in ("panel.oak", "many.oak"):
            subprocess.run(
                [sys.executable, "-m", "oaktag.compiler", "story", file, "-o", folder],
                env=os.environ | {"PYTHONHASHSEED": seed, "LC_ALL": "C"},
                capture_output=True,
                check=True,
            )
        made.append({name: (project / folder / name).read_bytes() for name in files(folder)})
    assert len(made[0]) == 15
    assert made[0] == made[1]


def test_where_the_project_lies_is_not_told(oaktag: Callable[..., Result], project: Path) -> None:
    """The same pattern by its full path gives the same bytes."""
    assert oaktag("story", "panel.oak", "-o", "near").exit_code == 0
    assert oaktag("story", str(project / "panel.oak"), "-o", "far").exit_code == 0
    for name in files("near"):
        assert Path("near", name).read_bytes() == Path("far", name).read_bytes()


# -- names of files


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("front", "front"),
        ("front.yoke", "front-yoke"),
        ("gore[12]", "gore-12"),
        ("waist_dart", "waist_dart"),
        ("裁断", "裁断"),
        ("क्षेत्र", "क्षेत्र"),
        ("e\u0301toffe", "étoffe"),
        ("../../etc/passwd", "etc-passwd"),
        ('a/b\\c:d*e?f"g<h>i|j', "a-b-c-d-e-f-g-h-i-j"),
        ("con", "con-"),
        ("COM1", "COM1-"),
        ("...", "unnamed"),
        ("", "unnamed"),
        ("x" * 300, "x" * 50),
    ],
)
def test_file_names(name: str, safe: str) -> None:
    assert file_names([name]) == [safe]


def test_no_two_files_have_one_name() -> None:
    names = ["a.b", "a[b]", "A-B", "a-b-2", "ﬁne", "fine"]
    assert file_names(names) == ["a-b", "a-b-2", "A-B-3", "a-b-2-2", "ﬁne", "fine-2"]
    found = file_names(["é", "e\u0301", "É"])
    assert len({one.casefold() for one in found}) == 3


def test_of_a_copy_its_own_steps_are_told(oaktag: Callable[..., Result], project: Path) -> None:
    text = Path("panel.oak").read_text(encoding="utf-8")
    copies = "piece other from panel\n  mirror\npiece same from panel\n"
    Path("two.oak").write_text(f'{text}revision "3"\n{copies}', encoding="utf-8")
    told = oaktag("story", "two.oak", "--set", "tucks=3").stdout.splitlines()
    assert told[:3] == [
        "panel: 2 steps",
        "other: 1 step more: begins as panel, see there",
        "same: no steps more: begins as panel, see there",
    ]
    assert "wrote 3 pictures of single steps, in out/two-story" in told
    page = Path("out/two-story.html").read_text(encoding="utf-8")
    assert "<p>other begins as panel, see there.</p>" in page
    assert "<p>revision 3, set: tucks 3</p>" in page
    sheet = Path("out/two-story/other/sheet.svg").read_text(encoding="utf-8")
    assert "begins as panel, see there; revision 3, set: tucks 3" in sheet


def test_all_of_a_copy_if_asked(oaktag: Callable[..., Result], project: Path) -> None:
    text = Path("panel.oak").read_text(encoding="utf-8")
    Path("two.oak").write_text(f"{text}piece other from panel\n  mirror\n", encoding="utf-8")
    assert "wrote 5 pictures" in oaktag("story", "two.oak", "--all").stdout
    assert "wrote 3 pictures" in oaktag("story", "two.oak", "--piece", "other").stdout
