"""From bytes to text."""

from __future__ import annotations

import pytest

from oaktag.lang.diagnostics import Mistake
from oaktag.lang.syntax.decode import decode
from oaktag.lang.syntax.layout import LONGEST


def code(data: bytes) -> str:
    with pytest.raises(Mistake) as caught:
        decode("test.oak", data)
    (one,) = caught.value.diagnostics
    assert one.file == "test.oak"
    assert one.help
    return one.code


def test_text() -> None:
    assert decode("test.oak", b"").text == ""
    assert decode("test.oak", 'pattern "Robe ourlée"\n'.encode()).text == 'pattern "Robe ourlée"\n'
    assert decode("test.oak", b"\xef\xbb\xbfx = 1").text == "x = 1"
    assert decode("test.oak", b"a\r\nb\rc\n").text == "a\nb\nc\n"


def test_what_is_no_text() -> None:
    assert code(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR") == "no-text"
    assert code("x = 1".encode("utf-16")) == "not-utf-8"
    assert code("robe ourlée".encode("latin-1")) == "not-utf-8"
    assert code(b"x" * (5 * LONGEST)) == "too-big"


def test_the_line_of_a_wrong_character_is_named() -> None:
    with pytest.raises(Mistake) as caught:
        decode("test.oak", b'pattern "a"\nx = \xe9\n')
    assert "line 2" in caught.value.diagnostics[0].message
