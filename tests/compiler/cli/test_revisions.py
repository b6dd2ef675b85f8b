"""`oaktag diff`, `log`, `outline` and `git`, in a repository of their own."""

from __future__ import annotations

import json
import os
import stat
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.compiler.cli.conftest import PANEL

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

    Oaktag = Callable[..., Result]

BAND = """\
pattern "Band"
use "panel.oak" as panel
piece band
  strip sewn(panel.panel.waist) by 5 cm
cut 1 band in main
"""


def git(folder: Path, *words: str, ok: bool = True) -> str:
    names = {f"GIT_{who}_{what}": "wardrobe" for who in ("AUTHOR", "COMMITTER")
             for what in ("NAME", "EMAIL")}  # fmt: skip
    days = {"GIT_AUTHOR_DATE": "2026-11-20T12:00:00Z", "GIT_COMMITTER_DATE": "2026-11-20T12:00:00Z"}
    plain = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull, "GIT_PAGER": "cat"}
    done = subprocess.run(
        ["git", *words], cwd=folder, env=os.environ | names | days | plain,
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode == 0) == ok, done.stdout + done.stderr
    return done.stdout + done.stderr


def written(folder: Path, name: str, text: str, message: str = "") -> None:
    (folder / name).parent.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    if message:
        git(folder, "add", "-A")
        git(folder, "commit", "-qm", message)


@pytest.fixture
def repository(project: Path) -> Path:
    """The panel in three revisions: drawn, a remark more, 4 cm longer."""
    for file in project.iterdir():
        file.unlink()
    git(project, "init", "-q", "-b", "main")
    written(project, "panel.oak", PANEL, "the panel is drawn")
    written(project, "panel.oak", f"# for the second act\n{PANEL}", "a remark")
    longer = PANEL.replace("depth = 20 cm", "depth = 24 cm")
    written(project, "panel.oak", f"# for the second act\n{longer}", "longer")
    return project


# ---------------------------------------------------------------- diff


def test_a_file_is_compared_with_its_revisions(repository: Path, oaktag: Oaktag) -> None:
    told = oaktag("diff", "panel.oak", "--rev", "HEAD~1").output
    assert told.splitlines()[0] == "panel.oak at HEAD~1 → panel.oak"
    assert "  side and centre 4 cm longer (24 cm, was 20 cm)" in told.splitlines()
    assert "nothing differs" in oaktag("diff", "panel.oak", "--rev", "HEAD~2..HEAD~1").output
    (repository / "panel.oak").write_text(PANEL.replace("20 cm from", "21 cm from"))
    told = oaktag("diff", "panel.oak", "--rev", "HEAD").output
    assert "  side and centre 3 cm shorter (21 cm, was 24 cm)" in told.splitlines()


def test_a_file_that_git_never_had_is_told_with_its_like(repository: Path, oaktag: Oaktag) -> None:
    told = oaktag("log", "pannel.oak")
    assert told.exit_code == 2
    assert "there is no file `pannel.oak`; did you mean `panel.oak`?" in told.output


def test_the_revision_in_the_head_is_told(repository: Path, oaktag: Oaktag) -> None:
    text = (repository / "panel.oak").read_text()
    later = text.replace("measure waist", 'revision "4" date "3 May 2027"\nmeasure waist', 1)
    (repository / "panel.oak").write_text(later)
    told = oaktag("diff", "panel.oak", "--rev", "HEAD").output.splitlines()
    assert told[2:] == ["Panel", "  revision 4 of 3 May 2027, was none"]


def test_what_a_pattern_uses_is_read_at_the_revision_too(repository: Path, oaktag: Oaktag) -> None:
    written(repository, "band.oak", BAND, "a band")
    wider = PANEL.replace("waist_girth/8", "waist_girth/4")
    written(repository, "panel.oak", wider, "wider")
    told = oaktag("diff", "band.oak", "--rev", "HEAD~1").output
    assert "base and top 10 cm longer (18.4 cm, was 8.4 cm)" in told


def test_two_files_bodies_sizes_and_choices_are_compared(repository: Path, oaktag: Oaktag) -> None:
    written(
        repository, "other.oak", (repository / "panel.oak").read_text().replace("panel", "apron")
    )
    told = oaktag("diff", "panel.oak", "other.oak").output
    assert told.splitlines()[2:] == ["apron", "  was called panel"]
    for name, girth in (("lena", 80), ("odo", 96)):
        body = f'body "{name}"\n  waist_girth = {girth} cm\n'
        written(repository, f"bodies/{name}.oak", body)
    told = oaktag(
        "diff", "panel.oak", "--body", "bodies/lena.oak", "--body", "bodies/odo.oak"
    ).output
    assert "measure waist_girth: 96 cm, was 80 cm" in told
    assert "hem 2 cm longer (12 cm, was 10 cm)" in told
    told = oaktag("diff", "panel.oak", "--try", "depth = 30 cm").output
    assert "choice depth: 30 cm, was 24 cm" in told
    chart = ("--chart", "en13402_women", "--size", "3", "--size", "4")
    assert "measure waist_girth:" in oaktag("diff", "panel.oak", *chart).output


