"""Files written whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping


def write_files(contents: Mapping[Path, bytes]) -> None:
    """Writes every file beside its place and then, when all are on disk, moves each into it.

    Folders that are missing are made. A file that is replaced keeps its mode; a link stays a link,
    and the file it leads to is replaced. Raises OSError, and then nothing has been replaced, unless
    it is the moving itself that the system refuses.
    """
    waiting: list[tuple[Path, Path]] = []
    try:
        for path, data in contents.items():
            place = Path(os.path.realpath(path))
            if place.is_dir():
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
            place.parent.mkdir(parents=True, exist_ok=True)
            beside = place.with_name(f".{place.name[:100]}.{os.getpid()}.part")
            with naming(path), open(beside, "xb") as file:
                waiting.append((beside, place))
                file.write(data)
            if place.exists():
                os.chmod(beside, stat.S_IMODE(place.stat().st_mode))
        for beside, place in waiting:
            os.replace(beside, place)
    finally:
        for beside, _ in waiting:
            beside.unlink(missing_ok=True)


@contextlib.contextmanager
def naming(path: Path) -> Iterator[None]:
    """Refusals name the file that was asked for, not what is written beside it first."""
    try:
        yield
    except OSError as problem:
        problem.filename = str(path)
        raise
