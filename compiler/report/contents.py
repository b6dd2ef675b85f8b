"""What a report says, section by section, in the unit of the file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.inspect.table import HEAD, seam_rows
from oaktag.compiler.inspect.walk import MATCHES
from oaktag.compiler.making.counts import is_interfacing
from oaktag.compiler.making.cut_list import ClothCut, cut_list, opened_width
from oaktag.compiler.making.order import making
from oaktag.compiler.making.words import how_often, number
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.report.sections import Point, Report, Section, Table
from oaktag.compiler.report.shopping import shopping
from oaktag.compiler.sheet.identity import set_words, settings, state
from oaktag.lang.units import show_area, show_length, show_number

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern, Value
    from oaktag.compiler.making.operation import Operation
    from oaktag.lang.diagnostics import Diagnostic

CAUTIONS = (
    "Measure the square on the first sheet before you cut anything.",
    "Sew a toile first: nothing here knows how the cloth falls or how the body stands.",
    "All figures follow from the file; what it does not say is not here.",
)


def contents(
    pattern: Pattern,
    made_for: str,
    told: Sequence[Diagnostic] = (),
    meanings: Mapping[str, str] | None = None,
) -> Report:
    """The whole report. Raises PaperError where an edge cannot take its allowance.

    made_for: the body or the size. told: what is to be said of the pattern. meanings: what each
    choice is, in the words of the file.
    """
    about = [f"for {made_for}"] if made_for else []
    about.append(f"from {pattern.file.replace(chr(92), '/').rpartition('/')[2]}")
    given = settings(pattern)
    about += [words for words in (state(pattern), set_words(given) if given else "") if words]
    sections = [
        Section("Before you cut", points=tuple(Point(words) for words in CAUTIONS)),
        *_told(told),
        *_given(pattern, meanings or {}),
        *_cut(pattern),
        *shopping(pattern),
        *_seams(pattern),
        *_making(pattern),
    ]
    return Report(pattern.title or pattern.file, tuple(about), tuple(sections))


def _told(told: Sequence[Diagnostic]) -> Iterator[Section]:
    points = []
    for item in told:
        place = f" (line {item.span.line})" if item.span is not None else ""
        way_out = f"Try: {item.help}" if item.help else ""
        points.append(Point(f"{item.severity.capitalize()}: {item.message}{place}.", way_out))
    if points:
        yield Section("To be looked at", points=tuple(points))


def _given(pattern: Pattern, meanings: Mapping[str, str]) -> Iterator[Section]:
    unit = pattern.unit
    if pattern.measures:
        rows = tuple(
            (_words(name), _value(value, unit)) for name, value in pattern.measures.items()
        )
        yield Section("Measures used", table=Table(("measure", "of the body"), rows))
    if pattern.choices:
        yield Section(
            "Choices",
            table=Table(
                ("choice", "as made", "what it is"),
                tuple(
                    (_words(name), _value(value, unit), meanings.get(name, ""))
                    for name, value in pattern.choices.items()
                ),
            ),
        )


def _cut(pattern: Pattern) -> Iterator[Section]:
    unit = pattern.unit
    for cloth in cut_list(pattern):
        rows = tuple(
            (
                row.piece,
                how_often(row.count, row.pair, row.fold) + (f", {row.face}" if row.face else ""),
                show_length(row.along, unit) + ("" if row.grained else " (no grain)"),
                show_length(row.across, unit),
                show_area(row.area, unit),
            )
            for row in cloth.rows
        )
        head = ("piece", "cut", "along the grain", "across", "area of all")
        yield Section(f"Cut in {cloth.cloth}", table=Table(head, rows), closing=_cloth(cloth, unit))
    if pattern.cuts:
        yield Section(
            "How much cloth",
            words=(
                "Sizes are with seam allowances; a piece on the fold is measured folded. The areas "
                "are those of the pieces alone. This is no layout: how much cloth it takes depends "
                "on its width, its nap, what it shrinks, and on what is left between the pieces.",
            ),
        )


def _cloth(cloth: ClothCut, unit: str) -> tuple[str, ...]:
    wide = show_length(opened_width(cloth.widest), unit)
    opened = ", opened" if cloth.widest.fold else ""
    what = "Interfacing" if is_interfacing(cloth.cloth) else "Pieces"
    return (
        f"{what}: {show_area(cloth.area, unit)} in all; the widest is {cloth.widest.piece}, {wide} "
        f"across the grain{opened}.",
    )


def _seams(pattern: Pattern) -> Iterator[Section]:
    if pattern.seams:
        rows = tuple(seam_rows(pattern))
        foot = (
            "The difference is what the second side is too long (+) or too short (-), its ease "
            f"taken off; {show_length(MATCHES, pattern.unit)} and less can be sewn together."
        )
        yield Section("Seams", table=Table(HEAD, rows), closing=(foot,))


def _making(pattern: Pattern) -> Iterator[Section]:
    plan = making(pattern)
    if not plan.operations:
        return
    points = tuple(Point(one.said, _remark(one)) for one in plan.operations)
    words = [
        "Proposed from the file: darts and pleats first, then the seams, each after those it "
        "crosses, then what binds and faces, the waist, the hems and what closes. Press as you go."
    ]
    if plan.circles:
        count = number(sum(map(len, plan.circles))).capitalize()
        words.append(f"{count} seams wait for each other, and stand as in the file.")
    yield Section("Making up", words=tuple(words), points=points, numbered=True)


def _remark(one: Operation) -> str:
    """What the words of the file do not tell: the figures; or else those words."""
    if one.own_words:
        return one.sentence
    return f"In the file: {one.caption}" if one.caption else ""


def _value(value: Value, unit: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Quantity):
        if value.kind == "length":
            return show_length(value.amount, unit)
        if value.kind == "angle":
            return f"{show_number(value.amount, 2)} deg"
        return show_number(value.amount, 4)
    return str(value)


def _words(name: str) -> str:
    return name.replace("_", " ")
