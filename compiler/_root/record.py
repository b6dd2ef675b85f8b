"""Immutable values with named fields.

The standard library's dataclasses do the same, but each class costs about half a millisecond to
make at start-up, and the language alone has some seventy kinds of node. Here a class costs a few
microseconds, type checkers read it like a frozen dataclass, and fields named in `uncompared` (the
place in the file, say) do not count when two values are compared.
"""

from __future__ import annotations

from typing import Any, ClassVar, Self, dataclass_transform


@dataclass_transform(frozen_default=True)
class Record:
    """A frozen value; subclasses declare their fields as annotations, in order."""

    fields: ClassVar[tuple[str, ...]] = ()
    uncompared: ClassVar[frozenset[str]] = frozenset()
    _compared: ClassVar[tuple[str, ...]] = ()

    def __init_subclass__(cls) -> None:
        own = [
            name
            for name, kind in cls.__dict__.get("__annotations__", {}).items()  # noqa: RUF063  (inspect is slow to import)
            if not str(kind).startswith("ClassVar")
        ]
        cls.fields = tuple(dict.fromkeys([*cls.fields, *own]))
        cls._compared = tuple(name for name in cls.fields if name not in cls.uncompared)

    def __init__(self, *values: Any, **named: Any) -> None:
        mine = self.__dict__
        mine.update(zip(self.fields, values, strict=False))
        if named:
            mine.update(named)
        if len(mine) != len(self.fields) or len(values) > len(self.fields):
            self._complete(len(values), named)

    def _complete(self, given: int, named: dict[str, Any]) -> None:
        """Fills in defaults, and refuses fields that are missing or unknown."""
        cls = type(self)
        unknown = [name for name in named if name not in cls.fields]
        if unknown or given > len(cls.fields):
            raise TypeError(f"{cls.__name__} has no field {', '.join(unknown) or given}")
        for name in cls.fields:
            if name not in self.__dict__:
                try:
                    self.__dict__[name] = getattr(cls, name)
                except AttributeError:
                    raise TypeError(f"{cls.__name__} needs a value for {name}") from None

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"{type(self).__name__} is a value; use changed({name}=...)")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__} is a value")

    def changed(self, **values: Any) -> Self:
        """The same value with some fields replaced."""
        cls, own = type(self), self.__dict__
        new = cls.__new__(cls)
        mine = new.__dict__
        for name in self.fields:
            mine[name] = own[name]
        mine.update(values)
        if len(mine) != len(self.fields):
            new._complete(0, values)
        return new

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        theirs = other.__dict__
        return all(self.__dict__[name] == theirs[name] for name in self._compared)

    def __hash__(self) -> int:
        return hash((type(self), *(self.__dict__[name] for name in self._compared)))

    def __repr__(self) -> str:
        shown = ", ".join(f"{name}={self.__dict__[name]!r}" for name in self._compared)
        return f"{type(self).__name__}({shown})"