def test_the_figures_come_as_json_and_the_papers_as_a_picture(
    repository: Path, oaktag: Oaktag
) -> None:
    done = oaktag("diff", "panel.oak", "--rev", "HEAD~1", "--json", "-o", "out")
    data = json.loads(done.stdout)
    assert data["pieces"][0]["area"] == {"before": 20000.0, "after": 24000.0}
    assert "let-in" in (repository / "out" / "panel-diff.svg").read_text()


def test_a_revision_that_cannot_be_drawn_is_compared_as_text(
    repository: Path, oaktag: Oaktag
) -> None:
    (repository / "panel.oak").write_text(PANEL.replace("to top_right", "to nowhere"))
    done = oaktag("diff", "panel.oak", "--rev", "HEAD~2")
    assert done.exit_code == 1
    assert "it cannot be drawn" in done.stderr
    assert "nowhere" in done.stderr
    assert "-    waist = top_left to top_right" in done.stdout.splitlines()
    assert "+    waist = top_left to nowhere" in done.stdout.splitlines()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("panel.oak",), "with what?"),
        (("panel.oak", "--rev", "autumn"), "no revision `autumn`"),
        (("panel.oak", "--rev", "--help"), "no revision `--help`"),
        (("panel.oak", "--rev", "HEAD~1.."), "A..B"),
        (("gone.oak", "--rev", "HEAD"), "gone.oak"),
        (("panel.oak", "nothing.oak"), "there is no file `nothing.oak`"),
        (("panel.oak", "panel.oak", "--rev", "HEAD"), "one file, not with two"),
        (("panel.oak", "--try", "depth"), '--try "depth = 60 cm"'),
        (("panel.oak", "--rev", "HEAD", "--tolerance", "3"), "has no unit"),
    ],
)
def test_a_call_that_compares_nothing_says_what_to_write(
    repository: Path, oaktag: Oaktag, words: tuple[str, ...], said: str
) -> None:
    done = oaktag("diff", *words)
    assert done.exit_code == 2
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_a_file_outside_a_repository_has_no_revisions(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, oaktag: Oaktag
) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    monkeypatch.chdir(tmp_path)
    written(tmp_path, "panel.oak", PANEL)
    for words in (("diff", "panel.oak", "--rev", "HEAD"), ("log", "panel.oak")):
        done = oaktag(*words)
        assert done.exit_code == 2
        assert "not in a git repository" in done.stderr
    assert "not in a git repository" in oaktag("git", "setup").stderr


# ---------------------------------------------------------------- log


def test_the_log_tells_only_revisions_that_changed_the_paper(
    repository: Path, oaktag: Oaktag
) -> None:
    told = oaktag("log", "panel.oak").output
    assert "longer" in told
    assert "panel: side and centre 4 cm longer (24 cm, was 20 cm)" in told
    assert "a remark" not in told
    assert told.rstrip().endswith("first drawn: 1 piece")
    assert "the paper stayed as it was" in oaktag("log", "panel.oak", "--all").output
    assert "first drawn" not in oaktag("log", "panel.oak", "-n", "1").output


def test_the_log_follows_a_file_through_its_names_and_what_it_uses(
    repository: Path, oaktag: Oaktag
) -> None:
    written(repository, "band.oak", BAND, "a band")
    written(repository, "panel.oak", PANEL.replace("waist_girth/8", "waist_girth/4"), "wider")
    git(repository, "mv", "band.oak", "belt.oak")
    git(repository, "commit", "-qm", "called a belt")
    told = oaktag("log", "belt.oak").output
    assert "wider" in told
    assert "base and top 10 cm longer" in told
    assert "first drawn: 1 piece" in told
    assert "called a belt" not in told


def test_a_file_that_was_never_committed_has_no_log(repository: Path, oaktag: Oaktag) -> None:
    written(repository, "new.oak", PANEL)
    assert "git has no revision of new.oak" in oaktag("log", "new.oak").stderr


# ---------------------------------------------------------------- outline


def test_the_outline_tells_pieces_edges_darts_and_cut_orders(
    repository: Path, oaktag: Oaktag
) -> None:
    assert oaktag("outline", "panel.oak").output == (
        "Panel\n\n"
        "panel: 10 cm wide, 24 cm high, 240 cm²\n"
        "  waist   10 cm, 8.4 cm sewn\n"
        "  side    24 cm\n"
        "  hem     10 cm\n"
        "  centre  24 cm\n"
        "  waist_dart: dart, 1.6 cm wide, 8.04 cm deep\n"
        "  cut 2 as pair in main\n"
    )


def test_beside_the_text_the_figures_are_remarks_of_the_language(
    repository: Path, oaktag: Oaktag
) -> None:
    told = oaktag("outline", "panel.oak", "--with-text").output
    text = (repository / "panel.oak").read_text()
    assert [line for line in told.splitlines() if not line.startswith("#| ")] == text.splitlines()
    place = told.index("#| panel: 10 cm wide")
    assert told.index("  dart waist_dart") < place < told.index("cut 2 panel")
    (repository / "told.oak").write_text(told)
    assert oaktag("ask", "told.oak", "sewn(panel.waist)").stdout == "8.4 cm\n"


