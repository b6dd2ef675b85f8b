"""How far a long job has come."""

from __future__ import annotations

import contextlib
import os
import sys
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


@contextlib.contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """Within it, a call with what is being done shows that on the terminal; after it, nothing.

    Only on a terminal, and there on the error stream: what a command prints stays as it is.
    """
    stream = sys.stderr  # none if the caller has closed it
    shown = stream is not None and stream.isatty() and os.environ.get("TERM") != "dumb"

    def say(words: str) -> None:
        if shown:
            click.echo(f"\r\x1b[K{words}", err=True, nl=False)

    try:
        yield say
    finally:
        say("")
