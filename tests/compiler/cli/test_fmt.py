"""`oaktag fmt`."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

UNTIDY = b'pattern  "Panel"\r\n\r\n\r\nmeasure waist_girth=80cm   # taken over the skirt\r\n'
TIDY = b'pattern "Panel"\n\nmeasure waist_girth = 80 cm  # taken over the skirt\n'


def test_tidies_in_place(oaktag: Callable[..., Result]) -> None:
    path = Path("untidy.oak")
    path.write_bytes(UNTIDY)
    path.chmod(0o640)
    result = oaktag("fmt", "untidy.oak")
    assert (result.exit_code, result.stdout) == (0, "untidy.oak is tidied\n")
    assert path.read_bytes() == TIDY
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert oaktag("fmt", "untidy.oak").stdout == ""


def test_what_is_tidy_is_not_touched(oaktag: Callable[..., Result]) -> None:
    Path("panel.oak").chmod(0o444)
    before = Path("panel.oak").stat()
    assert oaktag("fmt", "panel.oak").exit_code == 0
    after = Path("panel.oak").stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_check_changes_nothing(oaktag: Callable[..., Result]) -> None:
    Path("untidy.oak").write_bytes(UNTIDY)
    result = oaktag("fmt", "--check", "panel.oak", "untidy.oak")
    assert (result.exit_code, result.stdout) == (1, "untidy.oak would change\n")
    assert Path("untidy.oak").read_bytes() == UNTIDY
    assert oaktag("fmt", "--check", "panel.oak").exit_code == 0


def test_a_file_that_cannot_be_read_is_left_alone(oaktag: Callable[..., Result]) -> None:
    Path("binary.oak").write_bytes(b"\x00\x01")
    Path("tabs.oak").write_bytes(b'body "Ines"\n\twaist_girth = 80 cm\n')
    Path("untidy.oak").write_bytes(UNTIDY)
    result = oaktag("fmt", "binary.oak", "tabs.oak", "untidy.oak")
    assert result.exit_code == 1
    assert "binary.oak" in result.stderr
    assert "tabs.oak:2" in result.stderr
    assert Path("binary.oak").read_bytes() == b"\x00\x01"
    assert Path("tabs.oak").read_bytes() == b'body "Ines"\n\twaist_girth = 80 cm\n'
    assert Path("untidy.oak").read_bytes() == TIDY


def test_a_missing_file(oaktag: Callable[..., Result]) -> None:
    assert oaktag("fmt", "missing.oak").exit_code == 2
