"""`oaktag diff`: what changed on the paper."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any

import click

from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.options import Given, no_file, settings
from oaktag.compiler.cli.output import counts, tell
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.compiler.cli.project import Work
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.lang.project.files import Files

_ANY_FILE = click.Path(dir_okay=False)


def _length(_: click.Context, parameter: click.Parameter, value: str) -> float:
    from oaktag.compiler.cli.lengths import read_length

    try:
        return read_length(value)
    except ValueError as wrong:
        raise click.BadParameter(str(wrong), param=parameter) from None


class Side(Record):
    """One of the two that are compared: a file, now or at a revision, with what is given for it."""

    path: str
    revision: str
    given: Given

    def name(self, other: Side) -> str:
        """What tells it from the other side."""
        words = [self.path]
        if self.revision:
            words.append(f"at {self.revision}")
        if self.given.body != other.given.body:
            words.append(f"for {self.given.body or 'no body'}")
        if self.given.size != other.given.size:
            words.append(f"size {self.given.size}")
        mine, theirs = self.given.settings, other.given.settings
        words += [f"{name} = {value}" for name, value in mine.items() if theirs.get(name) != value]
        return ", ".join([" ".join(words[:2]), *words[2:]]) if self.revision else ", ".join(words)


@click.command()
@click.argument("old", metavar="OLD", type=_ANY_FILE)
@click.argument("new", metavar="[NEW]", type=_ANY_FILE, required=False)
@click.option(
    "--rev",
    metavar="REVISION",
    help="OLD as git has it there, against the file as it is; or two revisions, A..B.",
)
@click.option(
    "--body",
    "bodies",
    metavar="FILE",
    type=click.Path(exists=True, dir_okay=False),
    multiple=True,
    help="The body both are made for; given twice, the first is for OLD.",
)
@click.option("--chart", metavar="CSV", help="A size chart, to be used with --size.")
@click.option(
    "--size",
    "sizes",
    metavar="NAME",
    multiple=True,
    help="The row of the chart; given twice, the first is for OLD.",
)
@click.option(
    "--set",
    "settings",
    metavar="NAME=VALUE",
    multiple=True,
    callback=settings,
    help="A choice for both.",
)
@click.option(
    "--try",
    "tried",
    metavar="NAME=VALUE",
    multiple=True,
    callback=settings,
    help='A choice for NEW alone: --try "length = 58 cm".',
)
@click.option(
    "--tolerance",
    metavar="LENGTH",
    default="0.1 mm",
    show_default=True,
    callback=_length,
    help="Lengths that differ by no more are the same.",
)
@click.option("-o", "--out", metavar="FOLDER", help="Also draw the pieces, old under new, here.")
@click.option("--json", "as_json", is_flag=True, help="For other programs: millimetres, in JSON.")
def diff(
    old: str,
    new: str | None,
    rev: str | None,
    bodies: tuple[str, ...],
    chart: str | None,
    sizes: tuple[str, ...],
    settings: dict[str, str],
    tried: dict[str, str],
    tolerance: float,
    out: str | None,
    as_json: bool,
) -> None:
    """Tell what changed on the paper between two patterns, seam by seam.

    Compared are two files, or one file with an earlier revision, or with another body, size or
    choice. Pictures (with -o): before light, after dark; new paper hatched, paper that is gone
    dotted. Bodies and charts are read as they are now.

    \b
    Examples:
      oaktag diff ferry.oak --rev HEAD~3 -o out
      oaktag diff ferry.oak --rev spring..autumn
      oaktag diff ferry.oak --body bodies/ines.oak --body bodies/tamsin.oak
      oaktag diff ferry.oak --try "drapes = 4"
    """
    sides = _sides(old, new, rev, bodies, chart, sizes, settings, tried)
    works = [_worked(side) for side in sides]
    names = [side.name(other) for side, other in zip(sides, reversed(sides), strict=True)]
    before, after = (work.pattern for work in works)
    if before is None or after is None:
        _in_text(sides, works, names)
        click.get_current_context().exit(PATTERN_WRONG)
    _on_paper(before, after, names, tolerance, out, as_json)


def _sides(
    old: str,
    new: str | None,
    rev: str | None,
    bodies: tuple[str, ...],
    chart: str | None,
    sizes: tuple[str, ...],
    settings: dict[str, str],
    tried: dict[str, str],
) -> tuple[Side, Side]:
    """What is compared; raises UsageError where that makes no sense."""
    if rev and new:
        raise click.UsageError("--rev goes with one file, not with two")
    if not (new or rev or tried or len(bodies) == 2 or len(sizes) == 2):
        raise click.UsageError(
            "with what? name a second file, --rev HEAD~1, a second --body or --size, or --try"
        )
    if len(bodies) > 2 or len(sizes) > 2:
        raise click.UsageError("two are compared: give --body or --size at most twice")
    if bodies and (chart or sizes):
        raise click.UsageError("give either --body or --chart with --size, not both")
    if bool(chart) != bool(sizes):
        raise click.UsageError("--chart and --size go together")
    revisions = _revisions(rev)
    sides = []
    for number, path in enumerate((old, new or old)):
        body = bodies[min(number, len(bodies) - 1)] if bodies else None
        size = sizes[min(number, len(sizes) - 1)] if sizes else None
        choices = settings | tried if number else settings
        sides.append(Side(path, revisions[number], Given(body, chart, size, choices)))
    for side in sides:
        if not side.revision and not os.path.isfile(side.path):
            raise click.UsageError(no_file(side.path))
    return sides[0], sides[1]


def _revisions(rev: str | None) -> tuple[str, str]:
    first, dots, second = (rev or "").partition("..")
    if dots and not (first and second):
        raise click.UsageError(f"--rev {rev}: two revisions stand as A..B")
    return first, second


def _worked(side: Side) -> Work:
    from oaktag.compiler.cli.project import work_out
    from oaktag.lang.project.files import Refused

    files: Files | None = None
    if side.revision:
        from oaktag.lang.project.revision import RevisionFiles

        try:
            files = RevisionFiles(side.path, side.revision)
        except Refused as why:
            raise click.UsageError(f"{why}; {why.help}" if why.help else str(why)) from None
    work = work_out(side.path, side.given, files)
    missing = [item for item in work.diagnostics if item.code == "not-in-revision"]
    if missing and missing[0].span is None:
        raise click.UsageError(f"{missing[0].message}; {missing[0].help}")
    if work.sound and work.pattern is None:
        raise click.UsageError(f"{side.path} is a body; compare patterns, with --body")
    return work


def _on_paper(
    before: Pattern, after: Pattern, names: list[str], tolerance: float, out: str | None, json: bool
) -> None:
    from oaktag.compiler.revise.diff import compare

    changes = compare(before, after, tolerance)
    if json:
        from oaktag.compiler.revise.diff.data import as_json

        click.echo(as_json(changes))
    else:
        from oaktag.compiler.revise.diff.words import told

        click.echo(f"{names[0]} → {names[1]}")
        for heading, lines in told(changes):
            click.echo(f"\n{heading}")
            for line in lines:
                click.echo(f"  {line}")
        if changes.nothing:
            click.echo("nothing differs")
    if out is not None:
        _draw(changes, before, after, names, out, json)


def _draw(
    changes: Any, before: Pattern, after: Pattern, names: list[str], out: str, quiet: bool
) -> None:
    from oaktag.compiler.cli.write import write_files
    from oaktag.compiler.revise.diff.overlay import overlay

    pages = overlay(changes, before, after, f"{names[0]} → {names[1]}")
    stem = os.path.splitext(os.path.basename(after.file))[0]
    outputs = {
        os.path.join(out, f"{stem}-diff{f'-{number}' if len(pages) > 1 else ''}.svg"): page
        for number, page in enumerate(pages, 1)
    }
    write_files(outputs)
    click.echo(err=quiet)
    for path in outputs:
        click.echo(f"wrote {path}", err=quiet)
    if not outputs:
        click.echo("no piece differs, so nothing is drawn", err=quiet)


def _in_text(sides: tuple[Side, Side], works: list[Work], names: list[str]) -> None:
    """Where one of the two cannot be drawn: what is wrong with it, and the lines that differ."""
    from difflib import unified_diff

    for work, name in zip(works, names, strict=True):
        if work.pattern is None:
            tell([item for item in work.diagnostics if item.severity == "error"], err=True)
            click.echo(f"{name}: {counts(work.diagnostics)}; it cannot be drawn", err=True)
    click.echo("the paper cannot be compared; these lines of the file differ:", err=True)
    old, new = (work.program.file.span.source.text.splitlines(keepends=True) for work in works)
    for line in unified_diff(old, new, names[0], names[1]):
        click.echo(line.rstrip("\n"))
