"""Names and kinds in a file: what is right stays silent, what is wrong is said once."""

from __future__ import annotations

from textwrap import dedent

import pytest

from oaktag.lang import ast
from oaktag.lang.checking.check import NOT_YET, UNUSED, check, check_expression
from oaktag.lang.checking.dimensions import LENGTH, NUMBER, UNKNOWN, WHOLE, YES_NO
from oaktag.lang.checking.names import Names
from oaktag.lang.source import Source
from oaktag.lang.syntax.parse import parse, parse_expression

HEAD = """\
pattern "Test"
measure waist_girth = 72 cm
choose depth = 4 cm
choose rows = 3
choose lined = yes
"""
PIECE = """\
piece front
  top = origin
  foot = top down 60 cm
  outline
    waist = top to top right 20 cm
    armhole = top right 20 cm to foot right 30 cm up 40 cm
    side = foot right 30 cm up 40 cm to foot right 30 cm
    hem = foot right 30 cm to foot
    centre = foot to top
  dart waist_dart on waist at 1/2 from centre intake 2 cm length 10 cm
  line flare = waist_dart.point down to hem
"""


def names_of(text: str, uses: dict[str, Names] | None = None) -> Names:
    file, unread = parse(Source("test.oak", text))
    names, wrong = check(file, uses or {}, [one.span for one in unread if one.span])
    wrong = tuple(one for one in wrong if one.code != UNUSED)
    assert not unread and not wrong, [one.message for one in (*unread, *wrong)]
    return names


def wrong(text: str, uses: dict[str, Names] | None = None) -> list[str]:
    """The codes of what is wrong, each with its line counted from the end of HEAD.

    What is not built yet is left out, so that building it changes nothing here, and so are choices
    of HEAD that a test does without.
    """
    file, unread = parse(Source("test.oak", HEAD + text))
    names, found = check(file, uses or {}, [one.span for one in unread if one.span])
    assert names is not None
    lines = HEAD.count("\n")
    return [
        f"{one.code} {one.span.line - lines}"
        for one in found
        if one.span and one.code not in ("not-yet", UNUSED)
    ]


def unused(text: str, uses: dict[str, Names] | None = None) -> list[str]:
    """The choices of a file of which it is said that nothing uses them."""
    file, unread = parse(Source("test.oak", text))
    _, found = check(file, uses or {}, [one.span for one in unread if one.span])
    return [one.span.text for one in found if one.span and one.code == UNUSED]


def in_piece(lines: str) -> list[str]:
    """The codes of what is wrong in lines that follow in the piece `front`, lines from 1."""
    indented = "".join(f"  {line}\n" for line in dedent(lines).strip().split("\n"))
    before = PIECE.count("\n")
    found = wrong(PIECE + indented)
    return [f"{code} {int(line) - before}" for code, line in (one.split() for one in found)]


# ---------------------------------------------------------------- choices without use


def test_a_choice_that_nothing_uses_is_told_of() -> None:
    assert unused(HEAD) == ["depth", "rows", "lined"]
    assert unused(HEAD + "b = depth * rows\nif lined\n  c = 1\n") == []
    assert unused(HEAD + PIECE.replace("down 60 cm", "down depth")) == ["rows", "lined"]


@pytest.mark.parametrize(
    "use",
    [
        "choose b = depth",
        "choose b = 4 cm from 2 cm to depth",
        "require depth < 5 cm",
        "adjust b from 1 cm to 9 cm until b = depth",
        "piece belt\n  strip 60 cm by depth",
        "piece belt\n  strip 60 cm by 4 cm\nallow depth on belt",
        "repeat i from 1 to 2\n  a[i] = i * depth",
    ],
)
def test_any_place_where_a_choice_is_asked_for_uses_it(use: str) -> None:
    assert "depth" not in unused(f"{HEAD}{use}\n")


