"""Which line belongs to which, and going on after an error."""

from __future__ import annotations

import pytest

from oaktag.lang import ast
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.source import Source
from oaktag.lang.syntax.layout import DEEPEST, LONGEST, Line, lay_out
from oaktag.lang.syntax.parse import MOST_ERRORS, parse


def shape(lines: list[Line], text: str) -> list[object]:
    """The lines as nested lists; the stretches of one joined by `|`."""
    out: list[object] = []
    for line in lines:
        out.append("|".join(text[start:end] for start, end in line.parts))
        if line.members:
            out.append(shape(line.members, text))
    return out


def laid_out(text: str) -> list[object]:
    layout = lay_out(Source("test.oak", text))
    assert not layout.diagnostics
    return shape(layout.lines, text)


def wrong(text: str) -> tuple[Diagnostic, ...]:
    return parse(Source("test.oak", text))[1]


def codes(text: str) -> list[tuple[str, int]]:
    return [(one.code, one.span.line if one.span else 0) for one in wrong(text)]


def test_members_and_continuations() -> None:
    text = (
        "use a as b\n  x = 1\n    + 2\npiece p\n    outline\n      side = p\n         to q\n"
        "        , to r\n\n      # a comment\n      hem = r\n    line x = a\n      to b # c\n  \n"
        "y = 1\n"
    )
    assert laid_out(text) == [
        "use a as b",
        ["x = 1|+ 2"],
        "piece p",
        ["outline", ["side = p|to q|, to r", "hem = r"], "line x = a|to b"],
        "y = 1",
    ]


def test_a_number_sign_in_a_text_is_no_comment() -> None:
    assert laid_out('text "a # b" at p # c "d"\n# "e') == ['text "a # b" at p']


def test_a_text_without_line_end_and_with_carriage_returns() -> None:
    assert laid_out("piece p\r\n  mirror\r\n  mirror") == ["piece p", ["mirror", "mirror"]]


def test_only_blocks_have_members() -> None:
    assert laid_out("sew a\n  to b\ncut 2 p\n  in main") == ["sew a|to b", "cut 2 p|in main"]
    assert laid_out("repeat = 1\n  + 2\nif[1] = 1\n  + 2") == ["repeat = 1|+ 2", "if[1] = 1|+ 2"]


def test_every_bad_line_is_told_and_the_rest_is_read() -> None:
    source = Source(
        "test.oak",
        'pattern "Test"\nmeasure\npiece front\n  fold centre\n  grain along centre\n'
        "  outline\n    a = p to\n    b = p to q\n  x = (3\n  y = 4\nsew a\nz = 5 cm\n",
    )
    tree, found = parse(source)
    assert [one.span.line for one in found if one.span] == [2, 4, 7, 9, 11]
    piece = tree.statements[1]
    assert isinstance(piece, ast.PieceDef)
    assert [type(step).__name__ for step in piece.body] == ["GrainAlong", "Outline", "Assign"]
    outline = piece.body[1]
    assert isinstance(outline, ast.Outline)
    assert [edge.target.name for edge in outline.edges] == ["b"]
    assert isinstance(tree.statements[-1], ast.Assign)


@pytest.mark.parametrize("head", ["piece from x", "peice front", "if x <", "repeat i", "use"])
def test_members_of_a_broken_head_are_looked_at_too(head: str) -> None:
    member = "x = 4 +" if head == "use" else "foo bar"
    found = codes(f'pattern "Test"\n{head}\n  {member}\n')
    assert [line for _, line in found] == [2, 3]


def test_a_broken_if_does_not_orphan_its_else() -> None:
    assert codes('pattern "Test"\nif x <\n  x = 1\nelse\n  y = 1\n') == [("unexpected", 2)]


def test_limits_have_errors_of_their_own() -> None:
    head = 'pattern "Test"\n'
    deep = "".join("  " * level + "if yes\n" for level in range(DEEPEST + 5))
    assert ("too-deep", DEEPEST + 3) in codes(head + deep)
    assert codes(head + "x = " + "(" * 60 + "1" + ")" * 60) == [("too-deep", 2)]
    assert codes(head + "x = " + "a[" * 60 + "1" + "]" * 60) == [("too-deep", 2)]
    assert codes(head + "x = " + "- " * 5000 + "1") == [("too-long", 2)]
    assert codes(head + "x = 1" + " + 1" * 5000) == [("too-long", 2)]
    assert codes(head + "x = p" + " down 1 cm" * 500) == [("too-long", 2)]
    assert codes(head + "measure a" + ", a" * 50_000) == [("too-long", 2)]
    assert codes(head + "x = " + "a" * 200) == [("long-name", 2)]
    assert codes(head + "x = " + "9" * 400) == [("large-number", 2)]
    assert codes("#" * (LONGEST + 1)) == [("too-big", 0)]
    many = codes(head + "foo\n" * (MOST_ERRORS + 100))
    assert len(many) == MOST_ERRORS + 1 or len(many) == MOST_ERRORS


def test_what_is_within_the_limits_is_read() -> None:
    text = 'pattern "Test"\n'
    text += "".join("  " * level + "if yes\n" for level in range(DEEPEST))
    text += "  " * DEEPEST + "x = 1\n"
    text += "x = " + "(" * 25 + "1" + ")" * 25 + " + 1" * 100 + "\n"
    text += "measure a" + ", a" * 900 + "\n"
    text += "y = 1\n" * 2000
    tree, found = parse(Source("test.oak", text))
    assert found == ()
    # Trees of this depth are compared and shown without running out of stack.
    assert tree == parse(Source("test.oak", text))[0]
    assert repr(tree)
    assert hash(tree.statements)


def test_the_head_of_a_file() -> None:
    assert codes("") == [("empty-file", 0)]
    assert codes("# only\n\n  # comments\n") == [("empty-file", 0)]
    assert codes("x = 1\n") == [("no-pattern", 1)]
    assert codes("oaktag 1\nx = 1\n") == [("no-pattern", 2)]
    assert codes('oaktag 2\npattern "Test"\n') == [("unknown-version", 1)]
    assert codes('pattern "Test"\noaktag 1\n') == [("misplaced-version", 2)]
    assert codes('pattern "Test"\npattern "Test"\n') == [("misplaced", 2)]
    assert codes('if yes\n  pattern "Test"\n') == [("no-pattern", 1)]
    assert codes('body "Ines"\n  a = 1 cm\nx = 1\n') == [("misplaced", 3)]
    assert codes('oaktag 1\nbody "Ines"\n  a = 1 cm\n') == []
    assert codes("oaktag = 4\n") == [("no-pattern", 1)]
