"""The interchange form, read again by a reader of group codes a few lines long, and by ezdxf.

The six checks follow ASTM D6673-10, section 4.3, as public notes on it quote it: on every pattern
that comes with Oaktag and on the Players' wardrobe.
"""

from __future__ import annotations

import io
import itertools
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import ezdxf
import pytest
from shapely.geometry import LineString, Point, Polygon

from oaktag.compiler.emit.astm import astm
from oaktag.compiler.emit.astm.words import day
from oaktag.compiler.emit.errors import OutputError
from oaktag.compiler.finish.allowance import cut_line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oaktag.compiler.evaluate.pattern import Pattern
    from tests.compiler.conftest import Board
    from tests.conftest import Cutter

ROOT = Path(__file__).parents[3]
FILES = [
    *sorted((ROOT / "stdlib").rglob("*.oak")),
    ROOT / "examples" / "ferry" / "ferry.oak",
    ROOT / "examples" / "harbour" / "coat.oak",
    ROOT / "examples" / "lamplighter" / "jacket.oak",
    ROOT / "examples" / "lantern" / "skirt.oak",
]
WRITTEN = {"1", "2", "3", "4", "6", "7", "8", "13", "14", "15", "80", "81", "83"}
NOTCHES = {"4", "80", "81", "82", "83"}
NO_POLYLINE = {"5", "6", "7", "9", "10", "13"}
INCH = 25.4

Tags = list[tuple[int, str]]


class Entity(NamedTuple):
    kind: str
    layer: str
    tags: Tags

    def all(self, code: int) -> list[str]:
        return [value for own, value in self.tags if own == code]

    def figure(self, code: int) -> float:
        return float(self.all(code)[0])

    @property
    def at(self) -> tuple[str, str]:
        return self.all(10)[0], self.all(20)[0]


class Block(NamedTuple):
    name: str
    entities: list[Entity]

    def on(self, *layers: str) -> list[Entity]:
        return [entity for entity in self.entities if entity.layer in layers]

    def words(self, layer: str) -> list[str]:
        return [entity.all(1)[0] for entity in self.on(layer) if entity.kind == "TEXT"]

    def lines(self, *layers: str) -> list[tuple[str, list[tuple[str, str]], bool]]:
        """Layer and points of every polyline and line, and whether it is closed."""
        found: list[tuple[str, list[tuple[str, str]], bool]] = []
        for entity in self.entities:
            if entity.layer not in layers:
                continue
            if entity.kind == "POLYLINE":
                found.append((entity.layer, [], entity.all(70) == ["1"]))
            elif entity.kind == "VERTEX":
                found[-1][1].append(entity.at)
            elif entity.kind == "LINE":
                ends = [entity.at, (entity.all(11)[0], entity.all(21)[0])]
                found.append((entity.layer, ends, False))
        return found


class Read(NamedTuple):
    sections: list[str]
    style: list[str]
    blocks: list[Block]
    inserts: list[str]


def read(data: bytes) -> Read:
    """Fails for letters outside ASCII, a code without value, or an entity outside a section."""
    lines = data.decode("ascii").splitlines()
    assert len(lines) % 2 == 0
    pairs = [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    starts = [number for number, (code, _) in enumerate(pairs) if code == 0] + [len(pairs)]
    sections: list[str] = []
    style: list[str] = []
    blocks: list[Block] = []
    inserts: list[str] = []
    open_block = False
    for start, end in itertools.pairwise(starts):
        kind, tags = pairs[start][1], pairs[start + 1 : end]
        layer = next((value for code, value in tags if code == 8), "")
        entity = Entity(kind, layer, tags)
        if kind == "SECTION":
            sections.append(tags[0][1])
        elif kind in ("ENDSEC", "EOF"):
            assert not open_block
        elif kind == "BLOCK":
            open_block = True
            blocks.append(Block(entity.all(2)[0], []))
        elif kind == "ENDBLK":
            open_block = False
        elif open_block:
            blocks[-1].entities.append(entity)
        elif kind == "INSERT":
            inserts.append(entity.all(2)[0])
        else:
            assert (sections[-1], kind, layer) == ("ENTITIES", "TEXT", "1")
            style.append(entity.all(1)[0])
    assert pairs[-1] == (0, "EOF")
    return Read(sections, style, blocks, inserts)


def numbers(points: Sequence[tuple[str, str]]) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in points]


@pytest.fixture(scope="module", params=FILES, ids=lambda path: path.stem + "_" + path.parent.stem)
def drawn(request: pytest.FixtureRequest, cutter: Cutter) -> Pattern:
    return cutter.draw_all(request.param, cutter.size("4"))


