"""Checks the head of a file: what it needs of a body, leaves to choose, and uses."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    LENGTH,
    NUMBER,
    NUMBERS,
    PATTERN,
    REAL,
    UNKNOWN,
    VALUES,
    WHOLE,
    YES_NO,
    with_article,
)
from oaktag.lang.checking.misfits import constant, shown
from oaktag.lang.checking.names import Names
from oaktag.lang.diagnostics import Label
from oaktag.lang.words import nearest

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.lang.checking.dimensions import Kind
    from oaktag.lang.checking.values import Values


def pattern(values: Values, node: ast.Pattern) -> None:
    values.scope.names.title = node.title


def once(values: Values, node: ast.Statement, word: str) -> None:
    """What is said of the whole file is said at its margin, and once."""
    at_margin(values, node, word)
    first = next((item for item in values.scope.statements if type(item) is type(node)), node)
    if first is not node and not values.scope.nested:
        values.scope.wrong(
            "said-twice",
            f"`{word}` is said twice in this file",
            node.span,
            label="the second time",
            labels=(Label(first.span, "the first time"),),
            help="keep one of the two",
        )


def revision(values: Values, node: ast.Revision) -> None:
    once(values, node, "revision")


def notches(values: Values, node: ast.Notches) -> None:
    once(values, node, "notches")
    if node.deep is not None:
        values.length(node.deep, "`deep`")


def body(values: Values, node: ast.Body) -> None:
    """A body among the lines of a pattern has been refused while reading."""


def at_margin(values: Values, node: ast.Statement, word: str) -> None:
    """The head of a file stands outside `repeat` and `if`."""
    if values.scope.nested:
        values.scope.wrong(
            "misplaced",
            f"`{word}` holds for the whole file, not for a part of it",
            node.span,
            help="move it to the margin, above the block",
        )


def measure(values: Values, node: ast.Measure) -> None:
    at_margin(values, node, "measure")
    for item in node.items:
        values.no_index(item.target, "a measure")
        if item.default is not None:
            values.length(item.default, f"the measure `{item.target.name}`")
            value = constant(item.default)
            if value is not None and value <= 0:
                values.scope.wrong(
                    "not-positive",
                    f"`{item.target.name}` is a measure of a body, and more than nothing",
                    item.default.span,
                )
        values.scope.give(item.target, LENGTH, "measure")


def choose(values: Values, node: ast.Choose) -> None:
    at_margin(values, node, "choose")
    name = node.target.name
    values.no_index(node.target, "a choice")
    kind = values.want(node.default, VALUES, f"the choice `{name}`")
    lacking = _lacking_unit(values, node)
    if lacking:
        values.scope.give(node.target, lacking, "choice")
        return
    for limit in (node.low, node.high):
        if limit is None or kind == UNKNOWN:
            continue
        if kind == YES_NO:
            values.scope.wrong(
                "no-range",
                f"`{name}` is yes or no, and has no range",
                limit.span,
                help="leave out `from … to …`",
            )
            break
        setting(values, limit, kind, f"the range of `{name}`")
    _within_range(values, node)
    values.scope.give(node.target, kind, "choice")


def _lacking_unit(values: Values, node: ast.Choose) -> Kind | None:
    """`72 from 40 cm to 90 cm`: one mistake, and the kind that is meant."""
    if node.low is None or node.high is None:
        return None
    low, high, default = node.low, node.high, node.default
    bare: list[ast.Expr]
    if (
        isinstance(default, ast.Number)
        and isinstance(low, ast.Quantity)
        and isinstance(high, ast.Quantity)
    ):
        bare, span, meant = [default], default.span, low
    elif (
        isinstance(default, ast.Quantity)
        and isinstance(low, ast.Number)
        and isinstance(high, ast.Number)
    ):
        bare, span, meant = [low, high], low.span.to(high.span), default
    else:
        return None
    figures = " and ".join(shown(one.span) for one in bare)
    written = " to ".join(f"{one.span.text} {meant.unit}" for one in bare)
    values.scope.wrong(
        "missing-unit",
        f"{figures} {'have' if bare[1:] else 'has'} no unit; the choice `{node.target.name}` is "
        f"measured in {meant.unit}",
        span,
        help=f"write `{written}`",
    )
    return values.kind(meant)


def _within_range(values: Values, node: ast.Choose) -> None:
    if node.low is None or node.high is None:
        return
    value, low, high = constant(node.default), constant(node.low), constant(node.high)
    if low is not None and high is not None and low > high:
        values.scope.wrong(
            "out-of-range",
            f"the range of `{node.target.name}` ends before it begins",
            node.low.span.to(node.high.span),
            help=f"from {shown(node.high.span)} to {shown(node.low.span)}",
        )
    elif value is not None and (
        (low is not None and value < low) or (high is not None and value > high)
    ):
        values.scope.wrong(
            "out-of-range",
            f"`{node.target.name}` is {shown(node.default.span)} if nothing is chosen, which "
            f"is not between {shown(node.low.span)} and {shown(node.high.span)}",
            node.default.span,
            help="change it, or widen the range",
        )


def setting(values: Values, value: ast.Expr, kind: Kind, what: str) -> None:
    """A value for a choice: of its kind, and whole if the choice is."""
    if kind == WHOLE:
        values.whole(value, what)
    else:
        values.want(value, NUMBERS if kind in NUMBERS else (kind,), what)


def use(values: Values, node: ast.Use) -> None:
    at_margin(values, node, "use")
    values.no_index(node.alias, "a pattern that is used")
    inside = values.scope.uses.get(node.alias.name)
    done: set[str] = set()
    for entry in node.settings:
        name = entry.target.name
        values.no_index(entry.target, "a choice")
        if name in done:
            values.scope.wrong(
                "set-twice",
                f"`{name}` is set twice",
                entry.target.span,
                help="keep one of the two lines",
            )
        done.add(name)
        _set(values, entry, inside, node.alias.name)
    values.scope.give(node.alias, PATTERN, "", inside or Names(loose=True))


def _set(values: Values, entry: ast.Assign, inside: Names | None, alias: str) -> None:
    name = entry.target.name
    symbol = inside.symbols.get(name) if inside is not None else None
    if symbol is not None and symbol.role == "choice":
        setting(values, entry.value, symbol.kind, f"the choice `{name}`")
        return
    values.kind(entry.value)
    if inside is None or (symbol is None and inside.loose):
        return
    if symbol is None:
        choices = inside.of_role("choice")
        near = nearest(name, choices)
        there = ", ".join(f"`{choice}`" for choice in choices)
        values.scope.wrong(
            "unknown-choice",
            f"the pattern `{alias}` leaves no choice `{name}`",
            entry.target.span,
            help=f"write `{near}`" if near else f"it has {there or 'no choices'}",
        )
    elif symbol.role == "measure":
        values.scope.wrong(
            "no-choice",
            f"`{name}` is a measure of `{alias}`: it comes from the body",
            entry.target.span,
            help=f"give it in a body file, or with `measure {name} = …` in this file",
        )
    else:
        what = symbol.role or symbol.kind
        values.scope.wrong(
            "no-choice",
            f"`{name}` is {with_article(what)} of `{alias}`, not a choice",
            entry.target.span,
            help=f"only what `{alias}` leaves to `choose` can be set",
        )


def adjust(values: Values, node: ast.Adjust) -> None:
    at_margin(values, node, "adjust")
    values.no_index(node.target, "what is adjusted")
    low = values.want(node.low, REAL, "`from`")
    if low == UNKNOWN:
        values.kind(node.high)
    else:
        setting(values, node.high, NUMBER if low == WHOLE else low, "`to`")
    values.scope.give(node.target, NUMBER if low == WHOLE else low, "adjusted")


def adjusted(values: Values, node: ast.Adjust) -> None:
    """The condition of an `adjust`; the name it brings may be used in it."""
    values.scope.before = node.span.end
    values.want(node.condition, (YES_NO,), "`until`")


HEAD: dict[type[ast.Statement], Callable[[Values, Any], None]] = {
    ast.Pattern: pattern,
    ast.Revision: revision,
    ast.Notches: notches,
    ast.Body: body,
    ast.Measure: measure,
    ast.Choose: choose,
    ast.Use: use,
    ast.Adjust: adjust,
}
