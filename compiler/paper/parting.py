"""Cutting paper along slashes, moving the parts, and reading the outline of what results.

The outline is cut into stretches at the ends of the slashes. Each stretch belongs to one part of
the paper; parts move rigidly or are taken out. The new outline is the moved stretches in their old
order, with a straight run across every gap.
"""

from __future__ import annotations

from collections.abc import Sequence

from oaktag.compiler.geometry import Motion, Path, chain, contains, line, meetings
from oaktag.compiler.paper.carried import CROSSABLE, TOUCH, line_after, opening_after
from oaktag.compiler.paper.chain import SEAM, Edge, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import Grain
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.ring import SNAP, Ring
from oaktag.record import Record


class Slash(Record):
    """A cut with its two ends on the outline (as positions), and what is let in where it opens.

    turned: it runs against the line as it was drawn. start_edge, end_edge: the edges to which paper
    let in at a corner belongs.
    """

    path: Path
    start_at: float
    end_at: float
    label: Label
    role: str = SEAM
    opening: Label | None = None
    turned: bool = False
    start_edge: Label | None = None
    end_edge: Label | None = None

    def drawn_at(self, along: float) -> float:
        """A distance along the cut, as measured on the line from its own start."""
        return self.path.length - along if self.turned else along


class Break(Record):
    """Where the outline is cut, and the role of the run that spans the gap.

    prefer: the edge to which that run belongs, at a corner. along: the line it follows, after the
    parts have moved; a straight one if there is none. slash: the number of the slash.
    """

    at: float
    role: str = SEAM
    opening: Label | None = None
    prefer: Label | None = None
    along: Path | None = None
    slash: int = -1


class Parts(Record):
    """A piece cut into parts: stretch i of the outline runs from break i to break i + 1.

    part_of: the part each stretch belongs to. rings: the outline of each part before it moves.
    slits: the cut paths, with the role and opening of a run that spans them on a drawn line.
    """

    ring: Ring
    breaks: tuple[Break, ...]
    part_of: tuple[int, ...]
    rings: tuple[Path, ...]
    slits: tuple[tuple[Path, str, Label | None], ...]

    def part_at(self, point: complex, order: Sequence[int]) -> int:
        """The part that carries a point; on a slash the first in order, off the paper the
        nearest.
        """
        for number in order:
            if contains(self.rings[number], point):
                return number
        return min(order, key=lambda number: self.rings[number].distance(point))

    def part_with_start(self) -> int:
        """The part that carries the start of the outline."""
        return self.part_of[-1] if self.breaks[0].at > 1e-9 else self.part_of[0]


def cut(
    piece: Piece, slashes: Sequence[Slash], about: str = "lines"
) -> tuple[Parts, list[tuple[int, int]]]:
    """Cuts along slashes that go from edge to edge and do not cross.

    With the parts comes, for each slash, the pair of parts on its two sides: the one before and the
    one behind its end, walking the outline.
    """
    ring = Ring(piece)
    check_apart(piece, slashes, about)
    ends: list[tuple[float, float, int, bool]] = []
    places = _clustered([at for slash in slashes for at in (slash.start_at, slash.end_at)])
    for number, slash in enumerate(slashes):
        start_at, end_at = places[slash.start_at], places[slash.end_at]
        ends.append((start_at, end_at, number, False))
        ends.append((end_at, start_at, number, True))
    ends.sort(key=lambda end: (end[0], -((end[1] - end[0]) % ring.total), end[2]))
    place = {(number, at_end): i for i, (_, _, number, at_end) in enumerate(ends)}
    count = len(ends)
    part_of = [-1] * count
    rings: list[Path] = []
    for first in range(count):
        if part_of[first] >= 0:
            continue
        paths: list[Path] = []
        stretch = first
        while part_of[stretch] < 0:
            part_of[stretch] = len(rings)
            following = (stretch + 1) % count
            start, end = ends[stretch][0], ends[following][0]
            if count == 1 or abs(end - start) > 1e-9:
                paths.extend(run.path for _, run in ring.stretch(start, end))
            _, _, number, at_end = ends[following]
            path = slashes[number].path
            paths.append(path.reversed() if at_end else path)
            stretch = place[(number, not at_end)]
        rings.append(closed(paths))
    if len(rings) != len(slashes) + 1:
        raise PaperError(
            "these lines cross each other on the paper",
            help="draw them so that they do not cross, or spread one after the other",
            about=about,
            code="lines-cross",
        )
    sides = [
        (part_of[(place[(number, True)] - 1) % count], part_of[place[(number, True)]])
        for number in range(len(slashes))
    ]
    breaks = tuple(
        Break(
            at,
            slashes[number].role,
            slashes[number].opening,
            slashes[number].end_edge if at_end else slashes[number].start_edge,
            slash=number,
        )
        for at, _, number, at_end in ends
    )
    slits = tuple((slash.path, slash.role, slash.opening) for slash in slashes)
    return Parts(ring, breaks, tuple(part_of), tuple(rings), slits), sides


