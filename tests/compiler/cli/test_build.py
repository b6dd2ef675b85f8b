"""`oaktag build`."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

# A panel with a slit of 2 cm, whose sides are too near for an allowance of 3 cm.
SLIT = """\
pattern "Slit"
piece panel
  a = origin
  b = a right 10 cm
  c = b up 10 cm
  d = c right 2 cm
  e = d down 10 cm
  f = e right 10 cm
  g = f up 20 cm
  h = a up 20 cm
  outline
    left_foot = a to b
    left_slit = b to c
    top_slit = c to d
    right_slit = d to e
    right_foot = e to f
    right_side = f to g
    top = g to h
    left_side = h to a
  grain along left_side
allow 1 cm on panel
allow 3 cm on panel.left_slit, panel.right_slit
"""


def files(folder: str = "out") -> list[str]:
    return sorted(path.name for path in Path(folder).iterdir())


def test_writes_and_tells(oaktag: Callable[..., Result]) -> None:
    result = oaktag("build", "panel.oak", "-o", "plots/today", "--to", "svg,dxf,json")
    assert result.exit_code == 0
    assert files("plots/today") == ["panel.dxf", "panel.json", "panel.svg"]
    assert result.stdout == (
        "Panel\n"
        "\n"
        "panel: 10 cm wide, 20 cm high, 200 cm²\n"
        "  waist   10 cm, 8.4 cm sewn\n"
        "  side    20 cm\n"
        "  hem     10 cm\n"
        "  centre  20 cm\n"
        "\n"
        "wrote plots/today/panel.svg\n"
        "wrote plots/today/panel.dxf\n"
        "wrote plots/today/panel.json\n"
    )
    assert b"<svg" in Path("plots/today/panel.svg").read_bytes()
    data = json.loads(Path("plots/today/panel.json").read_bytes())
    assert data["pieces"][0]["area"] == pytest.approx(20_000)


def test_svg_into_out_if_nothing_is_said(oaktag: Callable[..., Result]) -> None:
    assert oaktag("build", "panel.oak").exit_code == 0
    assert files() == ["panel.svg"]


def test_inches_are_told_in_inches(oaktag: Callable[..., Result]) -> None:
    text = Path("panel.oak").read_text(encoding="utf-8")
    for metric, inches in (("80 cm", "32 in"), ("20 cm", "8 in"), ("10 cm", "4 in")):
        text = text.replace(metric, inches)
    for metric, inches in (("40 cm", "16 in"), ("1.6 cm", "5/8 in"), ("8 cm", "3 in")):
        text = text.replace(metric, inches)
    Path("inches.oak").write_text(text, encoding="utf-8")
    told = oaktag("build", "inches.oak").stdout
    assert "panel: 4 in wide, 8 in high, 32 in²\n" in told
    assert "  waist   4 in, 3 3/8 in sewn\n" in told


def test_made_for_a_body(oaktag: Callable[..., Result]) -> None:
    told = oaktag("build", "panel.oak", "--body", "body.oak").stdout
    assert told.startswith("Panel, for Ines Fell\n")
    assert "12 cm wide" in told
    assert "Ines Fell" in Path("out/panel-body.svg").read_text(encoding="utf-8")


def test_two_sizes_do_not_overwrite_each_other(oaktag: Callable[..., Result]) -> None:
    oaktag("build", "panel.oak")
    for size in ("small", "large"):
        told = oaktag("build", "panel.oak", "--chart", "chart.csv", "--size", size).stdout
        assert f"wrote out/panel-size-{size}.svg\n" in told
    oaktag("build", "panel.oak", "--body", "body.oak", "--to", "svg", "--to", "json")
    assert files() == [
        "panel-body.json",
        "panel-body.svg",
        "panel-size-large.svg",
        "panel-size-small.svg",
        "panel.svg",
    ]


def test_a_size_with_a_stroke_in_it_stays_in_the_folder(oaktag: Callable[..., Result]) -> None:
    Path("chart.csv").write_text("size,waist_girth [cm]\n../38/40,88\n", encoding="utf-8")
    oaktag("build", "panel.oak", "--chart", "chart.csv", "--size", "../38/40")
    assert files() == ["panel-size-38-40.svg"]


def test_an_unfolded_edge_is_whole(oaktag: Callable[..., Result]) -> None:
    text = Path("panel.oak").read_text(encoding="utf-8")
    text = text.replace(
        "\ncut 2 panel as pair", "  unfold along centre into right and left\ncut 1 panel"
    )
    Path("whole.oak").write_text(text, encoding="utf-8")
    told = oaktag("build", "whole.oak").stdout
    assert "panel: 20 cm wide, 20 cm high, 400 cm²\n" in told
    assert [line.split("  ")[1] for line in told.splitlines() if line.startswith("  ")] == [
        "waist",
        "right.side",
        "hem",
        "left.side",
    ]
    assert "20 cm, 16.8 cm sewn" in told


def test_nothing_is_written_if_anything_is_wrong(oaktag: Callable[..., Result]) -> None:
    result = oaktag("build", "broken.oak", "--to", "svg,dxf,json")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.splitlines()[-1] == "broken.oak: 2 errors; nothing is written"
    assert not Path("out").exists()


@pytest.mark.parametrize(
    "command",
    [("check",), *(("build", "--to", name) for name in ("svg", "json", "html"))],
)
def test_an_allowance_that_finds_no_room(
    oaktag: Callable[..., Result], command: tuple[str, ...]
) -> None:
    Path("slit.oak").write_text(SLIT, encoding="utf-8")
    result = oaktag(*command, "slit.oak")
    assert result.exit_code == 1
    assert "slit.oak:22" in result.output
    assert "allowance of 3 cm" in result.output
    assert not Path("out").exists()


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("panel.oak", "--to", "svg,pln"), "there is no output `pln`; there are svg, dxf, json"),
        (("panel.oak", "--to", ""), "there is no output"),
        (("body.oak",), "body.oak is a body"),
        (("panel.oak", "-o", "body.oak"), "body.oak"),
        (("panel.oak", "-o", "body.oak/deeper"), "body.oak"),
        ((), "FILE"),
        (("panel.oak", "-o", "x" * 300), "the name is too long"),
    ],
)
def test_calls_that_are_wrong(
    oaktag: Callable[..., Result], given: tuple[str, ...], words: str
) -> None:
    before = sorted(Path().rglob("*"))
    result = oaktag("build", *given)
    assert result.exit_code == 2
    assert words in result.stderr
    assert result.stdout == ""
    assert sorted(Path().rglob("*")) == before


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is forbidden to the superuser")
def test_a_folder_that_may_not_be_written(oaktag: Callable[..., Result]) -> None:
    Path("out").mkdir(mode=0o555)
    result = oaktag("build", "panel.oak")
    assert result.exit_code == 2
    assert "permissions" in result.stderr


def test_an_older_output_survives_a_failure(oaktag: Callable[..., Result]) -> None:
    oaktag("build", "panel.oak", "--to", "svg")
    before = Path("out/panel.svg").read_bytes()
    Path("out/panel.dxf").mkdir()
    result = oaktag("build", "panel.oak", "--to", "svg,dxf", "--set", "depth=30 cm")
    assert result.exit_code == 2
    assert "`out/panel.dxf` is a folder" in result.stderr
    assert Path("out/panel.svg").read_bytes() == before
    assert files() == ["panel.dxf", "panel.svg"]


def test_the_same_bytes_in_any_process(project: Path) -> None:
    made = []
    call = [sys.executable, "-m", "oaktag.compiler", "build", str(project / "panel.oak")]
    for seed, out in (("1", "first"), ("2", "second")):
        subprocess.run(
            [*call, "--to", "svg,dxf,json,pdf,plt,astm", "--roll", "36 in", "-o", out],
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": f"UTC-{seed}"},
            capture_output=True,
            check=True,
        )
        made.append({name: (Path(out) / name).read_bytes() for name in files(out)})
    assert made[0] == made[1]
    assert len(made[0]) == 6
    assert all(str(project).encode() not in data for data in made[0].values())
