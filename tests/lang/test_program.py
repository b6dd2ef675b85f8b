"""Patterns that use patterns: what is read, in which order, and what may not be."""

from __future__ import annotations

import os
import posixpath
import socket
from collections.abc import Sequence
from pathlib import Path

import pytest

from oaktag.lang.checking.dimensions import LENGTH, PIECE, WHOLE
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.project.files import DiskFiles, Place, Refused, project_root
from oaktag.lang.project.program import DEEPEST, MOST_FILES, Known, Program, load

PROGRAMS = Path(__file__).parents[1] / "programs"

BLOCK = """\
pattern "Block"
measure waist_girth = 72 cm
choose length = 60 cm
choose rows = 3
piece front
  strip length by waist_girth / rows
"""


class Memory:
    """Files that are a dictionary, with a note of what was read."""

    def __init__(self, files: dict[str, str | bytes]) -> None:
        self.files = files
        self.asked: list[str] = []

    def start(self, path: str) -> Place:
        return Place(path, path)

    def beside(self, place: Place, path: str) -> Place:
        there = posixpath.normpath(posixpath.join(posixpath.dirname(place.path), path))
        if there.startswith(".."):
            raise Refused("outside-project", f"`{path}` lies outside the project")
        return Place(there, there)

    def stdlib(self, name: str) -> Place | None:
        path = f"stdlib/{name.replace('.', '/')}.oak"
        return Place(path, path) if path in self.files else None

    def stdlib_names(self) -> Sequence[str]:
        return sorted(
            name.removeprefix("stdlib/").removesuffix(".oak").replace("/", ".")
            for name in self.files
            if name.startswith("stdlib/")
        )

    def neighbours(self, place: Place) -> Sequence[str]:
        folder = posixpath.dirname(place.path)
        return sorted(
            posixpath.basename(name) for name in self.files if posixpath.dirname(name) == folder
        )

    def read(self, place: Place) -> bytes:
        self.asked.append(place.path)
        if place.path not in self.files:
            raise Refused("no-file", f"there is no file {place.name}")
        data = self.files[place.path]
        return data if isinstance(data, bytes) else data.encode()


def pattern(*lines: str) -> str:
    return "\n".join(('pattern "Test"', *lines, ""))


def codes(program: Program) -> list[str]:
    return [one.code for one in program.diagnostics]


def places(program: Program) -> list[str]:
    """`code file:line` of each thing wrong."""

    def place(one: Diagnostic) -> str:
        return f"{one.span.source.name}:{one.span.line}" if one.span else one.file

    return [f"{one.code} {place(one)}" for one in program.diagnostics]


# ---------------------------------------------------------------- the programs of the language page


@pytest.mark.parametrize("path", sorted(PROGRAMS.glob("*.oak")), ids=lambda path: path.stem)
def test_the_programs_of_the_language_page(path: Path) -> None:
    program = load(str(path), DiskFiles(str(path)))
    wrong = [one for one in program.diagnostics if one.code != "not-yet"]
    if path.stem == "sleeve":
        # It sews an armhole of a back, which bodice.oak does not have.
        assert [(one.code, one.message) for one in wrong] == [
            ("unknown-name", "the pattern `bodice` has no `back`")
        ]
    else:
        assert wrong == []


def test_what_a_program_knows() -> None:
    program = load(str(PROGRAMS / "ferry.oak"), DiskFiles(str(PROGRAMS / "ferry.oak")))
    assert program.sound
    assert list(program.uses) == ["block"]
    assert list(program.symbols.of_role("choice")) == ["length", "drapes", "depth"]
    assert program.symbols.symbols["drapes"].kind == WHOLE
    assert list(program.symbols.pieces()) == ["front", "back"]
    front = program.symbols.symbols["front"].inside
    assert front is not None
    assert front.symbols["right.waist_dart"].kind == "dart"
    assert front.symbols["drape"].kind == "opening"
    assert front.symbols["drape"].row
    assert front.halves == (("right", "left"),)
    # From the edge behind the fold round to it, and back along the mirror image.
    assert front.outline == ("waist", "right.side", "hem", "left.side")
    assert "waist_girth" in program.uses["block"].symbols.of_role("measure")


# ---------------------------------------------------------------- reading


def test_what_is_known_is_checked_anew_when_its_text_has_changed() -> None:
    files = Memory(
        {
            "all.oak": pattern('use "a.oak" as a', "x = a.block.length"),
            "a.oak": pattern('use "block.oak" as block'),
            "block.oak": pattern("length = 1 cm"),
        }
    )
    known: Known = {}
    first, second = (load("all.oak", files, known) for _ in range(2))
    assert second.uses["a"].uses["block"] is first.uses["a"].uses["block"]
    for path, text in (
        ("block.oak", pattern("width = 1 cm")),
        ("block.oak", pattern('use "missing.oak" as length')),
        ("missing.oak", pattern()),
    ):
        files.files[path] = text
        again, anew = load("all.oak", files, known), load("all.oak", files)
        assert places(again) == places(anew)
        assert codes(again) == codes(anew) != []


