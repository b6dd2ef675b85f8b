"""What the settings file says about outputs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.cli.build import build
from oaktag.compiler.cli.persons import GIVEN
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


UNDERSTUDY = """\
[build]
body = "body.oak"
set = ["tucks = 3", "depth = 24 cm"]

[outputs.understudy]
out = "prints/understudy"
chart = "chart.csv"
size = "large"
set = { depth = "30 cm" }

[outputs.child]
chart = "en13402_women"
"""


def test_a_preset_is_for_somebody_in_a_folder_of_its_own(oaktag: Callable[..., Result]) -> None:
    settings(UNDERSTUDY)
    made = oaktag("build", "panel.oak")
    assert made.stdout.splitlines()[:2] == ["Panel, for Ines Fell", "set: depth 24 cm, tucks 3"]
    assert written(made) == ["out/panel-body.svg"]
    made = oaktag("build", "panel.oak", "--as", "understudy")
    assert made.stdout.splitlines()[:2] == ["Panel, for size large", "set: depth 30 cm, tucks 3"]
    assert written(made) == ["prints/understudy/panel-size-large.svg"]
    made = oaktag("build", "panel.oak", "--as", "child", "--size", "2")
    assert written(made) == ["out/panel-size-2.svg"]


def test_the_call_wins_over_whom_a_preset_is_for(oaktag: Callable[..., Result]) -> None:
    settings(UNDERSTUDY)
    call = ("--as", "understudy", "--body", "body.oak", "--set", "depth=12 cm", "-o", "here")
    made = oaktag("build", "panel.oak", *call)
    assert made.stdout.splitlines()[:2] == ["Panel, for Ines Fell", "set: depth 12 cm, tucks 3"]
    assert written(made) == ["here/panel-body.svg"]
    made = oaktag("build", "panel.oak", "--chart", "chart.csv", "--size", "small")
    assert written(made) == ["out/panel-size-small.svg"]


def test_paths_of_the_settings_are_reached_from_their_file(
    oaktag: Callable[..., Result], monkeypatch: pytest.MonkeyPatch
) -> None:
    settings(UNDERSTUDY)
    Path("deep").mkdir()
    monkeypatch.chdir("deep")
    made = written(oaktag("build", "../panel.oak", "--as", "understudy"))
    assert made == ["../prints/understudy/panel-size-large.svg"]
    assert Path("../prints/understudy/panel-size-large.svg").exists()


def test_what_is_not_built_is_asked_for_somebody_too(oaktag: Callable[..., Result]) -> None:
    """By name only: without one, the settings are those of `build`."""
    settings(UNDERSTUDY)
    ask = ("ask", "panel.oak", "length(panel.side)")
    assert oaktag(*ask).stdout == "20 cm\n"
    assert oaktag(*ask, "--as", "understudy").stdout == "30 cm\n"
    assert oaktag(*ask, "--as", "understudy", "--set", "depth=11 cm").stdout == "11 cm\n"
    assert oaktag("check", "panel.oak", "--as", "understudi").exit_code == 2
    assert oaktag("check", "panel.oak", "--as", "child").exit_code == 2  # no size is said


def test_a_choice_that_a_pattern_lacks_is_told(oaktag: Callable[..., Result]) -> None:
    settings("[build]\nset = ['lenght = 4 cm']\n")
    result = oaktag("build", "panel.oak")
    assert result.exit_code == 2
    assert "no choice or measure `lenght`" in result.stderr


def test_a_project_is_the_nearest_folder_upward(oaktag: Callable[..., Result]) -> None:
    settings(CUTTER)
    Path("deep/deeper").mkdir(parents=True)
    Path("panel.oak").rename("deep/deeper/panel.oak")
    assert written(oaktag("build", "deep/deeper/panel.oak")) == ["out/panel.json"]


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("[build]\nlaser = yes\n", 2, "write `laser = true`"),
        ("[build]\nlaser = 'no'\n", 2, "write `laser = false`"),
        ("[build]\nturn\n", 2, "write `turn = true`"),
        ("[build]\nto = pdf\n", 2, 'write `to = "pdf"`'),
        ("[build]\nto = svg, dxf # both\n", 2, 'write `to = "svg, dxf"`'),
        ("[build]\nto = “svg”\n", 2, 'write `to = "svg"`'),
        ("[build]\npens = cut=1,seam=2\n", 2, 'write `pens = "cut=1,seam=2"`'),
        ("[build]\nto = 'svg'\nto = 'dxf'\n", 3, "`to` stands here for the second time"),
        ("[build\nto = 'svg'\n", 1, "close the bracket: `[build]`"),
        ("language = 2\n", 1, "this Oaktag reads version 1 of the language"),
        (
            "[build]\nbody = 'bodi.oak'\n",
            2,
            "there is no file `bodi.oak`; did you mean `body.oak`?",
        ),
        ("[build]\nbody = '../body.oak'\n", 2, "`../body.oak` leads out of the project"),
        ("[build]\nout = '/tmp'\n", 2, "`/tmp` leads out of the project"),
        ("[build]\nout = 'away'\n", 2, "`away` leads out of the project"),
        ("[build]\nbody = 'body.oak'\nsize = 4\n", 2, "cannot both be meant"),
        ("[build]\nset = 'depth'\n", 2, "`depth` is no setting"),
        ("[build]\nset = ['depth = 1 cm', 'depth = 2 cm']\n", 2, "`depth` is set twice"),
        ("[build]\nset = 4\n", 2, 'write `set = ["length = 60 cm"]`'),
        ("[build]\nsize = true\n", 2, 'like `size = "12"`'),
        ("[build]\nto = 'svg'\n\npapper = 'a4'\n", 4, "`papper` means nothing here"),
        ("[bild]\nto = 'svg'\n", 1, "did you mean `build`?"),
        ("[build]\nto = 'svg, pln'\n", 2, "there is no output `pln`"),
        ("[build]\nto = 4\n", 2, "there is no output `4`"),
        ("[build]\nto = true\n", 2, "stands between quotes"),
        ("[build]\nlaser = 'yes'\n", 2, "`laser` is `true` or `false`, without quotes"),
        ("[build]\n[outputs.a]\nto = 'json'\nlaser = true\n", 4, "`laser` is for svg and dxf"),
        ("[outputs.a]\nto = 'svg'\n[outputs.b]\nengrave = true\nto = 'svg'\n", 4, "goes with"),
        ("[outputs.a]\nto = 'svg'\n[outputs.'b c']\nto = 'x'\n", 4, "there is no output `x`"),
        ("build = 1\n", 1, "write a line `[build]`"),
        ("[outputs]\na = 1\n", 2, "write a line `[outputs.a]`"),
        ("outputs = 1\n", 1, "`outputs` has no name here"),
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
    Path("away").symlink_to("..")
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
    assert {f"--{name}" for name in (*WISHES, *GIVEN)} == options - {"-o", "--as", "file"}


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