def test_setting_a_choice_of_a_used_pattern_by_one_of_its_own_uses_that() -> None:
    inside = names_of(HEAD)
    text = 'pattern "Test"\nchoose rows = 2\nchoose depth = 3 cm\nuse "a.oak" as a\n'
    assert unused(f"{text}  rows = rows\n", {"a": inside}) == ["depth"]


def test_measures_and_values_may_be_there_for_others() -> None:
    assert unused('pattern "Test"\nmeasure knee_girth = 38 cm\nspare = 4 cm\n') == []


def test_a_file_with_a_mistake_may_have_meant_to_use_it() -> None:
    assert unused(HEAD + "b = dept\n") == []
    assert unused(HEAD + "b = = depth\n") == []


# ---------------------------------------------------------------- names of a file


def test_a_name_stands_above_its_use() -> None:
    assert wrong("a = 1 cm\nb = a\n") == []
    assert wrong("b = a\na = 1 cm\n") == ["named-below 1"]


def test_a_name_is_given_once() -> None:
    assert wrong("a = 1 cm\na = 2 cm\n") == ["named-twice 2"]
    assert wrong("depth = 2 cm\n") == ["named-twice 1"]
    assert wrong("measure depth\n") == ["named-twice 1"]


def test_either_branch_may_give_a_name() -> None:
    both = "if lined\n  a = 1 cm\nelse\n  a = 2 cm\nb = a + 1 cm\n"
    assert wrong(both) == []
    assert wrong("if lined\n  a = 1 cm\nb = a + 1 cm\n") == []
    assert wrong("a = 1 cm\nif lined\n  a = 2 cm\n") == ["named-twice 3"]
    assert wrong("if lined\n  a = 1 cm\n  b = a\nelse\n  b = a\n") == ["unknown-name 5"]


def test_branches_of_different_kinds_leave_the_kind_open() -> None:
    text = "if lined\n  a = 1 cm\nelse\n  a = 2\nb = a + 1 cm\nc = a + 1\n"
    assert wrong(text) == []
    names = names_of(HEAD + "if lined\n  a = 1\nelse\n  a = 1.5\n")
    assert names.symbols["a"].kind == NUMBER


def test_names_without_index_last_one_turn() -> None:
    text = "repeat i from 1 to rows\n  a = i * 1 cm\n  row[i] = a\n"
    assert wrong(text + "b = row[2]\n") == []
    assert wrong(text + "b = a\n") == ["turn-ended 4"]
    assert wrong(text + "b = i * 1 cm\n") == ["turn-ended 4"]
    # After its turns a name is free again, also to count with.
    again = text.replace("row[", "column[")
    assert wrong(text + again + "a = 2 cm\nb = a\n") == []
    assert wrong("a = 2 cm\n" + text) == ["named-twice 3"]


def test_a_row_is_named_with_its_index() -> None:
    row = "repeat i from 1 to rows\n  row[i] = i * 1 cm\n"
    assert wrong(row + "b = row\n") == ["index-missing 3"]
    assert wrong(row + "b = row[1..2]\n") == ["one-wanted 3"]
    assert wrong(row + "b = count(row) + count(row[1..2])\n") == []
    assert wrong(row + "b = row[1 cm]\n") == ["wrong-kind 3"]
    assert wrong(row + "b = row[1.5]\n") == ["not-whole 3"]
    assert wrong("b = depth[1]\n") == ["no-row 1"]
    assert wrong(row + "row = 3 cm\n") == ["named-twice 3"]
    assert wrong("row = 3 cm\nrow[1] = 3 cm\n") == ["named-twice 2"]


def test_the_same_missing_name_is_said_once() -> None:
    file, _ = parse(Source("test.oak", 'pattern "T"\na = b\nc = b\nd = b\n'))
    _, found = check(file, {})
    assert [one.code for one in found] == ["unknown-name"]
    assert [label.span.line for label in found[0].labels] == [3, 4]


