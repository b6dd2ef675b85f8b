"""Places in a row along an edge or a line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.origin import ON

if TYPE_CHECKING:
    from oaktag.compiler.paper.chain import Chain
    from oaktag.compiler.paper.quantity import Quantity

MOST = 500


def spaced(
    along: Chain, count: Quantity, start: complex, end: complex, size: Quantity
) -> list[tuple[complex, complex]]:
    """That many places from one point of a chain to another, and the direction there.

    Evenly as sewn, so that what is folded away comes between none of them. Raises PaperError if a
    point does not lie on the chain, or there is no size or number.
    """
    number = round(count.amount)
    if not 1 <= number <= MOST:
        raise PaperError(
            f"{number} cannot be set out in a row" if number < 1 else f"more than {MOST} in a row",
            help=f"give a number from 1 to {MOST}, or take the line out",
            about="count",
            code="no-number",
        )
    if size.amount <= 0:
        raise PaperError(
            "a button has a size above nothing: this is {0}",
            size.amount,
            help="give its diameter",
            about="size",
            code="no-size",
        )
    ends = []
    for point, about in ((start, "start"), (end, "end")):
        at, away = along.path.nearest(point)
        if away > ON:
            raise PaperError(
                f"this point lies {{0}} away from `{along.label}`",
                away,
                help=f"name a point on it, like `on {along.label} 3 cm from …`",
                about=about,
                code="off-edge",
            )
        ends.append(along.sewn_distance(at))
    first, last = ends
    step = (last - first) / (number - 1) if number > 1 else 0.0
    if number > 1 and abs(step) < size.amount:
        raise PaperError(
            f"{number} buttons of {{0}} have no room there: their middles are {{1}} apart",
            size.amount,
            abs(step),
            help="take fewer or smaller ones, or give them more room",
            about="count",
            code="no-room",
        )
    found = []
    for turn in range(number):
        at = along.cut_distance(first + turn * step)
        found.append((along.path.point_at(at), along.path.tangent_at(at)))
    return found
