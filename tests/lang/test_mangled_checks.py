"""Programs spoilt so that they can still be read: checking them never crashes or hangs."""

from __future__ import annotations

import random
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.lang.checking.check import MOST_ERRORS, check
from oaktag.lang.checking.names import Names
from oaktag.lang.diagnostics import render
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
from oaktag.lang.source import Source
from oaktag.lang.syntax.parse import parse

if TYPE_CHECKING:
    from collections.abc import Callable

PROGRAMS = sorted((Path(__file__).parents[1] / "programs").glob("*.oak"))
WORDS = sorted({word for path in PROGRAMS for word in re.findall(r"[^\W\d]\w*", path.read_text())})
VALUES = ["3", "1/2", "4 cm", "12 deg", "yes", "origin", "front.waist", "right.side", "i", "x[2]"]
SEEDS = 1200
PARTS = 4


def spoilt(chance: random.Random) -> str:
    """Words for words, values for values, lines moved about."""
    lines = chance.choice(PROGRAMS).read_text(encoding="utf-8").split("\n")
    for _ in range(chance.randint(1, 5)):
        at, other = chance.randrange(len(lines)), chance.randrange(len(lines))
        way = chance.randrange(7)
        if way == 0:
            lines[at], lines[other] = lines[other], lines[at]
        elif way == 1:
            lines.insert(at, lines[other])
        elif way == 2 and len(lines) > 3:
            del lines[at]
        elif way == 3:
            figures = re.compile(r"\d+(\.\d+)?( (cm|in|deg))?")
            lines[at] = figures.sub(chance.choice(VALUES), lines[at], count=1)
        else:
            words = list(re.finditer(r"[^\W\d]\w*", lines[at]))
            if words:
                word = chance.choice(words)
                new = chance.choice([*WORDS, *VALUES])
                lines[at] = lines[at][: word.start()] + new + lines[at][word.end() :]
    return "\n".join(lines)


def used_patterns() -> dict[str, Names]:
    paths = [str(path) for path in PROGRAMS if path.stem in ("straight", "bodice")]
    block, skirt = (load(path, DiskFiles(path)).symbols for path in paths)
    return {"block": skirt, "skirt": skirt, "bodice": block}


@pytest.mark.parametrize("part", range(PARTS))
def test_spoilt_programs(part: int, record_property: Callable[[str, object], None]) -> None:
    uses = used_patterns()
    tried = read = found = 0
    for seed in range(part, SEEDS, PARTS):
        text = spoilt(random.Random(seed))
        try:
            file, unread = parse(Source("spoilt.oak", text))
            _, wrong = check(file, uses, [one.span for one in unread if one.span])
            for one in wrong:
                assert one.span is not None
                assert 0 <= one.span.start <= one.span.end <= len(text)
                assert render(one)
        except Exception as failed:
            failed.add_note(f"seed {seed}:\n{text}")
            raise
        tried += 1
        read += not unread
        found += bool(wrong)
    # Most can be read, and in most there is something to find.
    assert read > tried // 4
    assert found > tried // 3
    record_property("counted: spoilt programs were checked without a crash", tried)


def test_a_file_of_nothing_but_mistakes_comes_to_an_end() -> None:
    lines = [f"name{n} = other{n} + 1" for n in range(8000)]
    file, _ = parse(Source("long.oak", 'pattern "Long"\n' + "\n".join(lines)))
    _, wrong = check(file, {})
    assert len(wrong) == MOST_ERRORS


def test_a_name_missed_everywhere_is_one_mistake() -> None:
    lines = [f"name{n} = other + {n}" for n in range(8000)]
    file, _ = parse(Source("long.oak", 'pattern "Long"\n' + "\n".join(lines)))
    _, wrong = check(file, {})
    assert len(wrong) == 1
