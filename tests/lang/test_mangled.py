"""Programs nobody would write: sentences of the grammar, real programs spoilt. None may crash."""

from __future__ import annotations

import random
import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import lark
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.lang.diagnostics import Diagnostic, Mistake, as_json, as_line, render
from oaktag.lang.project.files import Place, Refused
from oaktag.lang.project.program import load
from oaktag.lang.source import Source
from oaktag.lang.syntax.decode import decode
from oaktag.lang.syntax.format import formatted
from oaktag.lang.syntax.parse import parse
from oaktag.lang.syntax.tables import STARTS

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).resolve().parents[2]
PROGRAMS = sorted((ROOT / "tests" / "programs").glob("*.oak"))

NAMES = ["waist", "side", "hem", "centre", "front", "block", "drape", "flare", "x1", "ör", "裾"]
NUMBERS = ["0", "1", "2", "3", "12", "0.5", "2.75"]
QUANTITIES = ["3 cm", "1.5 cm", "6 mm", "4 1/2 in", "5/8 in", "2 yd", "1 m", "3 ft", "12 deg"]
TEXTS = ['"side seams match"', '"../blocks/ines.oak"', '""', '"# no comment"']
WAYS = ["up", "down", "left", "right"]
OPENERS = ("use", "piece", "outline", "repeat", "if", "else", "body")
ODD = "\t\0\x07\x1b\u00a0\u200b\u202e\ufeff\r\x0b\u2028½²“”’″°×−≤ßéʼńǅ裾🧵\u0301\U000e0001"


class Grammar:
    """The rules of grammar.lark, as Lark expands them, to make sentences from."""

    def __init__(self) -> None:
        text = (ROOT / "lang" / "syntax" / "grammar.lark").read_text(encoding="utf-8")
        made = lark.Lark(text, parser="lalr", lexer="basic", start=list(STARTS))
        self.literal = {
            one.name: one.pattern.value
            for one in made.terminals
            if type(one.pattern).__name__ == "PatternStr"
        }
        self.rules: dict[str, list[list[str]]] = {}
        for rule in made.rules:
            self.rules.setdefault(rule.origin.name, []).append(
                [symbol.name for symbol in rule.expansion]
            )
        # How deep the shallowest sentence of each rule is, so that making one comes to an end.
        self.depth: dict[str, int] = {}
        changed = True
        while changed:
            changed = False
            for name, options in self.rules.items():
                shallowest = min(self._depth(option) for option in options)
                if shallowest < self.depth.get(name, 99):
                    self.depth[name] = shallowest
                    changed = True

    def _depth(self, option: list[str]) -> int:
        return 1 + max((self.depth.get(one, 99) for one in option if one in self.rules), default=0)

    def sentence(self, start: str, chance: random.Random, deep: int = 14) -> str:
        out: list[str] = []
        self._write(start, chance, deep, out)
        return " ".join(out)

    def _write(self, name: str, chance: random.Random, deep: int, out: list[str]) -> None:
        if name not in self.rules:
            out.append(self._word(name, chance))
            return
        options = [one for one in self.rules[name] if self._depth(one) <= deep]
        if not options:
            shallowest = min(self._depth(one) for one in self.rules[name])
            options = [one for one in self.rules[name] if self._depth(one) == shallowest]
        for symbol in chance.choice(options):
            self._write(symbol, chance, deep - 1, out)

    def _word(self, terminal: str, chance: random.Random) -> str:
        if terminal in self.literal:
            return self.literal[terminal]
        choices = {
            "NAME": NAMES, "NUMBER": NUMBERS, "QUANTITY": QUANTITIES, "QUOTED": TEXTS, "WAY": WAYS,
        }  # fmt: skip
        return chance.choice(choices[terminal])


@cache
def grammar() -> Grammar:
    return Grammar()


def program(chance: random.Random) -> str:
    """A file of random sentences of the grammar, with members where they are wanted."""
    lines = ['pattern "Mangled"']
    _block(chance, "file_line", 0, lines)
    return "\n".join(lines) + "\n"


