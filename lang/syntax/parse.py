"""From text to syntax tree: one instruction at a time, going on after an error."""

from __future__ import annotations

from functools import cache
from typing import Any

from oaktag.lang import ast
from oaktag.lang.diagnostics import Diagnostic, Mistake, error, in_order, mistake
from oaktag.lang.source import Source, Span
from oaktag.lang.syntax import wording
from oaktag.lang.syntax.lalr import Parser, Stuck
from oaktag.lang.syntax.layout import LONGEST, Line, lay_out
from oaktag.lang.syntax.tables import Tables, load
from oaktag.lang.syntax.tokens import Token, tokens
from oaktag.lang.units import MILLIMETRES
from oaktag.lang.words import NEVER_NAMES, WAYS, nearest

DEEPEST_BRACKETS = 30
MOST_OPERATORS = 150  # in one instruction: how deep a tree of values can get
MOST_ERRORS = 500
VERSION = 1


def names_first(words: list[Token]) -> bool:
    """Whether an instruction begins `NAME =` or `NAME[...] =`."""
    if words[0].kind != "word" or words[0].text in NEVER_NAMES:
        return False
    at = 1
    if words[1].text == "[" and words[1].kind == "sign":
        depth = 0
        while at < len(words) - 1:
            if words[at].kind == "sign":
                depth += (words[at].text == "[") - (words[at].text == "]")
            at += 1
            if depth == 0:
                break
    return words[at].kind == "sign" and words[at].text == "="


class _Reader:
    """Reads the instructions of a file into statements, collecting what is wrong."""

    def __init__(self, source: Source, tables: Tables) -> None:
        self.source = source
        self.parser = Parser(tables, source)
        self.found: list[Diagnostic] = []
        self.units: dict[str, int] = {}
        self.starts = {
            start: frozenset(tables.words(start)) for start in ("file_line", "piece_line")
        }

    def block(self, lines: list[Line], start: str) -> list[Any]:
        """The statements of lines that stand beside each other."""
        out: list[Any] = []
        last: Any = None  # what stands directly above, for `else`
        for line in lines:
            if len(self.found) >= MOST_ERRORS:
                break
            try:
                words = self._words(line)
                statement = self._statement(line, start, words)
                if line.word == "else" and statement is None:
                    self._otherwise(line, start, last, out)
                    last = None
                    continue
            except Mistake as wrong:
                self.found.extend(wrong.diagnostics)
                statement = None
                self._members(line, start)
            if statement is not None:
                out.append(statement)
            last = statement if statement is not None else line
        return out

    def _words(self, line: Line) -> list[Token]:
        words, wrong = tokens(self.source, line.parts)
        if wrong:
            raise Mistake(*wrong)
        depth = operators = 0
        for word in words:
            if word.kind == "sign":
                if word.text in "([":
                    depth += 1
                    if depth > DEEPEST_BRACKETS:
                        raise mistake(
                            "too-deep",
                            f"brackets stand in brackets, more than {DEEPEST_BRACKETS} deep",
                            Span(self.source, word.start, word.end),
                            help="give the inner part a name of its own on a line above",
                        )
                elif word.text in ")]":
                    depth -= 1
                elif word.text != "," and word.text != ".":
                    operators += 1
            elif word.kind == "word":
                operators += word.text in _COUNTED
            elif word.kind == "quantity" and word.unit in MILLIMETRES:
                self.units[word.unit] = self.units.get(word.unit, 0) + 1
            if operators > MOST_OPERATORS:
                raise mistake(
                    "too-long",
                    "this instruction is too long to follow",
                    Span(self.source, words[0].start, words[0].end),
                    help="give parts of it names of their own on lines above",
                )
        return words

    def _statement(self, line: Line, start: str, words: list[Token]) -> Any:
        """One instruction with its members; raises Mistake."""
        naming = names_first(words)
        try:
            if start in self.starts and not naming:
                self._belongs(words, start)
            statement = self.parser.run(start, words, naming=naming)
        except Stuck as stuck:
            raise Mistake(
                wording.stuck(self.source, line, words, stuck, self.parser.tables)
            ) from None
        kind = type(statement)
        if kind is Token:
            raise mistake(
                "misplaced-version",
                "the version stands on the first line of a file, once",
                Span(self.source, words[0].start, words[-1].end),
            )
        changes: dict[str, Any] = {}
        captioned = statement is not None and kind is not ast.EdgeDef
        if line.caption is not None and captioned:
            changes["caption"] = line.caption
        if line.opens and not naming and statement is not None:
            members = self._members(line, start)
            if not members and not line.members and kind in _NEED_MEMBERS:
                raise mistake(
                    "empty-block",
                    f"nothing belongs to this `{line.word}`",
                    Span(self.source, words[0].start, words[-1].end),
                    help=f"indent what belongs to it below, or take the `{line.word}` out",
                )
            changes[_MEMBERS[kind]] = tuple(members)
        return statement.changed(**changes) if changes else statement

    def _belongs(self, words: list[Token], start: str) -> None:
        """Raises a Mistake if the first word starts no instruction, or one of another place."""
        if words[0].kind != "word" or words[0].text not in self.starts[start]:
            raise Mistake(wording.no_instruction(self.source, words, start, self.starts))

    def _members(self, line: Line, start: str) -> list[Any]:
        """The statements of what is indented below a line."""
        return self.block(line.members, _INNER.get(line.word, start))

    def _otherwise(self, line: Line, start: str, last: Any, out: list[Any]) -> None:
        """Puts the members of an `else` into the `if` above it."""
        members = self._members(line, start)
        head = Span(self.source, *line.parts[0])
        if isinstance(last, Line) and last.word == "if":
            return  # the `if` itself is broken, and has been reported
        if not isinstance(last, ast.If):
            self.found.append(
                error(
                    "lone-else",
                    "this `else` has no `if` above it",
                    head,
                    help="line it up with the `if` it belongs to, directly below what that holds",
                )
            )
        elif not line.members:
            self.found.append(
                error(
                    "empty-block",
                    "nothing belongs to this `else`",
                    head,
                    help="indent what belongs to it below, or take the `else` out",
                )
            )
        else:
            out[-1] = last.changed(otherwise=tuple(members))


