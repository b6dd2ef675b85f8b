"""Files are written whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from oaktag.compiler.cli.write import write_files


def everything(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_writes_into_folders_it_makes(tmp_path: Path) -> None:
    write_files({str(tmp_path / "out/deep/a.svg"): b"a", str(tmp_path / "out/b.dxf"): b"b"})
    assert everything(tmp_path) == {"out/deep/a.svg": b"a", "out/b.dxf": b"b"}


def test_one_that_cannot_be_written_leaves_all_as_they_were(tmp_path: Path) -> None:
    (tmp_path / "a.svg").write_bytes(b"old")
    (tmp_path / "b.dxf").mkdir()
    with pytest.raises(IsADirectoryError) as problem:
        write_files({str(tmp_path / "a.svg"): b"new", str(tmp_path / "b.dxf"): b"new"})
    assert problem.value.filename == str(tmp_path / "b.dxf")
    assert everything(tmp_path) == {"a.svg": b"old"}


def test_a_refused_move_leaves_no_rubbish(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(OSError, match="No space"):
        write_files({str(tmp_path / "a.svg"): b"new"})
    assert everything(tmp_path) == {}


def test_a_file_stands_where_the_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"old")
    with pytest.raises(OSError) as problem:
        write_files({str(tmp_path / "out/a.svg"): b"new"})
    assert str(tmp_path / "out") in str(problem.value.filename)
    assert everything(tmp_path) == {"out": b"old"}


def test_mode_and_links_are_kept(tmp_path: Path) -> None:
    kept = tmp_path / "kept.oak"
    kept.write_bytes(b"old")
    kept.chmod(0o640)
    link = tmp_path / "link.oak"
    link.symlink_to("kept.oak")
    write_files({str(link): b"new"})
    assert link.is_symlink()
    assert kept.read_bytes() == b"new"
    assert stat.S_IMODE(kept.stat().st_mode) == 0o640


def test_a_new_file_has_the_usual_mode(tmp_path: Path) -> None:
    (tmp_path / "usual").write_bytes(b"")
    write_files({str(tmp_path / "a.svg"): b""})
    assert (tmp_path / "a.svg").stat().st_mode == (tmp_path / "usual").stat().st_mode
