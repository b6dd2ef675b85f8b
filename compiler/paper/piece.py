"""A piece: a sheet of paper with one closed outline and all that lies on it."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any, Self

from oaktag.compiler.geometry import Path, chain, ring_area
from oaktag.compiler.paper.chain import Edge, Line
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from oaktag.compiler.geometry import Motion
    from oaktag.compiler.paper.label import Label
    from oaktag.compiler.paper.mark import Grain, Mark, NamedPoint, Section
    from oaktag.compiler.paper.opening import Opening
    from oaktag.compiler.paper.step import Step
    from oaktag.lang.source import Span


_NAMED = ("edges", "openings", "lines", "points", "sections")
# What is worked out once for a piece, and the fields from which it follows.
_FOLLOWS = {"outline": ("edges",), "signed_area": ("edges",), "named": _NAMED}


class Piece(Record):
    """The paper after all its steps. Edges are in order, each ending where the next begins.

    halves: the names given by `unfold`, outermost first. A piece whose outline is not yet drawn has
    no edges. only: names of halves of which nothing but that one half is left, so that its names do
    without. parts: what `divide` cut it into, by name. sewn: the names of those of its edges that
    the file says are sewn. unsure: the words of names that lines with a mistake in them would have
    given or changed; the pieces of a finished pattern have none.
    """

    name: str
    edges: tuple[Edge, ...] = ()
    lines: tuple[Line, ...] = ()
    openings: tuple[Opening, ...] = ()
    points: tuple[NamedPoint, ...] = ()
    marks: tuple[Mark, ...] = ()
    sections: tuple[Section, ...] = ()
    grain: Grain | None = None
    halves: tuple[str, ...] = ()
    only: frozenset[str] = frozenset()
    parts: tuple[tuple[str, Piece], ...] = ()
    steps: tuple[Step, ...] = ()
    sewn: frozenset[str] = frozenset()
    unsure: frozenset[str] = frozenset()

    def changed(self, **values: Any) -> Self:
        """The same piece with some fields replaced; what follows from the others alone is kept."""
        new = super().changed(**values)
        for name, sources in _FOLLOWS.items():
            if name in self.__dict__ and not any(
                source in values and values[source] is not self.__dict__[source]
                for source in sources
            ):
                new.__dict__[name] = self.__dict__[name]
        return new

    @cached_property
    def outline(self) -> Path:
        """The closed outline as cut, starting where the first edge starts."""
        return chain([run.path for edge in self.edges for run in edge.runs])

    @cached_property
    def signed_area(self) -> float:
        """In mm², positive if the outline runs anticlockwise."""
        return ring_area(self.outline)

    @cached_property
    def named(self) -> Mapping[str, Sequence[Edge | Line | Opening | NamedPoint | Section]]:
        """Everything on the paper by the word of its name: edges in the order of the outline, then
        openings, lines, points and sections.
        """
        found: dict[str, list[Edge | Line | Opening | NamedPoint | Section]] = {}
        for group in _NAMED:
            for thing in getattr(self, group):
                found.setdefault(thing.label.name, []).append(thing)
        return found

    @property
    def area(self) -> float:
        return abs(self.signed_area)

    @property
    def inward(self) -> complex:
        """Turns the direction of travel along the outline into the paper."""
        return 1j if self.signed_area > 0 else -1j

    def keeps_length(self, edge: Edge) -> bool:
        """Whether an edge is sewn to another, so that its length had better stay."""
        return edge.label.name in self.sewn or any(
            item.seam for item in self.edges if item.label.answers(edge.label)
        )

    def opening(self, label: Label) -> Opening | None:
        """The dart or opening with just that name."""
        return next((item for item in self.openings if item.label == label), None)

    def maker(self, mark: Mark) -> Span | None:
        """The line that set a mark: of those that set its kind the one after which it was there,
        or the last of them if it has moved since.
        """
        steps = [step for step in self.steps if step.verb in (mark.kind, f"{mark.kind}s")]
        there = [step for step in steps if mark in step.paper.marks] or steps[-1:]
        return there[0].span if there else None

    def moved(self, motion: Motion) -> Piece:
        """The whole sheet moved; its history stays as it was drawn."""
        return self.changed(
            edges=tuple(edge.moved(motion) for edge in self.edges),
            lines=tuple(line.moved(motion) for line in self.lines),
            openings=tuple(opening.moved(motion) for opening in self.openings),
            points=tuple(point.moved(motion) for point in self.points),
            marks=tuple(mark.moved(motion) for mark in self.marks),
            sections=tuple(section.moved(motion) for section in self.sections),
            grain=self.grain.moved(motion) if self.grain else None,
        )

    def with_edge(self, old: Edge, new: Edge) -> Piece:
        """The piece with one edge of its outline replaced."""
        return self.changed(edges=tuple(new if edge is old else edge for edge in self.edges))

    def with_opening(self, new: Opening) -> Piece:
        """The piece with the opening of that name replaced."""
        return self.changed(
            openings=tuple(new if item.label == new.label else item for item in self.openings)
        )