def test_a_file_is_read_once_however_many_use_it() -> None:
    files = Memory(
        {
            "all.oak": pattern('use "a.oak" as a', 'use "b/b.oak" as b', "x = a.length + b.length"),
            "a.oak": pattern('use "block.oak" as block', "length = block.length"),
            "b/b.oak": pattern('use "../block.oak" as block', "length = block.length + 1"),
            "block.oak": BLOCK,
        }
    )
    program = load("all.oak", files)
    assert files.asked == ["all.oak", "a.oak", "block.oak", "b/b.oak"]
    assert program.uses["a"].uses["block"] is program.uses["b"].uses["block"]
    assert places(program) == ["mixed-kinds b/b.oak:3"]
    assert not program.sound
    assert program.uses["a"].sound


def test_each_mistake_is_said_with_its_file_and_once() -> None:
    files = Memory(
        {
            "all.oak": pattern('use "a.oak" as a', 'use "b.oak" as b', "x = nothing"),
            "a.oak": pattern('use "block.oak" as block', "y = 1 + + 2"),
            "b.oak": pattern('use "block.oak" as block', "z = block.length + 1"),
            "block.oak": BLOCK + "more = 3 + length\n",
        }
    )
    program = load("all.oak", files)
    assert [one.split()[1] for one in places(program)] == [
        "all.oak:4",
        "a.oak:3",
        "block.oak:7",
        "b.oak:3",
    ]


def test_the_library_and_files_beside() -> None:
    files = Memory({"stdlib/skirts/straight.oak": BLOCK, "mine.oak": BLOCK, "all.oak": ""})
    files.files["all.oak"] = pattern("use skirts.straight as block", "x = block.length")
    assert codes(load("all.oak", files)) == []
    for said, way_out in {
        "skirts.strait": "write `use skirts.straight as block`",
        "straight": "write `use skirts.straight as block`",
        "mine": 'write `use "mine.oak" as block` for the file beside this one',
        "nothing.like.it": "there are skirts.straight",
    }.items():
        files.files["all.oak"] = pattern(f"use {said} as block", "piece a from block.front")
        (one,) = load("all.oak", files).diagnostics
        assert (one.code, one.help) == ("unknown-pattern", way_out)


def test_circles() -> None:
    files = Memory(
        {
            "a.oak": pattern('use "b.oak" as b'),
            "b.oak": pattern('use "c.oak" as c'),
            "c.oak": pattern('use "b.oak" as b'),
            "self.oak": pattern('use "self.oak" as me', "x = me.y"),
        }
    )
    program = load("a.oak", files)
    assert places(program) == ["circular-use c.oak:2"]
    assert "in a circle: b.oak, c.oak, and again b.oak" in program.diagnostics[0].message
    (one,) = load("self.oak", files).diagnostics
    assert one.message == "`self.oak` uses itself"


def test_long_chains_and_crowds_come_to_an_end() -> None:
    chain = {f"{n}.oak": pattern(f'use "{n + 1}.oak" as next') for n in range(DEEPEST + 5)}
    assert places(load("0.oak", Memory(dict(chain)))) == [f"too-deep {DEEPEST}.oak:2"]
    crowd: dict[str, str | bytes] = {f"{n}.oak": BLOCK for n in range(MOST_FILES + 10)}
    crowd["all.oak"] = pattern(*(f'use "{n}.oak" as n{n}' for n in range(MOST_FILES + 10)))
    assert set(codes(load("all.oak", Memory(crowd)))) == {"too-many"}


def test_doubling_diamonds_take_no_time() -> None:
    files: dict[str, str | bytes] = {
        f"{n}.oak": pattern(f'use "{n + 1}.oak" as a', f'use "./{n + 1}.oak" as b')
        for n in range(18)
    }
    files["18.oak"] = BLOCK + "wrong = 3 + length\n"
    memory = Memory(files)
    assert places(load("0.oak", memory)) == ["mixed-kinds 18.oak:7"]
    assert len(memory.asked) == 19


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty-file"),
        (b"\xff\xfeb\0", "not-utf-8"),
        (b"\x89PNG\r\n\x1a\n\0\0", "no-text"),
        (b"piece front\n  strip 9 cm by 4 cm\n", "no-pattern"),
        (b"x" * 5_000_000, "too-big"),
    ],
)
def test_files_that_are_no_patterns(data: bytes, code: str) -> None:
    files = Memory(
        {"all.oak": pattern('use "it.oak" as it', "piece a from it.front"), "it.oak": data}
    )
    assert codes(load("it.oak", files))[0] == code
    assert not load("it.oak", files).sound
    # Used, its mistake is told once, and what it lacks is not missed.
    assert codes(load("all.oak", files))[0] == code
    assert "unknown-name" not in codes(load("all.oak", files))


def test_a_body_is_no_pattern() -> None:
    files = Memory(
        {
            "all.oak": pattern('use "ines.oak" as ines', "x = ines.waist_girth"),
            "ines.oak": 'body "Ines"\n  waist_girth = 71 cm\n',
        }
    )
    assert places(load("all.oak", files)) == ["no-pattern all.oak:2"]
    assert load("ines.oak", files).diagnostics == ()


