"""Measurements: body files, and rows of charts."""

from __future__ import annotations

import pytest

from oaktag.lang.diagnostics import Mistake
from oaktag.lang.project.body import Body, is_body, read_body
from oaktag.lang.project.chart import chart_body
from oaktag.lang.source import Source
from oaktag.lang.syntax.parse import parse


def body_of(text: str) -> Body:
    file, wrong = parse(Source("ines.oak", text))
    assert not wrong
    return read_body(file)


def wrong_in_body(*lines: str) -> list[str]:
    with pytest.raises(Mistake) as caught:
        body_of('body "Ines"\n' + "".join(f"  {line}\n" for line in lines))
    return [f"{one.code} {one.span.line if one.span else 0}" for one in caught.value.diagnostics]


def test_a_body() -> None:
    body = body_of(
        'body "Ines of the Quayside Players"\n'
        "  waist_girth = 71.5 cm\n  hip_girth = 38 1/2 in\n  inside_leg = 78 cm - 5 mm\n"
    )
    assert body.name == "Ines of the Quayside Players"
    assert body.values == {
        "waist_girth": (715, "cm"),
        "hip_girth": (pytest.approx(977.9), "in"),
        "inside_leg": (775, "cm"),
    }


def test_everything_wrong_with_a_body_is_said() -> None:
    assert wrong_in_body(
        "waist_girth = 71",
        "hip_girth = 0 cm",
        "waist_girth = 72 cm",
        "bust_girth = hip_girth + 2 cm",
        "neck_girth = 30 deg",
        "arm[1] = 60 cm",
        "arm_length = 60 cm + 3",
        "height = -3 cm",
        "crown = 3 cm * 4 cm",
    ) == [
        "missing-unit 2",
        "not-positive 3",
        "named-twice 4",
        "no-length 5",
        "wrong-kind 6",
        "no-index-here 7",
        "mixed-kinds 8",
        "not-positive 9",
        "wrong-kind 10",
    ]


def test_a_pattern_is_no_body() -> None:
    file, _ = parse(Source("skirt.oak", 'pattern "Skirt"\n'))
    assert not is_body(file)
    with pytest.raises(Mistake, match="begin with a `body` line"):
        read_body(file)


CHART = """\
# women, EN 13402-3
size,bust_girth [cm],waist_girth [ cm ],back_waist_length [in]
# a remark
38,88,72,16 1/4
"forty, long",92,76.5,16.5

40,92,76,33/2
"""


def wrong_in_chart(text: str, size: str = "38") -> list[str]:
    with pytest.raises(Mistake) as caught:
        chart_body(text, "women.csv", size)
    return [f"{one.code} {one.span.line if one.span else 0}" for one in caught.value.diagnostics]


def help_for(text: str, size: str = "38") -> str:
    with pytest.raises(Mistake) as caught:
        chart_body(text, "women.csv", size)
    return caught.value.diagnostics[0].help


@pytest.mark.parametrize("text", [CHART, "\ufeff" + CHART, CHART.replace("\n", "\r\n")])
def test_a_row_of_a_chart(text: str) -> None:
    body = chart_body(text, "women.csv", "38")
    assert body.name == "38"
    assert body.values == {
        "bust_girth": (880, "cm"),
        "waist_girth": (720, "cm"),
        "back_waist_length": (pytest.approx(412.75), "in"),
    }
    assert chart_body(text, "women.csv", " 40 ").values["back_waist_length"][0] == 16.5 * 25.4
    assert chart_body(text, "women.csv", "forty, long").values["waist_girth"] == (765, "cm")


def test_a_size_that_is_not_there() -> None:
    assert wrong_in_chart(CHART, "39") == ["unknown-size 0"]
    assert help_for(CHART, "39") == "there are `38`, `forty, long`, `40`"
    assert help_for(CHART, "medium") == "there are `38`, `forty, long`, `40`"
    assert help_for(CHART, "fort, long").startswith("choose `forty, long`; there are `38`, ")
    even = "size,waist_girth [cm]\n" + "".join(f"{n},{n}\n" for n in range(36, 52, 2))
    assert help_for(even, "37") == "there are the sizes 36, 38, …, 50"
    assert help_for(even.replace("38,38\n", ""), "37").startswith("there are `36`, `40`")
    many = "size,waist_girth [cm]\n" + "".join(f"s{n},{n}\n" for n in range(100, 150))
    assert help_for(many, "xxl").endswith("`s111`, …")


def test_what_can_be_wrong_with_a_chart() -> None:
    assert wrong_in_chart("") == ["empty 0"]
    assert wrong_in_chart("# nothing\n\n") == ["empty 0"]
    assert wrong_in_chart("size\n38\n") == ["no-columns 1"]
    assert wrong_in_chart("size;waist_girth [cm]\n38;72\n") == ["no-columns 1"]
    assert wrong_in_chart("size\twaist_girth [cm]\n38\t72\n") == ["no-columns 1"]
    assert wrong_in_chart("size,waist_girth\n38,72\n") == ["missing-unit 1"]
    assert wrong_in_chart("size,waist_girth [cn]\n38,72\n") == ["unknown-unit 1"]
    assert wrong_in_chart("size,waist girth [cm]\n38,72\n") == ["no-heading 1"]
    assert wrong_in_chart("size,,a [cm]\n38,72,3\n") == ["no-heading 1"]
    assert wrong_in_chart("size,a [cm],a [in]\n38,72,3\n") == ["named-twice 1"]
    assert wrong_in_chart("size,a [cm]\n38,72\n38,73\n") == ["named-twice 3"]
    assert wrong_in_chart("size,a [cm],b [cm]\n38,72\n") == ["empty-cell 2"]
    assert wrong_in_chart("size,a [cm],b [cm]\n38,,72\n") == ["empty-cell 2"]
    assert wrong_in_chart("size,a [cm]\n38,72,5\n") == ["too-many-cells 2"]
    assert wrong_in_chart('size,a [cm]\n38,"72,5"\n') == ["no-figure 2"]
    assert wrong_in_chart("size,a [cm]\n38,72 cm\n") == ["no-figure 2"]
    assert wrong_in_chart("size,a [cm]\n38,-72\n") == ["no-figure 2"]
    assert wrong_in_chart("size,a [cm]\n38,0\n") == ["no-figure 2"]
    assert wrong_in_chart("size,a [cm]\n38,1/0\n") == ["no-figure 2"]
    assert wrong_in_chart("size,a [cm]\n38,1e3\n") == ["no-figure 2"]
    # Another row's cells are no hindrance, and several mistakes are told together.
    assert chart_body("size,a [cm]\n36,\n38,72\n", "c", "38").values == {"a": (720, "cm")}
    assert wrong_in_chart("size,a,b [cm]\n38,x,\n") == [
        "missing-unit 1",
        "no-figure 2",
        "empty-cell 2",
    ]


def test_the_way_out_of_a_chart() -> None:
    assert "commas" in help_for("size;waist_girth [cm]\n38;72\n")
    assert help_for('size,a [cm]\n38,"72,5"\n') == "write it with a point: `72.5`"
    assert "point" in help_for("size,a [cm]\n38,72,5\n")
    assert help_for("size,a [cn]\n38,72\n").startswith("write `a [cm]`")
    assert "heading" in help_for("size,a [cm]\n38,72 cm\n")


@pytest.mark.parametrize(
    "text",
    ['size,"a [cm]\n38,72\n', '"', ",,,\n,,,", "a,b [cm]\n\0,3", "size,a [cm]\n38," + "9" * 5000],
)
def test_odd_charts_are_refused_in_words(text: str) -> None:
    assert wrong_in_chart(text)
