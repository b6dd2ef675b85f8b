"""`oaktag build`: the pieces at full size, in files."""

from __future__ import annotations

import os
from importlib import import_module
from typing import TYPE_CHECKING, Any

import click

from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.options import FILE_NAME, Given, with_given
from oaktag.compiler.cli.output import counts, tell
from oaktag.compiler.cli.project import unfinished, work_out

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.piece import Piece

FORMATS = ("svg", "dxf", "json")
SAME = 0.005  # mm: lengths nearer than this are printed once


def _formats(_: click.Context, parameter: click.Parameter, value: tuple[str, ...]) -> Any:
    words = [word.strip().lower() for part in value for word in part.split(",")]
    wanted = list(dict.fromkeys(words))
    unknown = [word for word in wanted if word not in FORMATS]
    if unknown:
        raise click.BadParameter(
            f"there is no output `{unknown[0]}`; there are {', '.join(FORMATS)}", param=parameter
        )
    return wanted


@click.command()
@click.argument("file", metavar="FILE", type=FILE_NAME)
@click.option(
    "-o",
    "--out",
    metavar="FOLDER",
    default="out",
    show_default=True,
    help="Where the files go; it is made if it is not there.",
)
@click.option(
    "--to",
    "formats",
    metavar="FORMATS",
    multiple=True,
    default=["svg"],
    show_default="svg",
    callback=_formats,
    help=f"Which files, with commas between: {', '.join(FORMATS)}.",
)
@with_given
def build(file: str, out: str, formats: list[str], given: Given) -> None:
    """Write the pieces at full size, and print their measures.

    For each piece: its size and area, and its edges as cut and, where that differs, as sewn, all
    without seam allowances. If anything is wrong, nothing is written.

    \b
    Example:
      oaktag build ferry.oak --body bodies/marthe.oak -o out --to svg,dxf
    """
    from oaktag.compiler.cli.write import write_files
    from oaktag.compiler.paper.errors import PaperError
    from oaktag.compiler.sheet.lay_out import cut_pieces

    work = work_out(file, given)
    pattern, diagnostics = work.pattern, work.diagnostics
    if work.sound and pattern is None:
        raise click.UsageError(f"{file} is a body; build a pattern, with --body {file}")
    outputs: dict[str, bytes] = {}
    if work.sound and pattern is not None:
        made_for = work.body.name if work.body else ""
        if work.body and given.size:
            made_for = f"size {made_for}"
        stem = os.path.splitext(os.path.basename(file))[0]
        try:
            for name, data in _rendered(pattern, made_for, formats):
                outputs[os.path.join(out, f"{stem}.{name}")] = data
        except PaperError:
            outputs, diagnostics = {}, (*diagnostics, *unfinished(pattern))
    tell(diagnostics, err=True)
    if pattern is None or not outputs:
        click.echo(f"{file}: {counts(diagnostics)}; nothing is written", err=True)
        click.get_current_context().exit(PATTERN_WRONG)
    write_files(outputs)
    click.echo(f"{pattern.title}, for {made_for}" if made_for else pattern.title)
    for piece in cut_pieces(pattern):
        click.echo()
        for line in _summary(piece, pattern.unit):
            click.echo(line)
    click.echo()
    for path in outputs:
        click.echo(f"wrote {path}")


def _rendered(pattern: Pattern, made_for: str, formats: list[str]) -> Iterator[tuple[str, bytes]]:
    """Each output with its name; raises PaperError if an allowance cannot be drawn."""
    from oaktag.compiler.sheet import lay_out

    sheet = lay_out(pattern, made_for) if {*formats} - {"json"} else None
    for name in formats:
        module = import_module(f"oaktag.compiler.emit.{name}")
        yield name, module.as_json(pattern) if name == "json" else getattr(module, name)(sheet)


def _summary(piece: Piece, unit: str) -> Iterator[str]:
    """The piece without allowances: its size and area, then each edge, as cut and as sewn."""
    from oaktag.lang.units import show_area, show_length

    left, bottom, right, top = piece.outline.box()
    yield (
        f"{piece.name}: {show_length(right - left, unit)} wide, "
        f"{show_length(top - bottom, unit)} high, {show_area(piece.area, unit)}"
    )
    edges = list(_edges(piece))
    width = max(len(str(edge.label)) for edge in edges)
    for edge in edges:
        text = f"  {edge.label!s:<{width}}  {show_length(edge.length, unit)}"
        if abs(edge.length - edge.sewn) > SAME:
            text += f", {show_length(edge.sewn, unit)} sewn"
        yield text


def _edges(piece: Piece) -> Iterator[Edge]:
    """The edges in order; halves that became one when the piece was unfolded are one."""
    from oaktag.compiler.paper.chain import Edge
    from oaktag.compiler.paper.errors import PaperError
    from oaktag.compiler.paper.find import find
    from oaktag.compiler.paper.label import Label

    told = set()
    for edge in piece.edges:
        name = Label(edge.label.name, edge.label.index)
        if name in told:
            continue
        try:
            whole = find(piece, name)
        except PaperError:  # both halves have one of their own
            whole = edge
        if isinstance(whole, Edge) and whole.label == name:
            told.add(name)
            yield whole
        else:
            yield edge
