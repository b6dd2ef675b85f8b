"""For whom a pattern can be made: the bodies of its project, and the sizes of its charts."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING

from oaktag.compiler.cli.options import Given
from oaktag.lang.project.files import SUFFIX, project_root
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST_FOLDERS, DEEPEST, MOST_SIZES = 300, 5, 60
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


def people(path: str, given: Given) -> list[Person]:
    """First as the file has it and as the call has it, then all that are found."""
    found = [person_given(nobody()), person_given(given)]
    charts = [SHIPPED]
    for file in _files(project_root(path)):
        if file.endswith(SUFFIX):
            name = _named(file)
            if name is not None:
                found.append(Person(f"body {file}", name, "bodies", Given(file, None, None, {})))
        else:
            charts.append(file)
    for chart in charts:
        found += _sizes(chart)
    same = [_same(one.given) for one in found]
    return [one for i, one in enumerate(found) if same[i] not in same[:i]]


def _same(given: Given) -> tuple[str, ...]:
    body = os.path.realpath(given.body) if given.body else ""
    return body, given.chart or "", given.size or ""


def _files(root: str) -> Iterator[str]:
    """Bodies and charts may be anywhere in a project; hidden folders and very large ones are not
    looked into.
    """
    for seen, (folder, inside, names) in enumerate(os.walk(root)):
        if seen >= MOST_FOLDERS:
            return
        if os.path.relpath(folder, root).count(os.sep) >= DEEPEST:
            inside.clear()
        inside[:] = sorted(
            name for name in inside if not name.startswith((".", "_")) and name not in ASIDE
        )
        for name in sorted(names):
            if name.endswith((SUFFIX, ".csv")):
                path = os.path.join(folder, name)
                here = os.path.relpath(path)
                yield path if here.startswith(os.pardir) else here


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
