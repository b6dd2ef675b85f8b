"""Figures that go back into a file, and what a slider needs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oaktag.compiler.evaluate import evaluate
from oaktag.compiler.evaluate.scope import Scope
from oaktag.compiler.page.choices import choices, written
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.project.files import DiskFiles
from oaktag.lang.project.program import load
from oaktag.lang.source import Source
from oaktag.lang.syntax.parse import parse_expression
from oaktag.lang.units import MILLIMETRES


def controls(tmp_path: Path, *lines: str) -> list[dict[str, Any]]:
    path = tmp_path / "file.oak"
    path.write_text('pattern "P"\nmeasure girth = 80 cm\n' + "\n".join(lines) + "\n")
    program = load(str(path), DiskFiles(str(path)))
    result = evaluate(program)
    assert result.pattern is not None, [one.message for one in result.diagnostics]
    return choices(program, result.pattern)


@given(st.floats(-5000, 5000), st.sampled_from(sorted(MILLIMETRES)))
def test_a_length_is_read_as_it_is_written(amount: float, unit: str) -> None:
    text = written(Quantity("length", amount), unit)
    value = Scope({}, unit).value(parse_expression(Source("", text)))
    assert isinstance(value, Quantity)
    assert value.amount == pytest.approx(amount, abs=1e-6 * MILLIMETRES[unit])


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (Quantity("length", 114.3), "in", "4 1/2 in"),
        (Quantity("length", 100.0), "in", "3.937008 in"),
        (Quantity("length", 662.5), "cm", "66.25 cm"),
        (Quantity("length", 1e-9), "cm", "0 cm"),
        (Quantity("number", 3.0), "cm", "3"),
        (Quantity("angle", 12.5), "cm", "12.5 deg"),
        (True, "cm", "yes"),
        (False, "cm", "no"),
    ],
)
def test_figures_are_written_as_she_would(value: Quantity | bool, unit: str, text: str) -> None:
    assert written(value, unit) == text


def test_a_slider_knows_its_range_in_the_unit_of_the_choice(tmp_path: Path) -> None:
    line = 'choose depth = 2 1/2 in from 2 in to girth/8 "how deep"'
    [depth] = controls(tmp_path, line)
    assert depth == {
        "name": "depth",
        "about": "how deep",
        "text": "2 1/2 in",
        "default": "2 1/2 in",
        "plain": True,
        "kind": "length",
        "unit": "in",
        "value": 2.5,
        "low": 2.0,
        "high": pytest.approx(100 / 25.4),
        "step": 0.0625,
    }


@pytest.mark.parametrize(
    ("line", "step"),
    [
        ("choose x = 3 from 1 to 5", 1),
        ("choose x = 20 cm from 10 cm to 40 cm", 0.1),
        ("choose x = 60 cm from 30 cm to 150 cm", 0.5),
        ("choose x = 20 mm from 0 mm to 200 mm", 1),
        ("choose x = 0.5 from 0 to 1", 0.01),
        ("choose x = 20 deg from 0 deg to 90 deg", 1),
        ("choose x = 20 cm", None),
        ("choose x = 30 in from 1 in to 60 in", 0.25),
    ],
)
def test_a_slider_moves_in_steps_one_can_cut(line: str, step: float | None, tmp_path: Path) -> None:
    assert controls(tmp_path, line)[0]["step"] == step


def test_what_is_worked_out_is_not_plain(tmp_path: Path) -> None:
    lines = ("choose a = girth/8", "choose b = 1/3", "choose c = -2 cm", "choose d = no")
    assert [one["plain"] for one in controls(tmp_path, *lines)] == [False, True, True, True]