def test_a_missing_name_brings_no_further_mistakes() -> None:
    assert wrong("a = nothing\nb = a + 1\nc = a + 1 cm\nd = sin(b) * c\nif a\n  e = d\n") == [
        "unknown-name 1"
    ]


def test_what_stands_in_an_unread_line_is_not_missed() -> None:
    assert wrong("a = 3 +\nb = a + 1 cm\n") == []
    assert wrong("a = 3 +\nb = c\n") == ["unknown-name 2"]
    assert wrong("piece fro from front\n  line l = + +\n  true l\n") == ["unknown-name 1"]
    assert wrong("piece bare\n  outlin\n    a = origin to origin\n") == []


BROKEN = """\
quarter = waist_girth / / 4
deep = 4 qm

piece front
  corner = origin right quarter
  outline
    waist = origin to corner
    side = corner to to corner down 60 cm
    hem = corner down 60 cm to origin down deep
    centre = origin down 60 cm to origin
  true side, wasit
  close dart_of_the_line_below
  dart dart_of_the_line_below on waist intake intake

piece back fron front
  line flare = origin to corner

sew front.side to back.flare
allow deep on front
"""


def test_lines_that_cannot_be_read_are_mistakes_of_their_own() -> None:
    unread = parse(Source("test.oak", HEAD + BROKEN))[1]
    lines = HEAD.count("\n")
    assert [one.span.line - lines for one in unread if one.span] == [1, 2, 8, 13, 15]
    assert wrong(BROKEN) == ["unknown-name 11"]


@pytest.mark.parametrize("name", ["length", "line", "fold", "measure", "up", "pi", "origin"])
def test_any_word_of_the_language_may_be_a_name(name: str) -> None:
    assert wrong(f"{name} = 3 cm\nb = {name} + 1 cm\n") == []


# ---------------------------------------------------------------- head


def test_a_whole_default_stays_whole() -> None:
    names = names_of(HEAD + "choose share = 1.5\n")
    assert names.symbols["rows"].kind == WHOLE
    assert names.symbols["share"].kind == NUMBER
    assert names.symbols["lined"].kind == YES_NO
    assert names.of_role("measure").keys() == {"waist_girth"}
    assert list(names.of_role("choice")) == ["depth", "rows", "lined", "share"]
    assert names.title == "Test"


def test_a_choice_speaks_of_names_above() -> None:
    assert wrong("choose wide = waist_girth / 4 from 1 cm to waist_girth\n") == []
    assert wrong("choose wide = waist_girth / 4 from 1 to waist_girth\n") == ["missing-unit 1"]


def test_settings_speak_of_this_file_and_set_choices_only() -> None:
    block = {"block": names_of(HEAD + PIECE)}
    use = "use skirts.straight as block\n"
    assert wrong(use + "  depth = depth\n  rows = rows + 1\n  lined = no\n", block) == []
    assert wrong(use + "  depth = 3\n", block) == ["missing-unit 2"]
    assert wrong(use + "  rows = 3 / 2\n", block) == ["not-whole 2"]
    assert wrong(use + "  rows = rows / 2\n", block) == []  # seen when it is calculated
    assert wrong(use + "  lined = 1\n", block) == ["wrong-kind 2"]
    assert wrong(use + "  dept = 3 cm\n", block) == ["unknown-choice 2"]
    assert wrong(use + "  waist_girth = 3 cm\n", block) == ["no-choice 2"]
    assert wrong(use + "  front = 3 cm\n", block) == ["no-choice 2"]
    assert wrong(use + "  depth = deep\n", block) == ["unknown-name 2"]


def test_a_used_pattern_gives_pieces_measures_choices_and_values() -> None:
    block = {"block": names_of(HEAD + "total = depth * rows\n" + PIECE)}
    use = "use skirts.straight as block\n"
    assert wrong(use + "a = block.waist_girth + block.depth + block.total\n", block) == []
    assert wrong(use + "a = block.rows + block.depth\n", block) == ["mixed-kinds 2"]
    assert wrong(use + "a = sewn(block.front.waist)\n", block) == []
    assert wrong(use + "a = block\n", block) == ["wrong-kind 2"]
    assert wrong(use + "piece back from block.front\n  true hem\n", block) == []
    assert wrong(use + "piece back from block\n", block) == ["wrong-kind 2"]
    # What could not be had is not missed again and again.
    assert wrong(use + "  any = 3\npiece back from block.any\n  true thing\n") == []


