"""`fold-trim`: fold darts and pleats as they will be sewn, cut along the seam, open again."""

from __future__ import annotations

from oaktag.compiler.paper.areas import together
from oaktag.compiler.paper.chain import Chain, Run
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.folded import BOTH_SIDES, Mouth, mouths
from oaktag.compiler.paper.opening import DART, PLEAT, Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.reshape import check_simple, difference
from oaktag.compiler.paper.step import Change

FLAT = 1e-6  # mm: an opening narrower than that lies flat as it is


def fold_trim(
    piece: Piece, folds: tuple[object, ...], toward: object = None, holding: object = None
) -> Change:
    """Gives each intake the shape whose folded layers lie on the finished seam line.

    toward: a direction, or an edge: the side on which the folded paper lies. Box and inverted
    pleats lie to both sides. Each fold is trimmed with the others lying closed.
    """
    change = Change(piece)
    shapes: list[tuple[Opening, Run, Run, str]] = []
    for fold in folds:
        if not isinstance(fold, Opening) or fold.kind not in (DART, PLEAT):
            raise PaperError(
                f"`{getattr(fold, 'label', 'this')}` is neither a dart nor a pleat, so there is "
                "nothing to fold",
                help="only darts and pleats are folded",
                about="folds",
                code="not-a-fold",
            )
        found = mouths(piece, fold)
        if not found and fold.opens < FLAT:
            change = change.changed(piece=change.piece.with_opening(fold.changed(trimmed=True)))
            continue
        if not found:
            raise PaperError(
                f"`{fold.label}` does not reach an edge, so there is nothing to trim",
                help="leave it out",
                about="folds",
                code="no-mouth",
            )
        for mouth in found:
            old = mouth.ring.entries[mouth.number][1]
            if fold.kind == PLEAT and fold.style in BOTH_SIDES:
                path, pressed = mouth.both(), ""
            else:
                onto_first = _onto_first(mouth, toward)
                path = mouth.shape(onto_first)
                pressed = "first" if onto_first == mouth.near else "second"
            shapes.append((fold, old, old.changed(path=path, drawn=old.as_drawn), pressed))
    for fold, old, new, pressed in shapes:
        let_in, cut_away = difference(old.path, new.path, piece.inward)
        done = _with_run(change.piece, old, new)
        done = done.with_opening(fold.changed(trimmed=True, toward=_name(toward), pressed=pressed))
        change = Change(done, together(change.let_in, let_in), together(change.cut_away, cut_away))
    check_simple(
        change.piece,
        "trimmed this way, the folded paper would overlap its neighbour",
        piece,
        "press it to the other side, make it less deep, or move it away from its neighbour",
    )
    return change


def _onto_first(mouth: Mouth, toward: object) -> bool:
    """Whether the folded paper lies on the first side of a mouth."""
    name = mouth.opening.label
    first, second = mouth.first.end, mouth.second.end
    if toward is None:
        raise PaperError(
            f"say to which side `{name}` is pressed",
            help="add `toward centre`, `toward down`, or another direction or edge",
            code="no-side",
        )
    if isinstance(toward, complex):
        along = ((first - second) * toward.conjugate()).real / abs(first - second)
        if abs(along) < 0.1:
            raise PaperError(
                f"the sides of `{name}` lie neither the one nor the other way from each other",
                help="name the edge toward which it is pressed",
                about="toward",
                code="no-side",
            )
        return along > 0
    if not isinstance(toward, Chain):
        raise PaperError(
            "`toward` names a direction or an edge",
            help="add `toward centre`, `toward down`, or another direction or edge",
            about="toward",
            code="no-side",
        )
    away = [toward.path.nearest(place)[1] for place in (first, second)]
    if abs(away[0] - away[1]) < 1e-6:
        raise PaperError(
            f"both sides of `{name}` are as far from `{toward.label}`",
            help="name another edge, or a direction",
            about="toward",
            code="no-side",
        )
    return away[0] < away[1]


def _name(toward: object) -> str:
    if isinstance(toward, Chain):
        return str(toward.label)
    names: dict[object, str] = {1j: "up", -1j: "down", -1 + 0j: "left", 1 + 0j: "right"}
    return names.get(toward, "both sides")


def _with_run(piece: Piece, old: Run, new: Run) -> Piece:
    edges = tuple(
        edge.changed(runs=tuple(new if run is old else run for run in edge.runs))
        if any(run is old for run in edge.runs)
        else edge
        for edge in piece.edges
    )
    return piece.changed(edges=edges)
