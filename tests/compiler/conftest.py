"""Patterns drawn from a few lines of the language, without files on a disk."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

import pytest

from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.diagnostics import render
from oaktag.lang.project.files import DiskFiles, Place, Refused
from oaktag.lang.project.program import load

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from playwright.sync_api import Browser, Page

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.paper.piece import Piece
    from oaktag.lang.diagnostics import Diagnostic

# Of chromium, so that it asks no server of its makers for anything.
CHROMIUM = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]

# A rectangle, 40 cm by 60 cm, walked clockwise from its upper left corner.
PANEL = """\
piece panel
  top_left = origin
  top_right = origin right 40 cm
  foot_right = top_right down 60 cm
  foot_left = top_left down 60 cm
  outline
    waist = top_left to top_right
    side = top_right to foot_right
    hem = foot_right to foot_left
    centre = foot_left to top_left
"""

# A quarter of a skirt: the waist rises in a curve, the side is curved to the hip, then straight.
QUARTER = """\
piece quarter
  top = origin
  hip_centre = top down 20 cm
  hip_side = hip_centre right 25 cm
  waist_side = top right 21 cm up 12 mm
  foot = top down 60 cm
  foot_side = foot right 25 cm
  outline
    waist = top curve to waist_side leaving right arriving square to side
    side = waist_side curve to hip_side arriving down, to foot_side
    hem = foot_side to foot
    centre = foot to top
  line hip_line = hip_centre to hip_side
  fold on centre
  grain along centre
"""

# A whole skirt front cut across by nothing yet: the quarter unfolded, with a dart in each half.
SKIRT = f"""\
{QUARTER}  dart waist_dart on waist at 1/2 from centre intake 3 cm length 12 cm
  unfold along centre into right and left
"""


class Shelf(DiskFiles):
    """Files that exist only in memory, beside the patterns that come with oaktag."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        super().__init__("/nowhere/pattern.oak")
        self.texts = texts

    def start(self, path: str) -> Place:
        return Place(path, path)

    def beside(self, place: Place, path: str) -> Place:
        return Place(path, path) if path in self.texts else super().beside(place, path)

    def neighbours(self, place: Place) -> Sequence[str]:
        return sorted(self.texts)

    def read(self, place: Place) -> bytes:
        if place.path in self.texts:
            return self.texts[place.path].encode()
        if place.path.startswith("/nowhere"):
            raise Refused("no-file", f"there is no file {place.name}")
        return super().read(place)


class Board:
    """A drawing board: draws patterns, or collects what is wrong with them.

    A text without `pattern` line gets one. `on` is the piece to which the lines belong: they are
    indented below it.
    """

    panel = PANEL
    quarter = QUARTER
    skirt = SKIRT

    def result(
        self, text: str, files: Mapping[str, str] | None = None, **measures: float
    ) -> tuple[Pattern | None, tuple[Diagnostic, ...]]:
        """The pattern, if there is one, and everything said about it."""
        text = textwrap.dedent(text)
        if "pattern " not in text:
            text = f'pattern "Test"\n{text}'
        program = load("pattern.oak", Shelf({"pattern.oak": text, **(files or {})}))
        given = {name: Quantity("length", amount) for name, amount in measures.items()}
        drawn = evaluate(program, given)
        return drawn.pattern, (*program.diagnostics, *drawn.diagnostics)

    def pattern(
        self, text: str, files: Mapping[str, str] | None = None, **measures: float
    ) -> Pattern:
        """The pattern a text draws; fails the test with what is wrong with it."""
        drawn, said = self.result(text, files, **measures)
        if drawn is None:
            pytest.fail("\n\n".join(render(one) for one in said), pytrace=False)
        return drawn

    def piece(self, lines: str, on: str = PANEL, head: str = "") -> Piece:
        """The last piece of a text: `on` with further instructions."""
        body = textwrap.indent(textwrap.dedent(lines).strip("\n"), "  ")
        pieces = self.pattern(f"{head}\n{on}{body}\n").pieces
        return list(pieces.values())[-1]

    def mistakes(self, lines: str, on: str = PANEL, head: str = "") -> list[Diagnostic]:
        """What is wrong with further instructions on a piece; fails if nothing is."""
        body = textwrap.indent(textwrap.dedent(lines).strip("\n"), "  ")
        return self.wrong(f"{head}\n{on}{body}\n")

    def wrong(
        self, text: str, files: Mapping[str, str] | None = None, **measures: float
    ) -> list[Diagnostic]:
        """The errors in a text; fails if there is none."""
        _, said = self.result(text, files, **measures)
        found = [one for one in said if one.severity == "error"]
        assert found, "nothing is wrong with this"
        return found

    def mistake(self, lines: str, on: str = PANEL, head: str = "") -> Diagnostic:
        """The one thing that is wrong."""
        found = self.mistakes(lines, on, head)
        assert len(found) == 1, [one.message for one in found]
        return found[0]


@pytest.fixture(scope="session")
def board() -> Board:
    return Board()


class Look:
    """Measures taken from a piece by independent means."""

    @staticmethod
    def edge(piece: Piece, name: str) -> Chain:
        """Edge or line by its dotted name, as the language finds it."""
        from oaktag.compiler.evaluate.scope import on_paper

        words: list[tuple[str, int | tuple[int, int] | None]] = []
        for word in name.split("."):
            plain, _, index = word.partition("[")
            words.append((plain, int(index[:-1]) if index else None))
        found = on_paper(piece, words)
        assert isinstance(found, Chain), f"{name}: {found!r}"
        return found

    @staticmethod
    def conserved(piece: Piece, since: int = 0) -> None:
        """Area after = area before + let in - cut away, for every step from number `since`."""
        from oaktag.compiler.geometry import ring_area

        for step in piece.steps[since:]:
            if step.after is None:
                continue
            before = abs(ring_area(step.before)) if step.before else 0.0
            after = abs(ring_area(step.after))
            gained = step.area_let_in - step.area_cut_away
            assert after - before == pytest.approx(gained, abs=1e-6 * max(after, before)), step.verb


@pytest.fixture(scope="session")
def look() -> Look:
    return Look()


@pytest.fixture(scope="module")
def browser(program: Callable[[str], str]) -> Iterator[Browser]:
    path = program("chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=CHROMIUM)
        yield chromium
        chromium.close()


@pytest.fixture
def opened(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a page of its own; whatever goes wrong in it fails the test."""
    contexts, wrong = [], []

    def open_page(address: str, **context: Any) -> Page:
        settings = {"viewport": {"width": 1280, "height": 800}, **context}
        made = browser.new_context(**settings)
        contexts.append(made)
        page = made.new_page()
        page.set_default_timeout(30_000)
        page.on("pageerror", lambda problem: wrong.append(str(problem)))
        page.on("dialog", lambda dialog: wrong.append(f"a dialog: {dialog.message}"))
        page.goto(address)
        return page

    yield open_page
    for made in contexts:
        made.close()
    assert wrong == []
