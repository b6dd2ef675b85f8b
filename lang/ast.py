"""What a file says, as frozen nodes, each with its place in the text.

Expressions that stand for a point, and paths made of legs, are nodes of their own; whether a name
means a length, a point or a line is found later, by `check`. Two nodes are equal when they say the
same, wherever they stand.
"""

from __future__ import annotations

from typing import ClassVar

from oaktag.lang.source import Source, Span
from oaktag.record import Record


class Node(Record):
    uncompared: ClassVar[frozenset[str]] = frozenset({"span"})
    span: Span


# ---------------------------------------------------------------- expressions


class Expr(Node):
    """Anything with a value: a number, a length, an angle, a yes or no, a point, a thing on paper."""


class Number(Expr):
    """`4`, `1.5`; a fraction like `1/3` is a division."""

    value: float
    whole: bool


class Quantity(Expr):
    """`4 1/2 in`, `12 deg`: value in millimetres or degrees, the unit as written."""

    value: float
    unit: str


class YesNo(Expr):
    value: bool


class Index(Node):
    """`[2]` or, with a last, `[1..3]`."""

    first: Expr
    last: Expr | None


class Part(Node):
    """One step of a dotted name: `drape[i]`."""

    name: str
    index: Index | None


class Ref(Expr):
    """A dotted name: `block.front.waist`, `right.waist_dart[1].point`."""

    parts: tuple[Part, ...]


class Call(Expr):
    """`length(front.waist)`, `max(a, b)`; an argument may be a path."""

    name: str
    arguments: tuple[Expr | PathExpr, ...]


class Unary(Expr):
    """`-` or `not`."""

    operator: str
    operand: Expr


class Binary(Expr):
    """`+ - * /`, `= < > <= >=`, `and or`."""

    operator: str
    left: Expr
    right: Expr


# ----------------------------------------------------------------- directions


class Direction(Node):
    """A direction of travel."""


class Way(Direction):
    """`up`, `down`, `left`, `right` of the sheet."""

    word: str


class SquareTo(Direction):
    edge: Ref


class AtAngle(Direction):
    """An angle, anticlockwise from `right`."""

    angle: Expr


class TowardPoint(Direction):
    point: Expr


# --------------------------------------------------------------------- points


class Moved(Expr):
    """`P down 20 cm`, `P square to side 4 cm`."""

    base: Expr
    direction: Direction
    distance: Expr


class Dropped(Expr):
    """`P down to hem`, `P square to side to centre`: moved until it meets."""

    base: Expr
    direction: Direction
    onto: Ref


class Polar(Expr):
    """`P at 30 deg by 4 cm`."""

    base: Expr
    angle: Expr
    distance: Expr


class Toward(Expr):
    """`P toward Q by 1/3` (a share of the way) or `by 4 cm`."""

    base: Expr
    target: Expr
    by: Expr


class Midway(Expr):
    first: Expr
    second: Expr


class OnEdge(Expr):
    """`on side 9 cm from waist`, `on top 1/3`: a distance or a share along an edge or line."""

    edge: Ref
    at: Expr
    origin: Expr | None


class Meeting(Expr):
    """`where side meets hem`."""

    first: Ref
    second: Ref


class AtDistance(Expr):
    """`where LINE is 4 cm from P`."""

    line: Ref
    distance: Expr
    origin: Expr


# ---------------------------------------------------------------------- paths


class Leg(Node):
    to: Expr


class StraightLeg(Leg):
    pass


class CurveLeg(Leg):
    leaving: Direction | None = None
    arriving: Direction | None = None
    through: tuple[Expr, ...] = ()
    bowed: tuple[Direction, Expr] | None = None


class ArcLeg(Leg):
    """Round a centre or through a point; just one of the two is given."""

    around: Expr | None = None
    through: Expr | None = None


class PathExpr(Node):
    """A start and legs. `P down to hem` alone is the straight leg to where it meets."""

    start: Expr
    legs: tuple[Leg, ...]


# ----------------------------------------------------------------- statements


class Target(Node):
    """A name being given, with an index inside `repeat`: `flare[i]`."""

    name: str
    index: Expr | None


class Statement(Node):
    """One instruction; the caption is the comment that stands directly above it."""

    caption: str | None


class Assign(Statement):
    target: Target
    value: Expr


class Repeat(Statement):
    variable: Target
    first: Expr
    last: Expr
    body: tuple[Statement, ...]


class If(Statement):
    condition: Expr
    body: tuple[Statement, ...]
    otherwise: tuple[Statement, ...]


class Require(Statement):
    condition: Expr
    within: Expr | None
    why: str | None


# -- head


class Pattern(Statement):
    title: str


class Body(Statement):
    title: str
    entries: tuple[Assign, ...]


class MeasureItem(Node):
    target: Target
    default: Expr | None


class Measure(Statement):
    items: tuple[MeasureItem, ...]


class Choose(Statement):
    target: Target
    default: Expr
    low: Expr | None
    high: Expr | None
    description: str | None


class Use(Statement):
    """`use skirts.straight as block` (path is a Ref) or `use "ines.oak" as block` (path is text)."""

    uncompared: ClassVar[frozenset[str]] = frozenset({"span", "path_span"})
    path: Ref | str
    path_span: Span
    alias: Target
    settings: tuple[Assign, ...]


