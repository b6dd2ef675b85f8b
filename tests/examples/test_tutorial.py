"""The tutorial: each step as its page shows it, every command run, every answer compared."""

from __future__ import annotations

import importlib.util
import re
import shlex
from difflib import SequenceMatcher
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
    from types import ModuleType

    from tests.conftest import Cutter

TUTORIAL = Path(__file__).parents[2] / "examples" / "tutorial"
PAGE = (TUTORIAL / "README.md").read_text(encoding="utf-8")
FILES = sorted(TUTORIAL.glob("*.oak"))
STEPS = [path.stem for path in FILES]
BODY, *PATTERNS = STEPS
LARGEST = 6000  # bytes of a picture

# What stands behind the three strokes, and what they hold.
BLOCKS = [
    (words.split(), text)
    for words, text in re.findall(r"^```([^\n]*)\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)
]


def shown(*words: str) -> list[str]:
    """The blocks that bear just these words."""
    return [text for found, text in BLOCKS if found == list(words)]


def text_of(step: str) -> str:
    return (TUTORIAL / f"{step}.oak").read_text(encoding="utf-8")


def measures() -> dict[str, float]:
    path = str(TUTORIAL / f"{BODY}.oak")
    body = read_body(load(path, DiskFiles(path)).file)
    return {name: amount for name, (amount, _) in body.values.items()}


@pytest.fixture(scope="module")
def pictures() -> ModuleType:
    """The script beside the page."""
    spec = importlib.util.spec_from_file_location("pictures", TUTORIAL / "pictures.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_it_has_ten_steps_each_with_its_file() -> None:
    headings = re.findall(r"^## (\d+) ", PAGE, re.MULTILINE)
    assert [int(number) for number in headings] == list(range(1, 11))
    assert [int(step[:2]) for step in STEPS] == list(range(1, 11))


def test_its_blocks_are_of_known_kinds() -> None:
    """So that none is passed over by a slip in the words above it."""
    for words, _ in BLOCKS:
        kind, *more, step = words
        assert step in STEPS
        assert (kind, *more) in {
            ("oak",),
            ("oak", "mistake"),
            ("console",),
            ("console", "mistake"),
            ("console", "run"),
        }


@pytest.mark.parametrize("step", STEPS)
def test_what_is_shown_stands_in_the_file(step: str) -> None:
    blocks = shown("oak", step)
    assert blocks
    for block in blocks:
        assert block in text_of(step)


@pytest.mark.parametrize("step", STEPS)
def test_whatever_is_new_in_the_file_is_shown(step: str) -> None:
    before = "" if step in STEPS[:2] else text_of(STEPS[STEPS.index(step) - 1])
    lines = text_of(step).splitlines()
    told = [line for block in shown("oak", step) for line in block.splitlines()]
    matcher = SequenceMatcher(None, before.splitlines(), lines, autojunk=False)
    new = [
        line
        for kind, _, _, start, end in matcher.get_opcodes()
        if kind in ("insert", "replace")
        for line in lines[start:end]
        if line
    ]
    assert new
    assert [line for line in new if line not in told] == []


@pytest.mark.parametrize("step", PATTERNS)
def test_each_step_is_tidy_and_draws_without_a_word(step: str, cutter: Cutter) -> None:
    text = text_of(step)
    assert formatted(Source(f"{step}.oak", text)) == text
    pattern = cutter.draw(TUTORIAL / f"{step}.oak", measures())
    assert all(piece.area > 0 for piece in pattern.pieces.values())


def run(step: str, console: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str) -> str:
    """The commands and what they print, in a folder with body and pattern."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "oaktag.toml").touch()
    (tmp_path / "oona.oak").write_text(text_of(BODY), encoding="utf-8")
    if step != BODY:
        (tmp_path / "pilot.oak").write_text(text, encoding="utf-8")
    said = ""
    for command in re.findall(r"^\$ (.*)$", console, re.MULTILINE):
        program, *arguments = shlex.split(command)
        assert program == "oaktag"
        result = CliRunner().invoke(main, arguments)
        assert result.exit_code == (1 if "error" in result.output else 0), result.output
        said += f"$ {command}\n{result.output}"
    return said


def compare(shown: str, said: str, config: pytest.Config) -> None:
    """`pytest --update-golden` writes the answers of now into the page."""
    if config.getoption("--update-golden"):
        path = TUTORIAL / "README.md"
        page = path.read_text(encoding="utf-8")
        page = page.replace(f"\n{shown}```\n", f"\n{said}```\n")
        path.write_text(page, encoding="utf-8", newline="\n")
        return
    assert said == shown


@pytest.mark.parametrize(
    ("step", "console"),
    [(words[1], text) for words, text in BLOCKS if words[0] == "console" and len(words) == 2],
)
def test_the_commands_answer_as_shown(
    step: str,
    console: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    pytestconfig: pytest.Config,
) -> None:
    said = run(step, console, tmp_path, monkeypatch, text_of(step))
    compare(console, said, pytestconfig)


def test_the_mistake_is_answered_as_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pytestconfig: pytest.Config
) -> None:
    [(step, wrong)] = [
        (words[2], text) for words, text in BLOCKS if words[:2] == ["oak", "mistake"]
    ]
    name = wrong.split("=")[0]
    [right] = [line for line in text_of(step).splitlines() if line.startswith(name)]
    text = text_of(step).replace(f"{right}\n", wrong)
    [console] = shown("console", "mistake", step)
    said = run(step, console, tmp_path, monkeypatch, text)
    assert "error:" in said
    compare(console, said, pytestconfig)


def test_plot_and_story_are_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    [(step, console)] = [
        (words[2], text) for words, text in BLOCKS if words[:2] == ["console", "run"]
    ]
    run(step, console, tmp_path, monkeypatch, text_of(step))
    assert (tmp_path / "out" / "pilot-oona.svg").stat().st_size > 1000
    assert (tmp_path / "out" / "pilot-oona.dxf").stat().st_size > 1000
    page = (tmp_path / "out" / "pilot-story.html").read_text(encoding="utf-8")
    assert "the right dart swings shut" in page


def test_figures_in_the_sentences(cutter: Cutter) -> None:
    """Those that no command beside them prints."""
    body = measures()
    curves = cutter.draw(TUTORIAL / "03_curves.oak", body)
    assert "waist is 7 cm too wide" in PAGE
    assert cutter.ask(curves, "surplus") == pytest.approx(70)
    dart = cutter.draw(TUTORIAL / "04_dart.oak", body)
    assert "18.25 cm is a quarter of 71 cm and 2 cm ease" in PAGE
    assert cutter.ask(dart, "sewn(front.waist)") == pytest.approx((710 + 20) / 4, abs=0.005)
    drapes = cutter.draw(TUTORIAL / "08_drapes.oak", body)
    assert "grown by more than 30 cm" in PAGE
    assert cutter.ask(drapes, "length(front.right.side) - sewn(front.right.side)") > 300
    smooth = cutter.draw(TUTORIAL / "09_smooth.oak", body)
    assert "it falls below the drapes" in PAGE
    front = smooth.pieces["front"]
    # Her right side lies at the left of the sheet.
    right = min((mark.at for mark in front.marks if mark.kind == "notch"), key=lambda at: at.real)
    drapes_end = [item.mouth.end.imag for item in front.openings if item.label.name == "drape"]
    assert len(drapes_end) == 3
    assert right.imag < min(drapes_end)


def looks(picture: str) -> list[tuple[str, list[float]]]:
    """Each stroke and word of a picture with the box it takes, in pixels."""
    found = []
    for kind, data in re.findall(r'<path class="(\w+)" d="([^"]*)"/>', picture):
        figures = [float(figure) for figure in re.findall(r"-?[\d.]+", data)]
        xs, ys = figures[::2], figures[1::2]
        found.append((kind, [min(xs), min(ys), max(xs), max(ys)]))
    words = r'<text class="\w+" x="([^"]*)" y="([^"]*)" text-anchor="\w+">([^<]*)<'
    found += [(said, [float(x), float(y)]) for x, y, said in re.findall(words, picture)]
    return found


@pytest.mark.parametrize("step", PATTERNS)
def test_its_picture_is_small_and_looks_as_the_script_draws_it(
    step: str, pictures: ModuleType
) -> None:
    """To a pixel. After a change: `python examples/tutorial/pictures.py`, and look at them."""
    picture = (TUTORIAL / f"{step}.svg").read_text(encoding="utf-8")
    old, new = looks(picture), looks(pictures.picture(step))
    assert len(old) >= 5
    assert [kind for kind, _ in old] == [kind for kind, _ in new]
    for (kind, was), (_, now) in zip(old, new, strict=True):
        assert was == pytest.approx(now, abs=1), kind
    assert len(picture.encode()) < LARGEST
    assert f"]({step}.svg)" in PAGE


def test_every_link_leads_somewhere() -> None:
    links = re.findall(r"\]\(([^)#]+)", PAGE)
    assert [link for link in links if not (TUTORIAL / link).exists()] == []
