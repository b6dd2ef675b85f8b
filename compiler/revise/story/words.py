"""What a picture says in words: its number, its caption, and its figures in the file's unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.units import show_area, show_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.revise.story.lengths import EdgeLength
    from oaktag.compiler.revise.story.telling import Picture, Story

MOST_NAMES, MOST_EDGES = 8, 10  # that are written out
NO_AREA = 0.5  # mm²: less is rounding


def number(picture: Picture) -> str:
    """`9`, or `4 to 27` for all turns of a `repeat`."""
    if picture.first == picture.last:
        return str(picture.first)
    return f"{picture.first} to {picture.last}"


def heading(picture: Picture) -> str:
    """Its caption, or else the word its line begins with."""
    words = picture.caption or picture.word
    return f"{words} ({picture.turns} times)" if picture.turns > 1 else words


def how_many(story: Story) -> str:
    """`12 steps`, or for a copy `3 steps more: begins as front, see there`."""
    own = story.steps - (story.pictures[0].first - 1 if story.pictures else story.steps)
    count = own if story.begins else story.steps
    words = f"{count} step" if count == 1 else f"{count or 'no'} steps"
    return f"{words} more: {story.begins}" if story.begins else words


def areas(picture: Picture, unit: str) -> list[str]:
    """Paper let in and cut away."""
    said = (("let in", picture.area_let_in), ("cut away", picture.area_cut_away))
    return [f"{what} {show_area(area, unit)}" for what, area in said if area > NO_AREA]


def names(picture: Picture) -> str:
    """What is new on the paper, or nothing."""
    shown = list(dict.fromkeys(map(written, picture.names)))
    if len(shown) > MOST_NAMES:
        shown = [*shown[: MOST_NAMES - 2], "…", shown[-1]]
    return f"new: {', '.join(shown)}" if shown else ""


def written(label: Label) -> str:
    """A name as the file has it; those that last one turn of a `repeat` are told apart no more."""
    return str(label.changed(name=label.name.partition(" (")[0]))


def lengths(picture: Picture, unit: str) -> list[tuple[str, str, str]]:
    """For each edge that changed: its name, its length as cut, and as sewn.

    The last is empty where the edge is sewn as cut.
    """
    rows = []
    for edge in picture.lengths:
        cut = _change(edge.before, edge.after, unit)
        sewn = _change(edge.sewn_before, edge.sewn_after, unit)
        if edge.before is None or "→" in cut or "→" in sewn:
            rows.append((edge.name, cut, "" if _one(edge) else sewn))
    return rows


def in_a_row(rows: Sequence[tuple[str, str, str]]) -> str:
    """The same as one line of text: `waist 21.62 → 19.54 cm, sewn 19.54 cm; hem 25 → 36.6 cm`."""
    told = [f"{name} {cut}" + (f", sewn {sewn}" if sewn else "") for name, cut, sewn in rows]
    more = [f"and {len(told) - MOST_EDGES} more edges"] if len(told) > MOST_EDGES else []
    return "; ".join(told[:MOST_EDGES] + more)


def _one(edge: EdgeLength) -> bool:
    """Whether the edge is sewn as it is cut, before and after."""
    before = edge.before is None or abs(edge.before - (edge.sewn_before or 0.0)) < 0.005
    return before and abs(edge.after - edge.sewn_after) < 0.005


def _change(before: float | None, after: float, unit: str) -> str:
    now = show_length(after, unit)
    was = now if before is None else show_length(before, unit)
    return now if was == now else f"{was.removesuffix(f' {unit}')} → {now}"
