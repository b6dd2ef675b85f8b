"""Every pattern that comes with oaktag: its layout, and every size and choice of it drawn."""

from __future__ import annotations

from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.lang import ast
from oaktag.lang.checking.misfits import constant
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
from oaktag.lang.source import Source
from oaktag.lang.syntax.format import formatted
from oaktag.lang.syntax.parse import parse

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tests.conftest import Cutter

STDLIB = Path(__file__).parents[2] / "stdlib"
FILES = sorted(STDLIB.rglob("*.oak"))
SIZES = [str(number) for number in range(1, 13)]
LONGEST = 115  # lines: short enough to be read as a lesson


def names(path: Path) -> str:
    return ".".join(path.relative_to(STDLIB).with_suffix("").parts)


every_file = pytest.mark.parametrize("path", FILES, ids=names)


def test_the_patterns_are_these() -> None:
    assert {names(path) for path in FILES} >= {
        "bands.shaped",
        "bands.straight",
        "bodices.basic",
        "facings.neck",
        "facings.waist",
        "skirts.a_line",
        "skirts.circle",
        "skirts.gore",
        "skirts.gored",
        "skirts.straight",
        "sleeves.set_in",
        "trousers.basic",
    }


@every_file
def test_it_is_a_tidy_and_short_lesson(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert formatted(Source(path.name, text)) == text
    lines = text.splitlines()
    assert len(lines) <= LONGEST
    assert lines[0] == "oaktag 1"
    assert lines[1].startswith("# ")
    assert sum(line.lstrip().startswith("#") for line in lines) >= 2


@every_file
def test_it_can_be_used_by_its_name(path: Path) -> None:
    place = DiskFiles(str(path)).stdlib(names(path))
    assert place is not None
    assert Path(place.path) == path.resolve()


@every_file
def test_every_size_is_drawn_with_every_choice_at_its_ends(
    path: Path, cutter: Cutter, record_property: Callable[[str, object], None]
) -> None:
    """A garment is drawn with one choice at its end; several together its own `require` may refuse.

    A gore is a part: the widths of its places belong together, so it may refuse one alone.
    """
    program = load(str(path), DiskFiles(str(path)))
    ends = {name: values for name, values in _ends(program.file) if values}
    combinations: list[dict[str, float | bool]] = [{}]
    combinations += [{name: value} for name, values in ends.items() for value in values]
    alone = len(combinations) if program.symbols.of_role("measure") else 1
    combinations += [{name: values[end] for name, values in ends.items()} for end in (0, -1)]
    drawn = refused = 0
    for size in SIZES:
        for number, choices in enumerate(combinations):
            pattern, said = cutter.result(path, cutter.size(size), **choices)
            wrong = [one for one in said if one.severity != "note"]
            if wrong and number >= alone and {one.code for one in wrong} == {"requirement"}:
                refused += 1
                continue
            assert not wrong, (size, choices, [one.message for one in wrong])
            assert pattern is not None
            assert all(piece.area > 0 for piece in pattern.pieces.values())
            drawn += 1
    record_property(f"counted: patterns of {names(path)} were drawn and walked", drawn)
    record_property(f"counted: patterns of {names(path)} were refused by their `require`", refused)
    assert drawn > 2 * refused


def _ends(file: ast.File) -> Iterator[tuple[str, list[float | bool]]]:
    """The lowest and the highest value of every choice that has two."""
    for statement in file.statements:
        if not isinstance(statement, ast.Choose):
            continue
        if isinstance(statement.default, ast.YesNo):
            yield statement.target.name, [False, True]
        elif statement.low is not None and statement.high is not None:
            found = [constant(bound) for bound in (statement.low, statement.high)]
            yield statement.target.name, [bound for bound in found if bound is not None]


def test_their_words_are_in_their_files() -> None:
    """Every caption and every choice is said in words, and no file speaks of the machine."""
    for path in FILES:
        file, wrong = parse(Source(path.name, path.read_text(encoding="utf-8")))
        assert not wrong
        words = chain.from_iterable(line.lower().split() for line in file.source.text.split("\n"))
        assert not {"function", "variable", "loop", "parser", "token"} & set(words)
