"""Sound patterns with two lines spoilt at random: each mistake is told as when it is alone.

Nothing is told beside them that only follows from the two. Two lines do not depend on each other
where neither uses a name that the other gives, in however many steps.
"""

from __future__ import annotations

import random
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.evaluate.dependence import given, moved_by
from oaktag.compiler.finish.unfinished import unfinished
from oaktag.compiler.inspect import inspect, inspect_part, whole
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.ast import Allow
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.lang.ast import Statement
    from oaktag.lang.project.files import Place
    from oaktag.lang.project.program import Program

ROOT = Path(__file__).parents[3]
PATTERNS = sorted(
    path
    for folder in ("stdlib", "examples", "tests/programs_corrected")
    for path in (ROOT / folder).rglob("*.oak")
    if "\npattern " in "\n" + path.read_text(encoding="utf-8")
)
# Measures for all of them. The figures are of no one.
BODY = {
    "waist_girth": 720.0,
    "hip_girth": 960.0,
    "waist_to_hip": 200.0,
    "bust_girth": 880.0,
    "neck_girth": 360.0,
    "shoulder_length": 125.0,
    "back_waist_length": 410.0,
    "upper_arm_girth": 280.0,
    "arm_length": 600.0,
    "back_width": 350.0,
    "wrist_girth": 160.0,
    "body_rise": 270.0,
    "outside_leg_length": 1050.0,
    "inside_leg_length": 790.0,
}
WORD, FIGURE = re.compile(r"[^\W\d]\w*"), re.compile(r"\d+(\.\d+)?")
ROUNDS, EACH = 6, 25

Found = set[tuple[str, int]]


class Spoilt(DiskFiles):
    """The disk, but for one file."""

    def __init__(self, path: Path, text: str) -> None:
        super().__init__(str(path))
        self.path, self.text = str(path), text

    def read(self, place: Place) -> bytes:
        return self.text.encode() if place.path == self.path else super().read(place)


def told(path: Path, lines: list[str]) -> tuple[Program, Found, Found]:
    """What is wrong, as codes and lines of the file: all of it, and the errors alone."""
    program = load(str(path), Spoilt(path, "\n".join(lines)))
    body = {name: Quantity("length", value) for name, value in BODY.items()}
    result = evaluate(program, body)
    found = [*program.diagnostics, *result.diagnostics]
    if result.pattern is not None:
        found += [*inspect(result.pattern), *unfinished(result.pattern)]
    elif result.part is not None:
        found += [*inspect_part(result.part), *unfinished(whole(result.part))]

    def places(severities: tuple[str, ...]) -> Found:
        return {
            (one.code, one.span.line if one.span and one.span.source is own else 0)
            for one in found
            if one.severity in severities
        }

    own = program.file.source
    return program, places(("error", "warning", "note")), places(("error",))


def spoilt(lines: list[str], chance: random.Random, nonsense: str) -> tuple[int, str] | None:
    """A line with a name or a figure in it that nobody can mean; none where that does not do."""
    at = chance.randrange(len(lines))
    line = lines[at].partition("#")[0]
    names, figures = list(WORD.finditer(line))[1:], list(FIGURE.finditer(line))
    if line.startswith(("true", "measure", "pattern", "use", "choose", "oaktag")):
        return None
    if chance.random() < 0.5 and names:
        found, new = chance.choice(names), nonsense
    elif figures:
        found, new = chance.choice(figures), chance.choice(("900", "-40", "0.01"))
    else:
        return None
    return at, line[: found.start()] + new + line[found.end() :]


def statement_at(program: Program, line: int) -> Statement:
    """The statement at the margin to which a line belongs."""
    return [one for one in program.file.statements if one.span.line <= line][-1]


def independent(program: Program, first: int, second: int) -> bool:
    """Whether two lines belong to statements neither of which uses what the other gives; of two
    `allow` lines the later one wins.
    """
    one, other = statement_at(program, first), statement_at(program, second)
    if isinstance(one, Allow) and isinstance(other, Allow):
        return False
    moved = [
        item
        for made in (one, other)
        for name in given(made)
        for item in moved_by(name, program.file.statements)
    ]
    return one is not other and not any(item is one or item is other for item in moved)


def pair(program: Program, lines: list[str], chance: random.Random) -> list[tuple[int, str]] | None:
    """Two lines to be spoilt that do not depend on each other; none if none are found."""
    found: list[tuple[int, str]] = []
    for _ in range(60):
        change = spoilt(lines, chance, "wwvk" if found else "zzxq")
        if change is None or (found and change[0] == found[0][0]):
            continue
        if not found or independent(program, found[0][0] + 1, change[0] + 1):
            found.append(change)
        if len(found) == 2:
            return found
    return None


@pytest.mark.parametrize("number", range(ROUNDS))
def test_two_mistakes(number: int, record_property: Callable[[str, object], None]) -> None:
    tried = 0
    for seed in range(number * EACH, (number + 1) * EACH):
        chance = random.Random(seed)
        path = chance.choice(PATTERNS)
        lines = path.read_text(encoding="utf-8").split("\n")
        program, sound, wrong = told(path, lines)
        assert wrong == set(), path
        changes = pair(program, lines, chance)
        if changes is None:
            continue
        both, alone, errors = list(lines), set(), []
        for at, new in changes:
            one = list(lines)
            one[at] = both[at] = new
            _, every, wrong = told(path, one)
            here = {found for found in wrong if found[1] == at + 1}
            if here:
                # A line that fails takes nothing with it: no other line is wrong by that.
                assert wrong == here, f"seed {seed}: {path.name}:{at + 1}: {new}"
            alone |= every
            errors.append(here)
        if not all(errors):
            continue
        _, every, wrong = told(path, both)
        where = f"seed {seed}: {path.name}: {changes}"
        assert every <= alone | sound, where
        assert wrong == errors[0] | errors[1], where
        tried += 1
    assert tried, "this tries nothing"
    record_property("counted: pairs of independent mistakes were told as when alone", tried)
