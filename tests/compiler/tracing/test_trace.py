"""`trace`: a block digitised elsewhere becomes a piece, at its right size, whatever wrote it."""

from __future__ import annotations

import itertools

import pytest


def measured(piece, look):
    return {name: look.edge(piece, name).length for name in ("waist", "side", "hem", "centre")}


def check(piece, look, lengths, share=1e-6):
    """Edge by edge against lengths worked out from the curves' own formula."""
    assert measured(piece, look) == pytest.approx(lengths, rel=share)
    assert piece.edges[0].start == 0
    assert [str(edge.label) for edge in piece.edges] == ["waist", "side", "hem", "centre"]
    left, bottom, right, top = piece.outline.box()
    assert (right - left, top - bottom) == pytest.approx((250, 680), rel=1e-6)
    look.conserved(piece)


# ---------------------------------------------------------------- SVG


@pytest.mark.parametrize(
    ("width", "height", "box", "scale"),
    [
        ("250mm", "680mm", "0 0 250 680", 1),
        ("25cm", "68cm", "0 0 250 680", 1),
        ("250mm", "680mm", "0 0 25 68", 0.1),
        (
            "9.84251968503937in",
            "26.7716535433071in",
            "0 0 9.84251968503937 26.7716535433071",
            1 / 25.4,
        ),
        ("708.661417pt", "1927.559055pt", "0 0 708.661417 1927.559055", 72 / 25.4),
        ("500mm", "680mm", "0 0 500 680", 1),
    ],
)
def test_svg_in_any_unit(traced, look, lengths, block, width, height, box, scale):
    piece = traced(block.svg(width, height, box, scale))
    check(piece, look, lengths, 1e-5)


@pytest.mark.parametrize(
    ("width", "box"),
    [
        ("250mm", ""),
        ("", "0 0 250 680"),
        ("250px", "0 0 250 680"),
        ("250", "0 0 250 680"),
        ("100%", "0 0 9 9"),
        ("", ""),
    ],
)
def test_svg_without_a_size_gets_the_stated_one(traced, look, lengths, block, width, box):
    height = (
        "680mm"
        if width == "250mm"
        else "680px"
        if width == "250px"
        else "680"
        if width == "250"
        else width
    )
    piece = traced(block.svg(width, height, box, scale=0.37), tail=" with centre = 66.8 cm")
    check(piece, look, lengths, 1e-5)


@pytest.mark.parametrize(
    "transform",
    [
        "translate(30 40)",
        "rotate(7)",
        "scale(-1 1) translate(-250 0)",
        "matrix(1 0 0 1 5 5)",
        "scale(2) translate(3 4) scale(0.5)",
    ],
)
def test_svg_transformed(traced, look, lengths, block, transform):
    piece = traced(block.svg(transform=transform))
    found = measured(piece, look)
    if "-1" in transform:  # mirrored, the upper left corner is that of the side
        found = {
            "waist": found["waist"],
            "side": found["centre"],
            "hem": found["hem"],
            "centre": found["side"],
        }
    assert found == pytest.approx(lengths, rel=1e-6)


@pytest.mark.parametrize("order", [(0, 1, 2, 3, 4), (3, 0, 4, 2, 1), (4, 3, 2, 1, 0)])
@pytest.mark.parametrize("turned", [(), (1, 3), (0, 1, 2, 3, 4)])
def test_separate_lines_are_joined_in_any_order(traced, look, lengths, block, order, turned):
    check(traced(block.lines(order, turned)), look, lengths)


def wrapped(body, attributes='width="300mm" height="300mm" viewBox="0 0 300 300"'):
    return f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}>{body}</svg>'


@pytest.mark.parametrize(
    ("shape", "sizes"),
    [
        ('<rect x="5" y="5" width="100" height="200"/>', (100, 200, 100, 200)),
        ('<polygon points="0,0 100,0 100,200 0,200"/>', (100, 200, 100, 200)),
        ('<path d="m 0 0 h 100 v 200 h -100 z"/>', (100, 200, 100, 200)),
        ('<path d="M 0 0 Q 50 0 100 0 L 100 200 0 200 0 0"/>', (100, 200, 100, 200)),
        # Half a circle and a quarter: exactly pi times their radius.
        ('<path d="M 0 0 L 100 0 L 100 200 A 50 50 0 0 0 0 200 Z"/>', (100, 200, 157.0796327, 200)),
        ('<path d="M 0 0 A 200 200 0 0 1 200 200 L 0 200 Z"/>', (314.1592654, 200, 200)),
    ],
)
def test_shapes_of_every_kind(traced, look, shape, sizes):
    names = ("one", "two", "three", "four")[: len(sizes)]
    piece = traced(wrapped(shape), edges=", ".join(names))
    assert [look.edge(piece, name).length for name in names] == pytest.approx(sizes, rel=1e-9)


