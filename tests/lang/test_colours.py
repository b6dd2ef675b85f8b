"""The colouring of patterns in editors (a TextMate grammar) says what the reader of files says."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from oaktag.lang.source import Source
from oaktag.lang.syntax.parse import _tables as tables
from oaktag.lang.syntax.tokens import tokens
from oaktag.lang.words import RESERVED

ROOT = Path(__file__).parents[2]
GRAMMAR = json.loads((ROOT / "lang/syntax/oaktag.tmLanguage.json").read_text(encoding="utf-8"))
RULES = {name: re.compile(rule["match"]) for name, rule in GRAMMAR["repository"].items()}
FILES = sorted([*ROOT.glob("examples/**/*.oak"), *ROOT.glob("stdlib/**/*.oak")])
ORDER = [include["include"].removeprefix("#") for include in GRAMMAR["patterns"]]


def coloured(line: str) -> list[tuple[int, int, str]]:
    """Start, end and rule of each coloured stretch, as an editor finds them: the leftmost match
    wins, and of several there the rule that stands first.
    """
    found, at = [], 0
    while at < len(line):
        hits = [(hit.start(), number, hit) for number, name in enumerate(ORDER)
                if (hit := RULES[name].search(line, at)) and hit.end() > at]  # fmt: skip
        if not hits:
            break
        _, number, hit = min(hits, key=lambda item: item[:2])
        rule = GRAMMAR["repository"][ORDER[number]]
        if "captures" in rule:
            for group in rule["captures"]:
                found.append((*hit.span(int(group)), ORDER[number]))
        else:
            found.append((*hit.span(), ORDER[number]))
        at = hit.end()
    return found


def test_every_rule_is_used_and_every_word_that_starts_a_line_is_known() -> None:
    assert sorted(ORDER) == sorted(GRAMMAR["repository"])
    known = {word for start in ("file_line", "piece_line") for word in tables().words(start)}
    assert len(known) > 40
    rule = RULES["instruction"]
    coloured = {word for word in known if (hit := rule.match(f"  {word} x")) and hit[1] == word}
    assert coloured == known
    listed = rule.pattern[rule.pattern.index("(") + 1 : rule.pattern.index(")")]
    assert set(listed.split("|")) == known


def test_words_that_are_never_names_are_coloured_as_such() -> None:
    assert all(RULES["word"].fullmatch(word) for word in RESERVED)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_texts_quantities_and_numbers_are_coloured_as_they_are_read(path: Path) -> None:
    for line in path.read_text(encoding="utf-8").splitlines():
        split = re.fullmatch(r'((?:[^"#]|"[^"]*")*)(#.*)?', line)
        assert split is not None, line
        code = split[1]
        stretches = {(start, end): name for start, end, name in coloured(line)}
        read, _ = tokens(Source("", code), [(0, len(code))])
        for token in read:
            place = (token.start, token.end)
            if token.kind == "text":
                assert stretches.get(place) == "text", line
            elif token.kind in ("quantity", "number"):
                assert stretches.get(place) == token.kind, line
        if split[2]:
            assert stretches.get((len(code), len(line))) == "comment", line
