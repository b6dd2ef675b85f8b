"""The language reference: every example is drawn, every message is the real one, nothing is left
out.

A block is a whole program. ```` ```oak ```` draws without a word against it; with a name behind it
the file is there for the blocks below. ```` ```oak error ```` is answered with the text below it.
"""

from __future__ import annotations

import inspect as python
import re
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest

from oaktag.compiler.emit.svg import svg
from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.evaluate.scope import Scope
from oaktag.compiler.finish.unfinished import unfinished
from oaktag.compiler.inspect import inspect, inspect_part, whole
from oaktag.compiler.paper.quantity import Quantity
from oaktag.compiler.sheet import lay_out
from oaktag.compiler.sheet.lay_out import cut_pieces
from oaktag.lang import ast
from oaktag.lang.ast.node import Node
from oaktag.lang.ast.statements import Statement
from oaktag.lang.checking.dimensions import FUNCTIONS
from oaktag.lang.diagnostics import Diagnostic, render
from oaktag.lang.project.body import is_body, read_body
from oaktag.lang.project.chart import chart_body
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
from oaktag.lang.source import Source
from oaktag.lang.syntax.format import formatted
from oaktag.lang.syntax.parse import parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.evaluate.pattern import Pattern

LANG = Path(__file__).parents[2] / "lang"
PAGE = (LANG / "reference.md").read_text(encoding="utf-8")
NAMELESS = "example.oak"


class Block:
    """What stands between three strokes: its kind, the name of its file, its section."""

    def __init__(self, words: list[str], text: str, line: int, section: str) -> None:
        self.kind = " ".join(word for word in words if "." not in word)
        self.name = next((word for word in words if "." in word), NAMELESS)
        self.text = text
        self.line = line
        self.section = section

    def __repr__(self) -> str:
        return f"{self.section}, line {self.line}"


def blocks() -> Iterator[Block]:
    section, words, text, start = "", None, [], 0
    for number, line in enumerate(PAGE.splitlines(), 1):
        if words is not None and line == "```":
            yield Block(words, "".join(text), start, section)
            words = None
        elif words is not None:
            text.append(f"{line}\n")
        elif line.startswith("```"):
            words, text, start = line[3:].split(), [], number
        elif line.startswith("#"):
            section = line.lstrip("#").strip()