class Adjust(Statement):
    target: Target
    low: Expr
    high: Expr
    condition: Expr


class PieceDef(Statement):
    target: Target
    origin: Ref | None
    body: tuple[Statement, ...]


# -- finishing


class Allow(Statement):
    """`width` left out means `none`."""

    width: Expr | None
    on: tuple[Ref, ...]
    hem: bool


class Link(Node):
    """One edge of a chain that is sewn, and the end from which it is walked."""

    edge: Ref
    origin: Ref | None


class Sew(Statement):
    first: tuple[Link, ...]
    second: tuple[Link, ...]
    easing: Expr | None
    gathering: bool


class TrueAcross(Statement):
    """Outside pieces: `true a then b`: edges that flow into each other when sewn."""

    edges: tuple[Ref, ...]
    within: Expr | None


class Cut(Statement):
    count: Expr
    piece: Ref
    pair: bool
    cloths: tuple[Part, ...]


# -- drawing on a piece


class Draw(Statement):
    """`line NAME = PATH` or `curve NAME = PATH`; `word` is which."""

    word: str
    target: Target
    path: PathExpr


class EdgeDef(Node):
    target: Target
    path: PathExpr


class Outline(Statement):
    edges: tuple[EdgeDef, ...]


class Section(Statement):
    target: Target
    edge: Ref
    start: Expr
    end: Expr


class Ending(Node):
    """`ending 3 cm short`."""

    short: Expr


class DartOn(Statement):
    """`length` or `to` gives the point; `toward` is not needed."""

    target: Target
    edge: Ref
    at: Expr
    origin: Ref | None
    intake: Expr
    length: Expr | None
    to: Expr | None
    ending: Ending | None


class DartAlong(Statement):
    """A fish-eye dart along a line, widest at a point."""

    target: Target
    line: Ref
    intake: Expr
    at: Expr


class FoldOn(Statement):
    edge: Ref


class GrainAlong(Statement):
    edge: Ref


class GrainFrom(Statement):
    start: Expr
    end: Expr


class NotchOn(Statement):
    edges: tuple[Ref, ...]
    at: Expr
    origin: Ref | None
    double: bool


class NotchAt(Statement):
    point: Expr
    double: bool


class Drill(Statement):
    point: Expr


class Button(Statement):
    point: Expr
    size: Expr


class Buttonhole(Statement):
    point: Expr
    size: Expr
    along: Ref | None


class Text(Statement):
    text: str
    point: Expr


# -- verbs


class Treatment(Node):
    """What becomes of an opening: kind `flare`, `pleat`, `dart`, `gather`; style of a pleat."""

    kind: str
    style: str = "knife"
    ending: Ending | None = None


class Unfold(Statement):
    along: Ref
    first: Target
    second: Target
    holding: Ref | None


class Halve(Statement):
    along: Ref
    keeping: Target


class Mirror(Statement):
    pass


class Close(Statement):
    darts: tuple[Ref, ...]
    by: Expr | None
    into: tuple[Ref, ...]
    treatment: Treatment | None
    holding: Ref | None


class Amount(Node):
    """`4 cm at hem`."""

    by: Expr
    at: Ref | None


class Spread(Statement):
    """`spread` and `overlap`; `amounts` holds one or two."""

    lines: tuple[Ref, ...]
    amounts: tuple[Amount, ...]
    hinge: Ref | None
    treatment: Treatment | None
    holding: Ref | None


class Overlap(Statement):
    lines: tuple[Ref, ...]
    amounts: tuple[Amount, ...]
    hinge: Ref | None
    holding: Ref | None


class FoldTrim(Statement):
    folds: tuple[Ref, ...]
    toward: Direction | Ref | None
    holding: Ref | None


class Lengthen(Statement):
    at: Ref
    by: Expr
    holding: Ref | None


class Shorten(Statement):
    at: Ref
    by: Expr
    holding: Ref | None


class Redraw(Statement):
    edge: Ref
    path: PathExpr


class RedrawDart(Statement):
    dart: Ref
    to: Expr


class TrueEdges(Statement):
    edges: tuple[Ref, ...]
    within: Expr | None


class Divide(Statement):
    along: Ref
    first: Target
    second: Target
    holding: Ref | None


class Join(Statement):
    other: Ref
    edge: Ref
    holding: Ref | None


class Strip(Statement):
    length: Expr
    width: Expr


class Facing(Statement):
    edge: Ref
    deep: Expr


class Trace(Statement):
    uncompared: ClassVar[frozenset[str]] = frozenset({"span", "path_span"})
    path: str
    path_span: Span
    edges: tuple[Target, ...]
    scale_edge: Ref | None
    scale_length: Expr | None


# ----------------------------------------------------------------------- file


class File(Node):
    """A whole file. `unit` is the unit of length it uses most: how figures are shown to its writer."""

    uncompared: ClassVar[frozenset[str]] = frozenset({"span", "source"})
    source: Source
    version: int | None
    statements: tuple[Statement, ...]
    unit: str
