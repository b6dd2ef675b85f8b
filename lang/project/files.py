"""Where the files of a project are, and the limits of what a pattern may read.

A pattern reads nothing outside its project: the nearest folder upward that holds `oaktag.toml` or
`.git`, else its own folder. Patterns that come with oaktag read each other.
"""

from __future__ import annotations

import os
import stat
from typing import TYPE_CHECKING, Protocol

from oaktag.lang.syntax.layout import LONGEST
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Sequence

PROJECT_MARKS = ("oaktag.toml", ".git")
MOST_BYTES = 4 * LONGEST  # no text of the greatest length is longer
SUFFIX = ".oak"


class Place(Record):
    """A file. path: the same for the same file, however it was reached. name: how it is shown."""

    path: str
    name: str


class Refused(Exception):  # noqa: N818  (the file is refused; nothing failed)
    """A file that cannot be had: why, and the way out."""

    def __init__(self, code: str, message: str, help: str = "") -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.help = help


class Files(Protocol):
    """What loading a program needs to know of the files around it."""

    def start(self, path: str) -> Place:
        """The file a person has named."""

    def beside(self, place: Place, path: str) -> Place:
        """The file that a path means when it stands in the file at `place`; or Refused."""

    def stdlib(self, name: str) -> Place | None:
        """The pattern `skirts.straight` that comes with oaktag, if there is one."""

    def stdlib_names(self) -> Sequence[str]:
        """All of them."""

    def neighbours(self, place: Place) -> Sequence[str]:
        """The names of the patterns in the folder where the file at `place` lies."""

    def read(self, place: Place) -> bytes:
        """What the file holds; or Refused."""


class DiskFiles:
    """The files of the project that a path lies in, on this machine's disk."""

    def __init__(self, path: str) -> None:
        self.root = project_root(path)

    def start(self, path: str) -> Place:
        return Place(os.path.realpath(path), path)

    def beside(self, place: Place, path: str) -> Place:
        if os.path.isabs(path):
            raise Refused(
                "outside-project",
                f"`{path}` begins at the root of the disk",
                "write the path as it goes from this file, like `../blocks/skirt.oak`",
            )
        root = self.root
        shipped = _stdlib_folder()
        if _lies_in(place.path, shipped):
            root = shipped
        try:
            real = os.path.realpath(os.path.join(os.path.dirname(place.path), path))
        except (OSError, ValueError):
            raise Refused("no-file", f"`{path}` is no name a file can have") from None
        if not _lies_in(real, root):
            raise Refused(
                "outside-project",
                f"`{path}` lies outside the project",
                f"copy it into {os.path.basename(root) or root}, or mark a folder further up as "
                f"the project with an empty file `{PROJECT_MARKS[0]}`",
            )
        return Place(real, os.path.normpath(os.path.join(os.path.dirname(place.name), path)))

    def stdlib(self, name: str) -> Place | None:
        relative = name.replace(".", os.sep) + SUFFIX
        path = os.path.join(_stdlib_folder(), relative)
        if not os.path.isfile(path):
            return None
        return Place(path, os.path.join("oaktag", "stdlib", relative))

    def stdlib_names(self) -> Sequence[str]:
        folder = _stdlib_folder()
        found = []
        for where, _, names in os.walk(folder):
            inside = os.path.relpath(where, folder)
            parts = [] if inside == os.curdir else inside.split(os.sep)
            found += [
                ".".join([*parts, name.removesuffix(SUFFIX)])
                for name in names
                if name.endswith(SUFFIX)
            ]
        return sorted(found)

    def neighbours(self, place: Place) -> Sequence[str]:
        try:
            names = os.listdir(os.path.dirname(place.path))
        except OSError:
            return []
        return sorted(name for name in names if name.endswith(SUFFIX))

    def read(self, place: Place) -> bytes:
        try:
            # Asked before it is opened: opening a pipe would wait for ever.
            found = os.stat(place.path)
            if stat.S_ISDIR(found.st_mode):
                raise Refused("no-file", f"{place.name} is a folder, not a file")
            if not stat.S_ISREG(found.st_mode):
                raise Refused("no-file", f"{place.name} is not a file one can read")
            if found.st_size > MOST_BYTES:
                raise Refused(
                    "too-big",
                    f"{place.name} has {found.st_size:,} bytes; at most {MOST_BYTES:,} are read",
                    "divide it into several patterns and `use` them",
                )
            with open(place.path, "rb") as file:
                return file.read(MOST_BYTES + 1)
        except (FileNotFoundError, NotADirectoryError):
            raise Refused("no-file", f"there is no file {place.name}") from None
        except PermissionError:
            raise Refused("no-file", f"{place.name} may not be read") from None
        except (OSError, ValueError):
            raise Refused("no-file", f"{place.name} cannot be read") from None


def project_root(path: str) -> str:
    """The project a file belongs to."""
    own = folder = os.path.dirname(os.path.realpath(path))
    while True:
        if any(os.path.exists(os.path.join(folder, mark)) for mark in PROJECT_MARKS):
            return folder
        above = os.path.dirname(folder)
        if above == folder:
            return own
        folder = above


def _lies_in(path: str, folder: str) -> bool:
    return path == folder or path.startswith(folder.rstrip(os.sep) + os.sep)


def _stdlib_folder() -> str:
    import oaktag.stdlib

    return os.path.dirname(os.path.realpath(oaktag.stdlib.__file__))
