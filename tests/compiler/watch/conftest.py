"""A project that is watched."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from oaktag.compiler.cli.options import Given
from oaktag.compiler.watch.answers import Answers
from oaktag.compiler.watch.follow import Follower
from oaktag.compiler.watch.server import Server

# Two panels of 10 by 20 cm; the waist of the first loses 1.6 cm to a dart.
PANELS = """\
pattern "Two panels"

measure waist_girth = 80 cm

choose depth = 20 cm from 10 cm to 40 cm "from waist to hem"
choose tucks = 2 from 0 to 4
choose slit = 4 1/2 in
choose lined = no
choose half = depth / 2

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
  grain from origin right 2 cm down 2 cm to origin right 2 cm down 8 cm

  # the waist is shaped
  dart waist_dart on waist at 1/2 from centre intake 1.6 cm length 8 cm

  # a little flare at the hem
  line flare = waist_dart.point down to hem
  spread flare by 3 cm at hem hinged on waist_dart.point as flare

piece other from panel

allow 1 cm on panel, other
sew panel.side to other.side
cut 1 panel in main
cut 1 other in main
"""
PANELS = PANELS.replace(
    "spread flare by 3 cm at hem hinged on waist_dart.point as flare",
    "close waist_dart by 1/2 into flare",
)

INES = 'body "Ines Fell"\n  waist_girth = 96 cm\n'
CHART = "size,waist_girth [cm]\nsmall,64\nlarge,88\n"


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "project"
    (folder / "bodies").mkdir(parents=True)
    monkeypatch.chdir(folder)
    for name, text in {
        "panels.oak": PANELS,
        "bodies/ines.oak": INES,
        "sizes.csv": CHART,
        "oaktag.toml": "",
    }.items():
        Path(name).write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def watched(project: Path) -> Iterator[Callable[..., Server]]:
    """Serves a file of the project, on a thread of this process, until the test is over."""
    running: list[Server] = []

    def serve(name: str = "panels.oak", port: int = 0, token: str = "", **given: Any) -> Server:
        follower = Follower()
        everything = Given(**{"body": None, "chart": None, "size": None, "settings": {}, **given})
        server = Server(port, token or "nobody-guesses-this", Answers(name, everything, follower))
        follower.start()
        threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        running.append(server)
        return server

    yield serve
    for server in running:
        server.answers.follower.end()
        server.shutdown()
        server.server_close()
