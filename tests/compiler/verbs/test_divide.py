"""`divide`: two parts with one seam between them, and all that lies on them shared out."""

from __future__ import annotations

import textwrap

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oaktag.compiler.inspect import inspect
from oaktag.lang.diagnostics import render

YOKE = """\
curve yoke_line = on centre {centre} cm from waist curve to on side {side} cm from waist
divide along yoke_line into yoke and skirt
"""
DART = "dart waist_dart on waist at {at} from centre intake {intake} cm length {length} cm\n"


def divided(board, lines, on=None, more=""):
    """The pieces of a text whose first piece ends in these lines."""
    return board.pattern(f"{on or board.quarter}{indented(lines)}{more}").pieces


def indented(lines):
    return "".join(f"  {line}\n" for line in textwrap.dedent(lines).strip().splitlines())


PARTS = """\
piece upper from quarter.yoke
piece lower from quarter.skirt
"""


def names(piece):
    return [str(edge.label) for edge in piece.edges]


def said(pattern):
    return [one for one in inspect(pattern) if one.severity == "error"]


def test_the_parts_make_up_the_whole(board, look):
    pieces = divided(board, YOKE.format(centre=8, side=9), more=PARTS)
    upper, lower, whole = pieces["upper"], pieces["lower"], pieces["quarter"]
    assert upper.area + lower.area == pytest.approx(whole.area, rel=1e-12)
    assert names(upper) == ["waist", "side", "yoke_line", "centre"]
    assert names(lower) == ["side", "hem", "centre", "yoke_line"]
    for name, whole_length in (("side", None), ("centre", 600.0)):
        both = look.edge(upper, name).length + look.edge(lower, name).length
        assert both == pytest.approx(whole_length or look.edge(whole, name).length, rel=1e-12)


def test_both_new_edges_are_the_line_that_was_drawn(board, look):
    pieces = divided(board, YOKE.format(centre=8, side=9), more=PARTS)
    drawn = look.edge(pieces["quarter"], "yoke_line").path
    for part in ("upper", "lower"):
        edge = look.edge(pieces[part], "yoke_line")
        assert edge.length == pytest.approx(drawn.length, rel=1e-12)
        for share in (0, 0.2, 0.5, 0.8, 1):
            assert drawn.nearest(edge.path.point_at(edge.length * share))[1] < 1e-9


def test_both_parts_keep_grain_and_fold(board):
    pieces = divided(board, YOKE.format(centre=8, side=9), more=PARTS)
    for part in ("upper", "lower"):
        piece = pieces[part]
        assert [str(edge.label) for edge in piece.edges if edge.on_fold] == ["centre"]
        along = piece.grain.end - piece.grain.start
        assert abs(along.real) < 1e-9 * abs(along)


def test_the_first_name_is_the_part_that_stays(board):
    """The one with the upper end of the grain, unless `holding` names the other."""
    lines = YOKE.format(centre=8, side=9)
    assert "waist" in names(divided(board, lines, more=PARTS)["upper"])
    held = lines.replace("skirt\n", "skirt holding hem\n")
    assert "hem" in names(divided(board, held, more=PARTS)["upper"])


def test_lines_points_and_marks_stay_with_their_part(board, look):
    lines = textwrap.dedent("""
    line rise = on centre 2 cm from waist to on side 3 cm from waist
    line slope = on waist 1/4 to on hem 1/4
    pocket = hip_side left 5 cm
    drill at pocket
    notch on waist at 1/3
    notch on hem at 1/2
    """)
    pieces = divided(board, lines + YOKE.format(centre=8, side=9), more=PARTS)
    upper, lower = pieces["upper"], pieces["lower"]
    assert sorted(str(line.label) for line in upper.lines) == ["rise", "slope"]
    assert sorted(str(line.label) for line in lower.lines) == ["hip_line", "slope"]
    assert [mark.kind for mark in upper.marks] == ["notch"]
    assert sorted(mark.kind for mark in lower.marks) == ["drill", "notch"]
    assert "pocket" in {point.label.name for point in lower.points}
    slope = look.edge(pieces["quarter"], "slope").length
    shares = [look.edge(piece, "slope").length for piece in (upper, lower)]
    assert sum(shares) == pytest.approx(slope, rel=1e-12)


