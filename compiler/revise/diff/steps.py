"""Which steps of a piece came, went or changed, told by their lines and captions."""

from __future__ import annotations

from difflib import SequenceMatcher
from itertools import groupby
from typing import TYPE_CHECKING

from oaktag.compiler.revise.diff.changes import Both, StepChange
from oaktag.compiler.revise.diff.renamed import with_new_names

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from oaktag.compiler.paper.piece import Piece

    Told = tuple[str, str]
    """The line of a step, its blanks made single, and its caption."""


def step_changes(old: Piece, new: Piece, renamed: Mapping[str, str]) -> Iterator[StepChange]:
    """In the order of the pieces. A step written again and again by a `repeat` is one.

    renamed: the new names of pieces by their old ones, which make no difference.
    """
    before, after = _told(old), _told(new)
    keys = [with_new_names(line, renamed) for line, _ in before], [line for line, _ in after]
    # Compared in one direction only, so that the way back finds the same steps.
    backward = before > after
    first, second = (keys[1], keys[0]) if backward else keys
    for tag, i, j, k, m in SequenceMatcher(None, first, second, False).get_opcodes():
        mine, yours = (slice(k, m), slice(i, j)) if backward else (slice(i, j), slice(k, m))
        one, other = before[mine], after[yours]
        if tag != "equal":
            yield from _collapsed(_paired(one, other))
            continue
        for (old_line, was), (new_line, now) in zip(one, other, strict=True):
            if was != now:
                yield StepChange(Both(old_line, new_line), Both(was, now))


def _told(piece: Piece) -> list[Told]:
    return [
        (" ".join(step.span.text.split()) if step.span else step.verb, step.caption or "")
        for step in piece.steps
    ]


def _paired(before: Sequence[Told], after: Sequence[Told]) -> Iterator[StepChange]:
    """Steps of the same verb in the same order are one step that changed."""
    rest = list(after)
    for line, caption in before:
        like = next((one for one in rest if one[0].split(" ", 1)[0] == line.split(" ", 1)[0]), None)
        if like is None:
            yield StepChange(Both(line, None), Both(caption, None))
            continue
        for new_line, new_caption in rest[: rest.index(like)]:
            yield StepChange(Both(None, new_line), Both(None, new_caption))
        del rest[: rest.index(like) + 1]
        yield StepChange(Both(line, like[0]), Both(caption, like[1]))
    for line, caption in rest:
        yield StepChange(Both(None, line), Both(None, caption))


def _collapsed(changes: Iterator[StepChange]) -> Iterator[StepChange]:
    for change, again in groupby(changes):
        yield change.changed(times=len(list(again)))
