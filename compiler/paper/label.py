"""Names on paper.

After `unfold along centre into right and left` everything exists twice: what was drawn is found
under `right`, its mirror image under `left`. That first word is the name's scope; unfolding twice
gives two of them.
"""

from __future__ import annotations

from oaktag.record import Record


class Label(Record):
    """A name, its index if it has one, and the halves of paper it lies on, outermost first."""

    name: str
    index: int | None = None
    scope: tuple[str, ...] = ()

    def __str__(self) -> str:
        own = self.name if self.index is None else f"{self.name}[{self.index}]"
        return ".".join([*self.scope, own])

    def within(self, half: str) -> Label:
        """The same name on a half of an unfolded piece."""
        return Label(self.name, self.index, (half, *self.scope))

    def without(self, half: str) -> Label:
        """The name after the halves are gone again."""
        return Label(self.name, self.index, tuple(word for word in self.scope if word != half))

    def answers(self, asked: Label) -> bool:
        """Whether this is meant by what was written, which may leave scopes out."""
        if self.name != asked.name or (asked.index is not None and self.index != asked.index):
            return False
        words = iter(self.scope)
        return all(word in words for word in asked.scope)
