"""JSON, held against its schema and against the pattern."""

from __future__ import annotations

import json
import math
from importlib.resources import files
from typing import TYPE_CHECKING, Any

import jsonschema
import pytest
from shapely.geometry import LineString, Polygon

from oaktag.compiler.emit.json import as_json

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from tests.compiler.conftest import Board

SCHEMA = json.loads(
    (files("oaktag.compiler.emit") / "pattern.schema.json").read_text(encoding="utf-8")
)
PIECE_KEYS = [
    "name", "area", "outline", "edges", "darts", "marks", "grain", "cut_line", "cut", "steps",
]  # fmt: skip


def read(pattern: Pattern) -> dict[str, Any]:
    data = json.loads(as_json(pattern))
    jsonschema.Draft202012Validator(SCHEMA).validate(data)
    assert isinstance(data, dict)
    return data


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("name", ["ferry_pattern", "circle_pattern"])
def test_keys_stand_in_the_order_of_the_contract(name: str, request: pytest.FixtureRequest) -> None:
    data = read(request.getfixturevalue(name))
    assert list(data) == [
        "pattern", "measures", "choices", "pieces", "seams", "revision", "date",
        "bindings", "closures", "materials", "making",
    ]  # fmt: skip
    for piece in data["pieces"]:
        assert list(piece) == PIECE_KEYS
        for edge in piece["edges"]:
            assert list(edge) == ["name", "length", "sewn", "runs"]
            assert all(list(run) == ["role", "length", "points"] for run in edge["runs"])
        assert all(list(cut) == ["cloth", "count", "pair"] for cut in piece["cut"])
        for step in piece["steps"]:
            assert list(step) == ["verb", "line", "caption", "outline", "let_in", "cut_away"]


@pytest.mark.parametrize("name", ["ferry_pattern", "circle_pattern"])
def test_points_lie_within_a_hundredth(name: str, request: pytest.FixtureRequest) -> None:
    """The area between a polygon and its curve is less than 0.01 mm times its length."""
    pattern: Pattern = request.getfixturevalue(name)
    for piece in read(pattern)["pieces"]:
        ring = Polygon(piece["outline"])
        assert ring.is_valid
        assert abs(ring.area - piece["area"]) < 0.01 * ring.length
        assert piece["outline"][0] != piece["outline"][-1]
        around = sum(edge["length"] for edge in piece["edges"])
        assert ring.length == pytest.approx(around, rel=2e-4)
        for edge in piece["edges"]:
            runs = edge["runs"]
            assert sum(run["length"] for run in runs) == pytest.approx(edge["length"])
            sewn = sum(run["length"] for run in runs if run["role"] == "seam")
            assert sewn == pytest.approx(edge["sewn"], abs=1e-5)
            for run in runs:
                assert LineString(run["points"]).length == pytest.approx(run["length"], rel=2e-4)


def test_the_ferrywomans_skirt(ferry_pattern: Pattern) -> None:
    data = read(ferry_pattern)
    assert data["pattern"] == "Ferrywoman's skirt"
    assert data["measures"]["hip_girth"] == 960.0
    assert data["choices"] == {"length": 660.0, "drapes": 3, "depth": pytest.approx(114.3)}
    front, back = data["pieces"]
    assert front["cut"] == [{"cloth": "main", "count": 1, "pair": False}]
    assert back["cut"] == [{"cloth": "main", "count": 2, "pair": True}]
    assert Polygon(front["cut_line"]).contains(Polygon(front["outline"]))
    drapes = [dart for dart in front["darts"] if dart["name"].startswith("drape")]
    assert [drape["kind"] for drape in drapes] == ["pleat"] * 3
    assert [drape["intake"] for drape in drapes] == pytest.approx([114.3] * 3, abs=1e-6)
    spread = next(step for step in front["steps"] if len(step["let_in"]) == 3)
    assert spread["line"] == 26
    captions = [step["caption"] for step in front["steps"]]
    assert "close the right dart: the hem opens into an A-line" in captions
    left, right = data["seams"]
    assert left["first"] == [{"piece": "front", "edge": "left.side"}]
    assert right["second_sewn"] == pytest.approx(right["first_sewn"], abs=2.0)


