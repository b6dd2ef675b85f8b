"""Values of expressions: arithmetic with units, measures of paper, and names."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oaktag.compiler.evaluate import paths, points
from oaktag.compiler.evaluate.doubts import GRAIN, MARKS, doubtful
from oaktag.compiler.evaluate.pattern import Pattern, Value
from oaktag.compiler.geometry import GeometryError, Path
from oaktag.compiler.paper.arguments import Half
from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.find import family
from oaktag.compiler.paper.label import Label
from oaktag.compiler.paper.opening import Opening
from oaktag.compiler.paper.piece import Piece
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake, mistake
from oaktag.lang.units import show_area, show_length, show_number, unit_in

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.scope import Scope, Word
    from oaktag.lang.source import Span

# Where a verb made of another one takes what that one calls its lines and amounts.
_ELSEWHERE = {"lines": "at", "amounts": "by"}

LARGEST = 1e12  # mm, mm², degrees or plainly
AGREES = 0.01  # mm, degrees or plain number: what `=` forgives


def evaluate(expr: ast.Expr | ast.PathExpr, scope: Scope) -> Value:
    """The value of an expression where it stands; raises Mistake at the part that is wrong."""
    try:
        return _evaluate(expr, scope)
    except PaperError as wrong:
        if wrong.code == "unknown-name" and scope.may_be_elsewhere(expr):
            raise doubtful() from None
        raise located(wrong, expr, scope.unit) from None
    except GeometryError:
        raise cannot_be_drawn(expr.span) from None
    except (ZeroDivisionError, OverflowError, ValueError) as wrong:
        raise mistake(
            "arithmetic",
            "this cannot be divided: what it is divided by is nothing"
            if isinstance(wrong, ZeroDivisionError)
            else "this has no value",
            expr.span,
            help="look at the figures in it",
        ) from None


def cannot_be_drawn(span: Span) -> Mistake:
    """For lines the geometry refuses without the caller having seen it coming."""
    return mistake(
        "cannot-be-drawn",
        "this cannot be drawn: it comes to a line without length or to paper without width",
        span,
        help="look at the figures that lead here",
    )


def located(wrong: PaperError, node: ast.Node, unit: str) -> Mistake:
    """A paper error at its place in the file, its figures in the unit of that line, or else of the
    file.
    """
    unit = unit_in(node.span.text, unit)
    figures = [show_length(length, unit) for length in wrong.lengths]
    place = getattr(node, wrong.about, None) if wrong.about else None
    if place is None and wrong.about in _ELSEWHERE:
        place = getattr(node, _ELSEWHERE[wrong.about], None)
    if isinstance(place, tuple):
        # Of several, the one the message begins with.
        named = [item for item in place if wrong.message.startswith(f"`{item.span.text}`")]
        place = next(iter((*named, *place)), None)
    span = place.span if isinstance(place, ast.Node) else node.span
    message = wrong.message.format(*figures) if figures else wrong.message
    help = wrong.help.format(*figures) if figures else wrong.help
    return mistake(wrong.code, message, span, help=help)


def length_of(expr: ast.Expr, scope: Scope) -> float:
    """The millimetres an expression comes to."""
    value = evaluate(expr, scope)
    if not isinstance(value, Quantity) or value.kind != "length":
        raise mistake("not-a-length", "a length is needed here, like `4 cm`", expr.span)
    return value.amount


def quantity_of(expr: ast.Expr, scope: Scope) -> Quantity:
    value = evaluate(expr, scope)
    if not isinstance(value, Quantity):
        raise mistake("not-an-amount", "an amount is needed here", expr.span)
    return value


def point_of(expr: ast.Expr, scope: Scope) -> complex:
    value = evaluate(expr, scope)
    if not isinstance(value, complex):
        raise mistake("not-a-point", "a point is needed here", expr.span)
    return value


def whole_of(expr: ast.Expr, scope: Scope) -> int:
    """A whole number: how often, or which."""
    amount = quantity_of(expr, scope)
    if amount.kind != "number" or abs(amount.amount - round(amount.amount)) > 1e-9:
        raise mistake("not-whole", "a whole number is needed here, like `3`", expr.span)
    if abs(amount.amount) > 1e9:
        raise mistake(
            "too-large", "this number is too large", expr.span, help="look at the figures in it"
        )
    return round(amount.amount)


def words_of(ref: ast.Ref, scope: Scope) -> list[Word]:
    """A dotted name with its indexes worked out."""
    words: list[Word] = []
    for part in ref.parts:
        if part.index is None:
            words.append((part.name, None))
        elif part.index.last is None:
            words.append((part.name, whole_of(part.index.first, scope)))
        else:
            bounds = (whole_of(part.index.first, scope), whole_of(part.index.last, scope))
            if bounds[1] - bounds[0] > 10_000:
                raise mistake(
                    "too-large",
                    "no more than 10,000 at once",
                    part.index.span,
                    help="check the numbers in the brackets",
                )
            words.append((part.name, bounds))
    return words


def agree(left: float, right: float, within: float = AGREES) -> bool:
    return abs(left - right) <= within + 1e-9


def show(value: Value, unit: str) -> str:
    """A value as its writer would put it."""
    if isinstance(value, Quantity):
        if value.kind == "length":
            return show_length(value.amount, value.unit or unit)
        if value.kind == "area":
            return show_area(value.amount, unit)
        if value.kind == "angle":
            return f"{show_number(value.amount, 2)} deg"
        return show_number(value.amount, 4)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, complex):
        return f"({show_length(value.real, unit)}, {show_length(value.imag, unit)})"
    if isinstance(value, Piece):
        return f"the piece {value.name}"
    if isinstance(value, Chain):
        return f"{value.label}, {show_length(value.length, unit)} long"
    if isinstance(value, Opening):
        return f"the {value.kind} {value.label}, {show_length(value.intake, unit)} wide"
    if isinstance(value, Path):
        return f"a line {show_length(value.length, unit)} long"
    if isinstance(value, tuple):
        return ", ".join(show(item, unit) for item in value)
    if isinstance(value, Pattern):
        return f"the pattern {value.title}"
    if isinstance(value, Half):
        return value.name
    return str(value)


def _evaluate(expr: ast.Expr | ast.PathExpr, scope: Scope) -> Value:
    match expr:
        case ast.Number():
            return Quantity("number", expr.value)
        case ast.Quantity():
            if expr.unit == "deg":
                return Quantity("angle", expr.value)
            return Quantity("length", expr.value, expr.unit)
        case ast.YesNo():
            return expr.value
        case ast.Ref():
            if len(expr.parts) == 1 and expr.parts[0].index is None:
                if expr.parts[0].name == "origin":
                    return 0j
                if expr.parts[0].name == "pi":
                    return Quantity("number", math.pi)
            return scope.look_up(words_of(expr, scope))
        case ast.Unary(operator="not"):
            return not truth_of(expr.operand, scope)
        case ast.Unary():
            amount = quantity_of(expr.operand, scope)
            return Quantity(amount.kind, -amount.amount, amount.unit)
        case ast.Binary(operator="and"):
            return truth_of(expr.left, scope) and truth_of(expr.right, scope)
        case ast.Binary(operator="or"):
            return truth_of(expr.left, scope) or truth_of(expr.right, scope)
        case ast.Binary():
            return _binary(expr, scope)
        case ast.Call():
            return _call(expr, scope)
        case ast.PathExpr():
            return paths.path(expr, scope)
        case _:
            return points.point(expr, scope)


def truth_of(expr: ast.Expr, scope: Scope) -> bool:
    value = evaluate(expr, scope)
    if not isinstance(value, bool):
        raise mistake(
            "not-a-condition",
            "this is neither yes nor no",
            expr.span,
            help="write a comparison, like `depth > 2 cm`",
        )
    return value


def _binary(expr: ast.Binary, scope: Scope) -> Value:
    if expr.operator in ("=", "<", ">", "<=", ">="):
        return compare(expr, scope)
    value = _calculated(expr, scope)
    if not abs(value.amount) <= LARGEST:
        raise mistake(
            "too-large",
            f"this comes to {show(value, scope.unit)}, more than can be worked with",
            expr.span,
            help="look at the figures in it",
        )
    return value


def _calculated(expr: ast.Binary, scope: Scope) -> Quantity:
    left, right = quantity_of(expr.left, scope), quantity_of(expr.right, scope)
    kinds = (left.kind, right.kind)
    if expr.operator in "+-":
        if left.kind != right.kind:
            raise mistake(
                "dimensions", f"a {left.kind} and a {right.kind} cannot be added", expr.span
            )
        other = right.amount if expr.operator == "+" else -right.amount
        return Quantity(left.kind, left.amount + other)
    if expr.operator == "*":
        amount = left.amount * right.amount
        if "number" in kinds:
            return Quantity(kinds[0] if kinds[1] == "number" else kinds[1], amount)
        if kinds == ("length", "length"):
            return Quantity("area", amount)
    elif expr.operator == "/":
        amount = left.amount / right.amount
        if kinds[0] == kinds[1]:
            return Quantity("number", amount)
        if kinds[1] == "number":
            return Quantity(kinds[0], amount)
        if kinds == ("area", "length"):
            return Quantity("length", amount)
    raise mistake("dimensions", f"a {left.kind} by a {right.kind} has no meaning here", expr.span)


def compare(expr: ast.Binary, scope: Scope, within: float = AGREES) -> bool:
    """A comparison; `=` forgives `within`, in mm, degrees or plainly."""
    left, right = evaluate(expr.left, scope), evaluate(expr.right, scope)
    if isinstance(left, complex) and isinstance(right, complex) and expr.operator == "=":
        return agree(abs(left - right), 0.0, within)
    if isinstance(left, bool) and isinstance(right, bool) and expr.operator == "=":
        return left == right
    if not isinstance(left, Quantity) or not isinstance(right, Quantity) or left.kind != right.kind:
        raise mistake("dimensions", "these two cannot be compared", expr.span)
    if expr.operator == "=":
        return agree(left.amount, right.amount, within)
    if expr.operator == "<":
        return left.amount < right.amount
    if expr.operator == ">":
        return left.amount > right.amount
    if expr.operator == "<=":
        return left.amount <= right.amount + 1e-9
    return left.amount >= right.amount - 1e-9


def _call(expr: ast.Call, scope: Scope) -> Value:
    name = expr.name
    if name == "count":
        return Quantity("number", float(_count(expr.arguments[0], scope)))
    values = [evaluate(argument, scope) for argument in expr.arguments]
    if name in ("length", "sewn"):
        return Quantity("length", _measured(values[0], name))
    if name == "area" and isinstance(values[0], Piece):
        if values[0].unsure - {MARKS, GRAIN}:
            raise doubtful()
        return Quantity("area", values[0].area)
    if name in ("distance", "angle") and all(isinstance(value, complex) for value in values):
        places = [value for value in values if isinstance(value, complex)]
        if name == "distance":
            return Quantity("length", abs(places[0] - places[1]))
        return Quantity("angle", points.angle_between(*places))
    amounts = [value for value in values if isinstance(value, Quantity)]
    if len(amounts) != len(values) or not amounts:
        raise mistake("not-an-amount", f"`{name}` needs amounts", expr.span)
    first, numbers = amounts[0], [amount.amount for amount in amounts]
    if name in ("min", "max"):
        return Quantity(first.kind, (min if name == "min" else max)(numbers))
    if name == "abs":
        return Quantity(first.kind, abs(first.amount))
    if name == "round":
        step = numbers[1] if len(numbers) > 1 else 1.0
        return Quantity(first.kind, math.floor(first.amount / step + 0.5) * step)
    if name == "sqrt":
        return Quantity("length" if first.kind == "area" else "number", math.sqrt(first.amount))
    if name in ("sin", "cos", "tan"):
        return Quantity("number", float(getattr(math, name)(math.radians(first.amount))))
    if name in ("asin", "acos", "atan"):
        return Quantity("angle", math.degrees(getattr(math, name)(first.amount)))
    raise mistake("unknown-name", f"`{name}` is not something that can be worked out", expr.span)


def _measured(value: Value, name: str) -> float:
    if isinstance(value, Chain):
        return value.length if name == "length" else value.sewn
    if isinstance(value, Path):
        return value.length
    if isinstance(value, Opening):
        return value.first.length
    if isinstance(value, tuple):
        return sum(_measured(item, name) for item in value)
    raise PaperError("only an edge or a line has a length")


def _count(argument: ast.Expr | ast.PathExpr, scope: Scope) -> int:
    """How many there are of an indexed name, on the paper or in the file."""
    assert isinstance(argument, ast.Ref)
    words = words_of(argument, scope)
    if words[-1][1] is not None:
        found = scope.look_up(words)
        return len(found) if isinstance(found, tuple) else 1
    pieces: list[tuple[Piece, list[Word]]] = []
    if scope.piece is not None:
        pieces.append((scope.piece, words))
    for cut in range(1, len(words)):
        try:
            owner = scope.look_up(words[:cut])
        except PaperError:
            continue
        if isinstance(owner, Piece):
            pieces.append((owner, words[cut:]))
    for piece, asked in pieces:
        if asked[-1][0] in piece.unsure:
            raise doubtful()
        label = Label(asked[-1][0], None, tuple(word for word, _ in asked[:-1]))
        things = family(piece, label)
        if things:
            return len(things)
    if words[0][0] in scope.unsure or scope.lost:
        raise doubtful()
    numbered = [key for key in scope.names if key[0] == words[0][0] and key[1] is not None]
    return len(numbered) if len(words) == 1 else 0
