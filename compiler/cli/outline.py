"""`oaktag outline`: a pattern in figures, alone or beside its text."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.options import FILE_NAME, Given, with_given
from oaktag.compiler.cli.output import counts, tell
from oaktag.compiler.cli.project import work_out

if TYPE_CHECKING:
    from oaktag.compiler.cli.project import Work


@click.command()
@click.argument("file", metavar="FILE", type=FILE_NAME)
@click.option(
    "--with-text",
    is_flag=True,
    help="The file itself, each piece and seam followed by its figures; this is what git shows.",
)
@with_given
def outline(file: str, with_text: bool, given: Given) -> None:
    """Print the pieces and seams of a pattern in figures.

    For each piece its size, its edges as cut and as sewn, its darts and openings, and how often it
    is cut; then the seams with both lengths.

    \b
    Example:
      oaktag outline ferry.oak
      oaktag outline ferry.oak --with-text
    """
    if with_text:
        _with_text(file, given)
        return
    work = work_out(file, given)
    if not work.sound:
        tell(work.diagnostics, err=True)
        click.echo(f"{file}: {counts(work.diagnostics)}", err=True)
        click.get_current_context().exit(PATTERN_WRONG)
    if work.pattern is None:
        raise click.UsageError(f"{file} is a body; outline a pattern, with --body {file}")
    from oaktag.compiler.revise.outline import outline as lines

    for line in lines(work.pattern):
        click.echo(line)


def _with_text(file: str, given: Given) -> None:
    """Never fails: git stops with the program it asks, so a file that cannot be drawn is shown
    with the reason.
    """
    from oaktag.compiler.revise.outline import beside_text

    work = _as_git_has_it(file, given)
    wrong = [item.message for item in work.diagnostics if item.severity == "error"]
    pattern = work.pattern if work.sound else None
    if not wrong and pattern is None:  # a body
        click.echo(work.program.file.span.source.text, nl=False)
        return
    for line in beside_text(work.program, pattern, wrong):
        click.echo(line)


def _as_git_has_it(file: str, given: Given) -> Work:
    """The file worked out where it belongs, also when git laid an old version of it elsewhere."""
    from oaktag.lang.project.files import DiskFiles, Refused
    from oaktag.lang.project.revision import RevisionFiles, Standing, found_in_history

    if not _outside(file):
        return work_out(file, given)
    try:
        found = found_in_history(file, os.getcwd())
    except Refused:
        found = None
    if found is None:
        return work_out(file, given)
    path, revision = found
    with open(file, "rb") as old:
        data = old.read()
    files = RevisionFiles(path, revision) if revision else DiskFiles(path)
    return work_out(path, given, Standing(files, path, data))


def _outside(file: str) -> bool:
    """Whether a file lies outside the folder in which the command was called."""
    here = os.path.realpath(os.getcwd())
    return not os.path.realpath(file).startswith(here.rstrip(os.sep) + os.sep)
