"""A choice written back: the figure of its default is changed, and nothing else of the file."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import click

from oaktag.compiler.cli.guard import plain
from oaktag.compiler.cli.project import settled
from oaktag.compiler.cli.write import write_files
from oaktag.compiler.page.choices import chosen, is_plain, unit_of, written
from oaktag.compiler.watch.answers import in_words
from oaktag.lang import ast
from oaktag.lang.diagnostics import Mistake
from oaktag.lang.source import Source
from oaktag.lang.syntax.decode import decode
from oaktag.lang.syntax.parse import parse_expression

if TYPE_CHECKING:
    from oaktag.compiler.cli.project import Work
    from oaktag.compiler.evaluate.pattern import Value
    from oaktag.compiler.watch.answers import Answers, Wish
    from oaktag.lang.project.program import Program

MEANWHILE = "the file has changed meanwhile; look at the new paper, then write again"
BOM = b"\xef\xbb\xbf"


class Unwritten(Exception):  # noqa: N818  (it is refused; nothing failed)
    """Why a choice is not written into the file."""


def write_choice(answers: Answers, wish: Wish, stamp: str) -> tuple[bool, str]:
    """Writes the one choice of a wish into the file, and says so, or why not.

    stamp: of the text that the page has seen; another one is left as it is.
    """
    [(name, figure)] = wish.tried
    seen = answers.seen(wish)
    program = seen.work.program
    if seen.gone or seen.stamp != stamp:
        return False, MEANWHILE
    try:
        node = line_of(program, name)
        value = settled({name: figure}, program)[0][name]
        wrong = against(seen.work, node)
        if wrong:
            return False, f"{wrong}; nothing is written"
        with open(answers.path, "rb") as file:
            data = file.read()
        if not same_text(data, program):
            return False, MEANWHILE
        write_files({answers.path: rewritten(data, node, figure_of(figure, value, node, program))})
    except Unwritten as why:
        return False, str(why)
    except click.UsageError as problem:
        return False, in_words(problem, name, figure)
    except OSError as problem:
        return False, f"{plain(problem)}; nothing is written"
    return True, f"`{name}` is written into the file"


def line_of(program: Program, name: str) -> ast.Choose:
    """The `choose` line of a choice whose default is a figure; raises Unwritten."""
    node = next((one for one in chosen(program) if one.target.name == name), None)
    if node is None:
        raise Unwritten(f"the file no longer has a choice `{name}`; nothing is written")
    if not is_plain(node):
        raise Unwritten(
            f"the default of `{name}` is worked out, `{node.default.span.text}`; "
            "change that line in the file"
        )
    return node


def figure_of(asked: str, value: Value, node: ast.Choose, program: Program) -> str:
    """A figure as it was asked for, or what was asked for worked out, in the unit of the line."""
    expr = parse_expression(Source("the choice", asked))
    if isinstance(expr, ast.Quantity | ast.Number | ast.YesNo):
        return " ".join(expr.span.text.split())
    return written(value, unit_of(node, program.file.unit))


def rewritten(data: bytes, node: ast.Choose, figure: str) -> bytes:
    """The bytes of the file with another default."""
    raw = data.removeprefix(BOM).decode("utf-8")
    start, end = (_offset(raw, at) for at in (node.default.span.start, node.default.span.end))
    return data[: len(data) - len(data.removeprefix(BOM))] + (
        raw[:start] + figure + raw[end:]
    ).encode("utf-8")


def same_text(data: bytes, program: Program) -> bool:
    """Whether what is on the disk is what the program was read from."""
    try:
        return decode(program.name, data).text == program.file.source.text
    except Mistake:
        return False


def against(work: Work, node: ast.Choose) -> str:
    """What is said against a default at its own line, when the pattern is worked out with it."""
    for one in work.diagnostics:
        if (
            one.severity == "error"
            and one.span is not None
            and one.span.source is node.span.source
            and node.span.start <= one.span.start < node.span.end
        ):
            return one.message
    return ""


def _offset(raw: str, at: int) -> int:
    """The place in a text as it lies on the disk of a place in it with plain line ends."""
    for end in re.finditer(r"\r\n", raw):
        if end.start() >= at:
            break
        at += 1
    return at
