"""Arguments of verbs that have parts of their own."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Edge
from oaktag.compiler.paper.opening import FLARE
from oaktag.compiler.paper.quantity import Quantity
from oaktag.record import Record


class Ending(Record):
    """How far before the point the sewing of a dart ends."""

    short: Quantity


class Treatment(Record):
    """What becomes of an opening: kind `flare`, `pleat`, `dart` or `gather`; style of a pleat."""

    kind: str = FLARE
    style: str = "knife"
    ending: Ending | None = None

    @property
    def short(self) -> float:
        return self.ending.short.amount if self.ending else 0.0


class Amount(Record):
    """How far to open, measured straight across at an edge."""

    by: Quantity
    at: Edge | None = None


class Half(Record):
    """The name of a half of an unfolded piece, where `holding` names one."""

    name: str
