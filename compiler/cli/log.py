"""`oaktag log`: the revisions that changed the paper."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from oaktag.compiler.cli.options import Given, no_file, with_given
from oaktag.compiler.cli.output import counts, plural
from oaktag.compiler.cli.project import work_out
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.cli.project import Work

MOST_LINES = 6  # told of one revision


class Revision(Record):
    """A commit. path: what the file was called in it, as seen from here."""

    name: str
    short: str
    day: str
    subject: str
    path: str


@click.command()
@click.argument("file", metavar="FILE", type=click.Path(dir_okay=False))
@click.option(
    "-n",
    "--most",
    metavar="NUMBER",
    type=click.IntRange(min=1),
    default=10,
    show_default=True,
    help="How many revisions are told, the newest first.",
)
@click.option("--all", "every", is_flag=True, help="Also those that left the paper as it was.")
@with_given
def log(file: str, most: int, every: bool, given: Given) -> None:
    """List the revisions that changed the paper, each with what it changed.

    Looked at are the commits that touched the file or a pattern it uses, from this one back. Bodies
    and charts are read as they are now.

    \b
    Example:
      oaktag log ferry.oak
      oaktag log ferry.oak --body bodies/ines.oak -n 3
    """
    from oaktag.lang.project.files import Refused

    told = 0
    try:
        revisions = _revisions(file, given)
        later: tuple[Revision, Work] | None = None
        for revision in revisions:
            work = _at(revision, given)
            if later is not None:
                told += _tell(*later, work, every)
                if told == most:
                    return
            later = revision, work
        if later is not None:
            told += _tell(*later, None, every)
    except Refused as why:
        raise click.UsageError(f"{why}; {why.help}" if why.help else str(why)) from None
    if not told:
        click.echo("no revision changed the paper")


def _tell(revision: Revision, work: Work, before: Work | None, every: bool) -> int:
    """Prints what a revision changed, and says whether that was anything."""
    lines = _changes(work, before)
    if not lines and not every:
        return 0
    click.echo(f"{revision.short}  {revision.day}  {revision.subject}")
    for line in lines[:MOST_LINES]:
        click.echo(f"    {line}")
    if len(lines) > MOST_LINES:
        rest = plural(len(lines) - MOST_LINES, "more change")
        click.echo(f"    and {rest}: oaktag diff {revision.path} --rev {_both(revision)}")
    if not lines:
        click.echo("    the paper stayed as it was")
    click.echo()
    return 1


def _both(revision: Revision) -> str:
    return f"{revision.short}~1..{revision.short}"


def _changes(work: Work, before: Work | None) -> list[str]:
    if work.pattern is None:
        return [f"could not be drawn: {counts(work.diagnostics)}"]
    if before is None:
        return [f"first drawn: {plural(len(work.pattern.pieces), 'piece')}"]
    if before.pattern is None:
        return ["can be drawn again"]
    from oaktag.compiler.revise.diff import compare
    from oaktag.compiler.revise.diff.words import briefly

    changes = compare(before.pattern, work.pattern)
    return briefly(changes) if changes.made_otherwise else []


def _at(revision: Revision, given: Given) -> Work:
    from oaktag.lang.project.revision import RevisionFiles

    return work_out(revision.path, given, RevisionFiles(revision.path, revision.name))


def _revisions(file: str, given: Given) -> Iterator[Revision]:
    """The commits that touched the file or what it uses now, the newest first."""
    from oaktag.lang.project.revision import repository, run

    top = repository(file)
    names = _names(top, file)
    used = _used(top, file, given) if os.path.isfile(file) else []
    shape = "--format=%H%x00%h%x00%ad%x00%s"
    told = run(top, "log", "--date=short", shape, "--", *dict.fromkeys(names), *used) or b""
    lines = told.decode(errors="replace").splitlines()
    if not lines or not names:
        if not os.path.exists(file):
            raise click.UsageError(no_file(file))
        raise click.UsageError(f"git has no revision of {file}; commit it first")
    for line in lines:
        commit, short, day, subject = line.split("\0", 3)
        own = next((name for name in names if _is_in(top, commit, name)), None)
        if own is None:
            return
        here = file if own == names[0] else os.path.relpath(os.path.join(top, own))
        yield Revision(commit, short, day, subject, here)


def _names(top: str, file: str) -> list[str]:
    """What the file has been called, its present name first."""
    from oaktag.lang.project.revision import run

    own = os.path.relpath(os.path.realpath(file), top).replace(os.sep, "/")
    told = run(top, "log", "--follow", "--name-only", "--format=", "-z", "--", own) or b""
    found = [name for name in told.decode(errors="surrogateescape").split("\0") if name.strip()]
    return list(dict.fromkeys([own, *(name.strip("\n") for name in found)])) if found else []


def _used(top: str, file: str, given: Given) -> Sequence[str]:
    """Other files of the repository that the pattern reads, as it is now."""
    from oaktag.lang.project.files import DiskFiles
    from oaktag.lang.project.program import load

    paths, waiting = [], [load(file, DiskFiles(file))]
    while waiting:
        program = waiting.pop()
        waiting += program.uses.values()
        folder = os.path.dirname(program.path)
        paths += [program.path, *(os.path.join(folder, name) for name in program.traced)]
    relative = (os.path.relpath(os.path.realpath(path), top) for path in dict.fromkeys(paths))
    return [path.replace(os.sep, "/") for path in relative if not path.startswith(os.pardir)]


def _is_in(top: str, commit: str, name: str) -> bool:
    from oaktag.lang.project.revision import run

    return run(top, "cat-file", "-e", f"{commit}:{name}") is not None
