"""`oaktag build`: the pieces at full size, in files."""

from __future__ import annotations

import os
import re
from functools import wraps
from typing import TYPE_CHECKING, Any

import click

from oaktag.compiler.cli.file_names import stem_for
from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.headings import Headed, HeadedCommand
from oaktag.compiler.cli.options import FILE_NAME, Given, fitting, over, with_called
from oaktag.compiler.cli.output import counts, tell
from oaktag.compiler.cli.progress import progress
from oaktag.compiler.cli.project import unfinished, work_out
from oaktag.compiler.cli.wishes import FORMATS, WISHES, Unfit, settled
from oaktag.lang.project.files import PROJECT_MARKS, project_root

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from oaktag.compiler.cli.outputs import Made
    from oaktag.compiler.cli.presets import Level
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.piece import Piece

SETTINGS = PROJECT_MARKS[0]

PAPER = "On paper (pdf)"
BOTH = "On paper and on a plotter (pdf, plt)"
PLOTTER = "On a roll plotter (plt)"
CUTTERS = "For laser and blade cutters (svg, dxf)"
OTHERS = "For other programs"
# Name, what its value is (nothing for a yes), the heading it stands under, what it does.
_WISHES = (
    (
        "paper",
        "PAPER",
        PAPER,
        "a4, letter, a3, a4-or-letter, … or a size like 420x594mm: as many sheets as are needed; "
        "of a0 one, as long as it has to be.  [default: a4]",
    ),
    ("overlap", "LENGTH", PAPER, "What two sheets both show.  [default: 10mm]"),
    ("portrait", "", PAPER, "Sheets upright. If nothing is said, as fewer are needed."),
    ("landscape", "", PAPER, "Sheets lying on their side."),
    ("one-page", "", PAPER, "Do not divide a page of more than 5.08 m; few programs print it."),
    ("projector", "", PAPER, "One page without margins, for a projector over the table."),
    ("dark", "", PAPER, "With --projector: light lines on dark."),
    ("roll", "LENGTH", BOTH, 'How wide the roll is: --roll 914mm, --roll "36 in".'),
    ("margin", "LENGTH", BOTH, "Left free on all sides.  [default: 10mm]"),
    (
        "turn",
        "",
        BOTH,
        "Turn pieces that are too wide for the roll by a quarter; all others keep lying as drawn.",
    ),
    (
        "pens",
        "PENS",
        PLOTTER,
        "Which pen draws what; what is cut comes last.  [default: cut=1,seam=2,marks=3,text=4]",
    ),
    ("frame", "LENGTH", PLOTTER, "The longest stretch plotted in one go.  [default: 5m]"),
    (
        "old-hpgl",
        "",
        PLOTTER,
        "For old pen plotters, which know little and reach 81.9 cm; each frame is a file.",
    ),
    (
        "laser",
        "",
        CUTTERS,
        "Hairlines only, without words: cut lines, notches and drill holes, in black; pieces on "
        "the fold opened out.",
    ),
    ("engrave", "", CUTTERS, "With --laser: the other lines and marks too, in red."),
    ("curves", "KIND", OTHERS, "Of the dxf: polylines or splines.  [default: polylines]"),
    ("units", "UNITS", OTHERS, "Of the astm form: metric or english.  [default: metric]"),
)


def _wish(name: str) -> Callable[..., Any]:
    """Reads the value of an option as the settings file reads it."""

    def read(_: click.Context, parameter: click.Parameter, value: Any) -> Any:
        if value is None or value is False or value == ():
            return None
        if isinstance(value, tuple):
            value = ",".join(value)
        try:
            return WISHES[name].read("yes" if value is True else value)
        except ValueError as why:
            raise click.BadParameter(str(why), param=parameter) from None

    return read


def _with_wishes(command: Callable[..., None]) -> Callable[..., None]:
    """Adds the options that say what is made; the command receives those given as `called`."""

    @wraps(command)
    def collected(**rest: Any) -> None:
        called = {name: rest.pop(name.replace("-", "_")) for name in WISHES}
        command(called={name: value for name, value in called.items() if value is not None}, **rest)

    for name, metavar, heading, text in reversed(_WISHES):
        collected = click.option(
            f"--{name}",
            cls=Headed,
            heading=heading,
            # Said to be no flag, click would take a value that begins with `-` for an option.
            **({"metavar": metavar} if metavar else {"is_flag": True}),
            callback=_wish(name),
            help=text,
        )(collected)
    return collected