def _clustered(positions: Sequence[float]) -> dict[float, float]:
    """Positions that rounding alone keeps apart, set to one."""
    found: dict[float, float] = {}
    latest = None
    for at in sorted(set(positions)):
        if latest is None or at - latest > SNAP:
            latest = at
        found[at] = latest
    return found


def closed(paths: Sequence[Path]) -> Path:
    """One closed path of several; small gaps, as where a line ends beside an edge, are bridged."""
    bridged: list[Path] = []
    for i, path in enumerate(paths):
        before = paths[i - 1].end
        if before != path.start:
            bridged.append(line(before, path.start))
        bridged.append(path)
    return chain(bridged)


def check_apart(piece: Piece, slashes: Sequence[Slash], about: str = "lines") -> None:
    """Refuses slashes that cross one another, leave the paper, or cut through a dart or opening."""
    for number, slash in enumerate(slashes):
        for other in slashes[number + 1 :]:
            for meeting in meetings(slash.path, other.path):
                if not (
                    _at_end(slash.path, meeting.first_at) and _at_end(other.path, meeting.second_at)
                ):
                    raise PaperError(
                        f"`{slash.label}` and `{other.label}` cross, {{0}} along `{slash.label}`",
                        slash.drawn_at(meeting.first_at),
                        help="lines that are spread together may not cross: move one, or spread "
                        "one after the other",
                        about=about,
                        code="lines-cross",
                    )
        check_inside(piece, slash, about)


def check_inside(piece: Piece, cut_line: Slash, about: str = "lines") -> None:
    """Refuses a cut that leaves the paper between its ends or runs through a dart or opening."""
    path, label = cut_line.path, cut_line.label
    middle = path.point_at(path.length / 2)
    if piece.outline.distance(middle) <= ON:
        raise PaperError(
            f"`{label}` runs along the edge of the paper",
            help="a line that is cut runs inside the piece from one edge to another",
            about=about,
            code="along-edge",
        )
    outside = [m.first_at for m in meetings(path, piece.outline) if not _at_end(path, m.first_at)]
    if not outside and not contains(piece.outline, middle):
        outside = [0.0]
    if outside:
        raise PaperError(
            f"`{label}` leaves the paper {{0}} from its start",
            min(cut_line.drawn_at(at) for at in outside),
            help="a line that is cut runs inside the piece from one edge to another",
            about=about,
            code="leaves-paper",
        )
    for opening in piece.openings:
        if opening.kind in CROSSABLE:
            continue  # paper let in, to be folded or gathered later: a cut may run through it
        for side in (opening.first, opening.second):
            for meeting in meetings(path, side):
                if not _at_end(path, meeting.first_at) and not _at_end(side, meeting.second_at):
                    raise PaperError(
                        f"`{label}` runs through `{opening.label}`",
                        help=f"close `{opening.label}` first, or lead the line past it",
                        about=about,
                        code="through-opening",
                    )