def _block(chance: random.Random, start: str, level: int, lines: list[str]) -> None:
    for _ in range(chance.randint(1, 3 if level else 6)):
        sentence = grammar().sentence(start, chance, chance.randint(6, 14))
        first = sentence.split()[0]
        lines.append("  " * level + sentence)
        naming = re.match(r"\S+\s*(\[.*\]\s*)?=", sentence)
        if first in OPENERS and not naming and level < 5:
            inner = {
                "piece": "piece_line", "outline": "edge_line", "use": "assign", "body": "assign",
            }.get(first, start)  # fmt: skip
            _block(chance, inner, level + 1, lines)


def spoilt(text: str, chance: random.Random) -> str:
    """A program with one to four things done to it."""
    for _ in range(chance.randint(1, 4)):
        text = chance.choice(_WAYS_TO_SPOIL)(text, chance)
    return text


def _place(text: str, chance: random.Random) -> int:
    return chance.randint(0, len(text))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+|\s+|[^\w\s]", text)


def _drop_word(text: str, chance: random.Random) -> str:
    words = _words(text) or [""]
    del words[chance.randrange(len(words))]
    return "".join(words)


def _double_word(text: str, chance: random.Random) -> str:
    words = _words(text) or [""]
    at = chance.randrange(len(words))
    words.insert(at, words[at] + chance.choice(["", " "]))
    return "".join(words)


def _swap_words(text: str, chance: random.Random) -> str:
    words = _words(text) or [""]
    first, second = chance.randrange(len(words)), chance.randrange(len(words))
    words[first], words[second] = words[second], words[first]
    return "".join(words)


def _other_word(text: str, chance: random.Random) -> str:
    words = _words(text) or [""]
    fixed = sorted(grammar().literal.values()) + NAMES + NUMBERS + QUANTITIES + TEXTS
    words[chance.randrange(len(words))] = chance.choice(fixed)
    return "".join(words)


