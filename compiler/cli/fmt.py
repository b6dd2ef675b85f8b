"""`oaktag fmt`: the one tidy layout."""

from __future__ import annotations

import click

from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.options import FILE_NAME
from oaktag.compiler.cli.output import tell


@click.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=FILE_NAME)
@click.option("--check", is_flag=True, help="Change nothing; tell which files would change.")
def fmt(files: tuple[str, ...], check: bool) -> None:
    """Set files in the one tidy layout; the meaning stays.

    A file that cannot be read as a pattern is left as it is.

    \b
    Example:
      oaktag fmt ferry.oak bodies/marthe.oak
    """
    from oaktag.compiler.cli.write import write_files
    from oaktag.lang.diagnostics import Mistake

    well = True
    for path in files:
        try:
            data, tidy = _laid_out(path)
        except Mistake as wrong:
            tell(wrong.diagnostics, err=True)
            well = False
            continue
        if tidy == data:
            continue
        if check:
            click.echo(f"{path} would change")
            well = False
        else:
            write_files({path: tidy})
            click.echo(f"{path} is tidied")
    if not well:
        click.get_current_context().exit(PATTERN_WRONG)


def _laid_out(path: str) -> tuple[bytes, bytes]:
    """What a file holds and what it should; raises Mistake if it cannot be read."""
    from oaktag.lang.diagnostics import Diagnostic, Mistake
    from oaktag.lang.project.files import DiskFiles, Refused
    from oaktag.lang.syntax.decode import decode
    from oaktag.lang.syntax.format import formatted

    files = DiskFiles(path)
    try:
        data = files.read(files.start(path))
    except Refused as why:
        wrong = Diagnostic("error", why.code, why.message, file=path, help=why.help)
        raise Mistake(wrong) from None
    return data, formatted(decode(path, data)).encode()
