"""For whom a pattern can be made: the bodies of its project, and the sizes of its charts."""

from __future__ import annotations

import itertools
import os
import re
import time
from typing import TYPE_CHECKING

from oaktag.compiler.cli.options import Given
from oaktag.compiler.watch.follow import mark
from oaktag.lang.project.files import SUFFIX, project_root
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.watch.follow import Mark

MOST_FOLDERS, DEEPEST, MOST_FILES, MOST_SIZES = 300, 5, 1000, 60
LOOKED = 2.0  # seconds for which what was found is good
ASIDE = ("node_modules", "out", "build")
LARGEST = 200_000  # bytes: no body and no chart is larger
_BODY = re.compile(r'(?:\s*(?:#[^\n]*)?\n|\s*oaktag\s+\d+[^\n]*\n)*body\s+"(?P<name>[^"\n]*)"')
_CHART = re.compile(r"\w+\s*\[\s*(?:mm|cm|m|in|ft|yd)\s*\]")
SHIPPED = "en13402_women"


class Person(Record):
    """A body or a size. key: the same for the same one. given: as if it were named in a call."""

    key: str
    label: str
    group: str
    given: Given


def nobody(settings: dict[str, str] | None = None) -> Given:
    return Given(None, None, None, settings or {})


def person_given(given: Given) -> Person:
    """The body or size that the command was called with."""
    if given.body:
        return Person(f"body {given.body}", _named(given.body) or given.body, "", given)
    if given.chart and given.size:
        label = f"size {given.size}"
        return Person(f"size {given.chart} {given.size}", label, "", given)
    return Person("", "the measures in the file", "", given)


class People:
    """First as the file has it and as the call has it, then all that are found in its project.

    A file is read again only when it has changed.
    """

    def __init__(self, path: str, given: Given) -> None:
        self.path = path
        self.given = given
        self._read: dict[str, tuple[Mark, list[Person]]] = {}
        self._looked = float("-inf")
        self._found: list[Person] = []

    def found(self) -> list[Person]:
        now = time.monotonic()
        if now - self._looked > LOOKED:
            self._looked, self._found = now, self._all()
        return self._found

    def _all(self) -> list[Person]:
        found = [person_given(nobody()), person_given(self.given)]
        charts: list[Person] = []
        for file in _files(project_root(self.path)):
            now = mark(file)
            if file not in self._read or self._read[file][0] != now:
                self._read[file] = now, _in(file)
            (found if file.endswith(SUFFIX) else charts).extend(self._read[file][1])
        if SHIPPED not in self._read:
            self._read[SHIPPED] = None, _sizes(SHIPPED)
        found += [*charts, *self._read[SHIPPED][1]]
        seen: dict[tuple[str, ...], Person] = {}
        for one in found:
            seen.setdefault(_same(one.given), one)
        return list(seen.values())


def _in(file: str) -> list[Person]:
    if not file.endswith(SUFFIX):
        return _sizes(file)
    name = _named(file)
    if name is None:
        return []
    return [Person(f"body {file}", name, "bodies", Given(file, None, None, {}))]


def _same(given: Given) -> tuple[str, ...]:
    body = os.path.realpath(given.body) if given.body else ""
    return body, given.chart or "", given.size or ""


def _files(root: str) -> Iterator[str]:
    """Bodies and charts may be anywhere in a project; hidden folders are not looked into, nor more
    than a project has.
    """
    found = itertools.chain.from_iterable(_folders(root))
    for path in itertools.islice(found, MOST_FILES):
        here = os.path.relpath(path)
        yield path if here.startswith(os.pardir) else here


def _folders(root: str) -> Iterator[list[str]]:
    for folder, inside, names in itertools.islice(os.walk(root), MOST_FOLDERS):
        if os.path.relpath(folder, root).count(os.sep) >= DEEPEST:
            inside.clear()
        inside[:] = sorted(
            name for name in inside if not name.startswith((".", "_")) and name not in ASIDE
        )
        yield [
            os.path.join(folder, name) for name in sorted(names) if name.endswith((SUFFIX, ".csv"))
        ]


def _start(path: str) -> str:
    try:
        if os.path.getsize(path) > LARGEST:
            return ""
        with open(path, encoding="utf-8-sig") as file:
            return file.read()
    except (OSError, UnicodeDecodeError, ValueError):
        return ""


def _named(path: str) -> str | None:
    """The name of the body in a file; none if it is no body."""
    found = _BODY.match(_start(path))
    return found["name"] if found else None


def _sizes(chart: str) -> list[Person]:
    from oaktag.compiler.cli.project import chart_path

    lines = [
        line
        for line in _start(chart_path(chart)).splitlines()
        if line.strip(" \t,;") and not line.lstrip().startswith("#")
    ]
    if not lines or not _CHART.search(lines[0]):
        return []
    names = list(dict.fromkeys(line.split(",")[0].strip().strip('"') for line in lines[1:]))
    where = os.path.splitext(os.path.basename(chart))[0]
    return [
        Person(f"size {chart} {name}", f"size {name}", where, Given(None, chart, name, {}))
        for name in names[:MOST_SIZES]
        if name
    ]
