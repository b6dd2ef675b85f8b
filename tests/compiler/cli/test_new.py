"""`oaktag new`."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def names(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def test_a_project_to_begin_with() -> None:
    result = CliRunner().invoke(main, ["new", "ferry-skirt"])
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


def test_nothing_is_overwritten() -> None:
    Path("demo").mkdir()
    Path("demo/mine.oak").write_text("mine")
    result = CliRunner().invoke(main, ["new", "demo"])
    assert result.exit_code == 2
    assert "already there" in result.output
    assert names(Path()) == ["demo/mine.oak"]


def test_nor_is_a_file() -> None:
    Path("demo").write_text("mine")
    assert CliRunner().invoke(main, ["new", "demo"]).exit_code == 2
    assert Path("demo").read_text() == "mine"


def test_in_an_empty_folder_or_a_deeper_one() -> None:
    Path("demo").mkdir()
    assert CliRunner().invoke(main, ["new", "demo"]).exit_code == 0
    assert CliRunner().invoke(main, ["new", "plays/act two/demo"]).exit_code == 0
    assert "plays/act two/demo/demo.oak" in names(Path())


@pytest.mark.parametrize(
    "name", ["", ".", "..", "two words", "1st", 'a"b', "-x", "a\nb", "x" * 300]
)
def test_names_that_cannot_be(name: str) -> None:
    result = CliRunner().invoke(main, ["new", name])
    assert result.exit_code == 2
    assert "Traceback" not in result.output
    assert names(Path()) == []
