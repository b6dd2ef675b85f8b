"""Patterns with lines lost, moved, and words and figures exchanged go the whole way to a file.

What is wrong with most of them is found before drawing (`tests/lang` tries thousands of those); the
rest meets every verb with figures nobody meant.
"""

from __future__ import annotations

import random
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

ROOT = Path(__file__).parents[3]
PATTERNS = sorted(
    path
    for folder in ("stdlib", "examples")
    for path in (ROOT / folder).rglob("*.oak")
    if "\npattern " in "\n" + path.read_text(encoding="utf-8")
)
ROUNDS, EACH = 10, 60

# Measures for all of them. The figures are of no one.
BODY = """\
body "Nobody"
  waist_girth = 72 cm
  hip_girth = 96 cm
  waist_to_hip = 20 cm
  bust_girth = 88 cm
  neck_girth = 36 cm
  shoulder_length = 12.5 cm
  back_waist_length = 41 cm
  upper_arm_girth = 28 cm
  arm_length = 60 cm
"""
FIGURE = re.compile(r"\d+(?:\.\d+)?")
WORD = re.compile(r"[a-z_]{2,}")


def mangled(text: str, chance: random.Random) -> str:
    """The text with one to three things wrong with it."""
    lines = text.split("\n")
    words = WORD.findall(text)
    for _ in range(chance.choice((1, 1, 2, 3))):
        at = chance.randrange(len(lines))
        match chance.randrange(5):
            case 0:
                lines[at] = ""
            case 1:
                lines.insert(chance.randrange(len(lines)), lines[at])
            case 2:
                figure = chance.choice(("0", "1", "100", "0.001", str(chance.randrange(60))))
                lines[at] = FIGURE.sub(figure, lines[at])
            case 3:
                lines[at] = WORD.sub(
                    lambda found: chance.choice(words) if chance.random() < 0.2 else found[0],
                    lines[at],
                )
            case _:
                way = chance.choice(("up", "left", "right"))
                lines[at] = lines[at].replace("down", way).replace(" + ", " - ")
    return "\n".join(lines)


@pytest.mark.parametrize("number", range(ROUNDS))
def test_no_program_is_too_odd(
    number: int,
    oaktag: Callable[..., Result],
    record_property: Callable[[str, object], None],
) -> None:
    chance = random.Random(number)
    Path("nobody.oak").write_text(BODY, encoding="utf-8")
    built = 0
    for _ in range(EACH):
        source = chance.choice(PATTERNS)
        text = mangled(source.read_text(encoding="utf-8"), chance)
        Path("odd.oak").write_text(text, encoding="utf-8")
        Path("out/odd-nobody.svg").unlink(missing_ok=True)
        result = oaktag("build", "odd.oak", "--body", "nobody.oak", "--to", "svg,json")
        assert Path("out/odd-nobody.svg").exists() == (result.exit_code == 0)
        assert result.exit_code == 0 or "error:" in result.stderr, text
        built += result.exit_code == 0
    assert 0 < built < EACH, "some are harmless and some are not, or this tries nothing"
    record_property("counted: mangled programs were built, or refused in words", EACH)
    record_property("counted: of these were built", built)
