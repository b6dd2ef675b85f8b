"""From a file and what is given with it to a pattern: what check, build and ask begin with."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, NoReturn

import click

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Mapping

    from oaktag.compiler.cli.options import Given
    from oaktag.compiler.evaluate.pattern import Pattern, Value
    from oaktag.compiler.paper.quantity import Quantity
    from oaktag.lang.checking.names import Symbol
    from oaktag.lang.diagnostics import Diagnostic, Mistake
    from oaktag.lang.project.body import Body
    from oaktag.lang.project.files import Files
    from oaktag.lang.project.program import Program


class Work(Record):
    """A file worked out. pattern: none if something is wrong, or if the file is a body.

    part: if something is wrong, what could be drawn all the same.
    """

    program: Program
    pattern: Pattern | None
    body: Body | None
    diagnostics: tuple[Diagnostic, ...]
    part: Pattern | None = None

    @property
    def sound(self) -> bool:
        return all(item.severity != "error" for item in self.diagnostics)


def work_out(path: str, given: Given, files: Files | None = None) -> Work:
    """Reads, checks and evaluates a file, and looks the pattern over.

    files: where it and what it uses are read, if not on the disk as it is now.
    Raises a click error for a setting that the pattern cannot take: that is the call's mistake, not
    the file's. Everything else that is wrong is in the diagnostics.
    """
    from oaktag.lang.diagnostics import Mistake
    from oaktag.lang.project.body import is_body
    from oaktag.lang.project.files import DiskFiles
    from oaktag.lang.project.program import load

    program = load(path, files or DiskFiles(path))
    try:
        body = body_of(given)
    except Mistake as wrong:
        return Work(program, None, None, (*program.diagnostics, *wrong.diagnostics))
    if is_body(program.file):
        return Work(program, None, body, program.diagnostics)
    try:
        chosen = settled(given.settings, program)
    except click.UsageError:
        if program.sound:
            raise
        # What is set may be named in a line that has a mistake.
        return Work(program, None, body, program.diagnostics)
    return worked(program, body, *chosen)


def worked(
    program: Program,
    body: Body | None,
    chosen: Mapping[str, Value],
    taken: Mapping[str, Quantity],
) -> Work:
    """Evaluates a program, as far as it is sound, and looks over what has come of it.

    chosen, taken: choices and measures that are set.
    """
    from oaktag.compiler.evaluate import evaluate
    from oaktag.compiler.inspect import inspect, inspect_part
    from oaktag.compiler.paper.quantity import Quantity

    values = body.values if body else {}
    measures = {name: Quantity("length", amount) for name, (amount, _) in values.items()}
    result = evaluate(program, {**measures, **taken}, chosen)
    if result.pattern is not None and taken:
        set_too = tuple(name for name in result.pattern.measures if name in taken)
        whole = result.pattern.changed(chosen=(*result.pattern.chosen, *set_too))
        result = result.changed(pattern=whole)
    seen: tuple[Diagnostic, ...] = ()
    if result.pattern is not None:
        seen = inspect(result.pattern)
    elif result.part is not None:
        seen = inspect_part(result.part)
    unmeasured = _unmeasured(program, body, taken) if body and result.pattern else ()
    wrong = _from_the_top((*program.diagnostics, *result.diagnostics), program)
    told = (*wrong, *unmeasured, *seen)
    return Work(program, result.pattern, body, told, result.part)


def _from_the_top(found: tuple[Diagnostic, ...], program: Program) -> tuple[Diagnostic, ...]:
    """What is wrong with names and what with the drawing, in the order of the file; then what is
    wrong with others.
    """
    if program.sound:
        return found
    from oaktag.lang.diagnostics import in_order

    source = program.file.source
    own = [one for one in found if one.span is None or one.span.source is source]
    rest = [one for one in found if one.span is not None and one.span.source is not source]
    return (*in_order(own), *rest)


def _unmeasured(
    program: Program, body: Body, taken: Mapping[str, Quantity]
) -> tuple[Diagnostic, ...]:
    """Measures of the pattern that the body does not give, so that the file's own figure serves."""
    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.words import nearest

    found = []
    for name, symbol in program.symbols.of_role("measure").items():
        if name in body.values or name in taken:
            continue
        near = nearest(
            name, [known for known in body.values if known not in program.symbols.symbols]
        )
        found.append(
            Diagnostic(
                "warning",
                "unmeasured",
                f"{body.name} has no `{name}`: the figure of the pattern is used",
                symbol.span,
                file=program.name,
                help=f"the body has `{near}`: did you mean that?"
                if near
                else f"measure it, and add `{name} = …` to the body",
            )
        )
    return tuple(found)


def unfinished(pattern: Pattern) -> tuple[Diagnostic, ...]:
    """What is to be told of the allowances, each thing at the line that gave them."""
    from oaktag.compiler.finish.unfinished import unfinished as told

    return told(pattern)


def unfinished_part(part: Pattern) -> tuple[Diagnostic, ...]:
    """The same for the whole pieces of a pattern that has mistakes."""
    from oaktag.compiler.inspect import whole

    return unfinished(whole(part))


