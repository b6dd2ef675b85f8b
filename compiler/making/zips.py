"""Which zip for which opening."""

from __future__ import annotations

from oaktag.lang.units import MILLIMETRES

# The lengths in which zips are commonly sold, from memory, no source.
TRADE_CM = (10, 12, 15, 18, 20, 22, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80)
TRADE_IN = (4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30)
MORE = 2 * MILLIMETRES["in"]  # of the published rule, "about 2 in"


def trade_length(opening: float, unit: str) -> float | None:
    """The shortest zip in the trade that is as long as an opening, in mm; none if it is too long.

    In inches where the file is in inches, feet or yards; a zip that is too long can be shortened.
    """
    inches = unit in ("in", "ft", "yd")
    lengths = TRADE_IN if inches else TRADE_CM
    one = MILLIMETRES["in" if inches else "cm"]
    return next((count * one for count in lengths if count * one >= opening - 0.5), None)


def needed_at_waist(waist: float, hip: float) -> float:
    """How long an opening from the waist down has to be to get over the hips, in mm.

    (hip - waist + about 2 in) / 2 [threadsmagazine.com]; nothing for a body that is not wider at
    the hips.
    """
    return max(0.0, (hip - waist + MORE) / 2)
