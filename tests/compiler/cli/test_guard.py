"""No command ends in a traceback, whatever happens."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import click
import pytest

from oaktag.compiler.cli.guard import guarded


def raising(problem: BaseException) -> click.Command:
    def callback() -> None:
        raise problem

    return click.Command("oaktag", callback=callback)


@pytest.mark.parametrize(
    ("problem", "status", "words"),
    [
        (FileNotFoundError(errno.ENOENT, "No such", "a.oak"), 2, "no file or folder `a.oak`"),
        (IsADirectoryError(errno.EISDIR, "Is a", "out"), 2, "`out` is a folder"),
        (NotADirectoryError(errno.ENOTDIR, "Not a", "a.oak/b"), 2, "a file stands where a folder"),
        (PermissionError(errno.EACCES, "Permission", "a.oak"), 2, "permissions"),
        (OSError(errno.ENOSPC, "No space left", "a.svg"), 2, "the disk is full"),
        (OSError(errno.EROFS, "Read-only", "a.svg"), 2, "can only be read"),
        (
            OSError(errno.EIO, "Input/output error", "a.svg"),
            2,
            "the disk does not answer as it should",
        ),
        (OSError("odd"), 2, "the output: odd"),
        (ZeroDivisionError("division by zero"), 1, "a fault in Oaktag"),
        (RecursionError("too deep"), 1, "a fault in Oaktag"),
        (MemoryError(), 1, "a fault in Oaktag"),
        (KeyboardInterrupt(), 130, "\n"),
    ],
)
def test_plain_words(
    problem: BaseException, status: int, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert guarded(raising(problem).main, []) == status
    told = capsys.readouterr()
    assert told.out == ""
    assert words in told.err
    assert "Traceback" not in told.err
    assert "None" not in told.err


def test_a_fault_names_the_call(capsys: pytest.CaptureFixture[str]) -> None:
    command = raising(LookupError("x"))
    command.params.append(click.Argument(["word"], expose_value=False))
    assert guarded(command.main, ["two words"]) == 1
    assert "oaktag 'two words'" in capsys.readouterr().err


def test_developers_see_the_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("OAKTAG_TRACEBACK", "1")
    with pytest.raises(LookupError):
        guarded(raising(LookupError("x")).main, [])


CHATTY = """
import sys
import click
from oaktag.compiler.cli.guard import guarded
def callback():
    for _ in range(100_000):
        click.echo("a line that nobody reads")
sys.exit(guarded(click.Command("oaktag", callback=callback).main, []))
"""


def test_a_reader_who_has_seen_enough() -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", CHATTY], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.readline()
    process.stdout.close()
    assert process.stderr.read() == b""
    process.stderr.close()
    process.wait(30)


@pytest.mark.parametrize(
    ("encoding", "shown"), [("latin-1", b"cm\xb2 ?"), ("utf-8", b"cm\xc2\xb2 ?")]
)
def test_letters_the_terminal_lacks(encoding: str, shown: bytes) -> None:
    code = (
        "import sys, click; from oaktag.compiler.cli.guard import guarded\n"
        "call = click.Command('oaktag', callback=lambda: click.echo('cm\\u00b2 \\udcff'))\n"
        "sys.exit(guarded(call.main, []))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": encoding},
        check=False,
    )
    assert (done.returncode, done.stdout.rstrip(), done.stderr) == (0, shown, b"")


@pytest.mark.parametrize(
    ("command", "output", "status", "words"),
    [
        ("--version", ">/dev/full", 2, b"the output could not be written: the disk is full"),
        ("check empty.oak", ">/dev/full", 2, b"the output could not be written: the disk is full"),
        ("--version", ">&-", 0, b""),
        ("check empty.oak", ">&-", 1, b""),
    ],
)
def test_output_that_goes_nowhere(
    command: str, output: str, status: int, words: bytes, project: Path
) -> None:
    Path("empty.oak").touch()
    call = f'"{sys.executable}" -m oaktag.compiler {command} {output}'
    done = subprocess.run(["sh", "-c", call], capture_output=True, check=False)
    assert done.returncode == status
    assert words in done.stderr
    assert len(done.stderr.splitlines()) == bool(words)
