"""The language page, section by section: what each way of writing says."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from oaktag.lang import ast
from oaktag.lang.source import Source
from oaktag.lang.syntax.parse import parse, parse_expression

PROGRAMS = sorted((Path(__file__).parents[1] / "programs").glob("*.oak"))


# ------------------------------------------------- how the tests write a tree (places do not count)


def node(kind: type[ast.Node], *values: Any) -> Any:
    return kind(None, *values)


def step(kind: type[ast.Statement], *values: Any) -> Any:
    return kind(None, None, *values)


def ref(dotted: str) -> Any:
    return node(ast.Ref, tuple(node(ast.Part, name, None) for name in dotted.split(".")))


def indexed(name: str, first: Any, last: Any = None) -> Any:
    return node(ast.Ref, (node(ast.Part, name, node(ast.Index, first, last)),))


def cm(value: float) -> Any:
    return node(ast.Quantity, value * 10, "cm")


def deg(value: float) -> Any:
    return node(ast.Quantity, value, "deg")


def number(value: float) -> Any:
    return node(ast.Number, float(value), value == int(value))


def name(word: str, index: Any = None) -> Any:
    return node(ast.Target, word, index)


def way(word: str) -> Any:
    return node(ast.Way, word)


def binary(left: Any, sign: str, right: Any) -> Any:
    return node(ast.Binary, sign, left, right)


def path(start: Any, *legs: Any) -> Any:
    return node(ast.PathExpr, start, legs)


def straight(to: Any) -> Any:
    return node(ast.StraightLeg, to)


P, Q, R, E, F = ref("p"), ref("q"), ref("r"), ref("e"), ref("f")


def file(text: str) -> ast.File:
    tree, wrong = parse(Source("test.oak", text))
    assert not wrong, [one.message for one in wrong]
    return tree


def in_file(text: str) -> Any:
    """The one statement of a pattern that says this."""
    (statement,) = file(f'pattern "Test"\n{text}\n').statements[1:]
    return statement


def in_piece(text: str) -> Any:
    """The one step of a piece that says this."""
    indented = "\n".join("  " + line for line in text.split("\n"))
    (statement,) = in_file(f"piece test\n{indented}").body
    return statement


def value(text: str) -> Any:
    return in_piece(f"x = {text}").value


def drawn(text: str) -> Any:
    return in_piece(f"line x = {text}").path


# ------------------------------------------------------------------------------------------- whole


@pytest.mark.parametrize("program", PROGRAMS, ids=lambda program: program.stem)
def test_programs_of_the_page(program: Path) -> None:
    source = Source(program.name, program.read_text(encoding="utf-8"))
    tree, wrong = parse(source)
    assert wrong == ()
    assert isinstance(tree.statements[0], ast.Pattern)
    assert tree.unit == ("in" if program.stem == "flounce" else "cm")


def test_there_are_eight_programs() -> None:
    assert len(PROGRAMS) == 8


def test_version_and_unit() -> None:
    tree = file('oaktag 1\npattern "Skirt"\nx = 3 in\ny = 4 in\nz = 1 cm\n')
    assert (tree.version, tree.unit) == (1, "in")
    tree = file('pattern "Skirt"\nx = 30 deg\n')
    assert (tree.version, tree.unit) == (None, "cm")


def test_spans_are_where_things_stand() -> None:
    statement = in_file("length = waist_girth/2 +\n  3 cm # half")
    assert statement.span.text == "length = waist_girth/2 +\n  3 cm"
    assert statement.target.span.text == "length"
    assert statement.value.span.text == "waist_girth/2 +\n  3 cm"
    assert statement.value.left.right.span.text == "2"
    assert (statement.value.right.span.line, statement.value.right.span.column) == (3, 3)


def test_a_comment_directly_above_is_the_caption() -> None:
    tree = file(
        '# act two\npattern "Skirt"\n\n# not this\n\n# the hem\n#   opens\npiece front\n'
        "  # upright\n  grain along centre # beside\n"
    )
    assert tree.statements[0].caption == "act two"
    piece = tree.statements[1]
    assert isinstance(piece, ast.PieceDef)
    assert piece.caption == "the hem opens"
    assert piece.body[0].caption == "upright"


# -------------------------------------------------------------------------------------------- text


def test_quantities_are_exact() -> None:
    sizes = {
        "2.5 cm": 25.0, "6 mm": 6.0, "2 m": 2000.0, "1 1/2 in": 38.1, "5/8 in": 15.875,
        "2 yd": 1828.8, "1 ft": 304.8, "4cm": 40.0, "0 cm": 0.0,
    }  # fmt: skip
    for text, millimetres in sizes.items():
        assert value(text).value == pytest.approx(millimetres, abs=1e-12), text
        assert value(text).unit == text[-2:].strip()
    assert value("12 deg") == deg(12)


def test_a_bare_fraction_is_a_division() -> None:
    assert value("1/3") == binary(number(1), "/", number(3))
    assert value("4.0") == node(ast.Number, 4.0, False)
    assert value("4") == node(ast.Number, 4.0, True)


def test_names() -> None:
    assert value("block.front.waist") == ref("block.front.waist")
    assert value("drape[2]") == indexed("drape", number(2))
    assert value("drape[1..n]") == indexed("drape", number(1), ref("n"))
    assert value("drape[i + 1]") == indexed("drape", binary(ref("i"), "+", number(1)))
    dotted = value("right.waist_dart[i].point")
    assert [part.name for part in dotted.parts] == ["right", "waist_dart", "point"]
    assert dotted.parts[1].index.first == ref("i")


def test_names_in_any_script_are_compared_in_nfc() -> None:
    assert value("ta\u0302ille") == value("t\u00e2ille")
    assert value("裾") == ref("裾")
    assert value("कमर") == ref("कमर")


def test_order_of_binding() -> None:
    assert value("a + b * -c") == binary(
        ref("a"), "+", binary(ref("b"), "*", node(ast.Unary, "-", ref("c")))
    )
    assert value("a - b - c") == binary(binary(ref("a"), "-", ref("b")), "-", ref("c"))
    assert value("(a - b) / 2") == binary(binary(ref("a"), "-", ref("b")), "/", number(2))
    assert value("a < b and not c = d or yes") == binary(
        binary(
            binary(ref("a"), "<", ref("b")),
            "and",
            node(ast.Unary, "not", binary(ref("c"), "=", ref("d"))),
        ),
        "or",
        node(ast.YesNo, True),
    )
    # A point takes the whole sum that follows: `down neck_girth/5 + 1 cm`.
    assert value("p down a/5 + 1 cm") == node(
        ast.Moved, P, way("down"), binary(binary(ref("a"), "/", number(5)), "+", cm(1))
    )


def test_functions() -> None:
    assert value("length(front.waist)") == node(ast.Call, "length", (ref("front.waist"),))
    assert value("distance(p, q)") == node(ast.Call, "distance", (P, Q))
    assert value("max(a, b, 3)") == node(ast.Call, "max", (ref("a"), ref("b"), number(3)))
    assert value("length(p to q, to r)") == node(
        ast.Call, "length", (path(P, straight(Q), straight(R)),)
    )
    # A point dropped onto a line has no length, the line to it has.
    dropped = node(ast.Dropped, P, way("down"), E)
    assert value("length(p down to e)") == node(ast.Call, "length", (path(P, straight(dropped)),))
    assert value("distance(p, p down to e)") == node(ast.Call, "distance", (P, dropped))


def test_an_expression_on_its_own() -> None:
    tree = parse_expression(Source("ask", "sewn(front.right.side)"))
    assert tree == node(ast.Call, "sewn", (ref("front.right.side"),))


# -------------------------------------------------------------------------------------------- head


def test_measure() -> None:
    assert in_file("measure waist_girth = 72 cm, hip_girth") == step(
        ast.Measure,
        (
            node(ast.MeasureItem, name("waist_girth"), cm(72)),
            node(ast.MeasureItem, name("hip_girth"), None),
        ),
    )


def test_choose() -> None:
    assert in_file('choose length = 66 cm from 35 cm to 110 cm "finished length"') == step(
        ast.Choose, name("length"), cm(66), cm(35), cm(110), "finished length"
    )
    assert in_file("choose lined = yes") == step(
        ast.Choose, name("lined"), node(ast.YesNo, True), None, None, None
    )


def test_use() -> None:
    used = in_file("use skirts.straight as block\n  length = length\n  ease = 4 cm")
    assert (used.path, used.alias) == (ref("skirts.straight"), name("block"))
    assert used.path_span.text == "skirts.straight"
    assert used.settings == (
        step(ast.Assign, name("length"), ref("length")),
        step(ast.Assign, name("ease"), cm(4)),
    )
    used = in_file('use "../blocks/ines.oak" as block')
    assert (used.path, used.settings) == ("../blocks/ines.oak", ())


def test_body() -> None:
    tree = file('body "Ines"\n  waist_girth = 72 cm\n  hip_girth = 38 in\n')
    assert tree.statements == (
        step(
            ast.Body,
            "Ines",
            (
                step(ast.Assign, name("waist_girth"), cm(72)),
                step(ast.Assign, name("hip_girth"), node(ast.Quantity, 38 * 25.4, "in")),
            ),
        ),
    )


def test_piece() -> None:
    assert in_file("piece front from block.front") == step(
        ast.PieceDef, name("front"), ref("block.front"), ()
    )
    assert in_file("piece gore[i]\n  fold on e") == step(
        ast.PieceDef, name("gore", ref("i")), None, (step(ast.FoldOn, E),)
    )


# ------------------------------------------------------------------------------------------ points


def test_points() -> None:
    on_side = node(ast.OnEdge, ref("side"), cm(9), ref("waist"))
    points = {
        "origin": ref("origin"),
        "p down 20 cm": node(ast.Moved, P, way("down"), cm(20)),
        "p right 12 cm up 1 cm": node(
            ast.Moved, node(ast.Moved, P, way("right"), cm(12)), way("up"), cm(1)
        ),
        "p toward q by 1/3": node(ast.Toward, P, Q, binary(number(1), "/", number(3))),
        "p toward q by 4 cm": node(ast.Toward, P, Q, cm(4)),
        "p at 30 deg by 4 cm": node(ast.Polar, P, deg(30), cm(4)),
        "p square to e 4 cm": node(ast.Moved, P, node(ast.SquareTo, E), cm(4)),
        "p square to e to f": node(ast.Dropped, P, node(ast.SquareTo, E), F),
        "midway p and q": node(ast.Midway, P, Q),
        "midway (p down 2 cm) and q": node(ast.Midway, node(ast.Moved, P, way("down"), cm(2)), Q),
        "on side 9 cm from waist": on_side,
        "on side 1/2 from (p down 3 cm)": node(
            ast.OnEdge,
            ref("side"),
            binary(number(1), "/", number(2)),
            node(ast.Moved, P, way("down"), cm(3)),
        ),
        "on side 9 cm from waist up 2 cm": node(ast.Moved, on_side, way("up"), cm(2)),
        "where e meets f": node(ast.Meeting, E, F),
        "where e is 4 cm from p": node(ast.AtDistance, E, cm(4), P),
        "p down to e": node(ast.Dropped, P, way("down"), E),
        "(p) left 1 cm": node(ast.Moved, P, way("left"), cm(1)),
    }
    for text, meant in points.items():
        assert value(text) == meant, text


# ------------------------------------------------------------------------------------------- paths


def test_straight_paths() -> None:
    assert drawn("p to q") == path(P, straight(Q))
    assert drawn("p to q, to r") == path(P, straight(Q), straight(R))
    assert drawn("p down 4 cm to q left 2 cm") == path(
        node(ast.Moved, P, way("down"), cm(4)),
        straight(node(ast.Moved, Q, way("left"), cm(2))),
    )


def test_a_dropped_point_alone_is_the_line_to_it() -> None:
    dropped = node(ast.Dropped, P, way("down"), ref("hem"))
    assert drawn("p down to hem") == path(P, straight(dropped))
    assert drawn("p down to hem to q") == path(dropped, straight(Q))
    squared = node(ast.Dropped, P, node(ast.SquareTo, E), F)
    assert drawn("p square to e to f") == path(P, straight(squared))


def test_curves() -> None:
    assert drawn("p curve to q") == path(P, node(ast.CurveLeg, Q, None, None, (), None))
    curve = node(
        ast.CurveLeg,
        Q,
        node(ast.TowardPoint, R),
        node(ast.SquareTo, E),
        (R, node(ast.Moved, R, way("up"), cm(1))),
        (way("down"), cm(4)),
    )
    assert drawn("p curve to q leaving toward r arriving square to e through r and r up 1 cm bowed down 4 cm") == path(P, curve)  # fmt: skip  # noqa: E501
    assert drawn("p curve to q bowed down 4 cm through r and r up 1 cm arriving square to e leaving toward r") == path(P, curve)  # fmt: skip  # noqa: E501


def test_directions() -> None:
    directions = {
        "up": way("up"),
        "30 deg": node(ast.AtAngle, deg(30)),
        "-30 deg": node(ast.AtAngle, node(ast.Unary, "-", deg(30))),
        "90 deg - slope": node(ast.AtAngle, binary(deg(90), "-", ref("slope"))),
        "slope": node(ast.AtAngle, ref("slope")),
        "toward q": node(ast.TowardPoint, Q),
        "square to side": node(ast.SquareTo, ref("side")),
    }
    for text, meant in directions.items():
        (leg,) = drawn(f"p curve to q leaving {text}").legs
        assert leg.leaving == meant, text
    for text in ("up", "30 deg", "slope", "(90 deg - slope)", "toward q", "square to side"):
        (leg,) = drawn(f"p curve to q bowed {text} 4 cm").legs
        assert leg.bowed[1] == cm(4), text


def test_arcs() -> None:
    assert drawn("p arc to q around r") == path(P, node(ast.ArcLeg, Q, R, None))
    assert drawn("p arc to q through r, to p") == path(P, node(ast.ArcLeg, Q, None, R), straight(P))


def test_outline_and_section() -> None:
    assert in_piece("outline\n  side = p to q\n  hem[i] = q to p") == step(
        ast.Outline,
        (
            node(ast.EdgeDef, name("side"), path(P, straight(Q))),
            node(ast.EdgeDef, name("hem", ref("i")), path(Q, straight(P))),
        ),
    )
    assert in_piece("section zip = side from waist_side to on side 20 cm from waist") == step(
        ast.Section,
        name("zip"),
        ref("side"),
        ref("waist_side"),
        node(ast.OnEdge, ref("side"), cm(20), ref("waist")),
    )


# ------------------------------------------------------------------------------------ on the paper


def test_darts() -> None:
    assert in_piece(
        "dart d on waist at 9.5 cm from centre intake 4.5 cm to p ending 2 cm short"
    ) == step(
        ast.DartOn, name("d"), ref("waist"), cm(9.5), ref("centre"), cm(4.5), None, P,
        node(ast.Ending, cm(2)),
    )  # fmt: skip
    assert in_piece("dart d[i] on waist at i/3 intake surplus/2 length 13 cm") == step(
        ast.DartOn,
        name("d", ref("i")),
        ref("waist"),
        binary(ref("i"), "/", number(3)),
        None,
        binary(ref("surplus"), "/", number(2)),
        cm(13),
        None,
        None,
    )
    assert in_piece("dart d along e intake 2 cm at p") == step(
        ast.DartAlong, name("d"), E, cm(2), P
    )
    assert in_piece("redraw d to p") == step(ast.RedrawDart, ref("d"), P)


def test_marks() -> None:
    marks = {
        "fold on e": step(ast.FoldOn, E),
        "grain along e": step(ast.GrainAlong, E),
        "grain from p to p down 4 cm": step(
            ast.GrainFrom, P, node(ast.Moved, P, way("down"), cm(4))
        ),
        "notch on e, f at 4 cm from r double": step(ast.NotchOn, (E, F), cm(4), R, True, "", None),
        "notch on e at 4 cm as v deep 2 cm": step(
            ast.NotchOn, (E,), cm(4), None, False, "v", cm(2)
        ),
        "notch at p": step(ast.NotchAt, P, False, "", None),
        "notch at p double as castle": step(ast.NotchAt, P, True, "castle", None),
        "notch at p deep 2 cm": step(ast.NotchAt, P, False, "", cm(2)),
        "mark e": step(ast.Mark, (E,), None, False),
        'mark e, f as "hip line"': step(ast.Mark, (E, F), "hip line", False),
        "mark e for lengthening": step(ast.Mark, (E,), None, True),
        "buttons 5 along e from p to r size 2 cm": step(ast.Buttons, number(5), E, P, R, cm(2)),
        "buttonholes 5 along e from p to r size 2 cm": step(
            ast.Buttonholes, number(5), E, P, R, cm(2), False
        ),
        "buttonholes 5 along e from p to r size 2 cm across": step(
            ast.Buttonholes, number(5), E, P, R, cm(2), True
        ),
        "drill at p": step(ast.Drill, P),
        "button at p up a/2 size 18 mm": step(
            ast.Button,
            node(ast.Moved, P, way("up"), binary(ref("a"), "/", number(2))),
            node(ast.Quantity, 18.0, "mm"),
        ),
        "buttonhole at p size 2 cm along e": step(ast.Buttonhole, P, cm(2), E),
        'text "centre # front" at p': step(ast.Text, "centre # front", P),
    }
    for text, meant in marks.items():
        assert in_piece(text) == meant, text
    assert in_file("notch on front.side, back.side at 4 cm from waist") == step(
        ast.NotchOn, (ref("front.side"), ref("back.side")), cm(4), ref("waist"), False, "", None
    )
    assert in_file("notches as t deep 4 cm") == step(ast.Notches, "t", cm(4))
    assert in_file("notches as u") == step(ast.Notches, "u", None)
    assert in_file('revision "3"') == step(ast.Revision, "3", "")
    assert in_file('revision "3" date "in May"') == step(ast.Revision, "3", "in May")


# ------------------------------------------------------------------------------------------- verbs


def test_verbs() -> None:
    ending = node(ast.Ending, cm(5))
    steps = {
        "unfold along centre into right and left holding left": step(
            ast.Unfold, ref("centre"), name("right"), name("left"), ref("left")
        ),
        "halve along centre keeping right": step(ast.Halve, ref("centre"), name("right")),
        "mirror": step(ast.Mirror),
        "close d": step(ast.Close, (ref("d"),), None, (), None, None),
        "close d, d2 by 1/2 into e, f as dart ending 5 cm short holding left": step(
            ast.Close,
            (ref("d"), ref("d2")),
            binary(number(1), "/", number(2)),
            (E, F),
            node(ast.Treatment, "dart", "knife", ending),
            ref("left"),
        ),
        "spread e by 4 cm": step(
            ast.Spread, (E,), (node(ast.Amount, cm(4), None),), None, None, None
        ),
        "spread e, f by 4 cm at hem and 2 cm at waist as inverted pleat": step(
            ast.Spread,
            (E, F),
            (node(ast.Amount, cm(4), ref("hem")), node(ast.Amount, cm(2), ref("waist"))),
            None,
            node(ast.Treatment, "pleat", "inverted", None),
            None,
        ),
        "spread d[1..n] by 4 cm at hem hinged on waist as gather holding left": step(
            ast.Spread,
            (indexed("d", number(1), ref("n")),),
            (node(ast.Amount, cm(4), ref("hem")),),
            ref("waist"),
            node(ast.Treatment, "gather", "knife", None),
            ref("left"),
        ),
        "overlap e by 1 cm at hem hinged on waist": step(
            ast.Overlap, (E,), (node(ast.Amount, cm(1), ref("hem")),), ref("waist"), None
        ),
        "fold-trim d": step(ast.FoldTrim, (ref("d"),), None, None),
        "fold-trim d, e toward down": step(ast.FoldTrim, (ref("d"), E), way("down"), None),
        "fold-trim d toward centre": step(ast.FoldTrim, (ref("d"),), ref("centre"), None),
        "lengthen at hip_line by 4 cm": step(ast.Lengthen, ref("hip_line"), cm(4), None),
        "shorten at hip_line by 4 cm": step(ast.Shorten, ref("hip_line"), cm(4), None),
        "redraw side = p to q": step(ast.Redraw, ref("side"), path(P, straight(Q))),
        "true waist, hem within 3 cm": step(ast.TrueEdges, (ref("waist"), ref("hem")), cm(3)),
        "divide along e into yoke and skirt": step(
            ast.Divide, E, name("yoke"), name("skirt"), None
        ),
        "join back.shoulder to shoulder": step(
            ast.Join, ref("back.shoulder"), ref("shoulder"), None
        ),
        "strip waist_girth + 1 cm by deep": step(
            ast.Strip, binary(ref("waist_girth"), "+", cm(1)), ref("deep")
        ),
        "facing on front.neck deep 6 cm": step(ast.Facing, ref("front.neck"), cm(6)),
    }
    for text, meant in steps.items():
        assert in_piece(text) == meant, text


def test_treatments() -> None:
    for text, kind, style in (
        ("flare", "flare", "knife"),
        ("pleat", "pleat", "knife"),
        ("knife pleat", "pleat", "knife"),
        ("box pleat", "pleat", "box"),
        ("inverted pleat", "pleat", "inverted"),
        ("dart", "dart", "knife"),
        ("gather", "gather", "knife"),
    ):
        treatment = in_piece(f"spread e by 4 cm as {text}").treatment
        assert treatment == node(ast.Treatment, kind, style, None), text


def test_trace() -> None:
    traced = in_piece('trace "front.svg" edges waist, side, hem, centre with centre = 68 cm')
    assert traced.path == "front.svg"
    assert traced.edges == tuple(name(edge) for edge in ("waist", "side", "hem", "centre"))
    assert (traced.scale_edge, traced.scale_length) == (ref("centre"), cm(68))
    assert in_piece('trace "front.svg" edges waist').scale_edge is None
    assert traced.piece == ""
    one = in_piece('trace "style.dxf" piece "front" edges waist, side')
    assert (one.path, one.piece, one.piece_span.text) == ("style.dxf", "front", '"front"')
    assert one.edges == (name("waist"), name("side"))


def test_repeat_and_if() -> None:
    assert in_piece("repeat i from 1 to n\n  mirror") == step(
        ast.Repeat, name("i"), number(1), ref("n"), (step(ast.Mirror),)
    )
    assert in_piece("if a < b\n  mirror\nelse\n  fold on e") == step(
        ast.If, binary(ref("a"), "<", ref("b")), (step(ast.Mirror),), (step(ast.FoldOn, E),)
    )
    remarked = in_piece("if a < b\n  mirror\n# otherwise\nelse\n  fold on e")
    assert remarked.otherwise == (step(ast.FoldOn, E),)
    assert in_piece("if lined\n  mirror") == step(ast.If, ref("lined"), (step(ast.Mirror),), ())


# --------------------------------------------------------------------------------------- finishing


def test_finishing() -> None:
    link = lambda edge, origin=None: node(ast.Link, ref(edge), origin and ref(origin))  # noqa: E731
    lines = {
        "allow 1.5 cm on front, back.hem": step(
            ast.Allow, cm(1.5), (ref("front"), ref("back.hem")), False, ""
        ),
        "allow 4 cm on hem as hem": step(ast.Allow, cm(4), (ref("hem"),), True, ""),
        "allow 1 cm on front.side squared": step(
            ast.Allow, cm(1), (ref("front.side"),), False, "squared"
        ),
        "allow 1 cm on squared as hem mitred": step(
            ast.Allow, cm(1), (ref("squared"),), True, "mitred"
        ),
        "allow none on front.side": step(ast.Allow, None, (ref("front.side"),), False, ""),
        "sew a.side to b.side": step(ast.Sew, (link("a.side"),), (link("b.side"),), None, False),
        "sew a from side then b\n  to c from seam then d easing 1 cm": step(
            ast.Sew, (link("a", "side"), link("b")), (link("c", "seam"), link("d")), cm(1), False
        ),
        "sew a to b gathering": step(ast.Sew, (link("a"),), (link("b"),), None, True),
        "bind a from side then b with 8 mm in trim": step(
            ast.Bind,
            (link("a", "side"), link("b")),
            node(ast.Quantity, 8.0, "mm"),
            True,
            node(ast.Part, "trim", None),
        ),
        "bind a with wide single in trim": step(
            ast.Bind, (link("a"),), ref("wide"), False, node(ast.Part, "trim", None)
        ),
        "bind a with 1 cm double in trim": step(
            ast.Bind, (link("a"),), cm(1), True, node(ast.Part, "trim", None)
        ),
        "fasten a with zip": step(ast.Fasten, (link("a"),), (), node(ast.Part, "zip", None), None),
        "fasten a then b to c with ties length 30 cm": step(
            ast.Fasten,
            (link("a"), link("b")),
            (link("c"),),
            node(ast.Part, "ties", None),
            cm(30),
        ),
        "true a then b then c within 2 cm": step(
            ast.TrueAcross, (ref("a"), ref("b"), ref("c")), cm(2)
        ),
        "cut 2 back as pair in main": step(
            ast.Cut, number(2), ref("back"), True, (node(ast.Part, "main", None),)
        ),
        "cut n front in main and lining": step(
            ast.Cut,
            ref("n"),
            ref("front"),
            False,
            (node(ast.Part, "main", None), node(ast.Part, "lining", None)),
        ),
        'require length(e) = 4 cm within 2 mm "it fits"': step(
            ast.Require,
            binary(node(ast.Call, "length", (E,)), "=", cm(4)),
            node(ast.Quantity, 2.0, "mm"),
            "it fits",
        ),
        "adjust x from 0 cm to 9 cm until a = b + c": step(
            ast.Adjust,
            name("x"),
            cm(0),
            cm(9),
            binary(ref("a"), "=", binary(ref("b"), "+", ref("c"))),
        ),
    }
    for text, meant in lines.items():
        assert in_file(text) == meant, text
