"""`oaktag new`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, project: Path) -> None:
    """An empty folder, not the project of the other tests."""
    (tmp_path / "empty").mkdir()
    monkeypatch.chdir(tmp_path / "empty")


def names(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def test_a_project_to_begin_with(oaktag: Callable[..., Result]) -> None:
    result = oaktag("new", "ferry-skirt")
    assert result.exit_code == 0
    assert names(Path()) == [
        "ferry-skirt/.gitignore",
        "ferry-skirt/bodies/marthe.oak",
        "ferry-skirt/ferry-skirt.oak",
        "ferry-skirt/oaktag.toml",
    ]
    text = Path("ferry-skirt/ferry-skirt.oak").read_text(encoding="utf-8")
    assert 'pattern "Ferry skirt"' in text
    assert "oaktag build ferry-skirt.oak --body bodies/marthe.oak" in result.output


def test_nothing_is_overwritten(oaktag: Callable[..., Result]) -> None:
    Path("demo").mkdir()
    Path("demo/mine.oak").write_text("mine")
    result = oaktag("new", "demo")
    assert result.exit_code == 2
    assert "already there" in result.output
    assert names(Path()) == ["demo/mine.oak"]


def test_nor_is_a_file(oaktag: Callable[..., Result]) -> None:
    Path("demo").write_text("mine")
    assert oaktag("new", "demo").exit_code == 2
    assert Path("demo").read_text() == "mine"


def test_in_an_empty_folder_or_a_deeper_one(oaktag: Callable[..., Result]) -> None:
    Path("demo").mkdir()
    assert oaktag("new", "demo").exit_code == 0
    assert oaktag("new", "plays/act two/demo").exit_code == 0
    assert "plays/act two/demo/demo.oak" in names(Path())


@pytest.mark.parametrize(
    "name", ["", ".", "..", "two words", "1st", 'a"b', "-x", "a\nb", "x" * 300]
)
def test_names_that_cannot_be(oaktag: Callable[..., Result], name: str) -> None:
    result = oaktag("new", name)
    assert result.exit_code == 2
    assert names(Path()) == []


def test_the_project_is_fine_as_it_stands(oaktag: Callable[..., Result]) -> None:
    oaktag("new", "demo")
    pattern, body = "demo/demo.oak", "demo/bodies/marthe.oak"
    told = oaktag("check", pattern, body).stdout.splitlines()
    assert [line for line in told if not line.startswith(" ")] == [
        f"{pattern}: fine, 2 pieces",
        f"{body}: fine, a body",
    ]
    assert "front.side" in told[2]
    assert "none" in told[2], "the side seams match"
    assert oaktag("fmt", "--check", pattern, body).exit_code == 0
    made = oaktag("build", pattern, "--body", body, "--to", "svg,dxf,json", "--set", "length=72 cm")
    assert (made.exit_code, made.stderr) == (0, "")
    assert names(Path("out")) == ["demo-marthe.dxf", "demo-marthe.json", "demo-marthe.svg"]


def test_the_women_s_chart_comes_along(oaktag: Callable[..., Result]) -> None:
    """Size 4 of EN 13402-3 has a hip girth of 96 cm; the skirt is 4 cm wider."""
    oaktag("new", "demo")
    chart = ("--chart", "en13402_women", "--size", "4")
    round_hip = "2 * (length(block.front.hip_line) + length(block.back.hip_line))"
    assert oaktag("ask", "demo/demo.oak", round_hip, *chart).stdout == "100 cm\n"
