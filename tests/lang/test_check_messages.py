"""What a person reads when names or kinds are wrong: every message, as it is shown.

`pytest --update-golden` writes the .txt beside each .oak anew; read the difference before keeping
it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from oaktag.lang.diagnostics import render
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load

FOLDER = Path(__file__).parent / "checks"
FILES = sorted(FOLDER.glob("*.oak"))
JARGON = ("token", "pars", "syntax", "symbol", "scope", "None", "type", "traceback", "index out")


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_messages(
    file: Path, golden: Callable[[str, bytes | str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(FOLDER)
    # The folder is a project of its own, so that nothing above it is read.
    monkeypatch.setattr("oaktag.lang.project.files.project_root", lambda path: str(FOLDER))
    wrong = load(file.name, DiskFiles(file.name)).diagnostics
    assert wrong
    for one in wrong:
        said = " ".join((one.message, one.label, one.help, *(more.text for more in one.labels)))
        assert not [word for word in JARGON if word in said], said
        assert one.message == one.message.strip() and not one.message.endswith(".")
        assert "``" not in said and "  " not in one.message + one.help
        assert re.fullmatch(r"[a-z][a-z-]+", one.code)
    golden(f"../checks/{file.stem}.txt", "\n\n".join(render(one) for one in wrong) + "\n")
