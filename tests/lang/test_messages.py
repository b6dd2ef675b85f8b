"""What a person reads when an instruction cannot be read: every message, as it is shown.

`pytest --update-golden` writes the .txt beside each .oak anew; read what changed before keeping it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from oaktag.lang.decode import decode
from oaktag.lang.diagnostics import render
from oaktag.lang.parse import parse

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
