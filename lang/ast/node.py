"""What all nodes have."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from oaktag.record import Record

if TYPE_CHECKING:
    from oaktag.lang.source import Span


class Node(Record):
    uncompared: ClassVar[frozenset[str]] = frozenset({"span"})
    span: Span