def test_a_file_that_cannot_be_drawn_is_shown_with_the_reason(
    repository: Path, oaktag: Oaktag
) -> None:
    (repository / "panel.oak").write_text(PANEL.replace("to top_right", "to nowhere"))
    done = oaktag("outline", "panel.oak", "--with-text")
    assert done.exit_code == 0
    assert "#| this cannot be drawn:" in done.output
    assert oaktag("outline", "panel.oak").exit_code == 1


# ---------------------------------------------------------------- git


def test_git_diff_shows_the_figures_of_what_changed(repository: Path, oaktag: Oaktag) -> None:
    assert oaktag("git", "setup").exit_code == 0
    text = (repository / "panel.oak").read_text()
    (repository / "panel.oak").write_text(text.replace("24 cm from", "30 cm from"))
    told = git(repository, "diff")
    assert "-#|   side    24 cm" in told.splitlines()
    assert "+#|   side    30 cm" in told.splitlines()
    git(repository, "add", "-A")
    assert "+#|   side    30 cm" in git(repository, "diff", "--cached").splitlines()
    git(repository, "commit", "-qm", "longer still")
    assert "-#|   side    20 cm" in git(repository, "log", "-p").splitlines()


def test_an_old_version_is_drawn_with_what_it_used_as_long_as_it_stood(
    repository: Path, oaktag: Oaktag
) -> None:
    band = BAND.replace('"panel', '"../panel')
    written(repository, "skirts/band.oak", band, "a band")
    written(repository, "skirts/band.oak", band.replace("5 cm", "6 cm"))
    written(repository, "panel.oak", PANEL.replace("girth/8", "girth/4"), "taller and longer")
    oaktag("git", "setup")
    told = git(repository, "log", "-p", "-1", "--", "skirts/band.oak").splitlines()
    assert "-#| band: 8.4 cm wide, 5 cm high, 42 cm²" in told
    assert "+#| band: 18.4 cm wide, 6 cm high, 110.4 cm²" in told
    # A change of what it uses is told where that changed, not where the band did.
    written(repository, "panel.oak", PANEL, "narrow again")
    written(repository, "skirts/band.oak", band, "lower")
    told = git(repository, "log", "-p", "-1", "--", "skirts/band.oak").splitlines()
    assert "-#|   end    6 cm" in told
    assert not any("18.4 cm" in line for line in told if line.startswith(("+", "-")))


def test_a_commit_of_an_untidy_or_wrong_pattern_is_refused(
    repository: Path, oaktag: Oaktag
) -> None:
    oaktag("git", "setup")
    text = (repository / "panel.oak").read_text()
    written(repository, "panel.oak", text.replace("depth = 24", "depth =  24"))
    assert "would change" in git(repository, "commit", "-qam", "untidy", ok=False)
    written(repository, "panel.oak", text.replace("to top_right", "to nowhere"))
    assert "panel.oak:14:25: error: nothing here is called `nowhere`" in git(
        repository, "commit", "-qam", "wrong", ok=False
    )
    # What counts is what is staged, not what lies in the folder.
    written(repository, "panel.oak", text.replace("24 cm from", "26 cm from"))
    git(repository, "add", "-A")
    written(repository, "panel.oak", "nonsense")
    git(repository, "commit", "-qm", "longer")
    # A pattern that is drawn only for a body is no mistake.
    written(repository, "panel.oak", text.replace("waist_girth = 80 cm", "waist_girth"), "bodies")


def test_setting_up_twice_changes_nothing_and_undoing_leaves_no_trace(
    repository: Path, oaktag: Oaktag
) -> None:
    hook = repository / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir(exist_ok=True)
    hook.write_text("#!/bin/sh\necho mine\n")
    hook.chmod(0o644)
    (repository / ".gitattributes").write_text("*.png binary\n")
    config = (repository / ".git" / "config").read_text()
    oaktag("git", "setup")
    once = hook.read_text()
    assert once.startswith("#!/bin/sh\n")
    assert once.endswith("echo mine\n")
    assert hook.stat().st_mode & stat.S_IXUSR
    oaktag("git", "setup")
    assert hook.read_text() == once
    assert (repository / ".gitattributes").read_text() == "*.png binary\n*.oak diff=oaktag\n"
    oaktag("git", "undo")
    assert hook.read_text() == "#!/bin/sh\necho mine\n"
    assert (repository / ".gitattributes").read_text() == "*.png binary\n"
    assert (repository / ".git" / "config").read_text() == config
    assert "nothing to undo" in oaktag("git", "undo").output


def test_a_hook_that_is_no_shell_script_is_left_alone(repository: Path, oaktag: Oaktag) -> None:
    hook = repository / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir(exist_ok=True)
    text = f"#!{sys.executable}\nprint('mine')\n"
    hook.write_text(text)
    done = oaktag("git", "setup")
    assert done.exit_code == 2
    assert "not a shell script" in done.stderr
    assert hook.read_text() == text
