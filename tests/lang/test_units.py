"""Figures as they are told to a person."""

from __future__ import annotations

import pytest

from oaktag.lang.units import roughly, unit_in


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("allow 15 mm on front", "mm"),
        ("allow 5/8 in on front # 2 cm at the hem", "in"),
        ("on hem 4cm from side", "cm"),
        ("size button_size", "yd"),
        ("bound 2 cm, then 8 mm", "yd"),
    ],
)
def test_a_line_gives_its_lengths_in_one_unit_or_in_that_of_the_file(text: str, unit: str) -> None:
    assert unit_in(text, "yd") == unit


def test_a_rule_of_thumb_is_a_round_figure_in_the_unit_of_the_file() -> None:
    """Two inches and 71 mm, to half a centimetre or a quarter of an inch."""
    assert [roughly(50.8, unit) for unit in ("cm", "mm", "in")] == ["5 cm", "50 mm", "2 in"]
    assert [roughly(71.0, unit) for unit in ("cm", "in")] == ["7 cm", "2 3/4 in"]
