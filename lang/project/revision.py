"""The files of a project as they were at a revision that git keeps."""

from __future__ import annotations

import os
import re
import subprocess
from typing import TYPE_CHECKING

from oaktag.lang.project.files import DiskFiles, Place, Refused

if TYPE_CHECKING:
    from collections.abc import Sequence


class RevisionFiles(DiskFiles):
    """What is read is what git has of it; patterns that come with oaktag are read as they are now.

    Raises Refused if there is no git, no repository around the path, or no such revision.
    """

    def __init__(self, path: str, revision: str) -> None:
        super().__init__(path)
        self.revision = revision
        self.top = repository(path)
        self.commit = commit(self.top, revision)

    def start(self, path: str) -> Place:
        return Place(os.path.realpath(path), f"{path} at {self.revision}")

    def neighbours(self, place: Place) -> Sequence[str]:
        folder = os.path.relpath(os.path.dirname(place.path), self.top)
        tree = self.commit if folder == os.curdir else f"{self.commit}:{_slashed(folder)}"
        listed = run(self.top, "ls-tree", "--name-only", "-z", tree) or b""
        names = (name.decode(errors="replace") for name in listed.split(b"\0"))
        return sorted(name for name in names if name.endswith(".oak"))

    def read(self, place: Place) -> bytes:
        relative = os.path.relpath(place.path, self.top)
        if relative.startswith(os.pardir):
            return super().read(place)
        data = run(self.top, "cat-file", "blob", f"{self.commit}:{_slashed(relative)}")
        if data is None:
            name = place.name.removesuffix(f" at {self.revision}")
            raise Refused(
                "not-in-revision",
                f"there is no {name} at {self.revision}",
                f"`git log --follow {name}` tells since when there is one",
            )
        return data


def repository(path: str) -> str:
    """The top folder of the repository that a file lies in; or Refused."""
    folder = os.path.dirname(os.path.realpath(path))
    while not os.path.isdir(folder):  # it may be gone by now
        folder = os.path.dirname(folder)
    top = run(folder, "rev-parse", "--show-toplevel")
    if top is None:
        raise Refused(
            "no-repository",
            f"{path} is not in a git repository, so it has no revisions",
            "`git init` makes a repository of the folder; or compare two files: "
            "`oaktag diff OLD NEW`",
        )
    return os.path.realpath(top.decode().rstrip("\n"))


def commit(top: str, revision: str) -> str:
    """The name git gives to a revision; or Refused."""
    found = None
    if not revision.startswith("-"):
        found = run(top, "rev-parse", "--verify", "--quiet", f"{revision}^{{commit}}")
    if found is None:
        raise Refused(
            "no-revision",
            f"git knows no revision `{revision}` here",
            "`git log --oneline` lists them; HEAD~1 is the one before the last",
        )
    return found.decode().strip()


def run(folder: str, *words: str) -> bytes | None:
    """What git answers to a question that changes nothing; none if it has no answer.

    Raises Refused if there is no git.
    """
    try:
        done = subprocess.run(
            ["git", "-C", folder, *words], capture_output=True, check=False, timeout=60
        )
    except FileNotFoundError:
        raise Refused(
            "no-git", "git is not on this machine", "install git, or compare two files"
        ) from None
    except subprocess.TimeoutExpired:
        raise Refused("no-git", "git does not answer", "try again") from None
    return done.stdout if done.returncode == 0 else None


def _slashed(path: str) -> str:
    return path.replace(os.sep, "/")


class Standing(DiskFiles):
    """Other files, but that one of them holds what is given; so a text can be read that lies
    elsewhere for the moment, as if it lay in its place.
    """

    def __init__(self, files: DiskFiles, path: str, data: bytes) -> None:
        self.files = files
        self.root = files.root
        self.path = os.path.realpath(path)
        self.data = data

    def neighbours(self, place: Place) -> Sequence[str]:
        return self.files.neighbours(place)

    def read(self, place: Place) -> bytes:
        return self.data if place.path == self.path else self.files.read(place)


def found_in_history(path: str, folder: str) -> tuple[str, str] | None:
    """Where git keeps the content of a file that lies outside the repository: its path there, and
    the last revision that has it; an empty word where it is staged. None if git has it nowhere.

    folder: any in the repository. git hands out old versions of a file in this way.
    """
    top = repository(os.path.join(folder, "any"))
    blob = run(top, "hash-object", "--no-filters", os.path.realpath(path))
    if blob is None:
        return None
    name = blob.decode().strip()
    staged = run(top, "ls-files", "-s", "-z") or b""
    for entry in staged.split(b"\0"):
        about, _, own = entry.decode(errors="surrogateescape").partition("\t")
        if f" {name} " in f" {about} ":
            return os.path.join(top, own), ""
    brought = run(
        top, "log", "--all", "-1", "--diff-filter=AM", f"--find-object={name}",
        "--format=%H", "--name-only", "-z",
    )  # fmt: skip
    words = [word for word in re.split(r"[\0\n]+", (brought or b"").decode()) if word]
    if len(words) < 2:
        return None
    last, own = words[:2]
    still = run(top, "rev-parse", "--verify", "--quiet", f"{last}:{own}")
    if still is None or still.decode().strip() != name:
        last += "~1"  # it was replaced there: it stood until the one before
    return os.path.join(top, own), last