def test_an_ellipse_is_near_enough(traced, look):
    """Its length from the complete elliptic integral (Ramanujan's second approximation)."""
    a, b = 100.0, 60.0
    h = ((a - b) / (a + b)) ** 2
    import math

    whole = math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    piece = traced(
        wrapped('<path d="M 0 100 A 100 60 0 0 1 200 100 L 150 200 L 50 200 Z"/>'),
        edges="crown, right_side, foot, left_side",
    )
    assert look.edge(piece, "crown").length == pytest.approx(whole / 2, rel=1e-6)


def test_the_largest_outline_is_the_piece(traced, look, lengths, block):
    """Holes, labels and small marks inside it are no outlines of their own."""
    data = block.svg().replace(
        "</svg>", '<circle cx="100" cy="300" r="20"/><text x="9" y="9">front</text></svg>'
    )
    check(traced(data), look, lengths)


def test_what_is_hidden_or_only_defined_is_not_drawn(traced, look, lengths, block):
    data = block.svg().replace(
        "</svg>",
        '<defs><rect width="900" height="900"/></defs>'
        '<g display="none"><rect x="400" width="900" height="900"/></g></svg>',
    )
    check(traced(data), look, lengths)


# ---------------------------------------------------------------- DXF


@pytest.mark.parametrize(("unit", "scale"), [(4, 1), (5, 0.1), (1, 1 / 25.4), (6, 0.001)])
@pytest.mark.parametrize(("separate", "block_reference"), list(itertools.product((0, 1), (0, 1))))
def test_dxf_in_any_unit(traced, look, lengths, block, unit, scale, separate, block_reference):
    data = block.dxf(unit, scale, bool(separate), bool(block_reference))
    check(traced(data, "front.dxf"), look, lengths, 1e-6)


def test_dxf_without_a_unit_gets_the_stated_length(traced, look, lengths, block):
    piece = traced(block.dxf(0, 0.02), "front.dxf", tail=" with hem = 25 cm")
    check(piece, look, lengths, 1e-6)


def test_dxf_arcs_and_bulges_keep_their_length(traced, look):
    import io
    import math

    import ezdxf

    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = 4
    space = document.modelspace()
    # A bulge is the tangent of a quarter of the sweep.
    sweep = 4 * math.atan(0.5)
    space.add_lwpolyline(
        [(0, 0, 0), (300, 0, 0), (300, 200, 0.5), (0, 200, 0)], format="xyb", close=True
    )
    stream = io.StringIO()
    document.write(stream)
    piece = traced(stream.getvalue(), "front.dxf", edges="top, right_side, foot, left_side")
    assert sorted(edge.length for edge in piece.edges) == pytest.approx(
        [200, 200, 300, sweep * 150 / math.sin(sweep / 2)], rel=1e-6
    )


# ---------------------------------------------------------------- the scale is checked


def test_a_stated_length_that_agrees_is_no_more_than_a_check(traced, look, lengths, block):
    for stated in ("66.8 cm", "66.6 cm", "67.0 cm", "26.3 in"):
        piece = traced(block.svg(), tail=f" with centre = {stated}")
        check(piece, look, lengths)


def test_a_drawing_of_another_size_than_stated(refused, block):
    wrong = refused(block.svg(), tail=" with centre = 68 cm")
    assert wrong.message == "`centre` is 66.8 cm in front.svg, but 68 cm is stated"
    assert wrong.span.text == "68 cm"
    assert wrong.label == "1.2 cm apart"
    assert "without a size" in wrong.help


def test_without_any_scale(refused, block):
    wrong = refused(block.svg("", "", "0 0 250 680"))
    assert wrong.message == "front.svg does not say how large it is"
    assert wrong.span.text == '"front.svg"'
    assert "with waist = " in wrong.help


# ---------------------------------------------------------------- what cannot be traced

SQUARE = '<path d="M 0 0 L 100 0 L 100 200 L 0 200 Z"/>'


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (
            wrapped('<path d="M 0 0 L 100 0 L 100 200 L 0 200 L 0 3"/>'),
            "the outline in front.svg is open by 0.3 cm",
        ),
        (
            wrapped('<line x1="0" y1="0" x2="90" y2="0"/>'),
            "the outline in front.svg is open by 9 cm",
        ),
        (
            wrapped('<path d="M 0 0 L 100 0 L 100 200 L 0 200 L 0 3"/>', 'viewBox="0 0 9 9"'),
            "the outline in front.svg is open by 3 of its own units",
        ),
        (
            wrapped('<path d="M 0 0 L 100 0 L 100 200 L 0 200 L -30 100 Z"/>'),
            "the outline in front.svg has 5 corners, but 4 edges are named",
        ),
        (wrapped('<circle cx="50" cy="50" r="40"/>'), "the outline in front.svg has no corners"),
        (
            wrapped('<path d="M 0 0 L 100 0 L 0 200 L 100 200 Z"/>'),
            "the outline in front.svg crosses itself",
        ),
        (
            wrapped(SQUARE + '<rect x="150" y="0" width="90" height="150"/>'),
            "front.svg holds more than one piece",
        ),
        (wrapped(""), "front.svg has no lines"),
        (wrapped("<text>front</text>"), "front.svg has no lines"),
        ("", "front.svg cannot be read as SVG"),
        ("hello", "front.svg cannot be read as SVG"),
        ("<svg", "front.svg cannot be read as SVG"),
        ("\0\1\2\3", "front.svg cannot be read as SVG"),
        (wrapped("<g>" * 5000 + SQUARE + "</g>" * 5000), "front.svg cannot be read as SVG"),
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + wrapped(SQUARE), "front.svg defines entities"),
        (
            '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>'
            + wrapped("<text>&a;</text>"),
            "front.svg defines entities",
        ),
        (
            wrapped(
                '<polygon points="'
                + "0,0 " * 2
                + " ".join(f"{i},{i * i % 97}" for i in range(6000))
                + '"/>'
            ),
            "front.svg is drawn in 6,",
        ),
        (wrapped(SQUARE) + " " * 10_000_001, "front.svg holds 10 MB: at most 10 MB are traced"),
    ],
)
def test_what_cannot_be_traced_is_told_in_plain_words(refused, data, message):
    wrong = refused(data)
    assert wrong.message.startswith(message), wrong.message
    assert wrong.span.text == '"front.svg"'
    assert wrong.span.line == 4
    assert wrong.help