@click.command(cls=HeadedCommand)
@click.argument("file", metavar="FILE", type=FILE_NAME)
@click.option(
    "-o",
    "--out",
    metavar="FOLDER",
    help="Where the files go; it is made if it is not there.  [default: out]",
)
@click.option(
    "--to",
    metavar="FORMATS",
    multiple=True,
    callback=_wish("to"),
    help=f"Which files, with commas between: {', '.join(FORMATS)}.  [default: svg]",
)
@click.option(
    "--as",
    "preset",
    metavar="NAME",
    help="Outputs that `oaktag.toml` describes under [outputs.NAME].",
)
@with_called
@_with_wishes
def build(
    file: str, out: str | None, preset: str | None, called: Mapping[str, Any], given: Given
) -> None:
    """Write the pieces at full size, and print their measures.

    For each piece: its size and area, and its edges as cut and, where that differs, as sewn, all
    without seam allowances. If anything is wrong, nothing is written. Made for a body or a size,
    files bear its name: ferry-ines.svg, ferry-size-40.svg.

    Lengths are written as in a pattern: 914mm, "36 in". What you always want can stand in the
    project's `oaktag.toml`, under [build], or under [outputs.NAME] for --as NAME, by the names of
    the options: paper = "a4", body = "bodies/ines.oak", set = ["length = 58 cm"].

    \b
    Examples:
      oaktag build ferry.oak --body bodies/marthe.oak -o out --to svg,dxf
      oaktag build ferry.oak --to pdf --paper a4
      oaktag build ferry.oak --to plt --roll 914mm
      oaktag build ferry.oak --to svg --laser
      oaktag build ferry.oak --as copyshop
    """
    from oaktag.compiler.cli.outputs import Job, made
    from oaktag.compiler.cli.write import write_files
    from oaktag.compiler.emit.errors import OutputError
    from oaktag.compiler.paper.errors import PaperError
    from oaktag.compiler.sheet.lay_out import cut_pieces

    levels = _levels(file, preset)
    wishes = _settled(levels, called)
    for level in reversed(levels):
        given = over(level.given, given)
        out = out or level.given.get("out")
    given, out = fitting(given), out or "out"
    found: list[Made] = []
    with progress() as say:
        say("working the pattern out")
        work = work_out(file, given)
        pattern, diagnostics = work.pattern, work.diagnostics
        if work.sound and pattern is None:
            raise click.UsageError(f"{file} is a body; build a pattern, with --body {file}")
        made_for = work.body.name if work.body else ""
        if work.body and given.size:
            made_for = f"size {made_for}"
        if work.sound and pattern is not None:
            try:
                found = list(made(Job(pattern, made_for, wishes, say, work)))
            except PaperError:
                diagnostics = (*diagnostics, *unfinished(pattern))
            except OutputError as why:
                raise click.ClickException(
                    f"{why.message}\n  try: {why.help}" if why.help else why.message
                ) from None
    tell(diagnostics, err=True)
    if pattern is None or not found:
        click.echo(f"{file}: {counts(diagnostics)}; nothing is written", err=True)
        click.get_current_context().exit(PATTERN_WRONG)
    for warning in (warning for one in found for warning in one.warnings):
        click.echo(f"warning: {warning}\n", err=True)
    stem = os.path.join(out, stem_for(file, given))
    outputs = {f"{stem}{one.ending}": one for one in found}
    write_files({path: one.data for path, one in outputs.items()})
    for line in _heading(pattern, made_for):
        click.echo(line)
    for piece in cut_pieces(pattern):
        click.echo()
        for line in _summary(piece, pattern.unit):
            click.echo(line)
    click.echo()
    for path, one in outputs.items():
        click.echo(f"wrote {path}")
        for line in one.told:
            click.echo(f"  {line}")


def _levels(file: str, preset: str | None) -> list[Level]:
    """What the settings of the project say, the weakest first."""
    if preset is None and not os.path.lexists(os.path.join(project_root(file), SETTINGS)):
        return []
    from oaktag.compiler.cli.presets import levels_of

    return levels_of(file, preset)


def _settled(levels: list[Level], called: Mapping[str, Any]) -> dict[str, Any]:
    """What is wished, by the settings of the project and by the call."""
    try:
        return settled([level.wishes for level in levels], called)
    except Unfit as why:
        words = re.sub("`([a-z-]+)`", _as_option, str(why))
        raise click.UsageError(words) from None


def _as_option(found: re.Match[str]) -> str:
    return f"`--{found[1]}`" if found[1] in WISHES else found[0]


def _heading(pattern: Pattern, made_for: str) -> Iterator[str]:
    """What is built: the names of the files do not tell what was set."""
    from oaktag.compiler.sheet.identity import set_words, settings, state

    about = [pattern.title, f"for {made_for}" if made_for else "", state(pattern)]
    yield ", ".join(filter(None, about))
    told = settings(pattern)
    if told:
        yield set_words(told)


def _summary(piece: Piece, unit: str) -> Iterator[str]:
    """The piece without allowances: its size and area, then each edge, as cut and as sewn."""
    from oaktag.compiler.inspect.measured import edge_measures, size

    yield f"{piece.name}: {size(piece, unit)}"
    for line in edge_measures(piece, unit):
        yield f"  {line}"
