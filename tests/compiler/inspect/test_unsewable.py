"""Patterns that cannot be sewn, or that one had better look at again: each for one reason.

What `oaktag check` prints is kept beside each file. `pytest --update-golden` writes it anew; read
it as a pattern cutter would before keeping it.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main

if TYPE_CHECKING:
    from collections.abc import Callable

FOLDER = Path(__file__).parent / "unsewable"
REASONS = {
    # cannot be sewn
    "seam_unequal": ("error", "unequal-seam"),
    "ease_too_little": ("error", "unequal-seam"),
    "notches_apart": ("error", "notches-apart"),
    "outline_crosses": ("error", "crossing-outline"),
    "outline_open": ("error", "open-outline"),
    "slashes_cross": ("error", "lines-cross"),
    "circular": ("error", "circle"),
    "allowance_negative": ("error", "negative-allowance"),
    "allowance_wider": ("error", "allowance-wider"),
    "allowances_overlap": ("error", "allowance-too-wide"),
    "notch_off_edge": ("error", "off-edge"),
    "fold_sewn": ("error", "fold-edge"),
    "fold_reached_over": ("error", "over-fold"),
    "sewn_to_itself": ("error", "sewn-to-itself"),
    "cut_none": ("error", "not-positive"),
    "odd_pair": ("error", "odd-pair"),
    "measure_missing": ("error", "missing-measure"),
    # likely mistakes
    "sewn_twice": ("warning", "sewn-twice"),
    "notch_alone": ("warning", "lone-notch"),
    "waist_not_flowing": ("warning", "not-flowing"),
    "dart_legs": ("warning", "unequal-legs"),
    "dart_untrimmed": ("warning", "untrimmed"),
    "dart_corner": ("warning", "dart-corner"),
    "no_grain": ("warning", "no-grain"),
    "grain_bends": ("warning", "bent-grain"),
    "nobody_cuts": ("warning", "nobody-cuts"),
    "measure_implausible": ("warning", "implausible"),
    # common practice
    "opening_too_small": ("note", "opening-small"),
    "hem_too_narrow": ("note", "hem-narrow"),
    "edge_loose": ("note", "loose-edge"),
    "two_folds": ("note", "two-folds"),
    "spread_by_nothing": ("note", "by-nothing"),
}


def check(name: str, *options: str) -> str:
    result = CliRunner().invoke(main, ["check", f"{name}.oak", *options])
    wrong = REASONS[name][0] == "error"
    assert result.exit_code == (1 if wrong else 0), result.output
    return result.output


def test_there_is_a_reason_for_every_file() -> None:
    assert {path.stem for path in FOLDER.glob("*.oak")} == set(REASONS)
    assert {path.stem for path in FOLDER.glob("*.txt")} == set(REASONS)
    assert len(REASONS) >= 20


@pytest.mark.parametrize("name", REASONS)
def test_it_fails_for_its_one_reason(
    name: str, golden: Callable[[str, bytes | str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(FOLDER)
    found = json.loads(check(name, "--json"))
    assert [(one["severity"], one["code"]) for one in found] == [REASONS[name]]
    assert found[0]["help"], "it shows no way out"
    golden(f"../unsewable/{name}.txt", check(name))


# These cannot stand beside the others: a second `waist_girth`, notes on the whole garment.
ALONE = ("measure_implausible", "opening_too_small", "hem_too_narrow", "edge_loose")


def renamed(name: str) -> tuple[list[str], list[str]]:
    """The lines of a file that draw and those that finish, its pieces named after the file."""
    text = (FOLDER / f"{name}.oak").read_text(encoding="utf-8")
    for piece in re.findall(r"^piece (\w+)", text, re.MULTILINE):
        text = re.sub(rf"(?<=[ ,])(?<!and ){piece}(?=[\s.,])", f"{name}_{piece}", text)
    lines = [line for line in text.splitlines() if line and not line.startswith(("#", "pattern "))]
    finishing = [line for line in lines if line.startswith(("allow", "sew", "cut"))]
    return [line for line in lines if line not in finishing], finishing


def test_every_mistake_put_into_one_file_is_told_in_one_run(tmp_path: Path) -> None:
    names = [name for name in REASONS if name not in ALONE]
    drawing, finishing = zip(*(renamed(name) for name in names), strict=True)
    text = "\n".join(['pattern "All of them"', *chain(*drawing), *chain(*finishing)])
    path = tmp_path / "all.oak"
    path.write_text(text + "\n", encoding="utf-8")
    result = CliRunner().invoke(main, ["check", str(path), "--json"])
    found = json.loads(result.output)
    told = Counter(one["code"] for one in found if one["severity"] == "error")
    assert told == Counter(REASONS[name][1] for name in names if REASONS[name][0] == "error")
    told = Counter(one["code"] for one in found if one["severity"] == "warning")
    assert told == Counter(REASONS[name][1] for name in names if REASONS[name][0] == "warning")
