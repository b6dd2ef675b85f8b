"""Disks that are full, small or closed: plain words, and old files as they were."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

ALL = ("--to", "svg,dxf,json,pdf,plt", "--roll", "914mm")


def build(*options: str, most: int | None = None) -> subprocess.CompletedProcess[str]:
    """Runs `oaktag build panel.oak` in a process of its own, whose files may have `most` bytes."""

    def limited() -> None:
        if most is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

    call = [sys.executable, "-m", "oaktag.compiler", "build", "panel.oak", *options]
    return subprocess.run(call, capture_output=True, text=True, preexec_fn=limited, timeout=100)


def everything(folder: str) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in Path(folder).rglob("*") if path.is_file()}


def refused(done: subprocess.CompletedProcess[str], words: str) -> None:
    assert done.returncode == 2
    assert words in done.stderr
    assert done.stdout == ""
    assert "Traceback" not in done.stderr


@pytest.fixture
def mounted(project: Path) -> Iterator[Callable[[str], str]]:
    """`mounted("size=64k")`: a disk of memory of its own; only the superuser can have one."""
    places: list[Path] = []

    def mount(options: str) -> str:
        tool = shutil.which("mount")
        place = project / "disk"
        place.mkdir(exist_ok=True)
        call = [tool or "mount", "-t", "tmpfs", "-o", options, "tmpfs", str(place)]
        if tool is None or subprocess.run(call, capture_output=True, check=False).returncode:
            pytest.skip("no disk of memory can be had here")
        places.append(place)
        return str(place)

    yield mount
    for place in places:
        subprocess.run(["umount", str(place)], check=True)


def test_a_disk_that_fills_up_in_the_middle(mounted: Callable[[str], str]) -> None:
    """The first files still fit, the last does not: none of the old ones is replaced."""
    out = os.path.join(mounted("size=40k"), "out")
    assert build("-o", out, "--to", "svg,json").returncode == 0
    before = everything(out)
    refused(build("-o", out, *ALL, "--set", "depth=30 cm"), "the disk is full")
    assert everything(out) == before


def test_a_disk_that_can_only_be_read(mounted: Callable[[str], str]) -> None:
    out = os.path.join(mounted("ro"), "out")
    refused(build("-o", out), "the disk can only be read")


def test_a_file_that_may_not_grow(project: Path) -> None:
    """The same where no disk can be made: a file of more than 8,000 bytes is refused."""
    assert build("--to", "svg").returncode == 0
    before = everything("out")
    done = build("--to", "svg,dxf", "--set", "depth=30 cm", most=8000)
    refused(done, "`out/panel.dxf` could not be written: it would be larger")
    assert everything("out") == before


def test_what_is_printed_finds_no_room(project: Path) -> None:
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("there is no device that is always full")
    call = [sys.executable, "-m", "oaktag.compiler", "build", "panel.oak"]
    with full.open("wb") as stream:
        done = subprocess.run(
            call, stdout=stream, stderr=subprocess.PIPE, text=True, check=False, timeout=100
        )
    assert done.returncode == 2
    assert "the output could not be written: the disk is full" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("out", "words"),
    [
        ("panel.oak", "panel.oak"),
        ("panel.oak/deeper", "panel.oak"),
        ("/dev/null/out", "/dev/null"),
        ("circle/out", "circle"),
    ],
)
def test_folders_that_cannot_be(project: Path, out: str, words: str) -> None:
    Path("circle").symlink_to("circle")
    before = everything(".")
    refused(build("-o", out), words)
    assert everything(".") == before
