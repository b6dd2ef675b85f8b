"""What the file says of itself: layers, letters, dates; and that it is the same each time."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import numpy
import pikepdf
import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main
from oaktag.compiler.emit.errors import OutputError
from oaktag.compiler.emit.pdf import LACKING, missing_letters, paper_size, pdf
from oaktag.compiler.paging import for_projector, on_paper, on_roll

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.compiler.paging import Paging
    from oaktag.compiler.sheet import Sheet
    from tests.compiler.conftest import Board
    from tests.compiler.emit.pdf.conftest import Print

    Printed = Callable[[Sheet, Paging], Print]

KINDS = {
    "a4": on_paper("a4"),
    "roll": on_roll(914.0),
    "projector": for_projector(dark=True),
}
LAYERS = [
    "cut lines",
    "seam lines",
    "edges on the fold",
    "darts, pleats and gathers",
    "drawn lines",
    "notches and marks",
    "grain lines",
    "words",
    "page: joins, squares, words",
]


@pytest.mark.parametrize("kind", KINDS)
def test_no_reader_complains(kind: str, quarter: Sheet, printed: Printed) -> None:
    made = printed(quarter, KINDS[kind])
    with pikepdf.open(made.path) as file:
        assert file.check_pdf_syntax() == []
    quiet = ("-q", "-dBATCH", "-dNOPAUSE", "-dPDFSTOPONERROR", "-dPDFSTOPONWARNING")
    assert made.run("gs", *quiet, "-sDEVICE=nullpage", str(made.path)) == ""


@pytest.mark.parametrize("kind", KINDS)
def test_letters_are_embedded_and_text_is_text(kind: str, panel: Sheet, printed: Printed) -> None:
    made = printed(panel, KINDS[kind])
    fonts = made.run("pdffonts", str(made.path)).splitlines()[2:]
    assert len(fonts) == 2
    assert all(font.split()[-5:-2] == ["yes", "yes", "yes"] for font in fonts), fonts
    words = made.words()
    for expected in ("Sailcloth panel é Ω Ж", "size 38", "écoute ½", "this square is 4 in by 4 in"):
        assert expected in words


def test_each_sheet_says_what_and_where_it_is(panel: Sheet, printed: Printed) -> None:
    made = printed(panel, on_paper("a4"))
    pages = made.words().split("\f")[:-1]
    places = set()
    for number, page in enumerate(pages[1:], 2):
        assert f"page {number} of {len(pages)}" in page
        assert "Sailcloth panel é Ω Ж · size 38" in page
        (place,) = [line.split(" · ")[0].strip() for line in page.splitlines() if "· page" in line]
        places.add(place)
    assert len(places) == len(pages) - 1
    assert "row 1, column 1" in places


def test_the_first_sheet_says_what_to_do(panel: Sheet, printed: Printed) -> None:
    said = " ".join(printed(panel, on_paper("letter")).words(1).split())
    for expected in (
        "Print at 100 %",
        "no scaling",
        "Measure both squares before you cut",
        "toile",
    ):
        assert expected in said


def test_layers_have_names_and_can_be_switched_off(panel: Sheet, printed: Printed) -> None:
    made = printed(panel, on_roll(914.0))
    with pikepdf.open(made.path) as file:
        assert [str(layer.Name) for layer in file.Root.OCProperties.D.Order] == LAYERS
    whole = made.raster(1, 50)
    less = made.without("cut lines").raster(1, 50)
    assert not (less & ~whole).any()
    # Once around the panel, a dot or two wide; seams are drawn over its cut line, with gaps.
    gone = (whole & ~less).sum()
    assert gone > 0.2 * 2000 / 25.4 * 50
    assert "écoute" not in made.without("words").words()
    empty = made.without(*LAYERS)
    assert not empty.raster(1, 50).any()
    assert empty.words().strip() == ""


def test_a_layer_holds_nothing_but_its_lines(quarter: Sheet, printed: Printed) -> None:
    """With all others off, each is seen alone; together they are the whole."""
    made = printed(quarter, on_roll(1118.0))
    whole = made.raster(1, 40)
    alone = {}
    for layer in ("cut lines", "notches and marks", "words"):
        alone[layer] = made.without(*(name for name in LAYERS if name != layer)).raster(1, 40)
        assert alone[layer].any()
        assert not (alone[layer] & ~whole).any()
    assert not (alone["cut lines"] & alone["words"]).any()


def test_the_file_tells_its_pattern_and_no_date(panel: Sheet, printed: Printed) -> None:
    made = printed(panel, on_paper("a4"))
    told = made.run("pdfinfo", str(made.path))
    assert "Sailcloth panel é Ω Ж" in told
    assert "size 38" in told
    assert "Date" not in told
    with pikepdf.open(made.path) as file:
        assert file.Root.ViewerPreferences.PrintScaling == "/None"


def test_dark_is_light_on_dark(panel: Sheet, printed: Printed) -> None:
    light, dark = (printed(panel, for_projector(dark)).raster(1, 50) for dark in (False, True))
    assert light.mean() < 0.05
    assert dark.mean() > 0.95
    assert light.shape == dark.shape


def test_a_projector_page_ends_with_its_pieces(panel: Sheet, printed: Printed) -> None:
    """No margins: ink reaches the edges of the page within a mm, and none is cut off."""
    dark = printed(panel, for_projector()).raster(1, 254)
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    ends = (rows[0], columns[0], dark.shape[0] - rows[-1], dark.shape[1] - columns[-1])
    assert all(0 < end <= 10 for end in ends), ends


def test_letters_it_lacks_are_named_and_shown_as_a_sign(
    quarter: Sheet, panel: Sheet, printed: Printed
) -> None:
    assert missing_letters(panel) == ""
    assert missing_letters(quarter) == "衣装\U0001fab5"
    shown = printed(quarter, on_roll(1118.0)).words()
    assert f"%%d {LACKING}{LACKING} {LACKING}" in shown


def test_a_warning_names_the_sign_that_is_printed(tmp_path: Path) -> None:
    file = tmp_path / "coat.oak"
    file.write_text('pattern "灯台"\npiece p\n  strip 9 cm by 9 cm\n', encoding="utf-8")
    call = ["build", str(file), "--to", "pdf", "-o", str(tmp_path)]
    told = CliRunner().invoke(main, call)
    words = f"warning: the pdf has no letters for these and prints {LACKING}"
    assert words in told.output


def test_progress_is_told(panel: Sheet) -> None:
    seen: list[tuple[int, int]] = []
    data = pdf(panel, on_paper("a4"), lambda done, total: seen.append((done, total)))
    with pikepdf.open(io.BytesIO(data)) as file:
        count = len(file.pages)
    assert seen == [(number, count) for number in range(1, count + 1)]


def test_what_the_paper_does_not_take_is_an_error_in_words(panel: Sheet) -> None:
    with pytest.raises(OutputError, match=r"panel is 40 cm wide, and a roll of 30 cm") as why:
        pdf(panel, on_roll(300.0).changed(unit="cm"))
    assert "take a roll of 42.1 cm or more" in why.value.help
    with pytest.raises(OutputError, match="margins of 120 mm leave nothing of the A4 paper"):
        pdf(panel, on_paper("a4").changed(margin=120.0))
    with pytest.raises(OutputError, match="an overlap of 150 mm is more than half"):
        pdf(panel, on_paper("a4").changed(overlap=150.0))
    with pytest.raises(ValueError, match=r"there is no paper `a44`.*did you mean `a4`"):
        paper_size("a44")


WRITE = """
import sys
from hashlib import sha256
from oaktag.compiler.emit.pdf import pdf
from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.paging import for_projector, on_paper, on_roll
from oaktag.compiler.sheet import lay_out
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
program = load(sys.argv[1], DiskFiles(sys.argv[1]))
sheet = lay_out(evaluate(program).pattern, "size 38")
for paging in (on_paper("a4"), on_roll(914.0), for_projector()):
    made = pdf(sheet, paging)
    assert made == pdf(sheet, paging)
    print(sha256(made).hexdigest())
