"""Files written whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping


def write_files(contents: Mapping[str, bytes]) -> None:
    """Writes every file beside its place and then, when all are on disk, moves each into it.

    Folders that are missing are made. A file that is replaced keeps its mode; a link stays a link,
    and the file it leads to is replaced. Raises OSError, and then nothing has been replaced, unless
    it is the moving itself that the system refuses.
    """
    waiting: list[tuple[str, str]] = []
    try:
        for path, data in contents.items():
            place = os.path.realpath(path)
            folder, name = os.path.split(place)
            beside = os.path.join(folder, f".{name[:100]}.{os.getpid()}.part")
            if os.path.isdir(place):
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), path)
            os.makedirs(folder, exist_ok=True)
            with naming(path), open(beside, "xb") as file:
                waiting.append((beside, place))
                file.write(data)
            if os.path.exists(place):
                os.chmod(beside, stat.S_IMODE(os.stat(place).st_mode))
        for beside, place in waiting:
            os.replace(beside, place)
    finally:
        for beside, _ in waiting:
            with contextlib.suppress(FileNotFoundError):
                os.unlink(beside)


@contextlib.contextmanager
def naming(path: str) -> Iterator[None]:
    """Refusals name the file that was asked for, not what is written beside it first."""
    try:
        yield
    except OSError as problem:
        problem.filename = path
        raise
