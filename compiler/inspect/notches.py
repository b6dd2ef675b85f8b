"""Notches must meet when both sides of a seam are walked."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING

from oaktag.compiler.inspect.walk import Notch, Walk, apart, matches, named, walk
from oaktag.lang.diagnostics import Diagnostic, error
from oaktag.lang.units import show_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.evaluate.pattern import Pattern, Seam, SeamSide

MEET = 1.0  # mm: notches nearer than this meet


def missed(pattern: Pattern) -> Iterator[Diagnostic]:
    """Notches that do not meet, and notches without a partner on the other side.

    Where the sides themselves do not match, that is told, and not every notch again.
    """
    for seam in pattern.seams:
        if not matches(seam) or not _has_notches(seam):
            continue
        walked = walk(seam)
        pairs, alone = paired(walked)
        missing = first_missed(walked)
        if missing is not None:
            yield _apart(walked, *missing, pattern.unit)
        yield from _unlike(walked, pairs, pattern.unit)
        for notch in alone:
            other = seam.second if notch in walked.first else seam.first
            yield Diagnostic(
                "warning",
                "lone-notch",
                f"the notch of `{notch.edge}` {_place(walked, notch, pattern.unit)} has no partner "
                f"on {named(other)}",
                seam.span,
                help="set both at once: `notch on front.side, back.side at …`, outside the pieces",
            )


def _has_notches(seam: Seam) -> bool:
    pieces = {id(side.piece): side.piece for side in (*seam.first, *seam.second)}
    return any(mark.kind == "notch" for piece in pieces.values() for mark in piece.marks)


def first_missed(walked: Walk) -> tuple[Notch, Notch] | None:
    """The first pair of notches that does not meet.

    In a plain seam both are as far from the start. In one that is eased or gathered the ease adds
    up on the way: from each notch to the next the longer side may be longer, by no more than all
    the ease, but never shorter.
    """
    seam = walked.seam
    loose = seam.gathering or seam.easing
    sign = 1.0 if apart(walked.seam) >= 0 else -1.0
    most = float("inf") if seam.gathering else seam.easing + MEET
    so_far = 0.0
    for first, second in paired(walked)[0]:
        off = (second.at - first.at) * (sign if loose else 1.0)
        if not loose and abs(off) > MEET:
            return first, second
        if loose and not so_far - MEET <= off <= most:
            return first, second
        so_far = max(so_far, off)
    return None


def paired(walked: Walk) -> tuple[list[tuple[Notch, Notch]], list[Notch]]:
    """Notches in pairs, and those that meet neither a notch nor a joint of the other side.

    They are paired by order if there are as many on both sides, else as they meet.
    """
    first, second, reach = walked.first, walked.second, _reach(walked.seam)
    if len(first) == len(second):
        return list(zip(first, second, strict=True)), []
    pairs, alone, left = [], [], list(second)
    for notch in first:
        near = min(left, key=lambda other: abs(other.at - notch.at), default=None)
        if near is not None and abs(near.at - notch.at) <= reach:
            pairs.append((notch, near))
            left.remove(near)
        else:
            alone.append(notch)
    seam = walked.seam
    alone = [one for one in alone if not _at_a_seam(one, seam.second, reach)]
    return pairs, alone + [one for one in left if not _at_a_seam(one, seam.first, reach)]


def _at_a_seam(notch: Notch, other: Sequence[SeamSide], reach: float) -> bool:
    """Whether it meets an end or a joint of the other side, as a band's notch meets a side seam."""
    places = accumulate((side.edge.sewn for side in other), initial=0.0)
    return any(abs(notch.at - place) <= reach for place in places)


def _reach(seam: Seam) -> float:
    return float("inf") if seam.gathering else MEET + abs(seam.easing)


def _apart(walked: Walk, first: Notch, second: Notch, unit: str) -> Diagnostic:
    seam, off = walked.seam, second.at - first.at
    if seam.gathering or seam.easing:
        longer = "second" if apart(walked.seam) >= 0 else "first"
        why = f"; between two notches the {longer} side is eased in, and never the other"
    else:
        why = ""
    return error(
        "notches-apart",
        f"two notches of this seam do not meet: on `{first.edge}` it is "
        f"{show_length(first.at, unit)} from {walked.origins[0]}, on `{second.edge}` "
        f"{show_length(second.at, unit)} from {walked.origins[1]}{why}",
        seam.span,
        label=f"{show_length(abs(off), unit)} apart",
        help="set both at the same distance from the same end, or say from where each side is "
        "walked: `sew front.side from waist to back.side from waist`",
    )


def _place(walked: Walk, notch: Notch, unit: str) -> str:
    """`4 cm from `waist``: from that end of its side which is nearer."""
    side = notch not in walked.first
    links = walked.seam.second if side else walked.seam.first
    rest = sum(link.edge.sewn for link in links) - notch.at
    if rest < notch.at - MEET and walked.goals[side]:
        return f"{show_length(rest, unit)} from {walked.goals[side]}"
    return f"{show_length(notch.at, unit)} from {walked.origins[side]}"


def _unlike(walked: Walk, pairs: Sequence[tuple[Notch, Notch]], unit: str) -> Iterator[Diagnostic]:
    """Single notches that meet double ones; those of the same two edges are told together."""
    unlike: dict[tuple[str, str], list[Notch]] = {}
    for first, second in pairs:
        if first.double != second.double:
            single, double = (second, first) if first.double else (first, second)
            unlike.setdefault((single.edge, double.edge), []).append(first)
    for (single_edge, double_edge), places in unlike.items():
        at = " and ".join(_place(walked, place, unit) for place in places)
        what = (
            "a single notch meets a double one"
            if len(places) == 1
            else (f"{len(places)} single notches meet double ones")
        )
        yield Diagnostic(
            "warning",
            "unlike-notches",
            f"{what}, {at}: single on `{single_edge}`, double on `{double_edge}`",
            walked.seam.span,
            help="both sides of a seam get the same notch: make both single or both `double`",
        )
