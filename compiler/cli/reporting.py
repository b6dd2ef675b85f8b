"""The report of `oaktag check`: where it goes, and what is in it."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from oaktag.compiler.cli.file_names import stem_for

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.cli.options import Given
    from oaktag.compiler.cli.project import Work
    from oaktag.compiler.report.sections import Report

ENDINGS = (".html", ".txt")


def check_place(place: str, files: Sequence[str]) -> None:
    """Raises a click error where the reports of these files cannot go to one place."""
    if _is_file(place) and len(files) > 1:
        raise click.UsageError(f"--report: several patterns do not go into {place}; give a folder")


def reported(path: str, work: Work, place: str, given: Given) -> dict[str, bytes]:
    """The report of one pattern, as the files of a folder or the one file that is named."""
    from oaktag.compiler.report.contents import contents
    from oaktag.lang.ast import Choose

    assert work.pattern is not None
    made_for = work.body.name if work.body else ""
    if made_for and given.size:
        made_for = f"size {made_for}"
    meanings = {
        item.target.name: item.description or ""
        for item in work.program.file.statements
        if isinstance(item, Choose)
    }
    report = contents(work.pattern, made_for, work.diagnostics, meanings)
    if _is_file(place):
        return {place: _written(report, work, os.path.splitext(place)[1].lower())}
    name = os.path.join(place, f"{stem_for(path, given)}-report")
    return {f"{name}{ending}": _written(report, work, ending) for ending in ENDINGS}


def _is_file(place: str) -> bool:
    return os.path.splitext(place)[1].lower() in ENDINGS and not os.path.isdir(place)


def _written(report: Report, work: Work, ending: str) -> bytes:
    if ending == ".txt":
        from oaktag.compiler.report.text import as_text

        return as_text(report)
    from oaktag.compiler.report.page import as_page
    from oaktag.compiler.report.pictures import pictures

    assert work.pattern is not None
    return as_page(report, pictures(work.pattern))
