"""Calls that name no command, or a file that is not there."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (("biuld", "panel.oak"), "there is no command `biuld`; did you mean `build`?"),
        (("Check", "panel.oak"), "did you mean `check`?"),
        (("print", "panel.oak"), "there are new, check, build, ask, fmt, story, watch, diff"),
        (("panel.oak",), "say what is to be done with it, like `oaktag check panel.oak`"),
        (("build", "panel"), "there is no file `panel`; did you mean `panel.oak`?"),
        (("check", "panel.oka"), "did you mean `panel.oak`?"),
        (("diff", "pannel.oak", "panel.oak"), "did you mean `panel.oak`?"),
        (("story", "patterns/panel.oak"), "there is no folder `patterns` either"),
        (("build", "wholly-else.oak"), "there is no file `wholly-else.oak`"),
        (("build", "panel.oak", "--papper", "a4"), "'--paper'"),
    ],
)
def test_what_may_be_meant_is_told(
    oaktag: Callable[..., Result], call: tuple[str, ...], words: str
) -> None:
    result = oaktag(*call)
    assert result.exit_code == 2
    assert words in result.stderr
    assert not Path("out").exists()
