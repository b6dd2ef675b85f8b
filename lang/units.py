"""Units of length, exact, and how figures are written for a person."""

from __future__ import annotations

import re

MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "yd": 914.4}
_SAID = re.compile(r"[0-9][ \t]*(mm|cm|m|in|ft|yd)\b")
_DECIMALS = {"mm": 1, "cm": 2, "m": 3, "in": 2, "ft": 3, "yd": 3}


def show_length(millimetres: float, unit: str) -> str:
    """A length as its writer would put it: `9.5 cm`, `4 1/2 in` (sixteenths, if they fit)."""
    amount = millimetres / MILLIMETRES[unit]
    if unit == "in":
        sixteenths = round(abs(amount) * 16)
        if abs(abs(amount) * 16 - sixteenths) < 0.02:
            return f"{'-' if amount < 0 and sixteenths else ''}{_fraction(sixteenths)} in"
    return f"{show_number(amount, _DECIMALS[unit])} {unit}"


def unit_in(text: str, otherwise: str) -> str:
    """The unit in which a text gives its lengths, if there are any and all are in one unit."""
    said = set(_SAID.findall(text.partition("#")[0]))
    return said.pop() if len(said) == 1 else otherwise


def roughly(length: float, unit: str) -> str:
    """A length of a rule of thumb: to half a centimetre, or a quarter of an inch."""
    step = 25.4 / 4 if unit in ("in", "ft", "yd") else 5.0
    return show_length(round(length / step) * step, unit)


def show_area(square_millimetres: float, unit: str) -> str:
    """An area in the square of a unit; in square metres where the unit is smaller than a foot."""
    square = unit if unit in ("in", "ft", "yd", "m") else "cm"
    amount = square_millimetres / MILLIMETRES[square] ** 2
    return f"{show_number(amount, 3 if square in ('m', 'yd') else 1)} {square}²"


def show_number(amount: float, decimals: int) -> str:
    """Rounded, without zeros at the end; a figure too small to show is not shown as nothing."""
    text = f"{amount:.{decimals}f}"
    if amount and float(text) == 0:
        text = f"{amount:.2g}" if abs(amount) >= 1e-6 else "0"
    text = text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text
    return "0" if text in ("-0", "") else text


def _fraction(sixteenths: int) -> str:
    whole, rest = divmod(sixteenths, 16)
    if not rest:
        return str(whole)
    under = 16
    while rest % 2 == 0:
        rest, under = rest // 2, under // 2
    return f"{whole} {rest}/{under}" if whole else f"{rest}/{under}"