# Words and signs that make a tree of values one level deeper.
_COUNTED = WAYS | {"toward", "square", "and", "or", "not", "at", "on", "midway", "where"}
_NEED_MEMBERS = (ast.Outline, ast.Repeat, ast.If, ast.Body)
_MEMBERS = {
    ast.Body: "entries",
    ast.Use: "settings",
    ast.PieceDef: "body",
    ast.Outline: "edges",
    ast.Repeat: "body",
    ast.If: "body",
}
_INNER = {"body": "assign", "use": "assign", "piece": "piece_line", "outline": "edge_line"}


def parse(source: Source) -> tuple[ast.File, tuple[Diagnostic, ...]]:
    """The syntax tree of a pattern or body file, and all that is wrong with its writing."""
    whole = Span(source, 0, len(source.text))
    if len(source.text) > LONGEST:
        return ast.File(whole, source, None, (), "cm"), (wording.too_big(source),)
    reader = _Reader(source, _tables())
    every = reader.starts["file_line"] | reader.starts["piece_line"]
    layout = lay_out(source, every)
    reader.found.extend(layout.diagnostics)
    lines = layout.lines
    version = None
    if lines and lines[0].word == "oaktag":
        version, wrong = _version(reader, lines[0])
        reader.found.extend(wrong)
        lines = lines[1:]
    statements = tuple(reader.block(lines, "file_line"))
    reader.found.extend(_order(source, lines, statements))
    units = reader.units
    unit = max(units, key=lambda name: (units[name], name == "cm")) if units else "cm"
    return (
        ast.File(whole, source, version, statements, unit),
        _at_most(in_order(reader.found), MOST_ERRORS),
    )


def _at_most(found: tuple[Diagnostic, ...], most: int) -> tuple[Diagnostic, ...]:
    """No more than a person can use."""
    if len(found) <= most:
        return found
    last = found[most]
    rest = Diagnostic("error", "too-many", f"more is wrong than these {most}", last.span)
    return (*found[:most], rest)


def parse_expression(source: Source) -> ast.Expr:
    """A value on its own, as after `oaktag ask`; raises Mistake."""
    if len(source.text) > LONGEST:
        raise Mistake(wording.too_big(source))
    reader = _Reader(source, _tables())
    text = source.text
    words = reader._words(Line(0, 0, 0, len(text.rstrip()), ""))
    try:
        value: ast.Expr = reader.parser.run("expr", words)
    except Stuck as stuck:
        line = Line(0, 0, 0, len(text), "")
        raise Mistake(wording.stuck(source, line, words, stuck, reader.parser.tables)) from None
    return value


def _version(reader: _Reader, line: Line) -> tuple[int | None, tuple[Diagnostic, ...]]:
    """The version that the first line of a file states."""
    source = reader.source
    try:
        words = reader._words(line)
        token = reader.parser.run("file_line", words)
    except Mistake as wrong:
        return None, wrong.diagnostics
    except Stuck as stuck:
        return None, (wording.stuck(source, line, words, stuck, reader.parser.tables),)
    if not isinstance(token, Token):  # `oaktag = 4 cm`: a name after all
        return None, ()
    if token.value != VERSION:
        return None, (
            error(
                "unknown-version",
                f"this file is written in version {token.text} of the language; "
                f"this Oaktag reads version {VERSION}",
                Span(source, token.start, token.end),
                help=f"write `oaktag {VERSION}`, or use a newer Oaktag",
            ),
        )
    return VERSION, ()


def _order(
    source: Source, lines: list[Line], statements: tuple[ast.Statement, ...]
) -> list[Diagnostic]:
    """A file begins with its pattern, or is a body and nothing else."""
    if not lines:
        return [wording.empty(source)]
    first = lines[0].word
    found = []
    for statement in statements:
        is_head = isinstance(statement, ast.Pattern | ast.Body)
        if is_head and statement.span.start != lines[0].parts[0][0]:
            word = "pattern" if isinstance(statement, ast.Pattern) else "body"
            found.append(
                error(
                    "misplaced",
                    f"`{word}` is not the first instruction of the file",
                    statement.span,
                    help="a file is one pattern or one body: put this at its beginning, "
                    "or in a file of its own",
                )
            )
        elif first == "body" and not is_head:
            found.append(
                error(
                    "misplaced",
                    "a body file holds nothing but its body",
                    statement.span,
                    help="indent measures below the `body` line; put all else in a pattern file",
                )
            )
    heads = ("pattern", "body")
    if first not in heads and not nearest(first, heads) and not found:
        found.append(
            error(
                "no-pattern",
                "the file does not begin with a pattern",
                Span(source, *lines[0].parts[0]),
                help='let the first line be `pattern "Title"`',
            )
        )
    return found


@cache
def _tables() -> Tables:
    return load()