def body_of(given: Given) -> Body | None:
    """The body that is given, in a file of its own or as a row of a chart; raises Mistake."""
    from oaktag.lang.diagnostics import Mistake

    if given.body:
        from oaktag.lang.project.body import read_body
        from oaktag.lang.project.files import DiskFiles
        from oaktag.lang.project.program import load

        program = load(given.body, DiskFiles(given.body))
        if not program.sound:
            raise Mistake(*program.diagnostics)
        return read_body(program.file)
    if given.chart and given.size:
        from oaktag.lang.project.chart import chart_body
        from oaktag.lang.syntax.decode import decode

        with open(chart_path(given.chart), "rb") as file:
            data = file.read()
        return chart_body(decode(given.chart, data).text, given.chart, given.size)
    return None


def chart_path(chart: str) -> str:
    """A file, or a chart that comes with Oaktag, by its name."""
    if os.path.exists(chart) or os.path.dirname(chart):
        return chart
    import oaktag.stdlib

    name = chart.removeprefix("charts.")
    shipped = os.path.join(os.path.dirname(oaktag.stdlib.__file__), "charts", f"{name}.csv")
    return shipped if os.path.exists(shipped) else chart


def settled(
    settings: Mapping[str, str], program: Program
) -> tuple[dict[str, Value], dict[str, Quantity]]:
    """The choices and the measures that are set, each of the kind its name has in the pattern.

    Raises a click error for one that the pattern cannot take.
    """
    from oaktag.compiler.evaluate.scope import Scope
    from oaktag.compiler.paper.quantity import Quantity
    from oaktag.lang.checking.check import check_expression
    from oaktag.lang.checking.dimensions import UNKNOWN, fits, with_article
    from oaktag.lang.checking.names import Names
    from oaktag.lang.diagnostics import Mistake
    from oaktag.lang.source import Source
    from oaktag.lang.syntax.parse import parse_expression

    chosen: dict[str, Value] = {}
    taken: dict[str, Quantity] = {}
    choices = program.symbols.of_role("choice")
    measures = program.symbols.of_role("measure")
    unit = program.file.unit
    for name, written in settings.items():
        symbol = choices.get(name) or measures.get(name)
        if symbol is None:
            _no_choice(name, [*choices, *measures])
        try:
            expr = parse_expression(Source("--set", written))
            kind, wrong = check_expression(expr, Names(), unit)
            if wrong:
                raise Mistake(*wrong)
            value = Scope({}, unit).value(expr)
        except Mistake as mistake:
            if any(item.code == "unknown-name" for item in mistake.diagnostics):
                raise click.UsageError(
                    f"--set {name}={written}: `{name}` is {with_article(symbol.kind)}, and "
                    f"{written} is none; {_like(symbol)}"
                ) from None
            raise click.UsageError(f"--set {name}={written}: {in_short(mistake)}") from None
        if symbol.kind != UNKNOWN and not fits(kind, (symbol.kind,)):
            figure = written.strip()
            if symbol.kind == "length" and re.fullmatch(r"[0-9.]+", figure):
                raise click.UsageError(
                    f"--set {name}={written}: `{name}` is a length, and {figure} has no "
                    f"unit; write --set {name}={figure}{unit}"
                )
            raise click.UsageError(
                f"--set {name}={written}: `{name}` is {with_article(symbol.kind)}, "
                f"and this is {with_article(kind)}; {_like(symbol)}"
            )
        if name in choices:
            chosen[name] = value
        elif isinstance(value, Quantity):
            taken[name] = value
    return chosen, taken


def _like(symbol: Symbol) -> str:
    """How a choice or a measure is set: as the file itself does it, if that is short."""
    from oaktag.lang.checking.dimensions import YES_NO

    if symbol.kind == YES_NO:
        return "write yes or no"
    line = symbol.span.source.line(symbol.span.line) if symbol.span is not None else ""
    found = re.match(r"\s*=\s*([0-9][\w./ ]*?)\s*(?:,|from\b|\"|#|$)", _behind(line, symbol))
    return f"write a value like {found[1]}" if found else "write a figure"


def _behind(line: str, symbol: Symbol) -> str:
    """What follows a name where it is given."""
    assert symbol.span is not None
    return line[symbol.span.column - 1 + len(symbol.span.text) :]


def _no_choice(name: str, known: list[str]) -> NoReturn:
    from oaktag.lang.words import nearest

    near = nearest(name, known)
    if near:
        way_out = f"did you mean `{near}`?"
    elif known:
        way_out = f"it has {', '.join(f'`{word}`' for word in known)}"
    else:
        way_out = "it has none"
    raise click.UsageError(f"--set: the pattern has no choice or measure `{name}`; {way_out}")


def in_short(mistake: Mistake) -> str:
    """A mistake in one line of the call, where there is no file to show."""
    return "; ".join(
        f"{item.message} ({item.help})" if item.help else item.message
        for item in mistake.diagnostics
    )
