"""`unfold`: the half becomes whole."""

from __future__ import annotations

from oaktag.compiler.geometry import Motion, reflection
from oaktag.compiler.paper.chain import Edge, Line, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.intake import owners
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.mark import Mark
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.step import Change
from oaktag.compiler.paper.straight import STRAIGHT, check_one_side, check_straight


def unfold(
    piece: Piece, along: Edge, first: Label, second: Label, holding: object = None
) -> Change:
    """Adds the mirror image about a straight edge, which stays as a drawn line.

    What was drawn is found under the first name, its mirror image under the second.
    """
    if not isinstance(along, Edge):
        raise PaperError(
            "paper is unfolded along an edge of it",
            help="name the edge on the fold",
            about="along",
            code="not-an-edge",
        )
    for named, about in ((first, "first"), (second, "second")):
        if named.name in piece.halves:
            raise PaperError(
                f"this piece has a half `{named.name}` already",
                help="give the new halves names of their own",
                about=about,
                code="named-twice",
            )
    check_straight(along, "along")
    owners(piece, along, "along")
    places = [i for i, edge in enumerate(piece.edges) if edge.label.answers(along.label)]
    mirrored = reflection(along.start, along.end)
    check_one_side(piece, along, "along")
    kept = [edge for i, edge in enumerate(piece.edges) if i not in places]
    after, before = kept[places[0] :], kept[: places[0]]
    half = [*after, *before]
    image = [_image(edge, mirrored, second.name) for edge in reversed(half)]
    own = [_own(edge, first.name) for edge in half]
    start = len(after) if places[0] > 0 else 0
    edges = [*own, *image]
    edges = edges[start:] + edges[:start]
    fold = Line(
        along.label,
        along.runs,
        was_fold=along.on_fold,
        line=along.line,
        file=along.file,
        words=along.words,
    )
    lines = [
        *(_own(line, first.name) for line in piece.lines),
        *(_image(line, mirrored, second.name).reversed() for line in piece.lines),
        fold,
    ]
    openings = [
        *(item.changed(label=item.label.within(first.name)) for item in piece.openings),
        *(
            item.moved(mirrored).swapped().changed(label=item.label.within(second.name))
            for item in piece.openings
        ),
    ]
    points = [
        *(item.changed(label=item.label.within(first.name)) for item in piece.points),
        *(
            item.moved(mirrored).changed(label=item.label.within(second.name))
            for item in piece.points
        ),
    ]
    marks = [
        *(_marked(_on_fold(item, mirrored), first.name) for item in piece.marks),
        *(
            _marked(item.moved(mirrored), second.name)
            for item in piece.marks
            if item.kind != "text" and abs(mirrored(item.at) - item.at) > STRAIGHT
        ),
    ]
    sections = [
        *(
            item.changed(label=item.label.within(first.name), edge=item.edge.within(first.name))
            for item in piece.sections
        ),
        *(
            item.moved(mirrored).changed(
                label=item.label.within(second.name), edge=item.edge.within(second.name)
            )
            for item in piece.sections
        ),
    ]
    whole = piece.changed(
        edges=tuple(edges),
        lines=tuple(lines),
        openings=tuple(openings),
        points=tuple(points),
        marks=tuple(marks),
        sections=tuple(sections),
        halves=(first.name, second.name, *piece.halves),
        only=piece.only - {first.name, second.name},
    )
    return Change(whole, let_in=(piece.outline.moved(mirrored),))


def _own(chain: Edge | Line, half: str) -> Edge | Line:
    """A chain of the drawn half under its new name."""
    return chain.changed(
        label=chain.label.within(half),
        runs=tuple(_named(run, half) for run in chain.runs),
    )


def _image(chain: Edge | Line, mirrored: Motion, half: str) -> Edge | Line:
    """Its mirror image, walked the other way so that the outline goes on round."""
    turned = _own(chain, half).moved(mirrored).reversed()
    assert isinstance(turned, Edge | Line)
    return turned


def _named(run: Run, half: str) -> Run:
    return run.changed(opening=run.opening.within(half)) if run.opening else run


def _on_fold(mark: Mark, mirrored: Motion) -> Mark:
    """A mark on the fold is on both halves: its direction lies along the fold or across it."""
    if abs(mirrored(mark.at) - mark.at) > STRAIGHT:
        return mark
    both = mark.direction + mirrored.direction(mark.direction)
    return mark.changed(direction=both / abs(both)) if abs(both) > 1e-6 else mark


def _marked(mark: Mark, half: str) -> Mark:
    return mark.changed(edge=mark.edge.within(half)) if mark.edge else mark
