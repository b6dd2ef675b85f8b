"""What the settings file says about outputs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.cli.build import build
from oaktag.compiler.cli.wishes import WISHES

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

CUTTER = """\
language = 1

[build]
to = "json"

[outputs.cutter]   # the one in the scene shop
to = ["svg", "dxf"]
laser = true

[outputs.quick]
laser = false
"""


def settings(text: str) -> None:
    Path("oaktag.toml").write_text(text, encoding="utf-8")


def written(result: Result) -> list[str]:
    assert result.exit_code == 0, result.output
    return [line[6:] for line in result.stdout.splitlines() if line.startswith("wrote ")]


def test_outputs_by_name(oaktag: Callable[..., Result]) -> None:
    settings(CUTTER)
    made = written(oaktag("build", "panel.oak", "--as", "cutter"))
    assert made == ["out/panel.svg", "out/panel.dxf"]
    text = Path("out/panel.svg").read_text(encoding="utf-8")
    assert "<text" not in text


def test_what_the_project_always_wants(oaktag: Callable[..., Result]) -> None:
    settings(CUTTER)
    assert written(oaktag("build", "panel.oak")) == ["out/panel.json"]
    assert written(oaktag("build", "panel.oak", "--as", "quick")) == ["out/panel.json"]


def test_the_call_wins(oaktag: Callable[..., Result]) -> None:
    """What the settings wish for formats that are not made now is left out."""
    settings(CUTTER)
    made = written(oaktag("build", "panel.oak", "--as", "cutter", "--to", "json"))
    assert made == ["out/panel.json"]


def test_a_project_is_the_nearest_folder_upward(oaktag: Callable[..., Result]) -> None:
    settings(CUTTER)
    Path("deep/deeper").mkdir(parents=True)
    Path("panel.oak").rename("deep/deeper/panel.oak")
    assert written(oaktag("build", "deep/deeper/panel.oak")) == ["out/panel.json"]


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("[build]\nto = 'svg'\n\npapper = 'a4'\n", 4, "`papper` means nothing here"),
        ("[bild]\nto = 'svg'\n", 1, "did you mean `build`?"),
        ("[build]\nto = 'svg, pln'\n", 2, "there is no output `pln`"),
        ("[build]\nto = 4\n", 2, "there is no output `4`"),
        ("[build]\nto = true\n", 2, "stands between quotes"),
        ("[build]\nlaser = 'yes'\n", 2, "`laser` is `true` or `false`, without quotes"),
        ("[build]\n[outputs.a]\nto = 'json'\nlaser = true\n", 4, "`laser` is for svg and dxf"),
        ("[outputs.a]\nto = 'svg'\n[outputs.b]\nengrave = true\nto = 'svg'\n", 4, "goes with"),
        ("[outputs.a]\nto = 'svg'\n[outputs.'b c']\nto = 'x'\n", 4, "there is no output `x`"),
        ("build = 1\n", 1, "`build` is no table"),
        ("[outputs]\na = 1\n", 2, "`outputs.a` is no table"),
        ("outputs = 1\n", 1, "`outputs` is no table"),
        ("outputs = { a = { to = 'x' } }\n", 1, "there is no output `x`"),
        ("[build\nto = 'svg'\n", 1, "cannot be read"),
        ("[build]\nto = 'svg'\nto = 'dxf'\n", 3, "cannot be read"),
        ("[build]\nto = “svg”\n", 2, "cannot be read"),
        ("[build]\nto = 'svg", 2, "cannot be read"),
        ("a = " + "[" * 5000, 1, "cannot be read"),
    ],
)
def test_settings_that_are_wrong(
    oaktag: Callable[..., Result], text: str, line: int, words: str
) -> None:
    settings(text)
    result = oaktag("build", "panel.oak")
    assert result.exit_code == 2
    assert f"oaktag.toml:{line}\n" in result.stderr
    assert words in result.stderr
    assert not Path("out").exists()


def test_all_that_is_wrong_is_told_at_once(oaktag: Callable[..., Result]) -> None:
    settings("[build]\nto = 'x'\nlaser = 1\n[outputs.a]\nb = 1\n")
    told = oaktag("build", "panel.oak").stderr
    assert told.count("error: ") == 3


@pytest.mark.parametrize(
    ("text", "name", "words"),
    [
        (CUTTER, "cuter", "did you mean `cutter`?"),
        (CUTTER, "zzz", "there are `cutter`, `quick`"),
        ("", "copyshop", "write `[outputs.copyshop]` into it"),
    ],
)
def test_outputs_nobody_knows(
    oaktag: Callable[..., Result], text: str, name: str, words: str
) -> None:
    settings(text)
    result = oaktag("build", "panel.oak", "--as", name)
    assert result.exit_code == 2
    assert words in result.stderr


def test_settings_that_are_no_text(oaktag: Callable[..., Result]) -> None:
    Path("oaktag.toml").write_bytes(b"\xff\xfe\0")
    assert oaktag("build", "panel.oak").exit_code == 2
    Path("oaktag.toml").unlink()
    Path("oaktag.toml").mkdir()
    result = oaktag("build", "panel.oak")
    assert result.exit_code == 2
    assert "oaktag.toml is a folder" in result.stderr


def test_without_a_project(oaktag: Callable[..., Result]) -> None:
    Path("oaktag.toml").unlink()
    assert written(oaktag("build", "panel.oak")) == ["out/panel.svg"]
    result = oaktag("build", "panel.oak", "--as", "copyshop")
    assert result.exit_code == 2
    assert "oaktag.toml" in result.stderr


def test_every_option_can_stand_in_the_settings() -> None:
    options = {name for parameter in build.params for name in parameter.opts}
    assert {f"--{name}" for name in WISHES} <= options


def test_all_formats_at_once(oaktag: Callable[..., Result]) -> None:
    made = written(
        oaktag("build", "panel.oak", "--to", "svg,dxf,json,pdf,plt,astm", "--roll", "36 in")
    )
    names = ["panel.svg", "panel.dxf", "panel.json", "panel.pdf", "panel.plt", "panel-astm.dxf"]
    assert made == [f"out/{name}" for name in names]


def test_the_plotters_roll_and_the_printers_paper(oaktag: Callable[..., Result]) -> None:
    settings("[build]\nto = 'pdf'\npaper = 'letter'\noverlap = '1 cm'\n")
    call = ("--to", "pdf,plt", "--roll", "36 in", "--paper", "a4")
    assert written(oaktag("build", "panel.oak", *call)) == ["out/panel.pdf", "out/panel.plt"]
    # Sheets of the project's own print are not meant where the call asks for a roll.
    assert written(oaktag("build", "panel.oak", "--roll", "36 in")) == ["out/panel.pdf"]


def test_a_plot_tells_how_it_lies(oaktag: Callable[..., Result]) -> None:
    told = oaktag("build", "panel.oak", "--to", "plt", "--roll", "914mm").stdout
    assert "of a roll 91.4 cm wide, in one frame" in told
    assert "without drawing; in the order of the sheet it would be" in told


def test_an_old_plotter_gets_a_file_for_each_frame(oaktag: Callable[..., Result]) -> None:
    call = ("--to", "plt", "--roll", "914mm", "--old-hpgl", "--frame", "15cm")
    made = written(oaktag("build", "panel.oak", *call))
    assert made == ["out/panel-1.plt", "out/panel-2.plt"]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (("--to", "json", "--laser"), "`--laser` is for svg and dxf, and what is made is json"),
        (("--engrave",), "`--engrave` goes with `--laser`"),
        (("--to", "svg", "--roll", "914mm"), "`--roll` is for pdf and plt"),
        (("--to", "plt"), "`plt` needs to know how wide the roll is: give `--roll`"),
        (("--to", "pdf", "--portrait", "--landscape"), "cannot both be meant"),
        (("--to", "pdf", "--paper", "a4", "--roll", "914mm"), "cannot both be meant"),
        (("--to", "pdf", "--projector", "--margin", "1cm"), "`--margin` means nothing together"),
        (("--to", "pdf", "--roll", "914mm", "--overlap", "1cm"), "`--overlap` means nothing"),
        (("--to", "pdf", "--paper", "a11"), "there is no paper `a11`"),
        (("--to", "pdf", "--margin", "9"), "`9` has no unit: write `9mm` or `9in`"),
        (("--to", "pdf", "--margin", "12 deg"), "`12 deg` is no length: lengths are in mm"),
        (("--to", "pdf", "--margin", "ten mm"), "`ten mm` is no length"),
        (("--to", "pdf", "--margin", "10 cmm"), "`10 cmm` is no length"),
        (("--to", "pdf", "--margin=-1cm"), "is no length"),
        (("--to", "plt", "--roll", "0mm"), "`0mm` leaves no paper"),
        (("--to", "plt", "--roll", "5000 m"), "more than any paper has"),
        (("--to", "plt", "--roll", "1m", "--pens", "cut=0"), "`0` is no pen"),
        (("--to", "plt", "--roll", "1m", "--pens", "cutt=1"), "the kinds are cut, seam, marks"),
        (("--to", "plt", "--roll", "1m", "--pens", "cut=1,cut=2"), "`cut` is given two pens"),
        (("--to", "dxf", "--curves", "round"), "`round` is not one of polylines, splines"),
        (("--to", "astm", "--units", "feet"), "`feet` is not one of metric, english"),
        (("--to", "plt", "--roll", "7cm"), "the test square is 10 cm wide"),
        (("--to", "plt", "--roll", "20cm", "--margin", "10cm"), "leave nothing of a roll of 20 cm"),
        (("--to", "pdf", "--margin", "10cm"), "margins of 10 cm leave"),
    ],
)
def test_wishes_that_mean_nothing(
    oaktag: Callable[..., Result], call: tuple[str, ...], words: str
) -> None:
    result = oaktag("build", "panel.oak", *call)
    assert result.exit_code == 2
    assert words in result.stderr
    assert not Path("out").exists()