BLOCKS = list(blocks())
FORMS = [block for block in BLOCKS if block.kind == ""]
EXAMPLES = [block for block in BLOCKS if block.kind == "oak"]
WRONG = [(block, answer) for block, answer in pairwise(BLOCKS) if block.kind == "oak error"]
# Which statements a heading is for: a remark below it says so.
SECTIONS = {
    name: section
    for section, names in re.findall(r"^#+ (.*)\n<!-- for (.*) -->$", PAGE, re.MULTILINE)
    for name in names.split(", ")
}
STATEMENTS = {
    name: kind
    for name, kind in vars(ast).items()
    if python.isclass(kind) and issubclass(kind, Statement) and kind is not Statement
}
# What the page says, and what the figure is called where it is used.
LIMITS = {
    "characters in a file": ("LONGEST", 1),
    "blocks within blocks": ("DEEPEST", 1),
    "brackets within brackets": ("DEEPEST_BRACKETS", 1),
    "letters in a name": ("LONGEST_NAME", 1),
    "patterns that use patterns, one inside the other": ("DEEPEST", 1),
    "patterns used together": ("MOST_FILES", 1),
    "a drawing that is traced": ("MOST_BYTES", 1e6),
    "a point from the origin": ("FARTHEST", 1e6),
    "mistakes told in one run": ("MOST_ERRORS", 1),
}
TOLERANCES = {
    "`=` agrees": "AGREES",
    "one corner of an outline": "MEETS",
    "lies on an edge": "ON",
    "sides of a seam match": "MATCHES",
    "notches meet": "MEET",
    "edges that are joined": "SAME",
    "`true` goes from": "WITHIN",
    "`true` changes": "EDGE_KEEPS",
}
ABSTRACT = {"Direction", "Expr", "Leg", "Node", "Statement"}


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project that holds every named file of the page."""
    (tmp_path / "oaktag.toml").touch()
    for block in BLOCKS:
        if block.name != NAMELESS:
            path = tmp_path / block.name
            path.parent.mkdir(exist_ok=True)
            path.write_text(block.text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def drawn(block: Block, body: str = "") -> tuple[Pattern | None, list[Diagnostic]]:
    """What a block comes to, for a body or none, and everything that is said about it."""
    Path(block.name).write_text(block.text, encoding="utf-8")
    program = load(block.name, DiskFiles(block.name))
    values = read_body(load(body, DiskFiles(body)).file).values if body else {}
    measures = {name: Quantity("length", amount) for name, (amount, _) in values.items()}
    result = evaluate(program, measures)
    pattern, part = result.pattern, result.part
    seen = (*inspect(pattern), *unfinished(pattern)) if pattern else ()
    if part is not None:
        seen = (*inspect_part(part), *unfinished(whole(part)))
    return result.pattern, [*program.diagnostics, *result.diagnostics, *seen]


def told(found: list[Diagnostic]) -> str:
    return "".join(f"{render(one)}\n\n" for one in found).removesuffix("\n")


def test_blocks_are_of_known_kinds() -> None:
    kinds = {"", "oak", "oak error", "text", "csv", "svg", "console"}
    assert [block for block in BLOCKS if block.kind not in kinds] == []
    assert len(EXAMPLES) >= 50
    assert len(WRONG) >= 10


@pytest.mark.parametrize("block", EXAMPLES, ids=repr)
def test_an_example_is_tidy_and_is_drawn(block: Block, shelf: Path) -> None:
    assert formatted(Source(block.name, block.text)) == block.text
    file, _ = parse(Source(block.name, block.text))
    if is_body(file):
        assert read_body(load(block.name, DiskFiles(block.name)).file).values
        return
    pattern, said = drawn(block, "ines.oak")
    # An example is a part of a pattern: what common practice would add to it is left out.
    assert told([one for one in said if one.severity != "note"]) == ""
    assert pattern is not None
    if not pattern.pieces:
        return  # values alone
    root = ElementTree.fromstring(svg(lay_out(pattern)))
    groups = {group.get("id") for group in root.iter("{http://www.w3.org/2000/svg}g")}
    for piece in cut_pieces(pattern):
        assert piece.area > 0
        assert piece.name in groups


@pytest.mark.parametrize(("block", "answer"), WRONG, ids=repr)
def test_a_mistake_is_answered_as_shown(
    block: Block, answer: Block, shelf: Path, pytestconfig: pytest.Config
) -> None:
    """`pytest --update-golden` writes the messages of now into the page."""
    assert answer.kind == "text"
    assert formatted(Source(block.name, block.text)) == block.text
    _, said = drawn(block)
    if pytestconfig.getoption("--update-golden"):
        shown = f"{block.text}```\n\n```text\n"
        path = LANG / "reference.md"
        page = path.read_text(encoding="utf-8")
        assert shown + answer.text in page
        page = page.replace(shown + answer.text, shown + told(said))
        path.write_text(page, encoding="utf-8", newline="\n")
        return
    assert told(said) == answer.text


def test_every_statement_has_a_section() -> None:
    assert sorted(SECTIONS) == sorted(STATEMENTS)


@pytest.mark.parametrize("name", STATEMENTS)
def test_its_section_shows_its_form_and_uses_it_in_an_example(name: str) -> None:
    section = SECTIONS[name]
    assert [block for block in FORMS if block.section == section]
    used = [
        type(node).__name__
        for block in EXAMPLES
        if block.section == section
        for node in nodes(parse(Source(block.name, block.text))[0])
    ]
    assert name in used


def nodes(node: object) -> Iterator[Node]:
    if isinstance(node, tuple):
        for one in node:
            yield from nodes(one)
    elif isinstance(node, Node):
        yield node
        for field in node.fields:
            yield from nodes(getattr(node, field))


def test_everything_a_file_can_say_is_in_an_example() -> None:
    found = [node for block in EXAMPLES for node in nodes(parse(Source(block.name, block.text))[0])]
    assert set(ast.__all__) - ABSTRACT - {type(node).__name__ for node in found} == set()
    called = {node.name for node in found if isinstance(node, ast.Call)}
    assert set(FUNCTIONS) - called == set()
    grammar = (LANG / "syntax" / "grammar.lark").read_text(encoding="utf-8")
    words = set(re.findall(r'"([a-z-]+)"', grammar))
    written = {word for block in EXAMPLES for word in re.findall(r"[\w-]+", block.text)}
    assert words - written == set()


def section(heading: str) -> str:
    return PAGE.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]


def figures(name: str) -> set[float]:
    """What is called so in the code, wherever it stands."""
    sources = [*LANG.rglob("*.py"), *LANG.with_name("compiler").rglob("*.py")]
    found: set[float] = set()
    for path in sources:
        lines = re.findall(rf"^{name} = ([\d._e-]+)(?:$| )", path.read_text("utf-8"), re.MULTILINE)
        found.update(map(float, lines))
    return found


def test_limits_and_tolerances_are_those_of_the_code() -> None:
    said = dict(re.findall(r"^\| ([^|]*) \| ([\d,]+)[^|]* \|$", section("Limits"), re.MULTILINE))
    for what, (name, unit) in LIMITS.items():
        assert float(said.pop(what).replace(",", "")) * unit in figures(name), what
    assert said == {
        "turns of one `repeat`, members of one row": "10,000",
        "instructions done in one pattern, turns counted": f"{Scope({}, 'cm').steps_left:,}",
    }
    exact = section("How exact it is")
    for what, name in TOLERANCES.items():
        [figure] = re.findall(rf"^\|.*{what}.*\| ([\d.]+) mm \|$", exact, re.MULTILINE)
        assert float(figure) in figures(name), what


def test_ten_thousand_turns_are_the_most(shelf: Path) -> None:
    text = 'pattern "Many"\nrepeat i from 1 to 10001\n  a[i] = 1\n'
    _, said = drawn(Block(["oak", "error"], text, 0, ""))
    assert "at most 10,000" in told(said)
    assert "| turns of one `repeat`, members of one row | 10,000 |" in PAGE


def test_the_chart_is_read() -> None:
    [chart] = [block for block in BLOCKS if block.kind == "csv"]
    for size in re.findall(r"^(\w+),\d", chart.text, re.MULTILINE):
        assert chart_body(chart.text, chart.name, size).values["waist_girth"][0] > 0


def test_every_link_leads_somewhere() -> None:
    links = re.findall(r"\]\(([^)]+)\)", PAGE)
    anchors = {
        re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-")
        for heading in re.findall(r"^#+ (.*)$", PAGE, re.MULTILINE)
    }
    for link in links:
        if link.startswith("#"):
            assert link[1:] in anchors, link
        else:
            assert (LANG / link.partition("#")[0]).exists(), link
