"""Paper as it lies when darts and pleats are folded: the seam line beside a fold, and its shape.

When a dart is pressed to one side, its paper lies under the piece on that side in two layers. Cut
along the seam while it is folded, and every layer gets the seam's own line: the layer next to the
fold that is sewn as its reflection in that side, the layer beyond as the line carried over by the
motion that closes the dart.

A curved slash is creased straight, from its hinge (or far end) to its mouth: only straight creases
fold flat while the parts beside them move rigidly.
"""

from __future__ import annotations

import cmath

from oaktag.compiler.geometry import (
    IDENTITY,
    Motion,
    Path,
    chain,
    line,
    meetings,
    reflection,
    rotation,
    translation,
)
from oaktag.compiler.paper.chain import INTAKE
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.opening import GATHER, PLEAT, Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.ring import Ring
from oaktag.record import Record

JOINED = 1e-3  # mm
FAR = 6  # how many times the width of a mouth its folded paper may reach along the seam
BOTH_SIDES = ("box", "inverted")  # styles of pleats whose paper lies half to each side


class Mouth(Record):
    """One place where an opening meets the outline, seen so that it runs from `first` to `second`.

    number: which run of the ring it is. Both sides end at the mouth. closing lays the second side
    on the first; whole: for half of a box or inverted pleat, what closes all of it.
    """

    ring: Ring
    number: int
    opening: Opening
    first: Path
    second: Path
    closing: Motion
    whole: Motion | None = None

    def shape(self, onto_first: bool) -> Path:
        """The trimmed outline across the mouth, its paper folded under one side."""
        half = halfway(self.closing)
        if onto_first:
            seam = self._beside(onto_first, half)
            near = seam.moved(reflection(*self.crease(self.first)))
            far = seam.reversed().moved(self.closing.inverse())
            return _stepped([near, far], self.second.end)
        seam = self._beside(onto_first, half.inverse())
        near = seam.moved(reflection(*self.crease(self.second)))
        far = seam.reversed().moved(self.closing)
        return _stepped([near, far], self.first.end).reversed()

    def both(self) -> Path:
        """The trimmed outline of a box or inverted pleat: half of its paper under each side."""
        left, right = self.halves()
        return chain([left.shape(True), right.shape(False)])

    def halves(self) -> tuple[Mouth, Mouth]:
        """A box or inverted pleat as two folds, to be pressed to the first and second side."""
        half = halfway(self.closing)
        middle = self.second.moved(half)
        return (
            self.changed(second=middle, closing=half, whole=self.closing),
            self.changed(first=middle, closing=half, whole=self.closing),
        )

    def pressed(self) -> list[tuple[Mouth, bool]]:
        """The folds of a trimmed mouth, in order, each with whether it lies on its first side."""
        if self.opening.kind == PLEAT and self.opening.style in BOTH_SIDES:
            left, right = self.halves()
            return [(left, True), (right, False)]
        return [(self, (self.opening.pressed == "first") == self.near)]

    def shaped_again(self) -> Path:
        """The trimmed outline across the mouth, its paper on the side on which it lay before."""
        return chain([mouth.shape(onto_first) for mouth, onto_first in self.pressed()])

    @property
    def near(self) -> bool:
        """Whether its first side is that of the opening; at the far mouth it is the second."""
        return abs(self.first.end - self.opening.first.end) <= JOINED

    def crease(self, side: Path) -> tuple[complex, complex]:
        """The straight crease of a side: all its way, or from where a later cut has broken it."""
        corners = side.corners() if self.opening.broken else ()
        return (side.point_at(corners[-1]) if corners else side.start), side.end

    def _beside(self, onto_first: bool, half: Motion) -> Path:
        """The finished seam line beside the mouth, as far as the folded paper reaches under it."""
        side = self.first if onto_first else self.second
        begin, end = self.crease(side)
        wide = abs(self.first.end - self.second.end)
        onward = (end - begin) / abs(end - begin) * FAR * wide
        reach = line(begin, end + onward).moved(half)
        seam = self.walk(onto_first, FAR * wide)
        hits = [hit for hit in meetings(seam, reach) if hit.first_at > JOINED]
        if not hits:
            raise PaperError(
                f"`{self.opening.label}` folds {{0}} deep, more than there is paper beside it on "
                "that side",
                wide / 2,
                help="fold it to the other side, or make it less deep",
                about="folds",
                code="too-deep",
            )
        return seam.part(0.0, hits[0].first_at)

    def walk(self, onto_first: bool, far: float, over_fold: bool = True) -> Path:
        """The outline as sewn, from the mouth away on one side, other folds lying closed.

        At an edge on the fold it goes on as its own mirror image: the paper there is whole.
        """
        entries = self.ring.entries
        step = -1 if onto_first else 1
        number, carried = self.number, IDENTITY
        paths: list[Path] = []
        gone = 0.0
        while gone < far:
            number = (number + step) % len(entries)
            if number == self.number:
                break
            owner, run = entries[number]
            fold = self.ring.piece.edges[owner]
            if fold.on_fold and paths:
                if over_fold:
                    mirrored = reflection(carried(fold.start), carried(fold.end))
                    whole = self.whole or self.closing
                    shut = whole if onto_first else whole.inverse()
                    beyond = self.walk(not onto_first, far, over_fold=False).moved(shut)
                    back = _linked(paths).reversed()
                    paths += [back.moved(mirrored), beyond.moved(mirrored)]
                break
            path = run.path.reversed() if onto_first else run.path
            if run.role == INTAKE:
                opening = self.ring.piece.opening(run.opening) if run.opening else None
                if opening is None or opening.kind == GATHER:
                    break
                carried = _across(opening, path.start).then(carried)
                continue
            moved = path.moved(carried)
            paths.append(moved)
            gone += moved.length
        return _linked(paths) if paths else line(self.first.end, self.first.end + 1e-3)


