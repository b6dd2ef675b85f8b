"""What each part of an instruction has to be.

One line for each field of a node that is not clear by itself. A field that has no line here is
checked too: a path must be a path, and a name must be one that is there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    DART,
    EDGE,
    EDGES,
    FOLDS,
    LENGTH,
    LINE,
    LINES,
    NUMBERS,
    ON_PAPER,
    OPENING,
    PIECE,
    POINT,
    SECTION,
)
from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.lang.checking.dimensions import Kind


class Want(Record):
    """kinds: those that do. what: how a message calls the place.

    rule: `place` for a distance along an edge or a share of it, `share` for a part of a whole,
    `whole` for a whole number.
    """

    kinds: tuple[Kind, ...]
    what: str
    rule: str = ""


def _length(what: str) -> Want:
    return Want((LENGTH,), what)


def _point(what: str) -> Want:
    return Want((POINT,), what)


def _line(what: str) -> Want:
    return Want((LINE,), what)


def _edge(what: str) -> Want:
    return Want(EDGES, what)


_AT = Want((LENGTH, *NUMBERS), "`at`", "place")
_FROM, _TO = _point("`from`"), _point("`to`")
_SLASHED = (LINE, OPENING)
_SEVERAL = {"along": Want(LINES, "`along`"), "start": _FROM, "end": _TO, "size": _length("`size`")}

WANTS: dict[type[ast.Node], dict[str, Want]] = {
    # Drawing
    ast.Section: {"edge": _edge("`section`"), "start": _FROM, "end": _TO},
    ast.DartOn: {
        "edge": _edge("`dart … on`"),
        "at": _AT,
        "intake": _length("`intake`"),
        "length": _length("`length`"),
        "to": _TO,
    },
    ast.Ending: {"short": _length("`ending … short`")},
    ast.DartAlong: {
        "line": _line("`dart … along`"),
        "intake": _length("`intake`"),
        "at": _point("`at`"),
    },
    ast.FoldOn: {"edge": Want((EDGE,), "`fold on`")},
    ast.OpenFold: {"edge": Want((EDGE,), "`open`")},
    ast.GrainAlong: {"edge": Want(LINES, "`grain along`")},
    ast.GrainFrom: {"start": _FROM, "end": _TO},
    ast.NotchOn: {"edges": _edge("`notch on`"), "at": _AT, "deep": _length("`deep`")},
    ast.NotchAt: {"point": _point("`notch at`"), "deep": _length("`deep`")},
    ast.Mark: {"lines": Want((LINE, EDGE), "`mark`")},
    ast.Drill: {"point": _point("`drill at`")},
    ast.Button: {"point": _point("`button at`"), "size": _length("`size`")},
    ast.Buttonhole: {
        "point": _point("`buttonhole at`"),
        "size": _length("`size`"),
        "along": Want(LINES, "`along`"),
    },
    ast.Buttons: _SEVERAL | {"count": Want(NUMBERS, "`buttons`", "whole")},
    ast.Buttonholes: _SEVERAL | {"count": Want(NUMBERS, "`buttonholes`", "whole")},
    ast.Text: {"point": _point("`at`")},
    ast.Erase: {"lines": _line("`erase`")},
    # Paper made otherwise than by an outline
    ast.Strip: {
        "length": _length("`strip`"),
        "width": _length("`strip … by`"),
    },
    ast.Facing: {"edge": _edge("`facing on`"), "deep": _length("`deep`")},
    ast.Trace: {"scale_edge": _edge("`with`"), "scale_length": _length("`with … =`")},
    # Verbs
    ast.Unfold: {"along": Want((EDGE,), "`unfold along`")},
    ast.Halve: {"along": _line("`halve along`")},
    ast.Close: {
        "darts": Want(FOLDS, "`close`"),
        "by": Want(NUMBERS, "`by`", "share"),
        "into": Want(_SLASHED, "`into`"),
    },
    ast.Amount: {"by": _length("`by`"), "at": _edge("`at`")},
    ast.Spread: {"lines": Want(_SLASHED, "`spread`"), "hinge": _edge("`hinged on`")},
    ast.Overlap: {"lines": Want(_SLASHED, "`overlap`"), "hinge": _edge("`hinged on`")},
    ast.FoldTrim: {"folds": Want(FOLDS, "`fold-trim`"), "toward": Want(LINES, "`toward`")},
    ast.Lengthen: {"at": _line("`lengthen at`"), "by": _length("`by`")},
    ast.Shorten: {"at": _line("`shorten at`"), "by": _length("`by`")},
    ast.Redraw: {"edge": _edge("`redraw`")},
    ast.RedrawDart: {"dart": Want(FOLDS, "`redraw … to`"), "to": _TO},
    ast.TrueEdges: {"edges": _edge("`true`"), "within": _length("`within`")},
    ast.Divide: {"along": _line("`divide along`")},
    ast.Join: {"other": _edge("`join`"), "edge": _edge("`to`")},
    # Finishing
    ast.Allow: {"width": _length("an allowance"), "on": Want((PIECE, *EDGES), "`allow … on`")},
    ast.Link: {"edge": _edge("`sew`")},
    ast.Sew: {"easing": _length("`easing`")},
    ast.TrueAcross: {"edges": _edge("`true`"), "within": _length("`within`")},
    ast.Cut: {"count": Want(NUMBERS, "`cut`", "whole"), "piece": Want((PIECE,), "`cut`")},
}

# `holding` names a half, or anything that lies on the part that stays still.
HOLDING = Want(ON_PAPER, "`holding`")
ANYTHING = Want((), "")

# Fields for one thing in which a row may stand: `cut 1 gore[1..6]`.
ROWS_TOO = ((ast.Cut, "piece"),)

# What a drawn name is the name of.
DRAWN: dict[type[ast.Node], Kind] = {
    ast.Draw: LINE,
    ast.Section: SECTION,
    ast.DartOn: DART,
    ast.DartAlong: DART,
}

# Steps that need paper to work on.
VERBS = frozenset(
    {
        ast.OpenFold,
        ast.Erase,
        ast.Unfold,
        ast.Halve,
        ast.Mirror,
        ast.Close,
        ast.Spread,
        ast.Overlap,
        ast.FoldTrim,
        ast.Lengthen,
        ast.Shorten,
        ast.Redraw,
        ast.RedrawDart,
        ast.TrueEdges,
        ast.Divide,
        ast.Join,
    }
)
