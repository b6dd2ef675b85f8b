"""Whatever happens, plain words: no command ends in a traceback."""

from __future__ import annotations

import errno
import os
import sys
from typing import TYPE_CHECKING

import click

from oaktag import __version__

if TYPE_CHECKING:
    from collections.abc import Callable

FINE, PATTERN_WRONG, CALL_WRONG = 0, 1, 2
OUR_FAULT = 1
INTERRUPTED = 130  # what a shell expects of a command stopped with Ctrl-C

_WORDS = {
    errno.ENOENT: "there is no file or folder {}",
    errno.EISDIR: "{} is a folder, where a file is needed",
    errno.ENOTDIR: "{}: a file stands where a folder is needed",
    errno.EACCES: "{} may not be read or written by you; look at its permissions",
    errno.EPERM: "{} may not be read or written by you; look at its permissions",
    errno.EEXIST: "{} is already there",
    errno.ENOSPC: "{} could not be written: the disk is full",
    errno.EFBIG: "{} could not be written: it would be larger than a file may be here",
    errno.EIO: "{}: the disk does not answer as it should; try another",
    errno.ELOOP: "{} is a link that leads in a circle",
    errno.EDQUOT: "{} could not be written: your share of the disk is full",
    errno.EROFS: "{} could not be written: the disk can only be read",
    errno.ENAMETOOLONG: "{}: the name is too long",
}


def guarded(run: Callable[..., object], arguments: list[str]) -> int:
    """Runs a click command with these arguments and answers with its exit status.

    Whoever reads the output may stop before its end: click ends quietly, with status 1.
    """
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter shows `?` rather than stopping the work.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        status = run(arguments, prog_name="oaktag", standalone_mode=False)
        return status if isinstance(status, int) else FINE
    except click.ClickException as problem:
        problem.show()
        return CALL_WRONG
    except click.Abort:
        click.echo(err=True)
        return INTERRUPTED
    except OSError as problem:
        if problem.filename is None:
            # What could not be written is the output itself; the last flush would fail again.
            sys.stdout = None
        click.echo(f"Error: {plain(problem)}", err=True)
        return CALL_WRONG
    except Exception as problem:
        if os.environ.get("OAKTAG_TRACEBACK"):
            raise
        import shlex

        call = shlex.join(["oaktag", *arguments])
        click.echo(
            f"Error: this is a fault in Oaktag {__version__}, not in your pattern "
            f"({type(problem).__name__}: {problem}). Please report it, with your file and "
            f"this call: {call}",
            err=True,
        )
        return OUR_FAULT


def plain(problem: OSError) -> str:
    """What the system refused, in words."""
    name = f"`{os.fsdecode(problem.filename)}`" if problem.filename is not None else "the output"
    words = _WORDS.get(problem.errno or 0)
    return words.format(name) if words else f"{name}: {(problem.strerror or str(problem)).lower()}"
