"""What is new on the paper after a step: lines, darts and openings, marks, folds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import section_chain
from oaktag.compiler.paper.opening import DART
from oaktag.compiler.revise.story.outline import SAME, differing

if TYPE_CHECKING:
    from oaktag.compiler.geometry import Path
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.mark import Mark, Section
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.piece import Piece


def new_names(before: Piece | None, after: Piece) -> tuple[Label, ...]:
    """The lines, openings and sections drawn by a step, or given another shape.

    What only moved, or was only named anew (a half, after `unfold`), is not new.
    """
    if before is None:
        return ()
    lines = {line.label for line in before.lines}
    drawn = [(chain.label.name, chain.path) for chain in (*before.lines, *before.edges)]
    openings = {opening.label: opening for opening in before.openings}
    found = [
        line.label
        for line in after.lines
        if line.label not in lines
        and not any(name == line.label.name and _same(line.path, path) for name, path in drawn)
    ]
    for opening in after.openings:
        old = openings.get(opening.label)
        if old is None:
            new = not any(
                _same(opening.first, item.first) and _same(opening.second, item.second)
                for item in before.openings
            )
        else:
            new = opening.kind == DART and not _alike(opening, old)
        if new and opening.label not in found:
            found.append(opening.label)
    found += [section.label for section in _new_sections(before, after)]
    return tuple(found)


def new_marks(before: Piece | None, after: Piece) -> tuple[Mark, ...]:
    """The marks that were not there before."""
    old = before.marks if before is not None else ()
    return tuple(mark for mark in after.marks if mark not in old)


def changed_edges(before: Piece | None, after: Piece) -> tuple[Path, ...]:
    """Edges placed on the fold, new sections, and the line along which a piece was divided."""
    if before is None:
        return ()
    free = {edge.label for edge in before.edges if not edge.on_fold}
    found = [edge.path for edge in after.edges if edge.on_fold and edge.label in free]
    parts = (section_path(after, section) for section in _new_sections(before, after))
    found += [part for part in parts if part is not None]
    if after.parts and not before.parts:
        found += differing(after.parts[0][1].outline, after.outline)
    return tuple(found)


def _new_sections(before: Piece, after: Piece) -> list[Section]:
    """Those that neither moved nor were only named anew."""
    return [
        section
        for section in after.sections
        if not any(
            section.label == old.label
            or (abs(section.start - old.start) <= SAME and abs(section.end - old.end) <= SAME)
            for old in before.sections
        )
    ]


def section_path(piece: Piece, section: Section) -> Path | None:
    """The part of an edge that a section names, if the edge is there in one place."""
    try:
        return section_chain(piece, section).path
    except PaperError:
        return None


def _same(one: Path, other: Path) -> bool:
    """Whether two lines have the same ends."""
    ends = (abs(one.start - other.start), abs(one.end - other.end))
    turned = (abs(one.start - other.end), abs(one.end - other.start))
    return max(ends) <= SAME or max(turned) <= SAME


def _alike(one: Opening, other: Opening) -> bool:
    """Whether a dart kept the width of its mouth and the length of its legs."""
    return (
        abs(one.intake - other.intake) <= SAME
        and abs(one.first.length - other.first.length) <= SAME
        and abs(one.second.length - other.second.length) <= SAME
    )
