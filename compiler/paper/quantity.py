"""Amounts as they reach the paper."""

from __future__ import annotations

from oaktag.record import Record


class Quantity(Record):
    """kind: `number`, `length` (mm), `area` (mm²) or `angle` (degrees). unit: in which a length was
    written, empty if it was worked out. Two that differ in that alone are the same.
    """

    uncompared = frozenset(("unit",))

    kind: str
    amount: float
    unit: str = ""

    def along(self, total: float) -> float:
        """The distance this means along something of that length: a bare number is a share of
        it.
        """
        return self.amount * total if self.kind == "number" else self.amount
