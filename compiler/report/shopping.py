"""What is needed besides cloth, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.making.bias import SEAM
from oaktag.compiler.making.materials import (
    JOINING,
    Buttons,
    Fastening,
    Materials,
    Strip,
    Zip,
    lignes,
    materials,
    runs,
)
from oaktag.compiler.making.words import chain, listed, often
from oaktag.compiler.making.zips import MORE
from oaktag.compiler.report.sections import Point, Section, Table
from oaktag.lang.units import roughly, show_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern


def shopping(pattern: Pattern) -> Iterator[Section]:
    """Bindings with their strips, then what closes it; nothing if the file asks for neither."""
    needed = materials(pattern)
    if needed.strips:
        yield _bindings(pattern, needed)
    points = [
        *(Point(_zip(one, pattern.unit), _over_hips(one, pattern.unit)) for one in needed.zips),
        *(Point(_fastening(one, pattern.unit)) for one in needed.fastenings),
        *(Point(_buttons(one, pattern.unit)) for one in needed.buttons),
    ]
    if points:
        closing = ["Thread, and what else the file does not name, is not listed."]
        if any(not one.said for one in needed.zips):
            closing.insert(0, "The lengths in which zips are sold are from memory, no source.")
        yield Section("Closures", points=tuple(points), closing=tuple(closing))


def _bindings(pattern: Pattern, needed: Materials) -> Section:
    unit = pattern.unit
    rows = tuple(
        (
            chain(one.edges),
            show_length(one.sewn, unit) + _more(runs(pattern, one)),
            f"{show_length(one.width, unit)} {'double' if one.double else 'single'}",
            f"{show_length(one.cut_width, unit)} in {one.cloth}",
        )
        for one in pattern.bindings
    )
    return Section(
        "Bindings",
        table=Table(("bound edges", "sewn", "finished", "strip cut"), rows),
        points=tuple(Point(_strip(one, unit)) for one in needed.strips),
        closing=(
            f"With {show_length(JOINING, unit)} more for each length that is bound in one go, to "
            "join it and turn it in (common practice, no source).",
        ),
    )


def _more(count: int) -> str:
    return "" if count == 1 else f", {often(count)}"


def _strip(one: Strip, unit: str) -> str:
    seam = show_length(SEAM, unit)
    return (
        f"{one.cloth}: {show_length(one.length, unit)} of bias strip, {show_length(one.cut, unit)} "
        f"wide. A square of {show_length(one.side, unit)} holds as much cloth; pieced from strips "
        f"it takes {one.strips} of them, from a square of {show_length(one.pieced, unit)}, seams "
        f"of {seam} counted."
    )


def _zip(one: Zip, unit: str) -> str:
    count = f"{one.count} zips" if one.count > 1 else "1 zip"
    opening = f"{one.opening}, which opens {show_length(one.long, unit)}"
    if one.length is None:
        return f"{count} for {opening}: longer than zips are commonly sold, so one by the metre."
    long = show_length(one.length, unit)
    if one.said:
        return f"{count} of {long} for {opening}."
    return f"{count} of {long} for {opening}; the proposed length is the next in the trade."


def _over_hips(one: Zip, unit: str) -> str:
    if one.needed is None:
        return ""
    enough = "it is enough" if one.long >= one.needed - 0.5 else "it is too short to get into"
    return (
        f"Getting over the hips takes {show_length(one.needed, unit)}, half of what the hips have "
        f"more than the waist, with about {roughly(MORE, unit)} added: {enough}."
    )


def _fastening(one: Fastening, unit: str) -> str:
    each = f", {show_length(one.each, unit)} each" if one.each is not None else ""
    again = f", {often(one.count)}" if one.count > 1 else ""
    long = show_length(one.long, unit)
    return f"{one.kind.replace('_', ' ').capitalize()} for {one.opening}, {long} long{each}{again}."


def _buttons(one: Buttons, unit: str) -> str:
    word = one.kind + ("s" if one.count > 1 else "")
    size = show_length(one.size, "mm" if unit in ("mm", "cm", "m") else unit)
    where = f"on {listed(list(one.pieces))}"
    if one.kind == "buttonhole":
        return f"{one.count} {word}, {size} long, {where}."
    return f"{one.count} {word} of {size} (line {lignes(one.size)}), {where}."