# ---------------------------------------------------------------- darts the line runs through


def test_a_dart_the_line_runs_through_is_shared(board, look):
    lines = DART.format(at="1/2", intake=3, length=14) + YOKE.format(centre=7, side=8)
    pieces = divided(board, lines, more=PARTS)
    upper, lower = pieces["upper"], pieces["lower"]
    (outer,), (inner,) = upper.openings, lower.openings
    (dart,) = pieces["quarter"].openings
    assert {str(outer.label), str(inner.label)} == {"waist_dart"}
    assert inner.point == dart.point
    for side in ("first", "second"):
        whole, parts = getattr(dart, side), (getattr(inner, side), getattr(outer, side))
        assert sum(part.length for part in parts) == pytest.approx(whole.length, rel=1e-12)
    # On the seam, both parts take in the same.
    mouths = [
        [run for run in look.edge(piece, "yoke_line").runs if run.role == "intake"]
        for piece in (upper, lower)
    ]
    assert [len(found) for found in mouths] == [1, 1]
    assert mouths[0][0].length == pytest.approx(mouths[1][0].length, rel=1e-12)
    sewn = [look.edge(piece, "yoke_line").sewn for piece in (upper, lower)]
    assert sewn[0] == pytest.approx(sewn[1], rel=1e-12)


def test_a_dart_that_ends_on_the_line_vanishes_into_the_yoke_seam(board, look):
    lines = (
        DART.format(at="1/2", intake=3, length=12)
        + "curve yoke_line = on centre 11 cm from waist\n"
        "  curve to on side 9 cm from waist through waist_dart.point\n"
        "divide along yoke_line into yoke and skirt\n"
    )
    pieces = divided(
        board, lines, more=PARTS + "  true hem\npiece shut from quarter.yoke\n  close waist_dart\n"
    )
    assert pieces["lower"].openings == ()
    shut = pieces["shut"]
    assert shut.openings == ()
    drawn = look.edge(pieces["quarter"], "yoke_line")
    assert look.edge(shut, "yoke_line").length == pytest.approx(drawn.length, rel=1e-12)
    upper = pieces["upper"]
    assert look.edge(shut, "waist").length == pytest.approx(
        look.edge(upper, "waist").sewn, rel=1e-12
    )
    look.conserved(shut)


def test_the_outer_share_of_a_dart_closes_from_edge_to_edge(board, look):
    lines = DART.format(at="1/2", intake=3, length=14) + YOKE.format(centre=7, side=8)
    pieces = divided(
        board, lines, more=PARTS + "piece shut from quarter.yoke\n  close waist_dart\n"
    )
    shut, upper = pieces["shut"], pieces["upper"]
    waist, yoke_line = (look.edge(shut, name) for name in ("waist", "yoke_line"))
    assert waist.length == pytest.approx(look.edge(upper, "waist").sewn, rel=1e-9)
    # The line ran aslant through the dart, so its halves meet with a step.
    (dart,) = upper.openings
    step = abs(abs(dart.first.start - dart.about) - abs(dart.second.start - dart.about))
    assert yoke_line.length == pytest.approx(look.edge(upper, "yoke_line").sewn + step, rel=1e-9)
    (wedge,) = shut.steps[-1].cut_away
    assert upper.area - shut.area == pytest.approx(abs(wedge.area()), rel=1e-9)
    look.conserved(shut)