def _drop_line(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    del lines[chance.randrange(len(lines))]
    return "\n".join(lines)


def _swap_lines(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    first, second = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[first], lines[second] = lines[second], lines[first]
    return "\n".join(lines)


def _indent_line(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    lines[at] = " " * chance.randint(0, 7) + lines[at].lstrip(" " if chance.random() < 0.5 else "")
    return "\n".join(lines)


def _comment_line(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    said = chance.choice(["#", "# a note", "#note", "## two", "   # deep", " "])
    if chance.random() < 0.5:
        lines[at] += said
    else:
        lines.insert(at, said)
    return "\n".join(lines)


def _odd_character(text: str, chance: random.Random) -> str:
    at = _place(text, chance)
    odd = chance.choice(ODD) if chance.random() < 0.7 else chr(chance.randint(0, 0xD7FF))
    return text[:at] + odd + text[at:]


def _sign(text: str, chance: random.Random) -> str:
    at = _place(text, chance)
    return text[:at] + chance.choice("()[]\"'#=,.+-*/<>\n 0123456789") + text[at:]


def _cut_short(text: str, chance: random.Random) -> str:
    return text[: _place(text, chance)]


def _drop_stretch(text: str, chance: random.Random) -> str:
    at = _place(text, chance)
    return text[:at] + text[at + chance.randint(1, 30) :]


def _sentence(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    sentence = grammar().sentence(chance.choice(STARTS), chance, chance.randint(5, 12))
    lines.insert(at, " " * chance.choice([0, 2, 4]) + sentence)
    return "\n".join(lines)


_WAYS_TO_SPOIL = (
    _drop_word, _double_word, _swap_words, _other_word, _drop_line, _swap_lines, _indent_line,
    _comment_line, _odd_character, _sign, _cut_short, _drop_stretch, _sentence,
)  # fmt: skip


# ---------------------------------------------------------------------------------------- the tests

SEEDS = 10_500
PARTS = 10  # each its own test, so that they run beside each other
# What can be wrong with a sentence that the grammar allows.
OF_MEANING = {
    "said-twice", "dart-unfinished", "amount-unfinished", "misplaced", "misplaced-version",
    "too-long", "too-deep", "lone-else", "read-as-inches",
}  # fmt: skip


class Shelf:
    """A project in memory: the programs of the page and the mangled one."""

    def __init__(self, data: bytes) -> None:
        self.held = {path.name: path.read_bytes() for path in PROGRAMS} | {"mangled.oak": data}

    def start(self, path: str) -> Place:
        return Place(path, path)

    def beside(self, place: Place, path: str) -> Place:
        return Place(path, path)

    def stdlib(self, name: str) -> Place | None:
        return Place("straight.oak", "straight.oak") if name == "skirts.straight" else None

    def stdlib_names(self) -> list[str]:
        return ["skirts.straight"]

    def neighbours(self, place: Place) -> list[str]:
        return sorted(self.held)

    def read(self, place: Place) -> bytes:
        if place.path not in self.held:
            raise Refused("no-file", f"there is no file {place.name}")
        return self.held[place.path]


def attempt(data: bytes) -> tuple[Diagnostic, ...]:
    """Reads it as `check` and `fmt` do; nothing but a Mistake may come out of it.

    What is returned is what is wrong with its writing.
    """
    for one in load("mangled.oak", Shelf(data)).diagnostics:
        assert one.message
        assert render(one)
        assert as_line(one)
        assert as_json(one)
    try:
        source = decode("mangled.oak", data)
    except Mistake as refused:
        return refused.diagnostics
    tree, wrong = parse(source)
    if not wrong:
        tidy = Source("tidy.oak", formatted(source))
        again, still = parse(tidy)
        assert still == ()
        assert again == tree, "the layout changed the meaning"
        assert formatted(tidy) == tidy.text, "the layout of the layout is another"
    return wrong


def mangled(seed: int) -> str:
    chance = random.Random(seed)
    if chance.random() < 0.2:
        return program(chance)
    if chance.random() < 0.2:
        return spoilt(program(chance), chance)
    return spoilt(chance.choice(PROGRAMS).read_text(encoding="utf-8"), chance)


@pytest.mark.parametrize("part", range(PARTS))
def test_mangled_programs(part: int, record_property: Callable[[str, object], None]) -> None:
    tried = clean = 0
    for seed in range(part, SEEDS, PARTS):
        text = mangled(seed)
        try:
            wrong = attempt(text.encode("utf-8", "surrogatepass"))
        except Exception as failed:
            failed.add_note(f"seed {seed}:\n{text}")
            raise
        tried += 1
        clean += not wrong
    # Neither is everything refused, nor is everything let through.
    assert tried // 20 < clean < tried // 2
    record_property("counted: mangled programs were read and checked without a crash", tried)
    record_property("counted: of them had nothing wrong and kept their meaning in fmt", clean)


def test_every_sentence_of_the_grammar_is_read() -> None:
    for seed in range(600):
        text = program(random.Random(seed))
        _, wrong = parse(Source("sentence.oak", text))
        for one in wrong:
            assert one.code in OF_MEANING, f"{render(one)}\n{text}"


@given(st.binary(max_size=300))
@settings(max_examples=300, derandomize=True, deadline=None)
def test_any_bytes(data: bytes) -> None:
    attempt(data)


@given(st.text(max_size=200))
@settings(max_examples=300, derandomize=True, deadline=None)
def test_any_text(text: str) -> None:
    attempt(b'pattern "a"\n' + text.encode("utf-8", "surrogatepass"))


BREAKS = ["\n", "\n  ", "\n    ", "#", "("]
WORDS = st.sampled_from(
    [*NAMES, *NUMBERS, *QUANTITIES, *TEXTS, *WAYS, *BREAKS, *sorted(grammar().literal.values())]
)


@given(st.lists(WORDS, max_size=40))
@settings(max_examples=600, derandomize=True, deadline=None)
def test_any_words(words: list[str]) -> None:
    attempt(f'pattern "a"\n{" ".join(words)}'.encode())
