"""Paper let in or cut away, worked out only when somebody asks what it was."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import overload

from oaktag.compiler.geometry import Path


class Areas(Sequence[Path]):
    """Closed rings, in order. A check or a plot needs none of them; a story needs them all."""

    __slots__ = ("_find", "_found")

    def __init__(self, find: Callable[[], Sequence[Path]]) -> None:
        self._find = find
        self._found: tuple[Path, ...] | None = None

    @property
    def rings(self) -> tuple[Path, ...]:
        if self._found is None:
            self._found = tuple(self._find())
        return self._found

    @overload
    def __getitem__(self, index: int) -> Path: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Path, ...]: ...
    def __getitem__(self, index: int | slice) -> Path | tuple[Path, ...]:
        return self.rings[index]

    def __len__(self) -> int:
        return len(self.rings)

    def __iter__(self) -> Iterator[Path]:
        return iter(self.rings)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Areas | tuple):
            return self.rings == tuple(other)
        return NotImplemented

    def __hash__(self) -> int:
        return hash(self.rings)


def together(*parts: Sequence[Path]) -> Sequence[Path]:
    """All rings of several, still not worked out."""
    lazy = [part for part in parts if isinstance(part, Areas) or part]
    if not lazy:
        return ()
    return lazy[0] if len(lazy) == 1 else Areas(lambda: [ring for part in lazy for ring in part])