@settings(max_examples=25, deadline=None)
@given(
    centre=st.floats(4, 30),
    side=st.floats(4, 30),
    at=st.floats(0.3, 0.7),
    intake=st.floats(0.5, 4),
    length=st.floats(8, 16),
    bow=st.floats(-2, 2),
)
def test_any_cut_shares_out_paper_and_sewn_lengths(
    board, look, centre, side, at, intake, length, bow
):
    bowed = f" bowed {'up' if bow > 0 else 'down'} {abs(bow):.3f} cm" if abs(bow) > 0.01 else ""
    lines = (
        DART.format(at=f"{at:.3f}", intake=f"{intake:.3f}", length=f"{length:.3f}")
        + f"""
curve yoke_line = on centre {centre:.3f} cm from waist
  curve to on side {side:.3f} cm from waist{bowed}
divide along yoke_line into yoke and skirt
"""
    )
    drawn, wrong = board.result(f"{board.quarter}{indented(lines)}{PARTS}")
    if drawn is None:
        # The one thing that may be in the way: the line meets a side of the dart twice, say.
        assert [one.code for one in wrong] == ["through-opening"], [render(one) for one in wrong]
        return
    upper, lower, whole = (drawn.pieces[name] for name in ("upper", "lower", "quarter"))
    assert upper.area + lower.area == pytest.approx(whole.area, rel=1e-9)
    sewn = [look.edge(piece, "yoke_line").sewn for piece in (upper, lower)]
    assert sewn[0] == pytest.approx(sewn[1], rel=1e-9)
    assert look.edge(upper, "waist").sewn == pytest.approx(look.edge(whole, "waist").sewn, rel=1e-9)
    assert not said(drawn)


# ---------------------------------------------------------------- twins


@pytest.mark.parametrize("dressed", ["", "notch on side at 20 cm from waist double\n"])
def test_unfolded_and_divided_along_the_fold_the_parts_are_twins(board, look, dressed):
    lines = (
        dressed
        + DART.format(at="1/2", intake=3, length=12)
        + ("unfold along centre into right and left\ndivide along centre into one and other\n")
    )
    pieces = divided(
        board,
        lines,
        more="piece a from quarter.one\npiece b from quarter.other\npiece half from a\n  mirror\n",
    )
    one, other, mirrored = pieces["a"], pieces["b"], pieces["half"]
    assert one.area == pytest.approx(other.area, rel=1e-12)
    assert [edge.label.name for edge in one.edges] != [edge.label.name for edge in other.edges]
    lengths = [
        {name: look.edge(piece, name).length for name in ("waist", "side", "hem", "centre")}
        for piece in (one, other)
    ]
    assert lengths[0] == pytest.approx(lengths[1], rel=1e-12)
    # Turned over, the one lies exactly on the other.
    count = 200
    path, mine = other.outline, mirrored.outline
    shift = path.box()[0] - mine.box()[0] + 1j * (path.box()[1] - mine.box()[1])
    for k in range(count):
        place = mine.point_at(mine.length * k / count) + shift
        assert path.nearest(place)[1] < 1e-7
    assert len(one.openings) == len(other.openings) == 1
    assert len(one.marks) == len(other.marks)


def test_a_part_of_an_unfolded_piece_can_be_unfolded_again(board):
    lines = """
    unfold along centre into right and left
    divide along centre into one and other
    """
    pieces = divided(
        board,
        lines,
        more="piece a from quarter.one\n  true right.waist, right.side\n  unfold along centre "
        "into this and that\n",
    )
    assert pieces["a"].area == pytest.approx(2 * pieces["quarter"].parts[0][1].area, rel=1e-9)


def test_divided_again_and_again(board, look):
    """A piece cut into four strips, each made from the rest of the one before."""
    text = """
    piece whole
      strip 40 cm by 10 cm
      line cut = on base 10 cm from start to on top 10 cm from start
      divide along cut into rest and one
    piece first from whole.one
    piece rest from whole.rest
      line cut2 = on base 10 cm from cut to on top 10 cm from cut
      divide along cut2 into others and one
    piece second from rest.one
    piece others from rest.others
      line cut3 = on base 10 cm from cut2 to on top 10 cm from cut2
      divide along cut3 into last and one
    piece third from others.one
    piece fourth from others.last
    """
    pattern = board.pattern(text)
    for name in ("first", "second", "third", "fourth"):
        assert pattern.pieces[name].area == pytest.approx(100 * 100)
    assert not said(pattern)
    assert [piece.name for piece in pattern.made] == ["first", "second", "third", "fourth"]


# ---------------------------------------------------------------- the seam between the parts