# ---------------------------------------------------------------- pieces


def test_a_piece_that_is_right() -> None:
    assert in_piece("fold on centre\ngrain along centre\ntrue hem") == []


def test_the_paper_comes_first_and_then_the_file() -> None:
    assert in_piece("line l = top right depth to foot right depth") == []
    assert in_piece("line depth = top to foot") == ["named-in-file 1"]
    assert in_piece("depth = 3 cm") == ["named-in-file 1"]
    assert in_piece("line front = top to foot") == ["named-in-file 1"]
    assert in_piece("line waist = top to foot") == ["named-twice 1"]


def test_a_copy_brings_the_paper_but_not_the_values() -> None:
    made = PIECE + "  much = 3 cm\n" + "piece back from front\n"
    assert wrong(made + "  true hem\n  close waist_dart into flare\n  notch at top\n") == []
    assert wrong(made + "  line l = top to top down much\n") == ["unknown-name 14"]
    assert wrong(made + "  much = 3 cm\n  line flare = top to foot\n") == ["named-twice 15"]
    # The piece it was copied from stays as it was.
    assert (
        wrong(
            made + "  close waist_dart into flare\npiece third from front\n"
            "  lengthen at flare by 3 cm\n"
        )
        == []
    )


def test_a_piece_does_not_speak_of_itself_by_name() -> None:
    assert in_piece("require length(front.waist) > 3 cm") == ["unfinished-piece 1"]
    assert in_piece("require length(waist) > 3 cm") == []


def test_edges_of_one_outline_use_each_others_directions() -> None:
    assert (
        wrong(
            dedent("""\
        piece quarter
          top = origin
          outline
            waist = top curve to top right 9 cm arriving square to side
            side = top right 9 cm to top down 9 cm leaving
            centre = top down 9 cm to top
        """).replace(" leaving", "")
        )
        == []
    )
    assert wrong(
        "piece q\n  outline\n    a = origin to where b meets c\n    b = origin to origin\n"
    ) == ["named-below 3", "unknown-name 3"]


def test_a_slashed_line_becomes_an_opening() -> None:
    assert in_piece("close waist_dart into flare\nfold-trim flare toward centre") == []
    assert in_piece("fold-trim flare") == ["wrong-kind 1"]
    assert in_piece("spread flare by 3 cm\nlengthen at flare by 3 cm") == ["wrong-kind 2"]
    assert in_piece("spread flare by 3 cm\nspread flare by 1 cm\nnotch at flare.point") == []
    assert in_piece("overlap flare by 3 cm\nlengthen at flare by 3 cm") == []
    # In one branch only: either may be, so nothing can be said before it is drawn.
    assert in_piece("if lined\n  spread flare by 3 cm\nfold-trim flare") == []


def test_rows_of_lines_and_openings() -> None:
    row = "repeat i from 1 to rows\n  line s[i] = top to foot\n"
    assert in_piece(row + "spread s[1..rows] by 3 cm as pleat\nfold-trim s[1..rows]") == []
    assert in_piece(row + "fold-trim s[1..rows]") == ["wrong-kind 3"]
    assert in_piece(row + "spread s[2] by 3 cm\nfold-trim s[2]\nlengthen at s[1] by 1 cm") == []
    assert in_piece(row + "spread s by 3 cm") == ["index-missing 3"]