"""


def test_the_bytes_do_not_depend_on_the_process() -> None:
    program = Path(__file__).parents[3] / "programs" / "ferry.oak"
    made = set()
    for seed in ("0", "99"):
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        command = [sys.executable, "-c", WRITE, str(program)]
        done = subprocess.run(command, env=environment, capture_output=True, check=True)
        made.add(done.stdout)
    assert len(made) == 1


# A sash of twelve metres: longer than two pages of a PDF.
SASH = """
pattern "Sash"
piece sash
  top_left = origin
  top_right = origin right 20 cm
  foot_right = top_right down 12 m
  foot_left = top_left down 12 m
  outline
    head = top_left to top_right
    side = top_right to foot_right
    hem = foot_right to foot_left
    centre = foot_left to top_left
  grain along centre
piece band
  top_left = origin
  top_right = origin right 20 cm
  foot_right = top_right down 3 m
  foot_left = top_left down 3 m
  outline
    head = top_left to top_right
    side = top_right to foot_right
    hem = foot_right to foot_left
    centre = foot_left to top_left
"""


@pytest.fixture(scope="session")
def sash(board: Board) -> Sheet:
    from oaktag.compiler.sheet import lay_out

    return lay_out(board.pattern(SASH))


def sizes(made: Print) -> list[tuple[float, float]]:
    """In units of the file."""
    with pikepdf.open(made.path) as file:
        return [tuple(float(side) for side in page.mediabox[2:]) for page in file.pages]


def test_beyond_five_metres_a_roll_is_split(sash: Sheet, printed: Printed) -> None:
    made = printed(sash, on_roll(610.0))
    assert all(side <= 14_400 for page in sizes(made) for side in page)
    pages = made.words().split("\f")[:-1]
    assert ["part 1 of 3, pieces go on" in pages[0], "part 3 of 3" in pages[2]] == [True, True]
    # The long sides of the sash, on all parts but for the overlaps and margins.
    millimetres = sum(high for _, high in sizes(made)) / 72 * 25.4
    assert 12_000 <= millimetres - 3 * 20 - 2 * 10 <= 12_200


def test_or_given_a_larger_unit(sash: Sheet, printed: Printed) -> None:
    made = printed(sash, on_roll(610.0).changed(long="unit"))
    ((wide, high),) = sizes(made)
    with pikepdf.open(made.path) as file:
        unit = int(file.pages[0].obj.UserUnit)
        assert file.pdf_version == "1.6"
    assert (unit, wide * unit / 72 * 25.4) == (3, pytest.approx(610.0, abs=0.01))
    assert high <= 14_400
    # Ghostscript heeds the unit.
    dark = made.by_ghostscript(1, 20)
    assert dark.shape[1] == pytest.approx(610 / 25.4 * 20, abs=1.5)