# ---------------------------------------------------------------- on the disk


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project with a pattern and a block, and a file that lies beside the project."""
    folder = tmp_path / "project"
    (folder / "patterns").mkdir(parents=True)
    (folder / "blocks").mkdir()
    (folder / "oaktag.toml").touch()
    (folder / "blocks" / "block.oak").write_text(BLOCK)
    (tmp_path / "secret.oak").write_text(BLOCK)
    monkeypatch.chdir(folder)
    return folder


def used(folder: Path, path: str, name: str = "patterns/skirt.oak") -> Program:
    """A pattern of the project that uses what lies at a path."""
    (folder / name).write_text(pattern(f'use "{path}" as block', "x = block.length"))
    return load(name, DiskFiles(name))


def test_names_are_shown_as_they_were_given(project: Path) -> None:
    (project / "blocks" / "block.oak").write_text(BLOCK + "x = 1 + length\n")
    assert places(used(project, "../blocks/block.oak")) == [
        f"mixed-kinds {os.path.join('blocks', 'block.oak')}:7"
    ]


def test_an_unused_choice_is_told_of_in_the_file_that_is_checked_only(project: Path) -> None:
    block = project / "blocks" / "block.oak"
    block.write_text(pattern("choose spare = 4 cm", "length = 5 cm"))
    assert codes(load("blocks/block.oak", DiskFiles("blocks/block.oak"))) == ["unused"]
    assert codes(used(project, "../blocks/block.oak")) == []


def test_paths_stay_within_the_project(project: Path, tmp_path: Path) -> None:
    assert used(project, "../blocks/block.oak").sound
    assert used(project, "../blocks/../blocks/./block.oak").sound
    assert codes(used(project, "../../secret.oak")) == ["outside-project"]
    assert codes(used(project, str(project / "blocks" / "block.oak"))) == ["outside-project"]
    assert codes(used(project, "../../project/blocks/block.oak")) == []
    (project / "blocks" / "link.oak").symlink_to(tmp_path / "secret.oak")
    assert codes(used(project, "../blocks/link.oak")) == ["outside-project"]
    (project / "linked").symlink_to(tmp_path)
    assert codes(used(project, "../linked/secret.oak")) == ["outside-project"]


def test_without_a_mark_the_project_is_the_folder(project: Path) -> None:
    (project / "oaktag.toml").unlink()
    assert project_root("patterns/skirt.oak") == str((project / "patterns").resolve())
    assert codes(used(project, "../blocks/block.oak")) == ["outside-project"]
    (project / ".git").mkdir()
    assert codes(used(project, "../blocks/block.oak")) == []


def test_what_is_no_file(project: Path) -> None:
    (one,) = used(project, "../blocks/blok.oak").diagnostics
    assert one.code == "no-file"
    assert "blok.oak" in one.message
    (project / "patterns" / "jacket.oak").write_text(BLOCK)
    (one,) = used(project, "jaket.oak").diagnostics
    assert one.help == 'write `"jacket.oak"`'
    for path in ("../blocks", "", ".", "a" * 3000, "../blocks/block.oak/x"):
        assert codes(used(project, path)) == ["no-file"], path
    (one,) = load("nowhere.oak", DiskFiles("nowhere.oak")).diagnostics
    assert (one.code, one.file) == ("no-file", "nowhere.oak")


def test_a_pipe_or_a_socket_is_not_waited_for(project: Path) -> None:
    os.mkfifo(project / "blocks" / "pipe.oak")
    assert codes(used(project, "../blocks/pipe.oak")) == ["no-file"]
    with socket.socket(socket.AF_UNIX) as plug:
        plug.bind("blocks/plug.oak")
        assert codes(used(project, "../blocks/plug.oak")) == ["no-file"]


def test_a_huge_file_is_not_read(project: Path) -> None:
    with (project / "blocks" / "huge.oak").open("wb") as file:
        file.truncate(10_000_000_000)
    (one,) = used(project, "../blocks/huge.oak").diagnostics
    assert one.code == "too-big"
    assert "10,000,000,000" in one.message


def test_the_same_file_by_two_ways_is_one(project: Path) -> None:
    (project / "blocks" / "again.oak").symlink_to(project / "blocks" / "block.oak")
    (project / "all.oak").write_text(
        pattern('use "blocks/block.oak" as a', 'use "blocks/again.oak" as b')
    )
    program = load("all.oak", DiskFiles("all.oak"))
    assert program.uses["a"] is program.uses["b"]


def test_library_patterns_are_found_by_name(project: Path) -> None:
    files = DiskFiles("all.oak")
    assert "skirts.straight" in files.stdlib_names()
    assert files.stdlib("skirts.nothing") is None
    place = files.stdlib("skirts.straight")
    assert place is not None
    assert place.name == os.path.join("oaktag", "stdlib", "skirts", "straight.oak")
    program = load(place.path, files)
    assert program.sound, places(program)
    assert {symbol.kind for symbol in program.symbols.of_role("measure").values()} == {LENGTH}
    assert {symbol.kind for symbol in program.symbols.pieces().values()} == {PIECE}
