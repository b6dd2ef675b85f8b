"""Units of length, exact, and how figures are written for a person."""

from __future__ import annotations

MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "yd": 914.4}
_DECIMALS = {"mm": 1, "cm": 2, "m": 3, "in": 2, "ft": 3, "yd": 3}


def show_length(millimetres: float, unit: str) -> str:
    """A length as its writer would put it: `9.5 cm`, `4 1/2 in` (sixteenths, if they fit)."""
    amount = millimetres / MILLIMETRES[unit]
    if unit == "in":
        sixteenths = round(abs(amount) * 16)
        if abs(abs(amount) * 16 - sixteenths) < 0.02:
            return f"{'-' if amount < 0 and sixteenths else ''}{_fraction(sixteenths)} in"
    return f"{show_number(amount, _DECIMALS[unit])} {unit}"


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