def test_drawings_that_repeat_themselves_are_not_followed_without_end(refused):
    """Forty lines that stand for a million million squares; and one that holds itself."""
    link = 'xmlns:x="http://www.w3.org/1999/xlink"'
    groups = f'<g id="g0">{SQUARE}</g>' + "".join(
        f'<g id="g{i}"><use x:href="#g{i - 1}"/><use href="#g{i - 1}"/></g>' for i in range(1, 40)
    )
    for body in (groups, f'<g id="a">{SQUARE}<use href="#a"/></g>'):
        wrong = refused(wrapped(body, f'width="30mm" height="30mm" {link}'))
        assert wrong.message == "front.svg draws more than 20,000 things"


@pytest.mark.parametrize(
    ("name", "data", "message"),
    [
        ("front.dxf", "hello", "front.dxf cannot be read as DXF"),
        ("front.dxf", "", "front.dxf has no lines"),
        ("front.dxf", "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n", "front.dxf has no lines"),
        ("front.png", "x", "front.png is neither an SVG nor a DXF file"),
        ("front", "x", "front is neither an SVG nor a DXF file"),
        ("a{0}.svg", wrapped('<path d="M 0 0 L 9 0 L 9 9 L 0 3"/>'), "the outline in a"),
    ],
)
def test_other_files(refused, name, data, message):
    wrong = refused(data, name)
    assert wrong.message.startswith(message), wrong.message
    assert wrong.help


@pytest.mark.parametrize("name", ["../front.svg", "/etc/passwd", "missing.svg"])
def test_a_file_that_is_not_there_or_outside_the_project(refused, name):
    wrong = refused(None, name)
    assert name in wrong.message
    assert wrong.span.text == f'"{name}"'


def test_an_edge_to_scale_by_must_be_named(refused, block):
    wrong = refused(block.svg(), tail=" with back = 68 cm")
    assert "`back`" in wrong.message
    assert wrong.span.text == "back"


def test_a_traced_piece_has_one_beginning(board, block):
    found = board.wrong(
        'piece front\n  strip 40 cm by 5 cm\n  trace "front.svg" edges waist, side, hem, centre\n',
        files={"front.svg": block.svg()},
    )
    assert found


# ---------------------------------------------------------------- all verbs work on it


def test_a_traced_block_is_a_piece_like_any_other(traced, look, block):
    piece = traced(
        block.svg(),
        more="""\
  fold on centre
  grain along centre
  line low = on centre 30 cm from hem to on side 30 cm from hem
  lengthen at low by 3 cm
  dart waist_dart on waist at 1/2 from centre intake 3 cm length 10 cm
  notch on side at 20 cm from waist
  line flare = waist_dart.point down to hem
  close waist_dart by 1/2 into flare
  redraw hem = on centre 0 from hem curve to on side 0 from hem bowed down 1 cm
  fold-trim waist_dart toward centre
  unfold along centre into right and left
  line drape = on right.side 20 cm from waist to on left.side 26 cm from waist
  spread drape by 8 cm at right.side hinged on left.side as pleat
  fold-trim drape toward down
  true hem, waist
""",
    )
    look.conserved(piece)
    assert {str(item.label) for item in piece.openings} == {
        "right.waist_dart",
        "left.waist_dart",
        "right.flare",
        "left.flare",
        "drape",
    }


def test_a_traced_block_is_divided_and_joined(board, look, block):
    text = """
piece front
  trace "front.svg" edges waist, side, hem, centre
  line hip = on centre 18 cm from waist to on side 18 cm from waist
  divide along hip into yoke and skirt
piece yoke from front.yoke
piece whole from front.skirt
  join yoke.hip to hip
piece band
  facing on front.waist deep 4 cm
"""
    pieces = board.pattern(text, files={"front.svg": block.svg()}).pieces
    assert pieces["whole"].area == pytest.approx(pieces["front"].area, rel=1e-9)
    assert look.edge(pieces["band"], "base").length == pytest.approx(
        look.edge(pieces["front"], "waist").length
    )
