"""Size charts: CSV, one row a size or a person, the first column its name.

size,bust_girth [cm],waist_girth [cm]
# a line that starts with # is a remark
38,88,72
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.lang.diagnostics import Diagnostic, Mistake, error
from oaktag.lang.project.body import Body
from oaktag.lang.source import Source, Span
from oaktag.lang.units import MILLIMETRES
from oaktag.lang.words import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

_HEADING = re.compile(r"(?P<name>[^\W\d]\w*)\s*(?:\[\s*(?P<unit>\w+)\s*\])?")
_FIGURE = re.compile(
    r"(?P<decimal>\d+(?:\.\d+)?)|(?:(?P<whole>\d+)\s+)?(?P<over>\d+)/(?P<under>\d+)"
)
LISTED = 12


def chart_body(text: str, name: str, size: str) -> Body:
    """The body in one row of a chart; raises Mistake with everything wrong that concerns it.

    name: of the chart, as it is shown. size: what stands in the first column of the row.
    """
    return _Chart(Source(name, text.removeprefix("\ufeff"))).body(size)


class _Chart:
    def __init__(self, source: Source) -> None:
        self.source = source
        self.wrong: list[Diagnostic] = []

    def body(self, size: str) -> Body:
        rows = list(self._rows())
        if not rows:
            raise Mistake(
                *self.wrong,
                Diagnostic(
                    "error",
                    "empty",
                    "the chart is empty",
                    file=self.source.name,
                    help="its first line is like `size,waist_girth [cm],hip_girth [cm]`",
                ),
            )
        place, heading = rows[0]
        self._separator(place, heading)
        columns = self._columns(place, heading)
        chosen = self._row(rows[1:], size.strip())
        values = self._values(columns, len(heading), *chosen) if chosen else {}
        if self.wrong:
            raise Mistake(*self.wrong)
        return Body(size.strip(), values)

    def _rows(self) -> Iterator[tuple[Span, list[str]]]:
        """Each row with its place; remarks and empty lines left out."""
        import csv  # only a chart needs it

        source = self.source
        start = 0
        for line in source.text.splitlines(keepends=True):
            place = Span(source, start, start + len(line.rstrip("\r\n")))
            start += len(line)
            if not line.strip(" \t\r\n,;") or line.lstrip().startswith("#"):
                continue
            # One line at a time: no cell of a chart has a line end in it, and an unclosed quotation
            # mark then spoils its own line only.
            try:
                cells = next(csv.reader([line.rstrip("\r\n")], strict=True))
            except csv.Error:
                self._error(
                    "odd-quotes",
                    "this row cannot be divided into cells",
                    place,
                    'a cell with a comma in it stands between two `"`, any other without',
                )
                continue
            yield place, [cell.strip() for cell in cells]

    def _error(self, code: str, message: str, place: Span, help: str) -> None:
        self.wrong.append(error(code, message, place, help=help))

    def _separator(self, place: Span, heading: list[str]) -> None:
        if len(heading) == 1:
            other = next((sign for sign in ";\t|" if sign in heading[0]), "")
            said = {";": "semicolons", "\t": "tabs", "|": "bars"}.get(other, "")
            message = (
                f"the columns are separated by {said}, not by commas"
                if said
                else "the chart has no column but the names"
            )
            help = "save it as CSV with commas between the cells, and points in the figures"
            raise Mistake(error("no-columns", message, place, help=help))

    def _columns(self, place: Span, heading: list[str]) -> dict[int, tuple[str, str]]:
        """The measurement and unit of each column that can be read."""
        columns: dict[int, tuple[str, str]] = {}
        for at, cell in enumerate(heading[1:], 1):
            match = _HEADING.fullmatch(cell)
            if not match:
                self._error(
                    "no-heading",
                    f"column {at + 1} is headed `{cell}`, which is no measurement with its unit"
                    if cell
                    else f"column {at + 1} has no heading",
                    place,
                    "write headings like `waist_girth [cm]`",
                )
                continue
            name, unit = match["name"], match["unit"]
            if unit is None:
                self._error(
                    "missing-unit",
                    f"the column `{name}` does not say its unit",
                    place,
                    f"write `{name} [cm]`",
                )
            elif unit not in MILLIMETRES:
                near = nearest(unit, MILLIMETRES)
                self._error(
                    "unknown-unit",
                    f"`{unit}` is not a unit of length",
                    place,
                    f"write `{name} [{near or 'cm'}]`; there are {', '.join(MILLIMETRES)}",
                )
            if any(name == other for other, _ in columns.values()):
                self._error(
                    "named-twice", f"`{name}` heads two columns", place, "keep one of the two"
                )
            columns[at] = (name, unit if unit in MILLIMETRES else "mm")
        return columns

    def _row(self, rows: list[tuple[Span, list[str]]], size: str) -> tuple[Span, list[str]] | None:
        """The row of a size."""
        places: dict[str, Span] = {}
        chosen = None
        for place, cells in rows:
            name = cells[0]
            if name in places:
                self._error(
                    "named-twice",
                    f"the size `{name}` is there twice, on line {places[name].line} too",
                    place,
                    "take one of the two rows out, or give it a name of its own",
                )
            elif name == size:
                chosen = place, cells
            places.setdefault(name, place)
        if chosen is None:
            near = "" if size.strip().isdecimal() else nearest(size, places)
            there = f"there are {_sizes(list(places))}" if places else "it has no rows"
            self.wrong.append(
                Diagnostic(
                    "error",
                    "unknown-size",
                    f"the chart has no size `{size}`",
                    file=self.source.name,
                    help=f"choose `{near}`; {there}" if near else there,
                )
            )
        return chosen

    def _values(
        self, columns: dict[int, tuple[str, str]], width: int, place: Span, cells: list[str]
    ) -> dict[str, tuple[float, str]]:
        values: dict[str, tuple[float, str]] = {}
        size = cells[0]
        if any(cells[width:]):
            self._error(
                "too-many-cells",
                f"the row `{size}` has more cells than the chart has columns",
                place,
                "write figures with a point, `72.5`: a comma begins the next cell",
            )
            return values
        for at, (name, unit) in columns.items():
            cell = cells[at] if at < len(cells) else ""
            amount = _figure(cell)
            if amount is None or amount <= 0:
                self._error(*_bad_cell(cell, size, name), place, _way_out(cell))
            else:
                values[name] = (amount * MILLIMETRES[unit], unit)
        return values


def _sizes(names: list[str]) -> str:
    """`the sizes 1 to 12` where they follow each other, else each, as far as they can be read."""
    if len(names) > 2 and all(name.isdecimal() for name in names):
        step = int(names[1]) - int(names[0])
        if step > 0 and [int(name) for name in names] == list(
            range(int(names[0]), int(names[-1]) + 1, step)
        ):
            rest = f"{names[0]}, {names[1]}, …, {names[-1]}"
            return f"the sizes {names[0]} to {names[-1]}" if step == 1 else f"the sizes {rest}"
    listed = ", ".join(f"`{name}`" for name in names[:LISTED])
    return f"{listed}, …" if len(names) > LISTED else listed


def _figure(cell: str) -> float | None:
    """`72`, `72.5` or `28 1/2`."""
    match = _FIGURE.fullmatch(cell)
    if not match or len(cell) > 30:
        return None
    if match["decimal"]:
        return float(match["decimal"])
    under = int(match["under"])
    return int(match["whole"] or 0) + int(match["over"]) / under if under else None


def _bad_cell(cell: str, size: str, name: str) -> tuple[str, str]:
    if not cell:
        return "empty-cell", f"the row `{size}` has no figure for `{name}`"
    return "no-figure", f"`{cell}` in the row `{size}` is no figure for `{name}`"


def _way_out(cell: str) -> str:
    if not cell:
        return "fill it in, or choose another size"
    if "," in cell and _figure(cell.replace(",", ".")) is not None:
        return f"write it with a point: `{cell.replace(',', '.')}`"
    if any(cell.endswith(unit) for unit in MILLIMETRES):
        return "the unit stands in the heading; write the figure alone"
    return "write a figure like `72`, `72.5` or `28 1/2`"
