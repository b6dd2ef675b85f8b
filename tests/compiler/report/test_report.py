"""The report: what is in it, as text and as a page."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main
from oaktag.compiler.report.contents import contents
from oaktag.compiler.report.page import STYLE, as_page
from oaktag.compiler.report.pictures import pictures
from oaktag.compiler.report.text import WIDTH, as_text

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from oaktag.compiler.evaluate.pattern import Pattern
    from tests.compiler.conftest import Board

# Whatever a report can hold, once.
SKIRT = """
pattern "The lamplighter's skirt, <b>act one</b>"
revision "2" date "20 November 2026"

measure waist_girth = 70 cm, hip_girth = 96 cm

choose length = 60 cm "finished"
choose lined = yes

piece front
  outline
    waist = origin to origin right 20 cm
    side = origin right 20 cm to origin right 24 cm down length
    hem = origin right 24 cm down length to origin down length
    centre = origin down length to origin
  fold on centre
  grain along centre

piece back
  outline
    waist = origin to origin right 20 cm
    side = origin right 20 cm to origin right 24 cm down length
    hem = origin right 24 cm down length to origin down length
    centre = origin down length to origin
  grain along centre
  section placket = centre from on centre 0 from waist to on centre 18 cm from waist

piece band
  strip 80 cm by 6 cm
  grain along base
  button at on end 1/2 size 18 mm

notch on front.side, back.side at 20 cm from waist
allow 1.5 cm on front, back, band
allow 4 cm on front.hem, back.hem as hem

sew back.waist from centre then front.waist from side then front.waist from centre then back.waist
  from side to band.base from start
sew back.centre to back.centre
# by hand, in the colour of the lamp
sew front.side to back.side
fasten back.placket with zip
fasten band.start to band.end with hooks
bind band.top with 5 mm single in ribbon

cut 1 front in main and lining
cut 2 back as pair in main and lining
cut 1 band in main
cut 1 band in interfacing
"""
MEANINGS = {"length": "finished"}


@pytest.fixture(scope="module")
def skirt(board: Board) -> Pattern:
    return board.pattern(SKIRT)


def text(pattern: Pattern) -> str:
    return as_text(contents(pattern, "Tamsin Wray", (), MEANINGS)).decode()


def page(pattern: Pattern) -> str:
    return as_page(contents(pattern, "Tamsin Wray", (), MEANINGS), pictures(pattern)).decode()


def test_the_text_is_as_it_was(skirt: Pattern, golden: Callable[[str, str], None]) -> None:
    golden("skirt.txt", text(skirt))


def test_the_page_is_as_it_was(skirt: Pattern, golden: Callable[[str, str], None]) -> None:
    golden("skirt.html", page(skirt))


def test_words_of_the_file_keep_their_figures(board: Board) -> None:
    """What is said above a line takes nothing away: the strip's length and width stand below it."""
    bound = SKIRT.replace("bind band.top", "# by the youngest of the hands\nbind band.top")
    told = text(board.pattern(bound))
    _, _, after = told.partition("by the youngest of the hands\n")
    said = "Bind band.top (80 cm) with a single bias strip of ribbon, cut 1 cm wide"
    assert " ".join(after.split()).startswith(said)


def test_pictures_and_table_say_alike_how_a_piece_is_cut(skirt: Pattern) -> None:
    said = {one.name: one.says for one in pictures(skirt).pictures}
    assert said["front"] == "cut 1 on the fold in main; cut 1 on the fold in lining"
    assert said["back"] == "cut 2 as a pair in main; cut 2 as a pair in lining"
    assert "front  1 on the fold  " in text(skirt)


def test_pictures_and_table_say_alike_which_face_is_up(board: Board) -> None:
    flap = """pattern "Flap"
piece flap
  outline
    top = origin to origin right 10 cm
    slope = origin right 10 cm to origin down 7 cm
    side = origin down 7 cm to origin
  grain along side
cut 1 flap in main
"""
    pattern = board.pattern(flap)
    (picture,) = pictures(pattern).pictures
    assert picture.says == "cut 1 in main, right side up"
    assert "flap   1, right side up  " in text(pattern)


def test_it_tells_what_was_set(skirt: Pattern) -> None:
    chosen = skirt.changed(chosen=("length", "lined", "hip_girth"), revision="3", date="May")
    head = text(chosen).splitlines()[3:5]
    assert "revision 3, May, set: length 60 cm, lined yes, hip girth 96 cm" in " ".join(head)


def test_the_text_fits_on_80_columns(skirt: Pattern) -> None:
    lines = text(skirt).splitlines()
    assert max(map(len, lines)) <= WIDTH == 80
    assert not [line for line in lines if line != line.rstrip()]


def test_the_same_bytes_each_time(board: Board, skirt: Pattern) -> None:
    again = board.pattern(SKIRT)
    assert text(again) == text(skirt)
    assert page(again) == page(skirt)


class Reader(HTMLParser):
    """Reads a page as a browser does: which elements there are, and what a reader sees."""

    def __init__(self) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.opened: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in ("meta", "wbr", "path"):
            self.opened.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.opened.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.opened:
            self.words.append(data)


def read(html: str) -> Reader:
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.opened == []
    return reader


def test_the_page_holds_nothing_but_itself(skirt: Pattern) -> None:
    found = read(page(skirt))
    names = {name for name, _ in found.elements}
    assert not names & {"script", "link", "img", "iframe", "b"}
    attributes = {word for _, held in found.elements for word in held}
    assert not attributes & {"src", "href", "style", "onload", "onclick"}
    assert "url(" not in STYLE
    assert "The lamplighter's skirt, <b>act one</b>" in "".join(found.words)


