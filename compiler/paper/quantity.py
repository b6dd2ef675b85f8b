"""Amounts as they reach the paper."""

from __future__ import annotations

from oaktag.record import Record


class Quantity(Record):
    """kind: `number`, `length` (mm), `area` (mm²) or `angle` (degrees)."""

    kind: str
    amount: float

    def along(self, total: float) -> float:
        """The distance this means along something of that length: a bare number is a share of
        it.
        """
        return self.amount * total if self.kind == "number" else self.amount
