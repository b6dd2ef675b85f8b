"""What all tests share: golden files, and counts that are printed at the end."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write what the program makes now into the golden files, to be read in git diff",
    )


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, bytes | str], None]:
    """`golden("ferry.svg", made)` compares with `golden/ferry.svg` beside the test."""
    folder = Path(request.path).parent / "golden"

    def compare(name: str, made: bytes | str) -> None:
        data = made.encode() if isinstance(made, str) else made
        path = folder / name
        if request.config.getoption("--update-golden"):
            folder.mkdir(exist_ok=True)
            path.write_bytes(data)
        assert path.exists(), f"{path} is missing; pytest --update-golden writes it"
        # As text when they are text, so that a difference is shown line by line.
        assert data.decode().splitlines() == path.read_text(encoding="utf-8").splitlines()
        assert data == path.read_bytes()

    return compare


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Prints the sum of each figure that tests have recorded as `counted: WHAT`."""
    sums: dict[str, int] = {}
    for report in terminalreporter.getreports("passed"):
        for name, figure in report.user_properties:
            if name.startswith("counted: "):
                what = name.removeprefix("counted: ")
                sums[what] = sums.get(what, 0) + int(str(figure))
    for what, total in sorted(sums.items()):
        terminalreporter.write_line(f"{total:,} {what}")
