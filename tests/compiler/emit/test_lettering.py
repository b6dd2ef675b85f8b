"""Words as strokes of a pen."""

from __future__ import annotations

import itertools

import pytest

from oaktag.compiler.emit.lettering import lettered
from oaktag.compiler.sheet import Text


def box(strokes: list[tuple[complex, ...]]) -> tuple[float, float, float, float]:
    places = [p for stroke in strokes for p in stroke]
    xs, ys = [p.real for p in places], [p.imag for p in places]
    return min(xs), min(ys), max(xs), max(ys)


def test_capitals_stand_in_the_middle_of_their_place() -> None:
    strokes, missing = lettered(Text("HH", 100 + 50j, 10.0))
    left, bottom, right, top = box(strokes)
    assert (bottom, top) == pytest.approx((46.5, 53.5))
    assert (left + right) / 2 == pytest.approx(100.0)
    assert missing == ""


@pytest.mark.parametrize("words", ["measure this square", "ILL, 1/2 in", "mWmWmW", "WWWW @@@@"])
def test_words_take_no_more_room_than_the_sheet_reckons(words: str) -> None:
    text = Text(words, 0j, 6.0)
    left, _, right, _ = box(lettered(text)[0])
    assert right - left <= text.width


def test_words_are_turned() -> None:
    flat, _ = lettered(Text("up", 3 + 4j, 5.0))
    turned, _ = lettered(Text("up", 3 + 4j, 5.0, angle=90.0))
    for before, after in zip(itertools.chain(*flat), itertools.chain(*turned), strict=True):
        assert (before - 3 - 4j) * 1j == pytest.approx(after - 3 - 4j)


@pytest.mark.parametrize(
    ("words", "same"),
    [("ß", "ss"), ("½", "1/2"), ("“a” – b", '"a" - b'), ("ﬁ", "fi"), ("Œ×’", "OEx'")],
)
def test_what_can_be_written_with_other_letters_is(words: str, same: str) -> None:
    long = "x" * 20
    strokes, missing = lettered(Text(long + words, 0j, 4.0))
    plain, _ = lettered(Text(long + same, 0j, 4.0))
    assert (len(strokes), missing) == (len(plain), "")


@pytest.mark.parametrize("letter", "äöüéèêëñåçřőāįḍÀÖ")
def test_accents_are_drawn(letter: str) -> None:
    strokes, missing = lettered(Text(letter, 0j, 10.0))
    assert missing == ""
    assert len(strokes) >= 2


def test_an_accent_takes_the_place_of_the_dot() -> None:
    dotted, _ = lettered(Text("i", 0j, 10.0))
    acute, _ = lettered(Text("í", 0j, 10.0))
    assert len(dotted) == len(acute) == 2
    assert dotted != acute


@pytest.mark.parametrize("words", ["衣装", "\U0001fab5", "Ж", "א", "\x07", "\ud800"])
def test_letters_it_lacks_are_boxes(words: str) -> None:
    strokes, missing = lettered(Text(f"a{words}", 0j, 5.0))
    assert missing == words
    assert sum(len(stroke) == 5 and stroke[0] == stroke[-1] for stroke in strokes) >= len(words)


def test_no_words_no_strokes() -> None:
    assert lettered(Text("", 0j, 5.0)) == ([], "")
    assert lettered(Text("   ", 0j, 5.0)) == ([], "")
