"""`oaktag ask`: measures taken on a finished pattern."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import click

from oaktag.compiler.cli.guard import CALL_WRONG, PATTERN_WRONG
from oaktag.compiler.cli.options import FILE_NAME, Given, with_given
from oaktag.compiler.cli.output import pressing, tell
from oaktag.compiler.cli.project import work_out

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.cli.project import Work
    from oaktag.compiler.evaluate.pattern import Pattern, Value
    from oaktag.lang.diagnostics import Diagnostic

UNITS = {"number": "", "length": "mm", "area": "mm²", "angle": "deg"}


@click.command()
@click.argument("file", metavar="FILE", type=FILE_NAME)
@click.argument("expressions", metavar="EXPR...", nargs=-1, required=True)
@click.option("--json", "as_json", is_flag=True, help="For other programs: millimetres, in JSON.")
@with_given
def ask(file: str, expressions: tuple[str, ...], as_json: bool, given: Given) -> None:
    """Measure the finished pattern: lengths, distances, areas, angles.

    \b
    Example:
      oaktag ask ferry.oak "sewn(front.right.side)" "area(front)"
    """
    context = click.get_current_context()
    work = work_out(file, given)
    tell(pressing(work.diagnostics), err=True)
    if not work.sound:
        context.exit(PATTERN_WRONG)
    if work.pattern is None:
        raise click.UsageError(f"{file} is a body; ask a pattern, with --body {file}")
    values = _values(work, expressions)
    answered = [expr for expr in expressions if expr in values]
    if as_json:
        import json

        answers = [_answer(expr, values[expr]) for expr in answered]
        click.echo(json.dumps(answers, indent=2, ensure_ascii=False))
    else:
        from oaktag.compiler.evaluate.expressions import show

        for expr in answered:
            shown = show(values[expr], work.pattern.unit)
            click.echo(f"{expr} = {shown}" if len(expressions) > 1 else shown)
    if len(answered) < len(expressions):
        context.exit(CALL_WRONG)


def _values(work: Work, expressions: tuple[str, ...]) -> dict[str, Value]:
    """What each expression comes to; those that are wrong are told, and left out."""
    from oaktag.compiler.evaluate import ask as evaluated
    from oaktag.lang.checking.check import check_expression
    from oaktag.lang.diagnostics import Mistake
    from oaktag.lang.source import Source
    from oaktag.lang.syntax.parse import parse_expression

    assert work.pattern is not None
    values: dict[str, Value] = {}
    for written in expressions:
        try:
            expr = parse_expression(Source("the question", written))
            _, wrong = check_expression(expr, work.program.symbols, work.pattern.unit)
            if wrong:
                raise Mistake(*wrong)
            values[written] = evaluated(work.pattern, expr)
        except Mistake as mistake:
            tell(_answerable(written, mistake.diagnostics, work.pattern), err=True)
    return values


def _answerable(
    written: str, found: Sequence[Diagnostic], pattern: Pattern
) -> Sequence[Diagnostic]:
    """What is wrong with a question, and how one is asked of this pattern."""
    first = found[0]
    words = re.findall(r"[^\W\d]\w*", written)
    examples = _examples(words, pattern)
    if first.code in ("unexpected", "stray-character") and re.fullmatch(
        r"[\w\s?'’,.-]*\s[\w\s?'’,.-]*", written
    ):
        message = f"`{written}` is no measure that can be taken"
        return [first.changed(message=message, span=None, labels=(), help=f"ask {examples}")]
    beyond = "name it above this line"  # there is no line above a question
    if first.help == beyond:
        return [one.changed(help=f"ask {examples}" if one is first else "") for one in found]
    return found if first.help else [first.changed(help=f"ask like {examples}"), *found[1:]]


def _examples(words: Sequence[str], pattern: Pattern) -> str:
    """Two questions that can be answered, about what the words name if they name an edge."""
    edges = [
        (piece.name, str(edge.label))
        for piece in (*pattern.made, *pattern.pieces.values())
        for edge in piece.edges
    ]
    if not edges:
        return '"length(front.hem)"'
    named = [pair for pair in edges if pair[1].rpartition(".")[2] in words]
    piece, edge = next(iter([pair for pair in named if pair[0] in words] or named or edges))
    return f'"length({piece}.{edge})" or "area({piece})"'


def _answer(expr: str, value: Value) -> dict[str, Any]:
    """As house programs read it: plain figures in millimetres and degrees, points as [x, y]."""
    from oaktag.compiler.evaluate.expressions import show
    from oaktag.compiler.paper.quantity import Quantity

    if isinstance(value, Quantity):
        amount = _figure(value.amount)
        whole = value.kind == "number" and amount.is_integer()
        return {
            "expr": expr,
            "value": int(amount) if whole else amount,
            "unit": UNITS[value.kind],
        }
    if isinstance(value, bool):
        return {"expr": expr, "value": value, "unit": ""}
    if isinstance(value, complex):
        return {"expr": expr, "value": [_figure(value.real), _figure(value.imag)], "unit": "mm"}
    return {"expr": expr, "value": show(value, "mm"), "unit": ""}


def _figure(amount: float) -> float:
    """Without the last digits, which differ from machine to machine; and never minus nothing."""
    return round(amount, 9) + 0.0
