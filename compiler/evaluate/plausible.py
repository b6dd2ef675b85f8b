"""Measures no human body has: a slip of the unit, or of the pen.

The ranges are those of the women's chart of EN 13402-3 that comes with Oaktag, widened to about a
half of the smallest and one and a half of the largest, so that children and men are within: common
practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.evaluate.expressions import show
from oaktag.compiler.paper.quantity import Quantity
from oaktag.lang.diagnostics import Diagnostic
from oaktag.lang.units import MILLIMETRES

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from oaktag.lang.source import Span

RANGES: Mapping[str, tuple[float, float]] = {  # mm
    "bust_girth": (400.0, 2000.0),
    "chest_girth": (400.0, 2000.0),
    "waist_girth": (350.0, 2000.0),
    "hip_girth": (400.0, 2100.0),
    "neck_girth": (180.0, 700.0),
    "upper_arm_girth": (110.0, 700.0),
    "wrist_girth": (80.0, 350.0),
    "waist_to_hip": (70.0, 400.0),
    "back_waist_length": (170.0, 700.0),
    "back_width": (150.0, 700.0),
    "shoulder_length": (50.0, 250.0),
    "arm_length": (200.0, 1000.0),
    "body_rise": (120.0, 500.0),
    "outside_leg_length": (350.0, 1500.0),
    "inside_leg_length": (250.0, 1200.0),
    "height": (600.0, 2400.0),
}
SLIPS = ((10.0, ""), (0.1, ""), (25.4 / 10, "in"), (10 / 25.4, "cm"))  # times what, meant in what


def implausible(
    measures: Mapping[str, Quantity], places: Mapping[str, Span], unit: str
) -> Iterator[Diagnostic]:
    """A warning for each measure out of the human range, at the line that asks for it."""
    for name, value in measures.items():
        low, high = RANGES.get(name, (0.0, float("inf")))
        if low <= value.amount <= high or name not in places:
            continue
        shown = show(value, unit)
        ends = [show(Quantity("length", end), unit) for end in (low, high)]
        yield Diagnostic(
            "warning",
            "implausible",
            f"`{name}` is {shown}, and bodies have {ends[0]} to {ends[1]} there",
            places[name],
            help=_meant(value.amount, low, high, unit),
        )


def _meant(amount: float, low: float, high: float, unit: str) -> str:
    """What was probably meant: another unit, or a decimal point elsewhere."""
    for times, meant in SLIPS:
        if low <= amount * times <= high:
            figure = show(Quantity("length", amount * times), meant or unit)
            if meant and meant in MILLIMETRES:
                return (
                    f"was it measured in {'inches' if meant == 'in' else 'centimetres'}: {figure}?"
                )
            return f"did you mean {figure}?"
    return "measure again; if it is right, leave it"
