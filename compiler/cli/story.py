"""`oaktag story`: how each piece was made, step by step, in pictures."""

from __future__ import annotations

import os
import sys
import time
from typing import TYPE_CHECKING, TypeVar

import click

from oaktag.compiler.cli.guard import PATTERN_WRONG
from oaktag.compiler.cli.options import FILE_NAME, Given, with_given
from oaktag.compiler.cli.output import counts, plural, pressing, tell
from oaktag.compiler.cli.project import work_out

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from oaktag.compiler.cli.project import Work
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.piece import Piece
    from oaktag.compiler.revise.story.telling import Story

T = TypeVar("T")

SHEET = "sheet"
PATIENCE = 2.0  # seconds between words of progress


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
@click.option("--piece", "wanted", metavar="NAME", help="Only this piece, all of it.")
@click.option(
    "--all", "whole", is_flag=True, help="Of a copy tell also what it shares with its origin."
)
@with_given
def story(file: str, out: str, wanted: str | None, whole: bool, given: Given) -> None:
    """Show what was done to each piece, step by step.

    For each piece a picture of every step and sheets with all of them in order, to be printed on A4
    or A3; and one page for the browser with everything. Paper let in is hatched, paper cut away is
    dotted, a light line shows where the outline was before. With each step stand the comment above
    it and the line that did it. Of a copy only its own steps are told, and where it begins. If
    anything is wrong, nothing is written.

    \b
    Examples:
      oaktag story ferry.oak --body bodies/marthe.oak -o out
      oaktag story ferry.oak --piece front
      oaktag story ferry.oak --all
    """
    from oaktag.compiler.cli.write import write_files
    from oaktag.compiler.revise.story.words import how_many

    work = work_out(file, given)
    tell(pressing(work.diagnostics), err=True)
    if not work.sound:
        click.echo(f"{file}: {counts(work.diagnostics)}; nothing is written", err=True)
        click.get_current_context().exit(PATTERN_WRONG)
    if work.pattern is None:
        raise click.UsageError(f"{file} is a body; tell the story of a pattern, with --body {file}")
    pieces = _pieces(work.pattern, wanted)
    if not pieces:
        raise click.ClickException(f"{file} has no pieces, so there is no story to tell")
    name = os.path.basename(file)
    folder = os.path.join(out, f"{os.path.splitext(name)[0]}-story")
    stories, outputs = _told(work, pieces, folder, name, whole)
    write_files(outputs)
    for one in stories:
        click.echo(f"{one.name}: {how_many(one)}")
    click.echo()
    for path in outputs:
        if path.endswith(".html") or os.path.basename(path).startswith(SHEET):
            click.echo(f"wrote {path}")
    count = sum(len(one.pictures) for one in stories)
    click.echo(f"wrote {plural(count, 'picture')} of single steps, in {folder}")
    old = _left_over(outputs)
    if old:
        more = f" and {len(old) - 1} more" if len(old) > 1 else ""
        click.echo(f"no longer part of the story, from an earlier run: {old[0]}{more}")


def _pieces(pattern: Pattern, wanted: str | None) -> list[Piece]:
    """The pieces with a story, or the one that is wanted."""
    from oaktag.lang.words import nearest

    pieces = {name: piece for name, piece in pattern.pieces.items() if piece.steps}
    if wanted is None:
        return list(pieces.values())
    if wanted in pieces:
        return [pieces[wanted]]
    near = nearest(wanted, pieces)
    known = f"did you mean `{near}`?" if near else f"it has {', '.join(map(_quoted, pieces))}"
    raise click.UsageError(f"--piece: the pattern has no piece `{wanted}`; {known}")


def _told(
    work: Work, pieces: Sequence[Piece], folder: str, name: str, whole: bool
) -> tuple[list[Story], dict[str, bytes]]:
    """The stories, and the files that tell them: the page first. whole: copies from their start."""
    from oaktag.compiler.cli.file_names import file_names
    from oaktag.compiler.revise.story.page import page
    from oaktag.compiler.revise.story.shared import Shared, shared
    from oaktag.compiler.revise.story.sheet import sheets, step_pages
    from oaktag.compiler.revise.story.telling import framed, grouped, story
    from oaktag.compiler.revise.story.text import Text
    from oaktag.compiler.sheet.identity import set_words, settings, state

    assert work.pattern is not None
    title, unit = work.pattern.title or name, work.pattern.unit
    if work.body:
        title += f", for {work.body.name}"
    set_too = settings(work.pattern)
    about = ", ".join(filter(None, (state(work.pattern), set_words(set_too) if set_too else "")))
    text = Text(work.program)
    begun = [Shared() for _ in pieces] if whole else list(shared(pieces))
    progress = _Progress(
        sum(
            2 * sum(last >= known.count for _, last, _ in grouped(piece.steps, text))
            for piece, known in zip(pieces, begun, strict=True)
        )
    )
    stories: list[Story] = []
    files: dict[str, bytes] = {}
    names = file_names(piece.name for piece in pieces)
    for piece, own, known in zip(pieces, names, begun, strict=True):
        pictures = list(progress.over(story(piece, text, known.count), piece.name))
        one = framed(piece, pictures, known.said)
        stories.append(one)
        head = f"{title}, {about}" if about else title
        pages = list(progress.over(step_pages(one, head, unit), piece.name))
        digits = max(2, len(str(len(piece.steps))))
        steps = file_names(f"{picture.first:0{digits}}-{picture.word}" for picture in one.pictures)
        for step, data in zip(steps, pages, strict=True):
            files[os.path.join(folder, own, f"{step}.svg")] = data
        together = sheets(one, title, unit, about)
        for number, data in enumerate(together, 1):
            ending = f"-{number}" if len(together) > 1 else ""
            files[os.path.join(folder, own, f"{SHEET}{ending}.svg")] = data
    progress.done()
    return stories, {f"{folder}.html": page(stories, title, name, unit, about), **files}


def _left_over(outputs: Iterable[str]) -> list[str]:
    """Pictures of an earlier run in the folders that were written to."""
    folders = dict.fromkeys(os.path.dirname(path) for path in outputs if path.endswith(".svg"))
    found = [
        os.path.join(folder, name) for folder in folders for name in sorted(os.listdir(folder))
    ]
    return [path for path in found if path.endswith(".svg") and path not in outputs]


def _quoted(name: str) -> str:
    return f"`{name}`"


class _Progress:
    """Tells on the error stream how far a long job has come; of a short one, nothing."""

    def __init__(self, total: int) -> None:
        self.total = total
        self.count = 0
        self.told = time.monotonic()
        self.shown = False

    def over(self, items: Iterable[T], name: str) -> Iterator[T]:
        for item in items:
            yield item
            self.count += 1
            now = time.monotonic()
            if now - self.told >= PATIENCE:
                self.told = now
                self.shown = True
                self._tell(f"drawing {name}: {100 * self.count // self.total} % of all is done")

    def done(self) -> None:
        if self.shown and sys.stderr.isatty():
            self._tell("")

    def _tell(self, words: str) -> None:
        if sys.stderr.isatty():
            click.echo(f"\r\x1b[K{words}", err=True, nl=False)
        else:
            click.echo(words, err=True)