@pytest.fixture(scope="module", params=["metric", "english"])
def units(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_the_six_checks(drawn: Pattern, units: str) -> None:
    data, _ = astm(drawn, "size 4", units)
    found = read(data)
    # 1: the sections, and no tables; `read` has seen the pairs and the letters.
    assert found.sections == ["HEADER", "BLOCKS", "ENTITIES"]
    assert {f"Units: {units.upper()}", "Sample Size: 4", "Grade Rule Table:"} <= set(found.style)
    # 2: blocks, inserts, one closed boundary and a name each.
    assert found.inserts == [block.name for block in found.blocks]
    assert len({block.name.casefold() for block in found.blocks}) == len(found.blocks)
    places = 4 if units == "english" else 2
    for block in found.blocks:
        assert len(block.name) <= 20 and " " not in block.name
        assert {entity.layer for entity in block.entities} <= WRITTEN
        assert [closed for _, _, closed in block.lines("1")] == [True]
        assert sum(words.startswith("Piece Name: ") for words in block.words("1")) == 1
        check_points(block)
        check_notches(block, units)
        # 5: the grain is a line, and no polyline is where none may be.
        assert all(entity.kind == "LINE" for entity in block.on("6", "7"))
        assert not any(entity.kind == "POLYLINE" for entity in block.on(*NO_POLYLINE))
        for entity in block.entities:
            for code in (10, 20, 11, 21, 39):
                assert all(len(value.partition(".")[2]) == places for value in entity.all(code))


def check_points(block: Block) -> None:
    """3: every point on 2 and 3 is one of 1, 8, 11 or 14, and every one of these is on 2 or 3."""
    vertices = {point for _, points, _ in block.lines("1", "8", "11", "14") for point in points}
    turns, curves = ({entity.at for entity in block.on(layer)} for layer in "23")
    assert turns | curves == vertices
    # No piece is without corners, and what is closed repeats no point.
    assert turns
    for _, points, closed in block.lines("1", "14"):
        assert closed and points[0] != points[-1]
        assert all(a != b for a, b in itertools.pairwise(points))


def check_notches(block: Block, units: str) -> None:
    """4: on the boundary, within 0.01 mm, as deep as z says, and cut into the piece."""
    scale = INCH if units == "english" else 1.0
    boundary = Polygon(numbers(block.lines("1")[0][1]))
    assert boundary.is_valid
    for notch in block.on(*NOTCHES):
        assert notch.kind == "POINT"
        place = Point(*numbers([notch.at])[0])
        assert boundary.exterior.distance(place) * scale <= 0.01
        deep, angle = notch.figure(30), notch.figure(50)
        assert deep > 0
        inward = ezdxf.math.Vec2.from_deg_angle(angle, 1.0 / scale)
        assert boundary.contains(Point(place.x + inward.x, place.y + inward.y))


def test_millimetres_and_inches_are_the_same_points(drawn: Pattern) -> None:
    """6: apart by no more than half the last figure of each, 0.005 mm and 0.00005 in."""
    metric, english = (read(astm(drawn, "", units)[0]) for units in ("metric", "english"))
    away = 0.005 + 0.00005 * INCH + 1e-9
    for first, second in zip(metric.blocks, english.blocks, strict=True):
        assert [e[:2] for e in first.entities] == [e[:2] for e in second.entities]
        for one, other in zip(first.entities, second.entities, strict=True):
            for code in (10, 20, 30, 11, 21, 39):
                mm = [float(value) for value in one.all(code)]
                inches = [float(value) * INCH for value in other.all(code)]
                assert inches == pytest.approx(mm, rel=0, abs=away)
            assert one.all(50) == other.all(50)


def test_ezdxf_reads_it(drawn: Pattern, units: str) -> None:
    """The audit, and the length of every cut line and seam line within 0.05 mm a metre.

    The ends of every side are rounded too: by half a hundredth of a millimetre each.
    """
    data, _ = astm(drawn, "", units)
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert document.dxfversion == "AC1009"
    scale = INCH if units == "english" else 1.0
    blocks = {text.dxf.text: block for block in document.blocks for text in block.query("TEXT")}
    for piece in drawn.made:
        block = blocks[f"Piece Name: {piece.name}"]
        around = cut_line(piece, drawn.allowances)
        expected = {"1": piece.outline} if around is None else {"1": around, "14": piece.outline}
        found = {line.dxf.layer: line for line in block.query("POLYLINE") if line.is_closed}
        assert set(found) - {"8"} == set(expected)
        for layer, path in expected.items():
            points = [(place.x * scale, place.y * scale) for place in found[layer].points()]
            corners = sum(point.dxf.layer == "2" for point in block.query("POINT"))
            ring = LineString([*points, points[0]])
            assert ring.length == pytest.approx(path.length, rel=5e-5, abs=0.005 * corners)
            for share in range(200):
                place = path.point_at(path.length * share / 200)
                assert ring.distance(Point(place.real, place.imag)) < 0.0125


# ---------------------------------------------------------------- what is said of a piece


def block_of(board: Board, text: str, name: str = "panel") -> tuple[Block, Read]:
    found = read(astm(board.pattern(text), "")[0])
    return next(block for block in found.blocks if block.name == name), found


def test_how_often_and_in_which_cloth_it_is_cut(board: Board) -> None:
    text = f"{board.panel}\ncut 2 panel as pair in main\ncut 1 panel in lining\n"
    first, found = block_of(board, text)
    second = next(block for block in found.blocks if block.name == "panel_lining")
    assert first.words("1") == ["Piece Name: panel", "Quantity: 1,1", "Material: main"]
    assert second.words("1") == ["Piece Name: panel lining", "Quantity: 1,0", "Material: lining"]
    assert first.lines("1", "8", "14") == second.lines("1", "8", "14")


def test_a_piece_that_nobody_orders_says_its_name_only(board: Board) -> None:
    block, _ = block_of(board, board.panel)
    assert block.words("1") == ["Piece Name: panel"]


def test_a_piece_on_the_fold_is_a_half_with_a_mirror_line(board: Board) -> None:
    """The mirror line reaches as far as the cloth: 60 cm and 1.5 cm above and below."""
    block, _ = block_of(board, f"{board.panel}  fold on centre\nallow 1.5 cm on panel\n")
    (mirror,) = block.on("6")
    assert {mirror.at, (mirror.all(11)[0], mirror.all(21)[0])} == {
        ("0.00", "-615.00"),
        ("0.00", "15.00"),
    }
    ((_, boundary, _),) = block.lines("1")
    assert min(float(x) for x, _ in boundary) == 0.0


def test_two_folds_are_warned_of(board: Board) -> None:
    pattern = board.pattern(f"{board.panel}  fold on centre\n  fold on waist\n")
    data, warnings = astm(pattern)
    assert len(read(data).blocks[0].on("6")) == 2
    assert any("lies on 2 folds" in warning for warning in warnings)


@pytest.mark.parametrize(
    ("shape", "layer", "width"),
    [
        ("slit", "4", 0.0),
        ("v", "4", 4.0),
        ("t", "80", 3.2),
        ("castle", "81", 4.0),
        ("u", "83", 3.2),
    ],
)
def test_notches_by_shape_with_depth_width_and_angle(
    board: Board, shape: str, layer: str, width: float
) -> None:
    """On the left edge of the cloth, 1 cm from the seam; cut to the right."""
    text = (
        f"{board.panel}  notch on centre at 20 cm from waist as {shape} deep 4 mm\n"
        "allow 1 cm on panel\n"
    )
    block, _ = block_of(board, text)
    (notch,) = block.on(*NOTCHES)
    assert (notch.layer, notch.at) == (layer, ("-10.00", "-200.00"))
    figures = [notch.figure(code) for code in (30, 39, 50)]
    assert figures == pytest.approx([4.0, width, 0.0])


def test_drill_holes_grain_words_and_lines(board: Board) -> None:
    text = f"""{board.panel}\
  line across = on centre 20 cm from waist to on side 20 cm from waist
  grain along centre
  drill at origin right 10 cm down 30 cm
  text "second act" at origin right 20 cm down 40 cm
"""
    block, _ = block_of(board, text)
    assert [point.at for point in block.on("13")] == [("100.00", "-300.00")]
    (grain,) = block.on("7")
    assert (grain.kind, grain.at[0]) == ("LINE", grain.all(11)[0])
    assert ("8", [("0.00", "-200.00"), ("400.00", "-200.00")], False) in block.lines("8")
    assert "second act" in block.words("15")


def test_corners_are_turn_points_and_smooth_joints_are_curve_points(board: Board) -> None:
    """The quarter has four corners; the hip, where its side runs out straight, is none."""
    block, _ = block_of(board, board.quarter, "quarter")
    turns = Counter(entity.at for entity in block.on("2"))
    corners = [("0.00", "0.00"), ("210.00", "12.00"), ("250.00", "-600.00"), ("0.00", "-600.00")]
    hip_line = [("0.00", "-200.00"), ("250.00", "-200.00")]
    assert turns == Counter([*corners, *hip_line])
    ((_, boundary, _),) = block.lines("1")
    assert set(boundary) - set(corners) == {entity.at for entity in block.on("3")} | {hip_line[1]}


def test_a_small_corner_that_smoothing_would_move_is_a_turn_point(board: Board) -> None:
    """Two straight lines of 300 mm that meet at 2.9 degrees: rounded, off by 1.9 mm."""
    text = """
piece panel
  a = origin
  b = a right 40 cm
  c = b down 30 cm
  d = c down 30 cm right 1.5 cm
  e = a down 60 cm
  outline
    top = a to b
    side = b to c, to d
    foot = d to e
    back = e to a
"""
    block, _ = block_of(board, text)
    assert ("400.00", "-300.00") in {entity.at for entity in block.on("2")}
    assert block.on("3") == []


# ---------------------------------------------------------------- words


def test_letters_the_form_has_not_are_written_plainly_and_told(board: Board) -> None:
    text = f'pattern "Fährmannsrock für Übermorgen"\n{board.panel}\ncut 1 panel in Wollköper\n'
    data, warnings = astm(board.pattern(text), "Ines Ågren")
    found = read(data)
    assert found.style[0] == "Style Name: Fahrmannsrock fur"
    assert "Sample Size: Ines Agren" in found.style
    assert "Material: Wollkoper" in found.blocks[0].words("1")
    assert "`Wollköper` is written `Wollkoper`: the ASTM form has plain letters only" in warnings
    assert any("has 20 letters for the name of a style" in warning for warning in warnings)


def test_pieces_whose_names_become_alike_stay_apart(board: Board) -> None:
    names = ["ärmel", "armel", "a_very_long_name_of_a_piece", "a_very_long_name_of_another"]
    text = "".join(f"piece {name}\n  strip 10 cm by 20 cm\n" for name in names)
    found = read(astm(board.pattern(text))[0])
    assert [block.name for block in found.blocks] == [
        "armel", "armel_2", "a_very_long_name_of_", "a_very_long_name_o_2",
    ]  # fmt: skip
    said = [word for block in found.blocks for word in block.words("1") if "Name" in word]
    assert len(set(said)) == 4


def test_words_of_which_nothing_remains_are_refused(board: Board) -> None:
    pattern = board.pattern(f'pattern "\u2800\u2800"\n{board.panel}')
    with pytest.raises(OutputError, match="plain letters only") as refused:
        astm(pattern)
    assert "a to z" in refused.value.help


def test_signs_that_dxf_reads_as_commands_are_defused(board: Board) -> None:
    text = f'{board.panel}  text "50%%d ^J 衣装" at origin right 20 cm down 40 cm\n'
    block, _ = block_of(board, text)
    assert "50% %d J YiZhuang" in block.words("15")


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("20 November 2026", "20-11-2026"),
        ("3 sept. 2026", "03-09-2026"),
        ("3. Mar 2026", "03-03-2026"),
        ("20.11.2026", "20-11-2026"),
        ("2026-11-20", "20-11-2026"),
        ("4/5/2026", ""),
        ("3 ma 2026", ""),
        ("winter", ""),
        ("41.11.2026", ""),
        ("", ""),
    ],
)
def test_dates(written: str, said: str) -> None:
    assert day(written) == said


def test_the_date_is_the_files_own_or_none(board: Board) -> None:
    dated = f'pattern "T"\nrevision "3" date "20 November 2026"\n{board.panel}'
    assert "Creation Date: 20-11-2026" in block_of(board, dated)[1].style
    assert not any("Creation" in line for line in block_of(board, board.panel)[1].style)


WRITE = """
import sys
from oaktag.compiler.emit.astm import astm
from oaktag.compiler.evaluate import evaluate
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
program = load(sys.argv[1], DiskFiles(sys.argv[1]))
sys.stdout.buffer.write(astm(evaluate(program).pattern)[0])
slow = {"shapely", "numpy", "ezdxf"} & set(sys.modules)
assert not slow, slow
"""


def test_the_same_bytes_in_any_process() -> None:
    made = set()
    for seed in ("0", "1"):
        done = subprocess.run(
            [sys.executable, "-c", WRITE, str(ROOT / "examples" / "ferry" / "ferry.oak")],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        )
        made.add(done.stdout)
    assert len(made) == 1