def test_what_is_written_in_the_file_cannot_become_part_of_the_page(board: Board) -> None:
    nasty = "</title><script>alert(1)</script>\\x07"
    pattern = board.pattern(
        f'pattern "{nasty}"\nchoose a = 1 "<img src=x onerror=alert(2)>"\n'
        "piece p\n  strip 10 cm by 10 cm\n# <script>alert(3)</script>\n"
        "sew p.base to p.top\ncut 1 p in main\n"
    )
    meanings = {"a": "<img src=x onerror=alert(2)>"}
    html = as_page(contents(pattern, "<i>", (), meanings), pictures(pattern)).decode()
    found = read(html)
    assert not {name for name, _ in found.elements} & {"script", "img", "i"}
    words = "".join(found.words)
    assert words.count("alert(1)") == 2
    assert "<img src=x onerror=alert(2)>" in words
    assert "<script>alert(3)</script>" in words


def test_the_page_says_what_the_text_says(skirt: Pattern) -> None:
    seen = plain("".join(word + " " for word in read(page(skirt)).words))
    report = contents(skirt, "Tamsin Wray", (), MEANINGS)
    told = 0
    for section in report.sections:
        cells = [cell for row in section.table.rows for cell in row] if section.table else []
        points = [words for point in section.points for words in (point.words, point.remark)]
        for words in (section.title, *section.words, *cells, *points, *section.closing):
            assert plain(words) in seen, words
            told += bool(words)
    assert told > 100


def plain(words: str) -> str:
    return re.sub(r"\s+", "", words)


def test_its_colours_can_be_read() -> None:
    """WCAG 2.1: text needs 4.5 : 1 against its ground to pass AA."""
    colours = set(re.findall(r"[^-]color:(#[0-9a-f]+)", STYLE))
    assert colours == {"#000", "#404040"}
    for colour in colours:
        assert (1 + 0.05) / (luminance(colour) + 0.05) > 7
    assert "background:#fff" in STYLE


def luminance(colour: str) -> float:
    digits = colour[1:] if len(colour) == 7 else "".join(2 * letter for letter in colour[1:])
    shares = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in shares]
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_figures_are_in_the_unit_of_the_file(board: Board) -> None:
    inches = text(board.pattern(SKIRT.replace("cm", "in").replace(" mm", " in")))
    units = {found for found in re.findall(r"\d (cm|mm|in|m)\b", inches) if found != "in"}
    assert units == set()
    assert "60 in" in inches


def test_without_seams_and_cuts_there_is_still_a_page(board: Board) -> None:
    plain_piece = board.pattern(board.panel)
    told = as_text(contents(plain_piece, "")).decode()
    assert "Before you cut" in told
    assert "Seams" not in told
    assert "<svg" in as_page(contents(plain_piece, ""), pictures(plain_piece)).decode()


# ------------------------------------------------------------------------------ on the command line


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "skirt.oak"
    path.write_text(SKIRT, encoding="utf-8")
    return path


def call(*words: object) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["check", *map(str, words)])
    return done.exit_code, done.output


def test_a_folder_gets_both(file: Path, tmp_path: Path) -> None:
    status, said = call(file, "--report", tmp_path / "out", "--set", "length = 58 cm")
    assert status == 0, said
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "skirt-report.html",
        "skirt-report.txt",
    ]
    told = (tmp_path / "out" / "skirt-report.txt").read_text(encoding="utf-8")
    assert "length  58 cm" in told
    assert "finished" in told
    assert "revision 2, 20 November 2026" in told


def test_it_says_for_whom_it_is(file: Path, tmp_path: Path) -> None:
    chart = ("--chart", "en13402_women", "--size", "5")
    status, _ = call(file, *chart, "--report", tmp_path)
    assert status == 0
    assert "for size 5, from skirt.oak" in (tmp_path / "skirt-size-5-report.txt").read_text()


@pytest.mark.parametrize("name", ["page.html", "page.txt", "PAGE.HTML"])
def test_one_file_is_that_file(file: Path, tmp_path: Path, name: str) -> None:
    status, said = call(file, "--report", tmp_path / name)
    assert status == 0
    assert f"wrote {tmp_path / name}" in said
    assert [path.name for path in tmp_path.iterdir() if path != file] == [name]


def test_nothing_is_written_of_a_pattern_that_is_wrong(file: Path, tmp_path: Path) -> None:
    file.write_text(SKIRT.replace("strip 80 cm", "strip 90 cm"), encoding="utf-8")
    status, said = call(file, "--report", tmp_path / "out")
    assert status == 1
    assert "wrote no report" in said
    assert not (tmp_path / "out").exists()


def test_several_patterns_do_not_go_into_one_file(file: Path, tmp_path: Path) -> None:
    status, said = call(file, file, "--report", tmp_path / "one.html")
    assert status == 2
    assert "give a folder" in said


def test_json_stays_json(file: Path, tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["check", str(file), "--json", "--report", str(tmp_path)])
    assert done.stdout.startswith("[")
    assert "wrote" in done.stderr


def test_a_circle_of_seams_is_warned_of(tmp_path: Path) -> None:
    path = tmp_path / "circle.oak"
    path.write_text(
        'pattern "Circle"\n\npiece a\n  strip 10 cm by 10 cm\npiece b from a\npiece c\n'
        "  strip 20 cm by 20 cm\n\nsew a.base then b.base to c.base\n"
        "sew a.end then c.end to b.end easing 20 cm\n",
        encoding="utf-8",
    )
    _, said = call(path)
    assert "wait for each other" in said
