"""`oaktag check`: everything wrong with a pattern."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.options import FILE_NAME, Given, with_given
from oaktag.compiler.cli.output import counts, plural, tell
from oaktag.compiler.cli.project import unfinished, work_out

if TYPE_CHECKING:
    from oaktag.compiler.cli.project import Work
    from oaktag.lang.diagnostics import Diagnostic


@click.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=FILE_NAME)
@click.option("--json", "as_json", is_flag=True, help="For other programs: a list, in JSON.")
@with_given
def check(files: tuple[str, ...], as_json: bool, given: Given) -> None:
    """Tell everything that is wrong with patterns or bodies, in one run.

    \b
    Example:
      oaktag check ferry.oak --body bodies/marthe.oak
    """
    found: list[Diagnostic] = []
    for path in files:
        work = work_out(path, given)
        if work.pattern is not None:
            work = work.changed(diagnostics=(*work.diagnostics, *unfinished(work.pattern)))
        # Files checked together may use the same broken one; it is told once.
        new = [item for item in work.diagnostics if item not in found]
        found += new
        if not as_json:
            tell(new)
            click.echo(f"{path}: {_closing(work)}")
            for line in _seams(work):
                click.echo(f"  {line}")
    if as_json:
        import json

        from oaktag.lang.diagnostics import as_json as plain

        click.echo(json.dumps([plain(item) for item in found], indent=2, ensure_ascii=False))
    if any(item.severity == "error" for item in found):
        click.get_current_context().exit(PATTERN_WRONG)


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
