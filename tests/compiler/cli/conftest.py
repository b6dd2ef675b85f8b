"""A small project in a folder of its own, where the commands are run."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

# A panel of 10 by 20 cm whose waist loses 1.6 cm to a dart.
PANEL = """\
pattern "Panel"

measure waist_girth = 80 cm
choose depth = 20 cm from 10 cm to 40 cm
choose tucks = 2

piece panel
  top_left = origin
  top_right = origin right waist_girth/8
  foot_right = top_right down depth
  foot_left = top_left down depth
  outline
    waist = top_left to top_right
    side = top_right to foot_right
    hem = foot_right to foot_left
    centre = foot_left to top_left
  dart waist_dart on waist at 1/2 from centre intake 1.6 cm length 8 cm

cut 2 panel as pair in main
"""

BODY = """\
body "Ines Fell"
  waist_girth = 96 cm
"""

CHART = """\
size,waist_girth [cm]
small,64
large,88
"""

BROKEN = PANEL.replace("/8", "/8 + 1").replace("at 1/2 from centre", "at 1/2 from centr")


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "project"
    folder.mkdir()
    monkeypatch.chdir(folder)
    for name, text in {
        "panel.oak": PANEL,
        "broken.oak": BROKEN,
        "body.oak": BODY,
        "chart.csv": CHART,
        "oaktag.toml": "",
    }.items():
        Path(name).write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def oaktag(project: Path) -> Callable[..., Result]:
    """Runs a command in the project, and sees to it that nobody meets a traceback."""

    def run(*arguments: str) -> Result:
        result = CliRunner().invoke(main, list(arguments))
        assert "Traceback" not in result.output
        assert "fault in Oaktag" not in result.output
        assert result.exit_code in (0, 1, 2)
        return result

    return run