def test_a_quarter_of_a_circle(circle_pattern: Pattern) -> None:
    """By hand: pi/4 (715² - 115²)."""
    data = read(circle_pattern)
    quarter, turned = data["pieces"]
    assert quarter["area"] == pytest.approx(math.pi / 4 * (715**2 - 115**2), abs=1e-3)
    assert turned["cut_line"] is None
    assert [mark["kind"] for mark in quarter["marks"]] == ["notch", "button", "text"]
    assert quarter["grain"] is not None


def test_drawn_lines_are_marks(board: Board) -> None:
    line = "  line hip = on centre 20 cm from waist to on side 20 cm from waist\n"
    data = read(board.pattern(board.panel + line))
    (mark,) = data["pieces"][0]["marks"]
    assert (mark["kind"], mark["name"], mark["length"]) == ("line", "hip", 400.0)
    assert mark["points"] == [[0.0, -200.0], [400.0, -200.0]]


def test_notches_tell_what_is_cut(board: Board) -> None:
    data = read(
        board.pattern(
            f"""{board.panel}  notch on side at 20 cm from waist double as v deep 4 mm
  notch on hem at 1/2
  drill at origin right 5 cm down 5 cm
allow 1 cm on panel
notches as castle
revision "B" date "in May"
"""
        )
    )
    assert (data["revision"], data["date"]) == ("B", "in May")
    pair, plain, hole = data["pieces"][0]["marks"]
    assert (pair["shape"], pair["width"], pair["depth"]) == ("v", 4.0, 4.0)
    assert pair["cuts"] == [
        [[410.0, -196.5], [406.0, -196.5]], [[410.0, -203.5], [406.0, -203.5]],
    ]  # fmt: skip
    assert (plain["shape"], plain["depth"]) == ("castle", 5.0)
    assert plain["cuts"] == [[[200.0, -610.0], [200.0, -605.0]]]
    assert (hole["shape"], hole["depth"], hole["cuts"]) == (None, None, [])


def test_yes_and_no_stay_so(board: Board) -> None:
    data = read(board.pattern(f"choose lined = yes\nchoose turn = 12 deg\n{board.panel}"))
    assert data["choices"] == {"lined": True, "turn": 12.0}


def test_what_is_bound_and_what_closes(board: Board) -> None:
    data = read(
        board.pattern(
            """
            piece back
              strip 30 cm by 60 cm
              section placket = start from on start 0 from top to on start 18 cm from top
            cut 2 back as pair in main
            # with ribbon
            bind back.top then back.top with 1 cm in trim
            sew back.start to back.start
            fasten back.placket with zip
            fasten back.end with ties length 30 cm
            """
        )
    )
    [binding] = data["bindings"]
    assert binding["edges"] == [{"piece": "back", "edge": "top"}] * 2
    assert (binding["sewn"], binding["width"], binding["cut_width"]) == (600.0, 10.0, 40.0)
    zipped, tied = data["closures"]
    assert (zipped["kind"], zipped["second"], zipped["opening"]) == ("zip", [], 180.0)
    assert (tied["kind"], tied["length"]) == ("ties", 300.0)
    needed = data["materials"]
    assert needed["cloths"][0]["area"] == 2 * 300.0 * 600.0
    assert needed["strips"][0]["length"] == 2 * 300.0 + 50.0
    assert needed["zips"] == [
        {"opening": "back.placket", "open": 180.0, "count": 1, "length": 180.0, "needed": None}
    ]
    assert needed["fastenings"][0]["each"] == 300.0
    made = data["making"]
    assert [(one["kind"], one["after"]) for one in made] == [
        ("seam", []),
        ("binding", [0]),  # it runs over the seam
        ("zip", [0]),
        ("ties", []),
    ]
    assert (made[1]["sentence"], made[1]["caption"]) == ("with ribbon", "with ribbon")
