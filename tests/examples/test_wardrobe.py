"""The wardrobe: its measures, its pictures, and that every command in its README works."""

from __future__ import annotations

import re
import shlex
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main
from oaktag.lang.project.body import read_body
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
from oaktag.lang.source import Source
from oaktag.lang.syntax.format import formatted

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from oaktag.compiler.evaluate.pattern import Pattern
    from tests.conftest import Cutter

EXAMPLES = Path(__file__).parents[2] / "examples"
README = (EXAMPLES / "README.md").read_text(encoding="utf-8")
COMMANDS = re.findall(r"^oaktag .*$", README, re.MULTILINE)
WORN_BY = {
    "ferry/ferry.oak": "ines",
    "lamplighter/jacket.oak": "tamsin",
    "harbour/coat.oak": "odo",
    "lantern/skirt.oak": "perrin",
}
wardrobe = pytest.mark.parametrize("file", WORN_BY)


def body(name: str) -> dict[str, float]:
    path = str(EXAMPLES / "bodies" / f"{name}.oak")
    values = read_body(load(path, DiskFiles(path)).file).values
    return {measure: amount for measure, (amount, _) in values.items()}


def test_every_pattern_and_every_body_is_used_and_tidy() -> None:
    found = {path.relative_to(EXAMPLES).as_posix() for path in EXAMPLES.glob("*/*.oak")}
    found = {name for name in found if not name.startswith("tutorial/")}
    assert found == {*WORN_BY, *(f"bodies/{name}.oak" for name in WORN_BY.values())}
    for name in found:
        text = (EXAMPLES / name).read_text(encoding="utf-8")
        assert formatted(Source(name, text)) == text
        assert text.startswith("#"), f"{name} begins with its story"


@wardrobe
def test_the_measures_are_as_they_were(
    file: str, cutter: Cutter, golden: Callable[[str, str], None]
) -> None:
    pattern = cutter.draw(EXAMPLES / file, body(WORN_BY[file]))
    golden(f"{Path(file).stem}.txt", "\n".join(measures(pattern)) + "\n")


@wardrobe
def test_the_picture_is_what_is_built(
    file: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    words = ["build", str(EXAMPLES / file), "--body", str(EXAMPLES / f"bodies/{WORN_BY[file]}.oak")]
    done = CliRunner().invoke(main, [*words, "-o", str(tmp_path)])
    assert done.exit_code == 0, done.output
    name = f"{Path(file).stem}.svg"
    built = tmp_path / f"{Path(file).stem}-{WORN_BY[file]}.svg"
    kept = EXAMPLES / "pictures" / name
    if request.config.getoption("--update-golden"):
        kept.write_bytes(built.read_bytes())
    made = built.read_text(encoding="utf-8").splitlines()
    assert made == kept.read_text(encoding="utf-8").splitlines()
    assert kept.stat().st_size < 60_000


@wardrobe
def test_every_size_can_wear_it(file: str, cutter: Cutter) -> None:
    for size in range(1, 13):
        cutter.draw(EXAMPLES / file, cutter.size(str(size)))


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_of_the_readme_works(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(EXAMPLES)
    words = [str(tmp_path) if word == "out" else word for word in shlex.split(command)[1:]]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.output
    made = {path.suffix[1:] for path in tmp_path.iterdir()}
    if "--to" in words:
        assert made == set(words[words.index("--to") + 1].split(","))
    elif "--as" in words:
        assert made == {{"copyshop": "pdf", "loft": "plt"}[words[-1]]}
    elif "--report" in words:
        assert made == {"html", "txt"}
    else:
        assert made == ({"svg"} if "-o" in words else set())


def test_the_readme_shows_every_pattern() -> None:
    for file, name in WORN_BY.items():
        assert f"{file} --body bodies/{name}.oak" in README
        assert f"pictures/{Path(file).stem}.svg" in README


def measures(pattern: Pattern) -> Iterator[str]:
    """Lengths in mm and areas in cm², to hundredths; every piece, also those that are not cut."""
    yield pattern.title
    for piece in pattern.pieces.values():
        left, bottom, right, top = piece.outline.box()
        yield ""
        yield f"{piece.name}: {right - left:.2f} by {top - bottom:.2f}, {piece.area / 100:.2f} cm²"
        for edge in piece.edges:
            fold = ", on the fold" if edge.on_fold else ""
            yield f"  {edge.label}: {edge.length:.2f}, sewn {edge.sewn:.2f}{fold}"
        for item in piece.openings:
            trimmed = ", trimmed" if item.trimmed else ""
            yield f"  {item.label}: {item.kind}, {item.intake:.2f} wide{trimmed}"
        for mark in piece.marks:
            yield f"  {mark.kind} at {mark.at.real:.2f}, {mark.at.imag:.2f}"
        yield f"  {len(piece.steps)} steps: {', '.join(step.verb for step in piece.steps)}"


def test_what_is_trued_flows(cutter: Cutter) -> None:
    """Across the hinges of the drapes, and over the darts as they are sewn."""
    front = cutter.draw(EXAMPLES / "ferry/ferry.oak", body("ines")).pieces["front"]
    for edge in front.edges:
        name = str(edge.label)
        corners = [at for run in edge.runs if run.role == "seam" for at in run.path.corners(1e-3)]
        assert not corners, name
    waist = [edge for edge in front.edges if edge.label.name == "waist"]
    meeting = waist[-1].path.end_direction / waist[0].path.start_direction
    assert abs(meeting - 1) < 1e-3, "the halves of the waist meet without a corner"
