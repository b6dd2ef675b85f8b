"""What a person reads when an instruction cannot be read: every message, as it is shown.

`pytest --update-golden` writes the .txt beside each .oak anew; read what changed before keeping it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from oaktag.lang.diagnostics import render
from oaktag.lang.source import Source
from oaktag.lang.syntax.decode import decode
from oaktag.lang.syntax.examples import EXAMPLES, OTHER_WORDS
from oaktag.lang.syntax.parse import parse
from oaktag.lang.syntax.tables import load

FILES = sorted((Path(__file__).parent / "messages").glob("*.oak"))
# Words of the trade of writing compilers, which a pattern cutter does not know.
JARGON = ("token", "pars", "syntax", "lexer", "terminal", "None", "type", "traceback", "EOF", "$")


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_messages(file: Path, golden: Callable[[str, bytes | str], None]) -> None:
    _, wrong = parse(decode(file.name, file.read_bytes()))
    assert wrong
    for one in wrong:
        said = " ".join((one.message, one.label, one.help, *(more.text for more in one.labels)))
        assert not [word for word in JARGON if word in said], said
    golden(f"../messages/{file.stem}.txt", "\n\n".join(render(one) for one in wrong) + "\n")


FILE_WORDS = set(load().words("file_line"))
PIECE_WORDS = set(load().words("piece_line"))


def test_there_is_an_example_of_every_instruction() -> None:
    without = {"oaktag", "else", "mirror", "outline"}  # these say all there is to say
    assert set(EXAMPLES) == (FILE_WORDS | PIECE_WORDS) - without
    assert set(OTHER_WORDS.values()) <= set(EXAMPLES)
    assert not set(OTHER_WORDS) & (FILE_WORDS | PIECE_WORDS)


@pytest.mark.parametrize("word", sorted(EXAMPLES))
def test_examples_can_be_written_as_they_are_shown(word: str) -> None:
    example = EXAMPLES[word]
    assert example.split()[0] == word
    if word in ("pattern", "body"):
        text = f"{example}\n"
    elif word in FILE_WORDS:
        text = f'pattern "Test"\n{example}\n'
    else:
        text = f'pattern "Test"\npiece test\n  {example}\n'
    if word in ("repeat", "if", "body"):
        text += "  x = 4 cm\n"
    _, wrong = parse(Source("example.oak", text))
    assert not wrong, render(wrong[0])
