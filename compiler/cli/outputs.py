"""From a pattern and what is wished of it to the contents of files."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

from oaktag.compiler.cli.wishes import ORIENTATIONS
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from oaktag.compiler.cli.project import Work
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paging import Paging
    from oaktag.compiler.sheet import Sheet
    from oaktag.compiler.sheet.unfolded import Unfolded

MOST_LISTED = 20  # letters


class Made(Record):
    """The contents of one file.

    ending: of its name. told: what is to be said of it. warnings: what it could not show.
    """

    ending: str
    data: bytes
    told: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()


class Job:
    """made_for: the body or size, as the labels say it. wishes: as they were settled. say: tells
    how far the work is. work: that the pattern is from.
    """

    def __init__(
        self,
        pattern: Pattern,
        made_for: str,
        wishes: Mapping[str, Any],
        say: Callable[[str], None],
        work: Work,
    ) -> None:
        self.pattern = pattern
        self.work = work
        self.made_for = made_for
        self.wishes = wishes
        self.say = say

    @cached_property
    def sheet(self) -> Sheet:
        """All pieces side by side; raises PaperError if an allowance cannot be drawn."""
        from oaktag.compiler.sheet import lay_out

        return lay_out(self.pattern, self.made_for)

    @cached_property
    def unfolded(self) -> Unfolded:
        """The sheet with its pieces opened out."""
        from oaktag.compiler.sheet.unfolded import unfolded

        return unfolded(self.sheet)

    @cached_property
    def drawing(self) -> Sheet:
        """The sheet, or for a laser what of it is cut and engraved, nothing on the fold."""
        if not self.wishes.get("laser"):
            return self.sheet
        from oaktag.compiler.sheet.laser import for_laser

        return for_laser(self.unfolded.sheet, self.wishes.get("engrave", False))


def made(job: Job) -> Iterator[Made]:
    """Every file that is wished for, in the order of the formats.

    Raises PaperError if an allowance cannot be drawn, OutputError if a format cannot take the
    drawing.
    """
    for name in job.wishes["to"]:
        job.say(f"drawing the {name} file")
        yield from _MAKERS[name](job)


def _svg(job: Job) -> Iterator[Made]:
    from oaktag.compiler.emit.svg import svg

    data = svg(job.drawing, job.wishes.get("laser", False))
    yield Made(".svg", data, *_of_laser(job))


def _dxf(job: Job) -> Iterator[Made]:
    from oaktag.compiler.emit.dxf import POLYLINES, dxf

    wishes = job.wishes
    data = dxf(job.drawing, wishes.get("curves", POLYLINES), wishes.get("laser", False))
    yield Made(".dxf", data, *_of_laser(job))


def _of_laser(job: Job) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is to be said of pieces cut by a laser: on the fold, and more than once."""
    if not job.wishes.get("laser"):
        return (), ()
    from oaktag.compiler.making.words import order

    told = []
    if job.unfolded.opened:
        told.append(f"opened out and cut as a whole: {', '.join(job.unfolded.opened)}")
    for piece in job.pattern.made:
        cuts = [cut for cut in job.pattern.cuts if cut.piece == piece.name]
        if sum(cut.count for cut in cuts) > 1:
            words = ", ".join(order(cut, fold=False) for cut in cuts)
            told.append(f"{piece.name}: {words}; drawn once")
    warnings = [
        f"{name} lies on the fold, and its cut line could not be opened out: only half is drawn"
        for name in job.unfolded.folded
    ]
    return tuple(told), tuple(warnings)


def _json(job: Job) -> Iterator[Made]:
    from oaktag.compiler.emit.json import as_json

    yield Made(".json", as_json(job.pattern))


def _plt(job: Job) -> Iterator[Made]:
    from oaktag.compiler.emit.plt import PENS, Roll, plt
    from oaktag.lang.units import show_length

    wishes, unit = job.wishes, job.pattern.unit
    names = {"margin": "margin", "frame": "frame", "old-hpgl": "old", "turn": "turning"}
    given = {field: wishes[name] for name, field in names.items() if name in wishes}
    roll = Roll(wishes["roll"], pens=PENS | wishes.get("pens", {}), unit=unit, **given)
    plot = plt(job.sheet, roll)
    long = "m" if unit in ("mm", "cm", "m") else "yd"
    frames = "one frame" if plot.frames == 1 else f"{plot.frames} frames"
    told = [
        f"{show_length(plot.length, long)} of a roll {show_length(roll.width, unit)} wide, in "
        f"{frames}; pieces lie as they were drawn, their upward direction along the roll",
        f"the pen travels {plot.travelled / 1000:.1f} m without drawing; in the order of the sheet "
        f"it would be {plot.as_laid / 1000:.1f} m",
    ]
    if plot.turned:
        told.append(f"turned by a quarter, to fit the roll: {', '.join(plot.turned)}")
    warnings = []
    if plot.missing:
        listed = _listed(plot.missing)
        warnings.append(f"the plt has no strokes for these letters and draws boxes: {listed}")
    last = len(plot.files)
    for number, data in enumerate(plot.files, 1):
        ending = f"-{number}.plt" if last > 1 else ".plt"
        yield Made(ending, data, tuple(told) if number == last else (), tuple(warnings))
        warnings = []


def _pdf(job: Job) -> Iterator[Made]:
    from oaktag.compiler.emit.pdf import LACKING, missing_letters, pdf

    paging = _paging(job.wishes).changed(unit=job.pattern.unit)
    sheet = job.sheet
    missing = missing_letters(sheet)
    warnings: tuple[str, ...] = ()
    if missing:
        warnings = (
            f"the pdf has no letters for these and prints {LACKING}, a question mark in a diamond: "
            f"{_listed(missing)}",
        )

    def tell(page: int, pages: int) -> None:
        job.say(f"drawing the pdf file: page {page} of {pages}")

    yield Made(".pdf", pdf(sheet, paging, tell), (), warnings)


def _paging(wishes: Mapping[str, Any]) -> Paging:
    """What the wishes say of paper."""
    from oaktag.compiler.paging import for_projector, on_paper, on_roll

    if wishes.get("projector"):
        paging = for_projector(wishes.get("dark", False))
    elif "paper" in wishes:
        paging = on_paper(wishes["paper"])
    elif "roll" in wishes:
        paging = on_roll(wishes["roll"])
    else:
        paging = on_paper("a4")
    for name in ("margin", "overlap"):
        if name in wishes:
            paging = paging.changed(**{name: wishes[name]})
    for name in ORIENTATIONS:
        if wishes.get(name):
            paging = paging.changed(orientation=name)
    if wishes.get("one-page"):
        paging = paging.changed(long="unit")
    return paging.changed(turning=wishes.get("turn", False))


def _astm(job: Job) -> Iterator[Made]:
    from oaktag.compiler.emit.astm import astm

    data, warnings = astm(job.pattern, job.made_for, job.wishes.get("units", "metric"))
    # Its ending is that of the other DXF, from which the name has to tell it.
    yield Made("-astm.dxf", data, (), tuple(warnings))


def _listed(letters: str) -> str:
    return " ".join(dict.fromkeys(letters[:MOST_LISTED]))


def _html(job: Job) -> Iterator[Made]:
    from oaktag.compiler.page import html

    data = html(job.work.program, job.pattern, job.made_for, job.work.diagnostics)
    yield Made(".html", data, ("a copy to look at in a browser: it does not follow the file",))


_MAKERS = {
    "svg": _svg,
    "dxf": _dxf,
    "json": _json,
    "pdf": _pdf,
    "plt": _plt,
    "astm": _astm,
    "html": _html,
}