def test_unfolding() -> None:
    opened = "unfold along centre into right and left\n"
    assert in_piece(opened + "true waist, hem, right.waist, left.side") == []
    assert in_piece(opened + "true side") == ["there-twice 2"]
    assert in_piece(opened + "lengthen at flare by 3 cm") == ["there-twice 2"]
    assert in_piece(opened + "close left.waist_dart into left.flare") == []
    assert in_piece(opened + "spread centre by 3 cm as pleat\nfold-trim centre") == []
    assert in_piece(opened + "fold on centre") == ["wrong-kind 2"]
    assert in_piece(opened + "true right.centre") == ["unknown-name 2"]
    assert (
        in_piece(
            opened + "line l = on right.side 3 cm from hem to on hem 4 cm from left.side\n"
            "lengthen at l by 1 cm holding right"
        )
        == []
    )
    assert in_piece("unfold along flare into right and left\ntrue side, right.side") == [
        "wrong-kind 1"
    ]


def test_a_mistake_is_not_found_again_in_the_halves() -> None:
    opened = "unfold along centre into right and left\n"
    assert in_piece("much = nothing\n" + opened + "line l = top to top down much") == [
        "unknown-name 1"
    ]


def test_the_end_meant_behind_from_lies_beside_the_edge() -> None:
    opened = "unfold along centre into right and left\n"
    assert in_piece(opened + "notch on right.side at 3 cm from armhole") == []
    assert in_piece(opened + "notch on waist at 3 cm from armhole") == ["there-twice 2"]
    made = PIECE + "side_note = 3 cm\n"
    assert wrong(made + "sew front.waist from centre to front.hem from side\n") == []
    assert wrong(made + "sew front.waist from centr to front.hem from side\n") == [
        "unknown-name 13"
    ]
    assert wrong(made + "sew front.waist from side_note to front.hem\n") == ["wrong-kind 13"]
    assert wrong(made + "sew front.waste from centre to front.hem\n") == ["unknown-name 13"]


def test_halving_is_the_way_back() -> None:
    opened = "unfold along centre into right and left\n"
    back = opened + "halve along centre keeping right\n"
    assert in_piece(back + "true waist, side, hem, centre\nclose waist_dart into flare") == []
    assert in_piece(back + "fold on centre\nunfold along centre into right and left") == []
    assert in_piece(back + "true right.side") == ["unknown-name 3"]
    assert in_piece(opened + "halve along centre keeping middle") == ["unknown-half 2"]
    assert in_piece("halve along flare keeping right") == ["unknown-half 1"]


def test_unfolding_twice() -> None:
    quarter = dedent("""\
        piece quarter
          outline
            waist = origin to origin right 9 cm
            side = origin right 9 cm to origin right 9 cm down 9 cm
            hem = origin right 9 cm down 9 cm to origin down 9 cm
            centre = origin down 9 cm to origin
          line l = origin to origin right 9 cm down 9 cm
          unfold along centre into right and left
          unfold along hem into upper and lower
        """)
    assert wrong(quarter + "  true right.side, left.side, upper.waist, lower.waist\n") == []
    assert wrong(quarter + "  lengthen at upper.right.l by 1 cm\n") == []
    assert wrong(quarter + "  lengthen at right.l by 1 cm\n") == ["there-twice 10"]
    assert wrong(quarter + "  lengthen at hem by 1 cm\n  lengthen at centre by 1 cm\n") == [
        "there-twice 11"
    ]
    assert wrong(quarter + "  halve along hem keeping upper\n  true waist, right.side\n") == []


def test_a_divided_piece_leaves_parts() -> None:
    made = PIECE + "  divide along flare into inner and outer\n"
    assert wrong(made + "piece p from front.inner\n  true flare, waist\n") == []
    assert wrong(made + "piece p from front.iner\n") == ["unknown-name 13"]
    assert wrong(made + "piece p from front\n  fold on flare\n") == ["wrong-kind 14"]
    assert wrong(made + "  require length(waist) > 3 cm\n  true hem\n") == ["after-divide 14"]


