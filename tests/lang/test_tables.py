"""The tables, their cache, and the grammar they are made from."""

from __future__ import annotations

import logging
import subprocess
import sys
from pathlib import Path

import lark
import pytest

from oaktag.lang import ast
from oaktag.lang.syntax import tables
from oaktag.lang.syntax.build import Builder, node_named

GRAMMAR = (Path(__file__).parents[2] / "lang" / "syntax" / "grammar.lark").read_text(
    encoding="utf-8"
)


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return Path(tables.cache_path(GRAMMAR))


def test_the_grammar_is_lalr_without_conflicts(caplog: pytest.LogCaptureFixture) -> None:
    # Lark raises for two rules that could be reduced, and logs where it prefers to shift.
    lark.logger.addHandler(caplog.handler)
    before = lark.logger.level
    lark.logger.setLevel(logging.DEBUG)
    try:
        lark.Lark(GRAMMAR, parser="lalr", lexer="basic", start=list(tables.STARTS), debug=True)
    finally:
        lark.logger.setLevel(before)
        lark.logger.removeHandler(caplog.handler)
    assert "conflict" not in caplog.text.lower()


def test_the_log_would_show_a_conflict(caplog: pytest.LogCaptureFixture) -> None:
    lark.logger.addHandler(caplog.handler)
    before = lark.logger.level
    lark.logger.setLevel(logging.DEBUG)
    try:
        lark.Lark('start: "a" start "b" | "a" start | "c"\n', parser="lalr", debug=True)
        lark.Lark('start: s\ns: s "+" s | "a"\n', parser="lalr", debug=True)
    finally:
        lark.logger.setLevel(before)
        lark.logger.removeHandler(caplog.handler)
    assert "conflict" in caplog.text.lower()


def test_every_rule_makes_a_node_of_its_name_or_has_a_builder_and_every_builder_a_rule() -> None:
    own = {name for name in dir(Builder) if not name.startswith("_")} - {"source", "maker"}
    used = {build for _, _, build, _ in tables.load().rules if build not in ("", "[]")}
    assert own <= used
    plain = 0
    for _, _, build, kept in tables.load().rules:
        if build in used - own:
            node = node_named(build)
            before = ("span", "caption") if issubclass(node, ast.Statement) else ("span",)
            assert node.fields[: len(before)] == before
            assert len(node.fields) == len(before) + len(kept), build
            assert all(one is None or one >= 0 for one in kept), build
            plain += 1
    assert plain > 20


def test_keywords_do_not_share_a_terminal_with_what_is_no_word() -> None:
    declared = {"NAME", "NUMBER", "QUANTITY", "QUOTED", "WAY", "$END"}
    assert declared.isdisjoint(tables.load().literals.values())


def test_the_cache_is_written_and_read(cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = tables.load()
    assert cache.exists()
    assert [entry.name for entry in cache.parent.iterdir()] == [cache.name]

    def unneeded(grammar: str) -> None:
        raise AssertionError("the cache was not used")

    monkeypatch.setattr(tables, "build", unneeded)
    again = tables.load()
    assert again.actions == made.actions


@pytest.mark.parametrize(
    "spoil",
    [
        lambda data: b"",
        lambda data: b"\xff\xfe",
        lambda data: data[: len(data) // 2],
        lambda data: data.replace(b"file_line", b"file_lime", 1),
        lambda data: b"0\n{}",
        lambda data: b"1\n[]",
    ],
)
def test_a_spoilt_cache_is_made_anew(cache: Path, spoil: object) -> None:
    made = tables.load()
    data = cache.read_bytes()
    assert callable(spoil)
    cache.write_bytes(spoil(data))
    assert tables.load().actions == made.actions
    assert cache.read_bytes() == data


def test_a_cache_that_cannot_be_written_is_done_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("no folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(in_the_way))
    assert tables.load().starts
    (tmp_path / "oaktag").mkdir()
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    Path(tables.cache_path(GRAMMAR)).mkdir()
    assert tables.load().starts


def test_a_relative_cache_folder_is_not_used(monkeypatch: pytest.MonkeyPatch) -> None:
    # As the XDG Base Directory Specification says of relative paths.
    monkeypatch.setenv("XDG_CACHE_HOME", "somewhere")
    assert "somewhere" not in tables.cache_path(GRAMMAR)


def test_the_same_tables_in_any_process(cache: Path) -> None:
    made = []
    for seed in ("1", "2"):
        script = (
            "from oaktag.lang.syntax import tables; import json, sys;"
            f"json.dump(tables.build(open({str(Path(tables._HERE) / 'grammar.lark')!r}).read()),"
            "sys.stdout)"
        )
        made.append(
            subprocess.run(
                [sys.executable, "-c", script],
                env={"PYTHONHASHSEED": seed, "XDG_CACHE_HOME": str(cache.parent)},
                capture_output=True,
                check=True,
            ).stdout
        )
    assert made[0] == made[1]


def test_a_warm_start_does_without_lark() -> None:
    tables.load()
    script = (
        "import sys; from oaktag.lang.syntax.parse import parse;"
        "from oaktag.lang.source import Source;"
        "tree, wrong = parse(Source('a', 'pattern \"a\"')); assert not wrong;"
        "heavy = {'lark', 'dataclasses', 'inspect', 'pickle', 'hashlib', 'logging'};"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, check=True, text=True
    )
    assert done.stdout.strip() == "[]"
