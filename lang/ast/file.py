"""A whole file."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from oaktag.lang.ast.node import Node

if TYPE_CHECKING:
    from oaktag.lang.ast.statements import Statement
    from oaktag.lang.source import Source


# ----------------------------------------------------------------------- file


class File(Node):
    """A whole file. unit: the unit of length it uses most, in which figures are shown."""

    uncompared: ClassVar[frozenset[str]] = frozenset({"span", "source"})
    source: Source
    version: int | None
    statements: tuple[Statement, ...]
    unit: str