def mouths(piece: Piece, opening: Opening) -> list[Mouth]:
    """Where an opening meets the outline."""
    ring = Ring(piece)
    return [
        mouth_at(ring, i, opening)
        for i, (_, run) in enumerate(ring.entries)
        if run.opening == opening.label and run.role == INTAKE
    ]


def mouth_at(ring: Ring, number: int, opening: Opening) -> Mouth:
    """The mouth of an opening that is a run of the ring, by its number."""
    start = ring.entries[number][1].path.start
    if abs(start - opening.first.end) <= JOINED:
        return Mouth(ring, number, opening, opening.first, opening.second, opening.closing)
    # The far mouth of an opening that opens at both ends is walked the other way round.
    first, second = opening.second.reversed(), opening.first.reversed()
    closing = opening.closing_at(first, second) if opening.broken else opening.closing.inverse()
    return Mouth(ring, number, opening, first, second, closing)


def _linked(paths: list[Path]) -> Path:
    """One path of several; a step, as where the legs of a fold differ, is bridged."""
    linked = paths[:1]
    for path in paths[1:]:
        if abs(linked[-1].end - path.start) > 1e-6:
            linked.append(line(linked[-1].end, path.start))
        linked.append(path)
    return chain(linked)


def _stepped(paths: list[Path], end: complex) -> Path:
    """One path led to the end of the mouth; legs of unequal length leave a step there."""
    gap = line(paths[-1].end, end)
    return chain([*paths, gap] if gap.length > 1e-7 else paths)


def halfway(motion: Motion) -> Motion:
    """The motion that does half of a turn or shift."""
    if abs(motion.turn - 1) < 1e-12:
        return translation(motion.shift / 2)
    centre = motion.shift / (1 - motion.turn)
    return rotation(centre, cmath.phase(motion.turn) / 2)


def _across(opening: Opening, start: complex) -> Motion:
    """What lays the paper beyond an opening on the side where the walk reaches it."""
    if opening.broken and not opening.hinged:
        ends = (opening.first.start, opening.second.start)
        if min(abs(start - end) for end in ends) <= JOINED:
            first, second = opening.first.reversed(), opening.second.reversed()
            far = opening.closing_at(first, second)
            return far if abs(start - ends[0]) <= JOINED else far.inverse()
    at_first = min(abs(start - end) for end in (opening.first.end, opening.first.start))
    at_second = min(abs(start - end) for end in (opening.second.end, opening.second.start))
    return opening.closing if at_first <= at_second else opening.closing.inverse()
