"""How a diagnostic looks."""

from __future__ import annotations

import re

from oaktag.lang.diagnostics import Diagnostic, Label, as_json, as_line, error, in_order, render
from oaktag.lang.source import Source, Span

FERRY = Source(
    "ferry.oak",
    "\n" * 30
    + "    side = waist_side curve to hip_side arriving down\n    hem = hem_side to hem_centre\n",
)


def place(source: Source, text: str, after: str = "") -> Span:
    start = source.text.index(text, source.text.index(after))
    return Span(source, start, start + len(text))


UNMET = error(
    "edges-apart",
    "the edge `side` does not reach the next one",
    place(FERRY, "hip_side"),
    label="ends at hip_side",
    labels=(Label(place(FERRY, "hem_side"), "`hem` starts at hem_side, 42 mm further on"),),
    help="add a leg, `side = waist_side curve to hip_side arriving down, to hem_side`",
)


def test_the_look_of_the_language_page() -> None:
    # Word for word the example in the section Errors of the language page.
    assert render(UNMET) == (
        "error: the edge `side` does not reach the next one\n"
        "   ferry.oak:31\n"
        "31 |     side = waist_side curve to hip_side arriving down\n"
        "   |                                - ends at hip_side\n"
        "32 |     hem = hem_side to hem_centre\n"
        "   |           - `hem` starts at hem_side, 42 mm further on\n"
        "   try: add a leg, `side = waist_side curve to hip_side arriving down, to hem_side`"
    )


def test_colour_adds_nothing_but_colour() -> None:
    painted = render(UNMET, colour=True)
    assert painted != render(UNMET)
    assert re.sub(r"\x1b\[[0-9;]*m", "", painted) == render(UNMET)


def test_a_place_without_words_is_marked_along_its_length() -> None:
    source = Source("a.oak", "fold centre\n")
    shown = render(error("x", "message", place(source, "centre")))
    assert shown.splitlines()[-2:] == [" 1 | fold centre", "   |      ------"]


def test_lines_apart_and_other_files() -> None:
    source = Source("a.oak", "one\ntwo\nthree\nfour\n")
    other = Source("b.oak", "five\n")
    shown = render(
        error(
            "x",
            "message",
            place(source, "four"),
            label="here",
            labels=(Label(place(source, "one"), "and here"), Label(place(other, "five"), "there")),
        )
    )
    assert shown == (
        "error: message\n   a.oak:4\n 1 | one\n   | - and here\n..\n 4 | four\n   | - here\n"
        "   b.oak:1\n 1 | five\n   | - there"
    )


def test_a_whole_file() -> None:
    one = Diagnostic("error", "empty-file", "the file is empty", file="a.oak", help="begin")
    assert render(one) == "error: the file is empty\n   a.oak\n   try: begin"
    assert as_line(one) == "a.oak:1:1: error: the file is empty"
    assert as_json(one) == {
        "severity": "error", "code": "empty-file", "file": "a.oak", "line": 1, "column": 1,
        "message": "the file is empty", "help": "begin",
    }  # fmt: skip


def test_for_machines() -> None:
    assert as_line(UNMET) == "ferry.oak:31:32: error: the edge `side` does not reach the next one"
    assert as_json(UNMET)["line"] == 31
    assert as_json(UNMET)["column"] == 32


def test_marks_stand_below_wide_letters_accents_and_tabs() -> None:
    for before, columns in (("裾 = ", 5), ("e\u0301 = ", 4), ("\tx ", 6), ("क्षे ", 3)):
        source = Source("a.oak", before + "here")
        marked = render(error("x", "message", place(source, "here"))).splitlines()[-1]
        assert marked == "   | " + " " * columns + "----", before


def test_long_lines_are_cut_round_the_place() -> None:
    source = Source("a.oak", "x" * 300 + " here " + "y" * 300)
    line, marks = render(error("x", "message", place(source, "here"))).splitlines()[-2:]
    assert len(line) < 110
    assert line[marks.index("-") :].startswith("here ")
    far = Source("a.oak", "start " + "x" * 300 + " here")
    both = error("x", "m", place(far, "start"), labels=(Label(place(far, "here"), "there"),))
    assert max(len(line) for line in render(both).splitlines()) < 120


def test_nothing_a_terminal_obeys_is_shown() -> None:
    source = Source("a.oak", 'text "\x1b[2J\u202e" at p')
    shown = render(error("x", "about `\x1b[2J`", place(source, "at"), help="\x07"))
    assert not re.search("[\x1b\x07\u202e]", shown)


def test_order() -> None:
    first, second = (Span(FERRY, at, at + 1) for at in (40, 50))
    one, two = error("b", "one", first), error("a", "two", second)
    whole = Diagnostic("error", "c", "three", file="ferry.oak")
    elsewhere = Diagnostic("error", "c", "four", file="back.oak")
    assert in_order([two, one, whole, two, elsewhere]) == (elsewhere, whole, one, two)