def test_the_two_sides_of_the_seam_are_compared(board):
    """What was one line must still match as sewn, though no `sew` line says so."""
    lines = YOKE.format(centre=8, side=9)
    alike = board.pattern(board.quarter + indented(lines) + PARTS)
    assert not said(alike)
    (seam,) = alike.seams
    assert [side.name for side in (*seam.first, *seam.second)] == [
        "upper.yoke_line",
        "lower.yoke_line",
    ]
    assert seam.first_sewn == pytest.approx(seam.second_sewn, rel=1e-12)
    shorter = PARTS.replace(
        "piece lower",
        "  redraw side = on side 0 from waist to on yoke_line 1 cm from side\npiece lower",
    )
    (wrong,) = said(board.pattern(board.quarter + indented(lines) + shorter))
    assert wrong.code == "unequal-seam"
    assert wrong.span.text.startswith("divide along yoke_line")
    assert "`upper.yoke_line`" in wrong.message
    assert "`lower.yoke_line`" in wrong.message
    assert "cm" in wrong.message
    assert wrong.labels or wrong.label


def test_an_unfolded_part_is_compared_by_its_half(board):
    lines = YOKE.format(centre=8, side=9)
    unfolded = PARTS + "  unfold along centre into right and left\n"
    pattern = board.pattern(board.quarter + indented(lines) + unfolded)
    assert not said(pattern)
    (seam,) = pattern.seams
    assert [side.name for side in seam.first] == ["upper.yoke_line"] * 2
    assert [side.name for side in seam.second] == ["lower.yoke_line"]


def test_what_is_folded_away_or_gathered_does_not_count(board):
    lines = YOKE.format(centre=8, side=9)
    more = PARTS + (
        "  line open = on yoke_line 1/2 to on hem 1/2\n  spread open by 6 cm as {treatment}\n"
    )
    for treatment, fits in (("gather", True), ("pleat", True), ("flare", False)):
        pattern = board.pattern(board.quarter + indented(lines) + more.format(treatment=treatment))
        assert bool(said(pattern)) != fits


def test_a_sew_line_says_how_they_meet(board):
    lines = YOKE.format(centre=8, side=9)
    spread = PARTS + "  line open = on yoke_line 1/2 to on hem 1/2\n  spread open by 6 cm\n"
    sewn = "sew upper.yoke_line to lower.yoke_line easing 6 cm\n"
    assert said(board.pattern(board.quarter + indented(lines) + spread))
    assert not said(board.pattern(board.quarter + indented(lines) + spread + sewn))


def test_a_side_of_a_seam_that_is_cut_in_two_is_no_longer_compared(board):
    lines = YOKE.format(centre=8, side=9)
    more = PARTS + (
        "  line panel = on yoke_line 1/2 to on hem 1/2\n"
        "  divide along panel into inner and outer\n"
        "piece inner from lower.inner\npiece outer from lower.outer\n"
    )
    pattern = board.pattern(board.quarter + indented(lines) + more)
    assert not said(pattern)


def test_the_story_of_a_part_tells_of_the_divide(board):
    pieces = divided(board, "# cut the yoke off\n" + YOKE.format(centre=8, side=9), more=PARTS)
    upper = pieces["upper"]
    step = upper.steps[-1]
    assert step.verb == "divide"
    assert step.area_cut_away == pytest.approx(pieces["lower"].area, rel=1e-12)
    assert step.after == upper.outline
    assert len(upper.steps) == len(pieces["quarter"].steps)


# ---------------------------------------------------------------- what cannot be divided


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            "line cut = hip_centre to hip_side left 5 cm\ndivide along cut into one and other",
            "`cut` ends 5 cm away from the edge of the paper",
            "cut",
        ),
        (
            "line cut = on centre 1/2 to on side 1/2\ndivide along waist into one and other",
            "`waist` is an edge; `divide along` wants a drawn line",
            "waist",
        ),
        (
            "line cut = on centre 1/2 to on side 1/2\n"
            "divide along cut into one and other\ntrue waist",
            "`divide` is the last step of a piece",
            "true waist",
        ),
        (
            "line cut = on centre 1/2 to on side 1/2\n"
            "divide along cut into one and other\ndivide along cut into three and four",
            "`divide` is the last step of a piece",
            "divide along cut into three and four",
        ),
        (
            "curve cut = on side 10 cm from waist curve to on side 30 cm from waist bowed right "
            "3 cm\ndivide along cut into one and other",
            "`cut` leaves the paper 0 cm from its start",
            "cut",
        ),
    ],
)
def test_what_cannot_be_divided_is_said_where_it_stands(board, lines, message, place):
    found = board.mistakes(lines, board.quarter)
    (wrong,) = found
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help


