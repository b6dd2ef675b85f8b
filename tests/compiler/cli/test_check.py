"""`oaktag check`."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result


def test_all_is_well(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "body.oak")
    assert (result.exit_code, result.stdout) == (0, "body.oak: fine, a body\n")


def test_warnings_are_told_and_counted(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "panel.oak")
    assert result.exit_code == 0
    assert result.stdout.splitlines()[-1].startswith("panel.oak: ")
    assert "1 piece" in result.stdout.splitlines()[-1]


def test_everything_wrong_in_one_run(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "broken.oak")
    assert result.exit_code == 1
    assert "broken.oak:9" in result.stdout  # a length plus a number
    assert "`centr`" in result.stdout
    assert result.stdout.splitlines()[-1] == "broken.oak: 2 errors"
    assert result.stderr == ""


def test_several_files(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "broken.oak", "panel.oak", "body.oak")
    assert result.exit_code == 1
    closing = [
        line for line in result.stdout.splitlines() if line.startswith(("bro", "pan", "bod"))
    ]
    assert [line.partition(":")[0] for line in closing] == ["broken.oak", "panel.oak", "body.oak"]


def test_for_other_programs(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "broken.oak", "body.oak", "--json")
    assert result.exit_code == 1
    found = json.loads(result.stdout)
    assert [item["line"] for item in found] == [9, 17]
    for item in found:
        assert set(item) == {"severity", "code", "file", "line", "column", "message", "help"}
        assert (item["severity"], item["file"]) == ("error", "broken.oak")


def test_nothing_wrong_for_other_programs(oaktag: Callable[..., Result]) -> None:
    assert json.loads(oaktag("check", "body.oak", "--json").stdout) == []


def test_a_body_that_is_none(oaktag: Callable[..., Result]) -> None:
    result = oaktag("check", "panel.oak", "--body", "panel.oak")
    assert result.exit_code == 1
    assert "no body" in result.stdout


def test_a_broken_body(oaktag: Callable[..., Result]) -> None:
    Path("body.oak").write_text('body "Ines"\n  waist_girth = 96\n', encoding="utf-8")
    result = oaktag("check", "panel.oak", "--body", "body.oak")
    assert result.exit_code == 1
    assert "body.oak:2" in result.stdout


def test_files_that_are_none(oaktag: Callable[..., Result]) -> None:
    Path("binary.oak").write_bytes(bytes(range(256)))
    Path("empty.oak").write_bytes(b"")
    for name in ("binary.oak", "empty.oak"):
        result = oaktag("check", name)
        assert result.exit_code == 1
        assert result.stdout.splitlines()[-1] == f"{name}: 1 error"
    for name in ("missing.oak", "."):
        result = oaktag("check", name)
        assert result.exit_code == 2
        assert name in result.stderr


def test_no_file(oaktag: Callable[..., Result]) -> None:
    assert oaktag("check").exit_code == 2


def on_a_terminal(**changed: str) -> bytes:
    """What a terminal receives from `oaktag check broken.oak`."""
    environment = {key: value for key, value in os.environ.items() if key != "NO_COLOR"}
    ours, theirs = pty.openpty()
    subprocess.run(
        [sys.executable, "-m", "oaktag.compiler", "check", "broken.oak"],
        stdin=subprocess.DEVNULL,
        stdout=theirs,
        stderr=theirs,
        env=environment | {"TERM": "xterm"} | changed,
        check=False,
    )
    os.close(theirs)
    told = os.read(ours, 100_000)
    os.close(ours)
    return told


def test_colour_only_where_it_is_wanted(oaktag: Callable[..., Result]) -> None:
    assert "\x1b" not in oaktag("check", "broken.oak").stdout
    assert b"\x1b[1;31merror:" in on_a_terminal()
    assert b"\x1b" not in on_a_terminal(NO_COLOR="1")
    assert b"\x1b" not in on_a_terminal(TERM="dumb")
