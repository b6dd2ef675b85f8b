"""`close`: shut darts and let the lines they are closed into open by the same angle."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from itertools import pairwise

from oaktag.compiler.geometry import Motion, Path, chain, meetings, rotation
from oaktag.compiler.geometry import line as line_between
from oaktag.compiler.paper.areas import together
from oaktag.compiler.paper.arguments import Treatment
from oaktag.compiler.paper.chain import INTAKE, SEAM, Line
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import find
from oaktag.compiler.paper.intake import check_ending
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import DART, FISHEYE, FLARE, Opening
from oaktag.compiler.paper.origin import ON
from oaktag.compiler.paper.parting import Break, Parts, Slash, assemble, check_inside, closed
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.paper.reshape import check_simple, difference
from oaktag.compiler.paper.ring import Ring
from oaktag.compiler.paper.shutting import shut
from oaktag.compiler.paper.slashing import (
    check_once,
    drawn_line,
    led_to_outline,
    still_part,
    without_lines,
)
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.widening import let_in


def close(
    piece: Piece,
    darts: tuple[object, ...],
    by: Quantity | None = None,
    into: tuple[object, ...] = (),
    treatment: Treatment | None = None,
    holding: object = None,
) -> Change:
    """Turns the paper between dart and line about the dart's point until the legs meet.

    by: the share of the angle still open that is closed. Several lines from one point open by equal
    shares of it. Without lines the point must lie on an edge.
    """
    share = by.amount if by is not None else 1.0
    if not 0 < share <= 1:
        raise PaperError(
            "the share that is closed lies between 0 and 1",
            help="close it `by 1/2`, say, or leave `by` out to close it all",
            about="by",
            code="no-share",
        )
    lines = [drawn_line(drawn, "into") for drawn in into]
    asked = [_dart(thing) for thing in darts]
    check_once([line.label for line in lines], "into")
    check_once([dart.label for dart in asked], "darts")
    used: set[Label] = set()
    change = Change(piece)
    for dart in asked:
        dart = change.piece.opening(dart.label) or dart  # closing others may have moved it
        mine = [line for line in lines if _leaves(line, dart.point)]
        used.update(line.label for line in mine)
        if lines and not mine:
            raise PaperError(
                f"none of these lines starts at the point of `{dart.label}`: the nearest is {{0}} "
                "away",
                min(line.path.nearest(dart.point)[1] for line in lines),
                help=f"draw the line from `{dart.label}.point`",
                about="into",
                code="not-at-point",
            )
        done = _closed(change.piece, dart, share, mine, treatment or Treatment(), holding)
        change = Change(
            done.piece,
            together(change.let_in, done.let_in),
            together(change.cut_away, done.cut_away),
        )
        lines = [
            drawn_line(find(done.piece, line.label), "into")
            for line in lines
            if line.label not in used
        ]
    if lines:
        raise PaperError(
            f"`{lines[0].label}` starts at the point of none of these darts",
            help="draw it from the point of a dart that is closed, or leave it out",
            about="into",
            code="not-at-point",
        )
    check_simple(change.piece, "closed this far, the paper would lie on itself", piece)
    return change


def _closed(
    piece: Piece,
    asked: Opening,
    share: float,
    lines: list[Line],
    treatment: Treatment,
    holding: object,
) -> Change:
    dart = piece.opening(asked.label) or asked
    if dart.about is not None:
        if lines or share < 1:
            raise PaperError(
                f"`{dart.label}` runs from edge to edge, so it can only be closed whole",
                help=f"write `close {dart.label}`",
                about="into" if lines else "by",
                code="through-dart",
            )
        return shut(piece, dart, holding)
    point = dart.point
    piece = without_lines(piece, [line.label for line in lines])
    ring = Ring(piece)
    mouth_start, mouth_end, mouth = _mouth(ring, dart)
    role = SEAM if treatment.kind == FLARE else INTAKE
    cuts: list[Path | None] = [None]
    places = [0.0]
    if lines:
        led = [led_to_outline(_outward(line, point), ring, line.label, "into") for line in lines]
        cuts, places = [path for path, _ in led], [at for _, at in led]
        _check_lines(piece, lines, led)
    else:
        places = [_point_on_edge(ring, point, dart)]
    turn = sorted(range(len(cuts)), key=lambda i: (places[i] - mouth_end) % ring.total)
    cuts, places = [cuts[i] for i in turn], [places[i] for i in turn]
    lines = [lines[i] for i in turn] if lines else []

    # Rays about the point, in the order of the outline: second leg, lines, first leg.
    rays: list[Path | None] = [dart.second, *cuts, dart.first]
    stops = [mouth_end, *places, mouth_start]
    rings = [
        _sector(ring, ray, start, end, following)
        for (ray, start), (following, end) in pairwise(zip(rays, stops, strict=True))
    ]
    wedge = closed([dart.first, mouth, dart.second.reversed()])
    parts = _parts(ring, stops, [*rings, wedge], dart, lines, cuts, role)

    angle = cmath.phase((dart.first.end - point) / (dart.second.end - point)) * share
    count = len(cuts)
    angles = [angle * (count - i) / count for i in range(count + 1)]
    still = still_part(parts.changed(rings=parts.rings[:-1]), holding)
    if still == count + 1:  # the outline begins in the mouth
        still = 0
    motions: list[Motion | None] = [rotation(point, a - angles[still]) for a in angles]
    motions.append(None)
    order = [still, *(i for i in range(len(motions)) if i != still)]
    after = assemble(parts, motions, order)
    turned = [motion for motion in motions if motion is not None]

    openings = [
        Opening(
            line.label,
            treatment.kind,
            path.moved(turned[i]),
            path.moved(turned[i + 1]),
            treatment.style,
            treatment.short,
        )
        for i, (line, path) in enumerate(zip(lines, cuts, strict=False))
        if path is not None
    ]
    for opening in openings:
        if treatment.ending is not None:
            check_ending(opening.label, treatment.short, opening.first.length, "treatment")
    shut_part: tuple[Sequence[Path], Sequence[Path]] = ((), (wedge,))
    if share < 1:
        left_open = dart.changed(
            first=dart.first.moved(turned[-1]), second=dart.second.moved(turned[0]), trimmed=False
        )
        after = after.changed(openings=(*after.openings, left_open))
        if abs(angles[0] - angles[still]) >= abs(angles[-1] - angles[still]):
            shut_part = _shut_part(dart.first, dart.second, mouth, angle, piece.inward)
        else:
            back = mouth.reversed()
            shut_part = _shut_part(dart.second, dart.first, back, -angle, -piece.inward)
    after = after.changed(openings=after.openings + tuple(openings))
    gained, gone = shut_part
    return Change(after, together(gained, tuple(map(let_in, openings))), gone)


def _shut_part(
    still: Path, moving: Path, mouth: Path, angle: float, inward: complex
) -> tuple[Sequence[Path], Sequence[Path]]:
    """The paper of a dart's mouth that goes when one of its legs moves by an angle.

    Of a very wide dart a little comes as well, where the leg swings out over the mouth.
    mouth: from the still leg's end to the moving one's. inward: from the mouth into the paper.
    """
    leg = moving.moved(rotation(moving.start, angle))
    left = chain([line_between(still.end, leg.end), leg.reversed(), moving])
    return difference(mouth, left, inward)


def _dart(thing: object) -> Opening:
    """A dart that can be closed; anything else is refused."""
    if isinstance(thing, Opening) and thing.kind == DART:
        return thing
    name = f"`{getattr(thing, 'label', 'this')}`"
    if isinstance(thing, Opening) and thing.kind == FISHEYE:
        raise PaperError(
            f"{name} is pointed at both ends, so it has no mouth at which it could close",
            help="it is taken in when the piece is sewn",
            about="darts",
            code="not-a-dart",
        )
    raise PaperError(
        f"{name} is not a dart, so it cannot be closed",
        help="only a dart closes; a pleat or flare can be taken out with `overlap`",
        about="darts",
        code="not-a-dart",
    )


def _check_lines(piece: Piece, lines: list[Line], led: list[tuple[Path, float]]) -> None:
    """Refuses lines that leave the paper, run through a dart, or cross each other."""
    cuts = [
        Slash(path, 0.0, at, line.label, turned=abs(line.path.end - path.end) > 2 * ON)
        for line, (path, at) in zip(lines, led, strict=True)
    ]
    for number, cut in enumerate(cuts):
        check_inside(piece, cut, "into")
        for other in cuts[number + 1 :]:
            for meeting in meetings(cut.path, other.path):
                if ON < meeting.first_at < cut.path.length - ON:
                    raise PaperError(
                        f"`{cut.label}` and `{other.label}` meet again {{0}} from the dart's point",
                        meeting.first_at,
                        help="lead them apart from the point on",
                        about="into",
                        code="lines-cross",
                    )


def _parts(
    ring: Ring,
    stops: list[float],
    rings: list[Path],
    dart: Opening,
    lines: list[Line],
    cuts: list[Path | None],
    role: str,
) -> Parts:
    """The sectors about the dart's point as parts, the dart's own wedge last."""
    labels: list[Label | None] = [line.label for line in lines] or [None]
    gaps = [
        Break(stops[0], INTAKE, dart.label),
        *(
            Break(at, role if label else SEAM, label)
            for at, label in zip(stops[1:-1], labels, strict=True)
        ),
        Break(stops[-1], INTAKE, dart.label),
    ]
    around = sorted(range(len(gaps)), key=lambda i: gaps[i].at)
    slits = [(leg, INTAKE, dart.label) for leg in (dart.first, dart.second)]
    slits += [
        (path, role, line.label)
        for line, path in zip(lines, cuts, strict=False)
        if path is not None
    ]
    return Parts(
        ring,
        tuple(gaps[i] for i in around),
        tuple(around),
        tuple(rings),
        tuple(slits),
    )


def _sector(ring: Ring, ray: Path | None, start: float, end: float, following: Path | None) -> Path:
    paths = [run.path for _, run in ring.stretch(start, end)]
    if ray is not None:
        paths.insert(0, ray)
    if following is not None:
        paths.append(following.reversed())
    return closed(paths)


def _mouth(ring: Ring, dart: Opening) -> tuple[float, float, Path]:
    """Where a dart's mouth starts and ends on the outline, and the outline between."""
    mine = [i for i, (_, run) in enumerate(ring.entries) if run.opening == dart.label]
    mine = [i for i in mine if ring.entries[i][1].role == INTAKE]
    if not mine:
        raise PaperError(
            f"`{dart.label}` has no mouth on an edge, so it cannot be closed",
            help="leave it out",
            about="darts",
            code="no-mouth",
        )
    path = chain([ring.entries[i][1].path for i in mine])
    start = ring.starts[mine[0]]
    return start, (start + path.length) % ring.total, path


def _point_on_edge(ring: Ring, point: complex, dart: Opening) -> float:
    """Where on the outline a dart's point lies, when it closes into no line."""
    at = ring.locate(point, ON)
    if at is None:
        raise PaperError(
            f"the point of `{dart.label}` lies {{0}} inside the paper, so closing it must open a "
            "line",
            ring.piece.outline.nearest(point)[1],
            help=f"draw a line from `{dart.label}.point` to an edge and close it `into` that",
            about="darts",
            code="needs-line",
        )
    return at


def _leaves(line: Line, point: complex) -> bool:
    return min(abs(line.start - point), abs(line.end - point)) <= ON


def _outward(line: Line, point: complex) -> Path:
    """The line as it leaves the dart's point."""
    path = line.path
    return path if abs(path.start - point) <= abs(path.end - point) else path.reversed()