def assemble(parts: Parts, motions: Sequence[Motion | None], order: Sequence[int]) -> Piece:
    """The piece after every part has moved; a part without a motion is taken out.

    order: the parts, those first that keep what lies exactly on a slash.
    """
    piece = parts.ring.piece
    carried = [number for number in order if motions[number] is not None]

    found: dict[complex, int] = {}

    def part_of(point: complex) -> int:
        if point not in found:
            found[point] = parts.part_at(point, order)
        return found[point]

    def motion_at(point: complex) -> Motion:
        motion = motions[part_of(point)] or motions[parts.part_at(point, carried)]
        assert motion is not None
        return motion

    def kept(point: complex) -> bool:
        return motions[part_of(point)] is not None

    grain = piece.grain
    if grain is not None:
        motion = motion_at(grain.upper)
        grain = Grain(motion(grain.start), motion(grain.end))
    return piece.changed(
        edges=_edges(parts, motions),
        lines=tuple(
            moved
            for line in piece.lines
            if (moved := line_after(line, parts, motions, order)) is not None
        ),
        openings=tuple(
            after
            for opening in piece.openings
            if (after := opening_after(opening, parts, motions, order, motion_at)) is not None
        ),
        points=tuple(point.moved(motion_at(point.at)) for point in piece.points if kept(point.at)),
        marks=tuple(mark.moved(motion_at(mark.at)) for mark in piece.marks if kept(mark.at)),
        sections=tuple(
            section.changed(
                start=motion_at(section.start)(section.start),
                end=motion_at(section.end)(section.end),
            )
            for section in piece.sections
        ),
        grain=grain,
    )


def _edges(parts: Parts, motions: Sequence[Motion | None]) -> tuple[Edge, ...]:
    """The edges of the new outline, from the same start as before."""
    ring, breaks = parts.ring, parts.breaks
    edges = list(ring.piece.edges)
    walk: list[tuple[int, Run]] = []
    waiting: Break | None = None

    def span(gap: Break | None, start: complex, end: complex) -> None:
        if gap is not None and abs(end - start) > 1e-7:
            run = Run(_between(gap.along, start, end), gap.role, gap.opening)
            walk.append((_owner(ring, gap, edges), run))

    bounds: list[tuple[float, float, int, Break | None]] = [
        (0.0, breaks[0].at, parts.part_of[-1], None)
    ]
    for i, opened in enumerate(breaks):
        end = breaks[i + 1].at if i + 1 < len(breaks) else ring.total
        bounds.append((opened.at, end, parts.part_of[i], opened))
    for start, end, part, gap in bounds:
        if gap is not None and (waiting is None or waiting.opening is None):
            waiting = gap
        motion = motions[part]
        if motion is None:
            continue
        if end - start <= 1e-9:
            if gap is not None and walk:  # a part that meets the outline in a point only
                corner = motion(ring.piece.outline.point_at(start))
                if abs(corner - walk[-1][1].path.end) > 1e-7:
                    span(waiting, walk[-1][1].path.end, corner)
                    waiting = None
            continue
        for number, run in ring.stretch(start, end):
            moved = run.moved(motion)
            if walk:
                span(waiting, walk[-1][1].path.end, moved.path.start)
                waiting = None
            walk.append((number, moved))
    span(waiting or breaks[0], walk[-1][1].path.end, walk[0][1].path.start)
    grouped: list[tuple[int, list[Run]]] = []
    for number, run in walk:
        if grouped and grouped[-1][0] == number:
            grouped[-1][1].append(run)
        else:
            grouped.append((number, [run]))
    return tuple(edges[number].changed(runs=tuple(runs)) for number, runs in grouped)


def _between(along: Path | None, start: complex, end: complex) -> Path:
    """The run that spans a gap: a part of the line along which the parts lie, else a straight."""
    if along is not None:
        (first, off_first), (last, off_last) = along.nearest(start), along.nearest(end)
        if max(off_first, off_last) <= 1e-6 and abs(last - first) > 1e-7:
            part = along.part(min(first, last), max(first, last))
            return part if first < last else part.reversed()
    return line(start, end)


def _owner(ring: Ring, gap: Break, edges: list[Edge]) -> int:
    """The edge to which paper let in at a break belongs.

    Between the two halves of an unfolded edge it belongs to the whole edge and to neither half.
    """
    before, after = ring.edge_before(gap.at), ring.edge_at(gap.at)
    if before == after:
        return before
    first, second = edges[before].label, edges[after].label
    if (first.name, first.index) == (second.name, second.index):
        shared = tuple(word for word in first.scope if word in second.scope)
        edges.append(edges[before].changed(label=first.changed(scope=shared)))
        return len(edges) - 1
    if gap.prefer is not None and second.answers(gap.prefer):
        return after
    return before


def _at_end(path: Path, at: float) -> bool:
    return at < TOUCH or at > path.length - TOUCH
