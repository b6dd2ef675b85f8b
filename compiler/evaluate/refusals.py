"""What is refused in the head of a file: measures and choices that will not do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.expressions import show
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang import ast
from oaktag.lang.diagnostics import Label, mistake

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Value
    from oaktag.compiler.evaluate.scope import Scope
    from oaktag.lang.diagnostics import Diagnostic, Mistake
    from oaktag.lang.project.program import Program
    from oaktag.lang.source import Span

CHOSEN_WRONG = frozenset({"out-of-range", "not-whole"})  # codes of mistakes in what is chosen


def missing_measures(items: list[ast.MeasureItem]) -> Mistake:
    """For measures that nothing gives."""
    names = [f"`{item.target.name}`" for item in items]
    if len(names) == 1:
        message = f"no body gives {names[0]}, and it has no default"
    else:
        listed = f"{', '.join(names[:-1])} and {names[-1]}"
        message = f"no body gives {listed}, and they have no default"
    return mistake(
        "missing-measure",
        message,
        items[0].target.span.to(items[-1].target.span),
        help="give a body with `--body FILE`, a size with `--chart` and `--size`, or a default: "
        f"`measure {items[0].target.name} = …`",
    )


def check_whole(name: str, value: Value, span: Span) -> None:
    """Refuses a figure that is not whole for a choice that is."""
    whole = isinstance(value, Quantity) and value.kind == "number"
    if not whole or abs(value.amount - round(value.amount)) > 1e-9:  # type: ignore[union-attr]
        raise mistake("not-whole", f"`{name}` is a whole number", span, help="set it to 1, 2, 3, …")


def check_range(statement: ast.Choose, value: Value, scope: Scope) -> None:
    """Refuses a figure outside the range of its choice."""
    if not isinstance(value, Quantity) or statement.low is None or statement.high is None:
        return
    low, high = scope.quantity(statement.low), scope.quantity(statement.high)
    if max(low.amount - value.amount, value.amount - high.amount) > 1e-9:
        raise mistake(
            "out-of-range",
            f"`{statement.target.name}` is {show(value, scope.unit)}, but it goes from "
            f"{show(low, scope.unit)} to {show(high, scope.unit)}",
            statement.span,
            help="choose a value between the two, or widen the range",
        )


def seen_from(found: Diagnostic, statement: ast.Use, used: Program) -> Diagnostic:
    """A mistake in a used pattern, with the line that uses it.

    What is wrong with a choice that is set here is wrong here, and not in the other file.
    """
    if found.code in CHOSEN_WRONG and found.span is not None:
        for choice in used.file.statements:
            if not isinstance(choice, ast.Choose) or choice.span.start != found.span.start:
                continue
            for entry in statement.settings:
                if entry.target.name == choice.target.name:
                    there = Label(choice.span, "chosen there")
                    return found.changed(span=entry.value.span, labels=(there,))
    here = Label(statement.path_span, "used here")
    return found.changed(labels=(*found.labels, here))
