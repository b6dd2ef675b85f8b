"""Words are keywords only where they can stand; everywhere else they are names."""

from __future__ import annotations

from typing import Any

import pytest

from oaktag.lang import ast
from oaktag.lang.source import Source
from oaktag.lang.syntax.parse import parse
from oaktag.lang.syntax.tables import load
from oaktag.lang.words import NEVER_NAMES, nearest


def statement(text: str) -> Any:
    tree, wrong = parse(Source("test.oak", f'pattern "Test"\n{text}\n'))
    assert not wrong, (text, [one.message for one in wrong])
    return tree.statements[1]


def step(text: str) -> Any:
    return statement("piece test\n  " + text.replace("\n", "\n  ")).body[0]


def names(value: Any) -> list[str]:
    return [part.name for part in value.parts]


KEYWORDS = sorted(word for word in load().literals if word.isidentifier())
FREE = [word for word in KEYWORDS if word not in NEVER_NAMES] + ["up", "down", "left", "right"]


def test_nothing_but_the_page_s_words_is_reserved() -> None:
    assert set(KEYWORDS) - set(FREE) <= NEVER_NAMES
    assert len(FREE) > 60


@pytest.mark.parametrize("word", FREE)
def test_a_line_with_an_equals_sign_always_names(word: str) -> None:
    assert statement(f"{word} = 4 cm") == ast.Assign(
        None, None, ast.Target(None, word, None), ast.Quantity(None, 40.0, "cm")
    )
    assert step(f"{word}[i] = 4 cm").target.name == word
    # ... and what is indented below it goes on with it, even below a word that opens a block.
    assert isinstance(statement(f"{word} = 4 cm\n  + 5 cm").value, ast.Binary)
    edge = step(f"outline\n  {word} = a to b").edges[0]
    assert edge.target.name == word


@pytest.mark.parametrize("word", FREE)
def test_any_word_can_be_used_as_a_name(word: str) -> None:
    assert names(statement(f"x = {word} + 1 cm").value.left) == [word]
    assert names(statement(f"x = 2 * ({word})").value.right) == [word]
    assert names(statement(f"x = {word}.point.{word}").value) == [word, "point", word]
    assert names(statement(f"x = length({word})").value.arguments[0]) == [word]
    assert names(step(f"fold on {word}").edge) == [word]
    assert names(step(f"close {word} into {word}").darts[0]) == [word]
    assert step(f"line {word} = {word} to {word}").target.name == word
    assert step(f"unfold along {word} into {word} and a").first.name == word
    assert statement(f"measure {word}").items[0].target.name == word
    assert names(statement(f"sew {word}.side to {word}[1].side").first[0].edge) == [word, "side"]


@pytest.mark.parametrize("word", sorted(NEVER_NAMES))
def test_reserved_words_are_never_names(word: str) -> None:
    for text in (f"{word} = 4 cm", f"measure {word}"):
        _, wrong = parse(Source("test.oak", f'pattern "Test"\n{text}\n'))
        assert len(wrong) == 1
        assert word in wrong[0].message


def test_directions_are_directions_where_one_can_stand() -> None:
    unfolded = step("unfold along centre into right and left holding left")
    assert (unfolded.first.name, unfolded.second.name) == ("right", "left")
    assert names(unfolded.holding) == ["left"]
    assert step("fold-trim d toward left").toward == ast.Way(None, "left")
    assert names(step("fold-trim d toward left.side").toward) == ["left", "side"]
    assert names(step("close right.waist_dart into flare").darts[0]) == ["right", "waist_dart"]
    assert names(statement("cut 2 left in main").piece) == ["left"]
    moved = step("x = left left 4 cm").value
    assert (names(moved.base), moved.direction) == (["left"], ast.Way(None, "left"))
    dropped = step("line x = up down to left").path.legs[0].to
    assert (names(dropped.base), names(dropped.onto)) == (["up"], ["left"])


def test_the_brief_s_hard_cases() -> None:
    assert names(statement("length = length").value) == ["length"]
    assert names(step("foot = top down length").value.distance) == ["length"]
    dart = step("dart d on waist at 1/2 from centre intake surplus length 10 cm")
    assert (names(dart.intake), dart.length) == (["surplus"], ast.Quantity(None, 100.0, "cm"))
    dart = step("dart length on length at length from length intake length length length")
    assert names(dart.intake) == names(dart.length) == names(dart.origin) == ["length"]
    on_edge = step("x = on side length/2 from waist").value
    assert isinstance(on_edge.at, ast.Binary)
    curve = step("line curve = curve curve to curve through through and to_here").path
    assert names(curve.legs[0].through[0]) == ["through"]
    strip = step("strip by_hand by deep")
    assert names(strip.width) == ["deep"]
    assert names(step("spread spread by by_hand at at_hem hinged on hinged").hinge) == ["hinged"]
    assert names(statement("choose from_here = to_there").default) == ["to_there"]
    assert names(step("fold-trim toward toward toward").folds[0]) == ["toward"]
    assert isinstance(statement("fold = fold-trim").value, ast.Binary)


def test_nearest() -> None:
    words = ["spread", "shorten", "close", "cut", "curve", "piece"]
    assert nearest("sprad", words) == "spread"
    assert nearest("peice", words) == "piece"
    assert nearest("cot", words) == "cut"
    assert nearest("cat", ["cut", "can"]) == "can"
    assert nearest("zzz", words) == ""
    assert nearest("close", ["close"]) == ""
    assert nearest("x" * 5000, words) == ""


def test_a_word_is_never_read_as_a_text() -> None:
    _, wrong = parse(Source("test.oak", "pattern text\n"))
    assert [one.code for one in wrong] == ["unexpected"]
    assert step('text "text" at text').text == "text"