def test_paper_comes_once() -> None:
    assert wrong("piece a\n  strip 9 cm by 4 cm\n  true base, end, top, start\n") == []
    assert wrong("piece a\n") == ["no-outline 1"]
    assert wrong("piece a\n  mirror\n") == ["no-outline 2"]
    assert in_piece("strip 9 cm by 4 cm") == ["outline-twice 1"]
    either = "piece a\n  if lined\n    strip 9 cm by 4 cm\n  else\n    strip 8 cm by 4 cm\n"
    assert wrong(either + "  true base\n") == []
    assert wrong("piece a\n  repeat i from 1 to 2\n    strip 9 cm by 4 cm\n") == ["outline-twice 3"]


def test_rows_of_pieces() -> None:
    gores = "repeat i from 1 to 6\n  piece gore[i]\n    strip 60 cm by i * 4 cm\n"
    assert wrong(gores + "cut 1 gore[1..6] in main\nallow 1 cm on gore[1..6].base\n") == []
    assert wrong(gores + "sew gore[1].base to gore[2].base\n") == []
    assert wrong(gores + "sew gore.base to gore[2].base\n") == ["index-missing 4"]
    inside = gores + "  sew gore[i].end to gore[i + 1].start\n  allow depth on gore[i].bse\n"
    assert wrong(inside) == ["unknown-name 5"]


# ---------------------------------------------------------------- finished pieces


def test_finishing_sees_pieces_wherever_they_stand() -> None:
    text = (
        "allow 1 cm on front.hem\ncut 2 front as pair in main\nsew front.waist to front.hem\n"
        "require length(front.waist) > depth\n"
    )
    assert wrong(text + PIECE) == []
    assert wrong("a = length(front.waist)\n" + PIECE) == ["named-below 1"]
    assert wrong("true front.waist then front.hem\n" + PIECE) == ["named-below 1"]
    # Only pieces: a value stands above.
    assert wrong("require depth = late\nlate = 3 cm\n") == ["named-below 1"]


def test_finishing_sees_the_paper_as_it_is_at_the_end() -> None:
    text = (
        "allow 1 cm on front.right.side\n" + PIECE + "  unfold along centre into right and left\n"
    )
    assert wrong(text) == []
    assert wrong(text.replace("right.side", "side")) == ["there-twice 1"]


def test_inside_a_piece_require_sees_that_step() -> None:
    assert in_piece("require length(later) > 3 cm\nline later = top to foot") == ["named-below 1"]


def test_an_adjusted_name_has_the_kind_of_its_limits() -> None:
    text = "adjust more from 1 cm to 9 cm until length(front.waist) = more\n"
    assert wrong(text + PIECE.replace("20 cm", "more")) == []
    assert wrong(text + "a = more + 1\n" + PIECE) == ["mixed-kinds 2"]
    assert wrong("adjust more from 1 to 9 cm until more = 3\n") == ["wrong-kind 1"]


# ---------------------------------------------------------------- questions from outside


@pytest.mark.parametrize(
    ("asked", "kind", "codes"),
    [
        ("length(front.waist)", LENGTH, []),
        ("waist_girth / 4 > depth", YES_NO, []),
        ("sewn(front.wais)", LENGTH, ["unknown-name"]),
        ("depth + 1", UNKNOWN, ["mixed-kinds"]),
        ("count(front.waist)", WHOLE, []),
    ],
)
def test_asking(asked: str, kind: str, codes: list[str]) -> None:
    names = names_of(HEAD + PIECE)
    found, wrong = check_expression(parse_expression(Source("asked", asked)), names)
    assert (found, [one.code for one in wrong]) == (kind, codes)


def test_what_is_not_built_yet_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(NOT_YET, ast.Mirror, "mirror")
    file, _ = parse(Source("test.oak", HEAD + PIECE + "  mirror\n  true hemm\n"))
    _, found = check(file, {})
    assert [one.code for one in found] == ["not-yet", "unknown-name"]
    assert found[0].message.startswith("`mirror` is understood but not built yet")