# ---------------------------------------------------------------- halves of unfolded pieces

APART = """\
unfold along centre into right and left
divide along centre into one and other
"""
FRONT = "piece front from quarter.one\n"


@pytest.mark.parametrize("part", ["one", "other"])
def test_a_half_cut_off_is_named_as_before_it_was_unfolded(board, look, part):
    dressed = (
        "dart waist_dart on waist at 1/2 from centre intake 3 cm length 10 cm\n"
        "section zip = side from on side 0 from waist to on side 20 cm from waist\n"
    )
    front = f"piece front from quarter.{part}\n"
    pieces = divided(board, dressed + APART, more=front + "piece whole from quarter\n")
    half, whole = pieces["front"], pieces["quarter"]
    assert sorted(names(half)) == ["centre", "hem", "side", "waist"]
    assert not half.halves
    assert half.area == pytest.approx(whole.area / 2)
    assert [str(item.label) for item in half.openings] == ["waist_dart"]
    assert [str(line.label) for line in half.lines] == ["hip_line"]
    assert [str(section.label) for section in half.sections] == ["zip"]
    found = [str(point.label) for point in half.points]
    assert len(found) == len(set(found))
    assert "top" in found
    assert look.edge(half, "zip").length == pytest.approx(200)


def test_of_a_half_cut_off_plain_names_and_the_word_of_the_half_may_be_said(board):
    said = (
        "allow 2 cm on front.side\n"
        "allow 3 cm on front.right.hem as hem\n"
        "sew front.right.side to back.side\n"
        "bind front.right.waist with 1 cm in trim\n"
        "fasten front.centre with buttons\n"
        "require sewn(front.waist) = sewn(front.right.waist)\n"
    )
    more = f"{FRONT}  true right.hem\n  notch on side at 20 cm from waist\n"
    back = f"piece back from front\n{said}"
    pattern = board.pattern(f"{board.quarter}{indented(APART)}{more}{back}")
    assert [str(edge.label) for one in pattern.allowances for edge in one.edges or ()] == [
        *("side", "hem")
    ]
    assert pattern.seams[0].first[0].name == "front.right.side"
    (lost,) = board.wrong(f"{board.quarter}{indented(APART)}{FRONT}allow 2 cm on front.left.side\n")
    assert lost.message == "`front` has no `left.side`"
    assert "`side`" in lost.help


def test_a_half_cut_off_is_unfolded_again_under_the_same_names(board, look):
    again = f"{FRONT}  unfold along centre into right and left\n  true hem\n"
    pieces = divided(board, APART, more=again)
    front, whole = pieces["front"], pieces["quarter"]
    assert sorted(names(front)) == sorted(names(whole))
    assert look.edge(front, "left.side").length == pytest.approx(
        look.edge(front, "right.side").length
    )


def test_on_a_part_that_has_both_halves_they_keep_their_names(board):
    lines = "unfold along centre into right and left\n"
    yoke = "line across = on right.side 20 cm from waist to on left.side 20 cm from waist\n"
    text = board.quarter + indented(f"{lines}{yoke}divide along across into upper and lower\n")
    lower = "piece lower from quarter.lower\n"
    pattern = board.pattern(f"{text}{lower}allow 2 cm on lower.right.side, lower.hem\n")
    assert pattern.pieces["lower"].halves == ("right", "left")
    (found,) = board.wrong(f"{text}{lower}allow 2 cm on lower.side\n")
    assert found.message == "`side` is there twice since the piece was unfolded"


def test_edges_of_a_part_that_become_one_when_it_is_unfolded_have_one_name(board, look):
    yoke = "line across = on side 8 cm from waist to on centre 8 cm from waist\n"
    upper = "piece upper from quarter.yoke\n  unfold along centre into right and left\n"
    pattern = board.pattern(
        f"{board.quarter}{indented(yoke + 'divide along across into yoke and skirt')}"
        f"{upper}  notch on waist at 1/2\nallow 1 cm on upper.waist, upper.across\n"
    )
    whole, half = pattern.pieces["upper"], pattern.pieces["quarter"]
    assert look.edge(whole, "waist").length == pytest.approx(2 * look.edge(half, "waist").length)
