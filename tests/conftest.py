"""What all tests share: golden files, and counts that are printed at the end."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.project.program import Program

STDLIB = Path(__file__).parents[1] / "stdlib"


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
        # The folder itself need not be there for a name like `../messages/tabs.txt`.
        path = Path(os.path.normpath(folder / name))
        if request.config.getoption("--update-golden"):
            path.parent.mkdir(exist_ok=True)
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


class Cutter:
    """Draws the pattern in a file, and measures it in mm, mm² and degrees.

    What it needs is imported when it is used: tests of the language do without the compiler.
    """

    def __init__(self) -> None:
        self.programs: dict[Path, Program] = {}

    def result(
        self, path: Path, measures: Mapping[str, float] | None = None, **choices: float | bool
    ) -> tuple[Pattern | None, tuple[Diagnostic, ...]]:
        """The pattern, if there is one, and everything that is said about it."""
        from oaktag.compiler.evaluate import evaluate
        from oaktag.compiler.inspect import inspect
        from oaktag.compiler.paper.quantity import Quantity
        from oaktag.lang.project.files import DiskFiles
        from oaktag.lang.project.program import load

        program = self.programs.get(path)
        if program is None:
            program = self.programs[path] = load(str(path), DiskFiles(str(path)))
        if not program.sound:
            return None, program.diagnostics
        kinds = {name: symbol.kind for name, symbol in program.symbols.of_role("choice").items()}
        done = evaluate(
            program,
            {name: Quantity("length", amount) for name, amount in (measures or {}).items()},
            {
                name: value
                if isinstance(value, bool)
                else Quantity("length" if kinds[name] == "length" else "number", value)
                for name, value in choices.items()
            },
        )
        seen = inspect(done.pattern) if done.pattern else ()
        return done.pattern, (*program.diagnostics, *done.diagnostics, *seen)

    def draw(
        self, path: Path, measures: Mapping[str, float] | None = None, **choices: float | bool
    ) -> Pattern:
        """The pattern; fails the test if there is anything to say against it, even a warning."""
        from oaktag.lang.diagnostics import render

        pattern, said = self.result(path, measures, **choices)
        if pattern is None or any(one.severity != "note" for one in said):
            pytest.fail("\n\n".join(render(one) for one in said), pytrace=False)
        return pattern

    def draw_all(
        self, path: Path, measures: Mapping[str, float] | None = None, **choices: float | bool
    ) -> Pattern:
        """The pattern, whatever is to be said of how it will be sewn."""
        pattern, said = self.result(path, measures, **choices)
        assert pattern is not None, [one.message for one in said]
        return pattern

    def ask(self, pattern: Pattern, question: str) -> float:
        """A figure measured in the pattern."""
        from oaktag.compiler.evaluate import ask
        from oaktag.compiler.paper.quantity import Quantity
        from oaktag.lang.source import Source
        from oaktag.lang.syntax.parse import parse_expression

        value = ask(pattern, parse_expression(Source("the question", question)))
        assert isinstance(value, Quantity), f"{question} is no figure"
        return value.amount

    def size(self, name: str, chart: Path | None = None) -> dict[str, float]:
        """The measures of a size, in mm, from the women's chart if no other is given."""
        from oaktag.lang.project.chart import chart_body

        chart = chart or STDLIB / "charts" / "en13402_women.csv"
        body = chart_body(chart.read_text(encoding="utf-8"), chart.name, name)
        return {measure: amount for measure, (amount, _) in body.values.items()}


@pytest.fixture(scope="session")
def cutter() -> Cutter:
    return Cutter()


@pytest.fixture(scope="session")
def program() -> Callable[[str], str]:
    """`program("inkscape")`: the path of a program we did not write, which reads what we made.

    Where it is missing the test is left out; where OAKTAG_READERS is `required`, it fails.
    """

    def found(name: str) -> str:
        path = shutil.which(name)
        if path is None:
            if os.environ.get("OAKTAG_READERS") == "required":
                pytest.fail(f"{name} is not installed, and this test needs it")
            pytest.skip(f"{name} is not installed")
        return path

    return found
