"""Sheets and patterns for the formats."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from oaktag.compiler.sheet import lay_out

if TYPE_CHECKING:
    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.compiler.sheet import Sheet
    from tests.compiler.conftest import Board

PROGRAMS = Path(__file__).parents[2] / "programs"
BODY = {"waist_girth": 720.0, "hip_girth": 960.0, "waist_to_hip": 205.0}

# A circle skirt's quarter and a button: arcs, a fold, an allowance and words with signs in them.
CIRCLE = """
pattern "Lantern & <rope> ^C %%d 衣装 \U0001fab5"
piece quarter
  middle = origin
  waist_side = middle right 11.5 cm
  waist_centre = middle down 11.5 cm
  hem_side = middle right 71.5 cm
  hem_centre = middle down 71.5 cm
  outline
    waist = waist_centre arc to waist_side around middle
    side = waist_side to hem_side
    hem = hem_side arc to hem_centre around middle
    centre = hem_centre to waist_centre
  fold on centre
  grain along centre
  notch on hem at 1/2 double
  button at middle right 30 cm down 30 cm size 15 mm
  text "<script>alert('rope')</script>" at middle right 40 cm down 20 cm
piece Quarter from quarter
  mirror
allow 1 cm on quarter
allow 3 cm on quarter.hem
"""


@pytest.fixture(scope="session")
def circle_pattern(board: Board) -> Pattern:
    return board.pattern(CIRCLE)


@pytest.fixture(scope="session")
def circle(circle_pattern: Pattern) -> Sheet:
    return lay_out(circle_pattern, "size 38")


@pytest.fixture(scope="session")
def ferry_pattern(board: Board) -> Pattern:
    return board.pattern((PROGRAMS / "ferry.oak").read_text(encoding="utf-8"), **BODY)


@pytest.fixture(scope="session")
def ferry(ferry_pattern: Pattern) -> Sheet:
    return lay_out(ferry_pattern)
