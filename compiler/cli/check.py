"""`oaktag check`: everything wrong with a pattern."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.options import FILE_NAME, Given, with_given
from oaktag.compiler.cli.output import counts, plural, tell
from oaktag.compiler.cli.project import unfinished, unfinished_part, work_out

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.cli.project import Work
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.lang.diagnostics import Diagnostic


@click.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=FILE_NAME)
@click.option("--json", "as_json", is_flag=True, help="For other programs: a list, in JSON.")
@click.option(
    "--lines",
    is_flag=True,
    help="For editors: `FILE:LINE:COLUMN: severity: message`, and nothing else.",
)
@click.option(
    "--any-body",
    is_flag=True,
    help="Measures that no body gives are no mistake; what needs them is not looked at.",
)
@click.option(
    "--report",
    "report",
    metavar="PLACE",
    help="Write all there is to know of it on one page: cut list, materials, seams, making up. A "
    "folder gets it as text and for the browser; or name one file, .html or .txt.",
)
@with_given
def check(
    files: tuple[str, ...],
    as_json: bool,
    lines: bool,
    any_body: bool,
    report: str | None,
    given: Given,
) -> None:
    """Tell everything that is wrong with patterns or bodies, in one run.

    \b
    Examples:
      oaktag check ferry.oak --body bodies/marthe.oak
      oaktag check ferry.oak --body bodies/marthe.oak --report out
      oaktag check ferry.oak --lines
    """
    from oaktag.lang.diagnostics import as_line

    if report is not None:
        from oaktag.compiler.cli.reporting import check_place

        check_place(report, files)
    found: list[Diagnostic] = []
    reports: dict[str, bytes] = {}
    for path in files:
        work = work_out(path, given)
        if work.pattern is not None:
            more = (*unfinished(work.pattern), *_in_circles(work.pattern))
            work = work.changed(diagnostics=(*work.diagnostics, *more))
        elif work.part is not None:
            more = unfinished_part(work.part)
            work = work.changed(diagnostics=(*work.diagnostics, *more))
        # Files checked together may use the same broken one; it is told once.
        new = [item for item in work.diagnostics if item not in found]
        if any_body:
            new = [item for item in new if item.code != "missing-measure"]
        found += new
        if lines:
            for item in new:
                click.echo(as_line(item))
        elif not as_json:
            tell(new)
            click.echo(f"{path}: {_closing(work)}")
            for line in _seams(work):
                click.echo(f"  {line}")
        if report is not None and work.pattern is not None and work.sound:
            from oaktag.compiler.cli.reporting import reported

            reports |= reported(path, work, report, given)
    if as_json:
        import json

        from oaktag.lang.diagnostics import as_json as plain

        click.echo(json.dumps([plain(item) for item in found], indent=2, ensure_ascii=False))
    if report is not None:
        from oaktag.compiler.cli.write import write_files

        write_files(reports)
        for place in reports or ("no report",):
            click.echo(f"wrote {place}", err=as_json or lines)
    if any(item.severity == "error" for item in found):
        click.get_current_context().exit(PATTERN_WRONG)


def _in_circles(pattern: Pattern) -> Iterator[Diagnostic]:
    """Seams for which there is no order of making up; with fewer than two there always is one."""
    if len(pattern.seams) > 1:
        from oaktag.compiler.making.order import in_circles

        yield from in_circles(pattern)


def _seams(work: Work) -> list[str]:
    """What is sewn to what, if the pattern could be drawn."""
    if work.pattern is None:
        return []
    from oaktag.compiler.inspect.table import seam_table

    return seam_table(work.pattern)


def _closing(work: Work) -> str:
    """`fine, 2 pieces`, `2 pieces, 1 warning` or `3 errors, 1 warning`."""
    wrong = counts(work.diagnostics)
    if not work.sound:
        return wrong
    what = "a body" if work.pattern is None else plural(len(work.pattern.pieces), "piece")
    return f"{what}, {wrong}" if wrong else f"fine, {what}"
