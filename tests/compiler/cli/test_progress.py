"""How far a long job has come, on a terminal and elsewhere."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

CALL = [sys.executable, "-m", "oaktag.compiler", "build"]
ERASED = "\r\x1b[K"


def on_a_terminal(*call: str, **environment: str) -> str:
    """What a terminal is sent on the error stream."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [*CALL, *call],
        stdout=subprocess.PIPE,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm", **environment},
    ) as running:
        os.close(theirs)
        said = b""
        while True:
            try:
                part = os.read(ours, 4096)
            except OSError:  # the other end is closed
                break
            if not part:
                break
            said += part
        assert b"\x1b" not in running.communicate()[0]
    os.close(ours)
    return said.decode()


def test_each_stage_is_shown_and_nothing_is_left(project: Path) -> None:
    said = on_a_terminal("panel.oak", "--to", "svg,pdf", "--set", "depth=39 cm")
    stages, _, rest = said.rpartition(ERASED)
    shown = [stage for stage in stages.split(ERASED) if stage]
    assert shown[0] == "working the pattern out"
    assert "drawing the svg file" in shown
    assert shown[-1].startswith("drawing the pdf file: page ")
    assert "drawing" not in rest


def test_nothing_is_left_when_the_call_is_wrong(project: Path) -> None:
    said = on_a_terminal("panel.oak", "--to", "plt", "--roll", "5cm")
    assert said.rpartition(ERASED)[2].startswith("Error: ")


def test_a_terminal_that_cannot_erase_is_told_nothing(project: Path) -> None:
    assert "drawing" not in on_a_terminal("panel.oak", TERM="dumb")


def test_elsewhere_nothing_is_told(project: Path) -> None:
    done = subprocess.run([*CALL, "panel.oak"], capture_output=True, text=True, check=True)
    assert "drawing" not in done.stdout + done.stderr
