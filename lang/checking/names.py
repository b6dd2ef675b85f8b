"""What a file, or the paper of a piece, has under which name.

Names on paper are kept whole, `right.side` as one name, since after `unfold` the two halves are
reached through names of their own. `Names` is filled line by line while a file is checked and is
not changed after that.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.lang.checking.dimensions import (
    EDGE,
    HALF,
    LENGTH,
    LINE,
    NUMBER,
    ON_PAPER,
    OPENING,
    PIECE,
    POINT,
    SECTION,
    UNKNOWN,
    VALUES,
    WHOLE,
    Kind,
)
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.lang.source import Span


class Symbol(Record):
    """One name: the kind of what it stands for, and where it was given.

    role: `measure`, `choice`, `value`, `adjusted` or `turn` (counted by a `repeat`), else empty.
    row: whether it takes an index, like `drape[2]`; none if that depends on an `if`.
    inside: what a piece or a used pattern has in turn.
    twice: the two names that took its place when the piece was unfolded.
    perhaps: whether it is there at all depends on an `if`, or on where the paper was cut.
    """

    kind: Kind
    span: Span | None = None
    role: str = ""
    row: bool | None = False
    inside: Names | None = None
    twice: tuple[str, ...] = ()
    perhaps: bool = False


MISTAKEN = Symbol(UNKNOWN, None, "", None)

# What a dart or an opening has behind a dot; a single leg may be chosen, `legs[1]`.
FOLD_PARTS = {
    "point": Symbol(POINT),
    "tip": Symbol(POINT),
    "mouth": Symbol(LINE),
    "legs": Symbol(LINE, None, "", None),
    "intake": Symbol(LENGTH),
}


class Names:
    """Names and what they stand for; of a piece also its edges in order.

    outline: the names of the edges in order, empty while there is none.
    halves: the names of the two halves after `unfold`, the first one first; innermost last.
    erased: where a line was taken off the paper, by the name it had.
    part: whether it was cut off another, so that which edges meet is known when it is drawn.
    divided: whether the piece has been divided, which is its last step.
    loose: more may lie on this paper than can be known, so that an unknown name is no mistake.
    """

    __slots__ = (*("divided", "erased", "halves", "loose", "outline", "part", "symbols", "title"),)

    def __init__(self, symbols: dict[str, Symbol] | None = None, *, loose: bool = False) -> None:
        self.symbols: dict[str, Symbol] = {} if symbols is None else symbols
        self.outline: tuple[str, ...] = ()
        self.halves: tuple[tuple[str, str], ...] = ()
        self.erased: dict[str, Span] = {}
        self.divided = self.part = False
        self.loose = loose
        self.title = ""

    def copy(self) -> Names:
        copy = Names(dict(self.symbols), loose=self.loose)
        copy.outline, copy.halves, copy.title = self.outline, self.halves, self.title
        copy.divided, copy.part, copy.erased = self.divided, self.part, dict(self.erased)
        return copy

    def paper(self) -> Names:
        """A copy with what lies on the paper, as a piece made from this one begins."""
        copy = self.copy()
        copy.divided = False
        copy.symbols = {
            name: symbol
            for name, symbol in self.symbols.items()
            if symbol.kind in ON_PAPER or symbol.kind == UNKNOWN
        }
        return copy

    def of_kind(self, kinds: Iterable[Kind]) -> list[str]:
        wanted = {*kinds}
        return [name for name, symbol in self.symbols.items() if symbol.kind in wanted]

    def of_role(self, role: str) -> dict[str, Symbol]:
        """The measures, or the choices, of a pattern, in order."""
        return {name: symbol for name, symbol in self.symbols.items() if symbol.role == role}

    def pieces(self) -> dict[str, Symbol]:
        """The pieces of a pattern, in order."""
        return {name: symbol for name, symbol in self.symbols.items() if symbol.kind == PIECE}

    # ------------------------------------------------------------ what steps do to names

    def open(self, name: str, *, whole_row: bool) -> None:
        """A slashed line's name means its opening from now on."""
        symbol = self.symbols.get(name)
        if symbol is not None and symbol.kind == LINE:
            kind = OPENING if whole_row or symbol.row is False else UNKNOWN
            self.symbols[name] = symbol.changed(kind=kind)

    def erase(self, name: str, place: Span) -> None:
        """A drawn line is gone, and its name free again; of a row some members may be left."""
        symbol = self.symbols.get(name)
        if symbol is None or symbol.kind != LINE:
            return
        if symbol.row is not False:
            self.symbols[name] = symbol.changed(perhaps=True)
            return
        del self.symbols[name]
        self.erased[name] = place
        for plain, other in self.symbols.items():
            if name in other.twice:
                (left,) = (half for half in other.twice if half != name)
                self.symbols[plain] = self.symbols.get(left, MISTAKEN)

    def doubt(self, kind: Kind) -> None:
        """One of these means something else now, and it is not known which."""
        for name, symbol in self.symbols.items():
            if symbol.kind == kind:
                self.symbols[name] = symbol.changed(kind=UNKNOWN)

    def unfold(self, along: str, first: str, second: str) -> None:
        """A half becomes whole about an edge, which stays as a drawn line.

        The edges that touched it become one. What else was drawn is there twice, under the names
        of the halves; a point may lie on the fold and be there once, so its own name stays too.
        """
        lost = {name for name in (first, second) if self.symbols.get(name, MISTAKEN).perhaps}
        if lost:  # a half cut off, which these names were those of
            known = self.symbols.items()
            self.symbols = {name: it for name, it in known if name.partition(".")[0] not in lost}
        around = self.outline
        at = around.index(along) if along in around else 0
        around = (*around[at + 1 :], *around[:at])
        whole = {*around[:1], *around[-1:]} if not self.part else set()
        symbols: dict[str, Symbol] = {}
        for name, symbol in self.symbols.items():
            if name == along:
                symbols[name] = symbol.changed(kind=LINE)
                continue
            if symbol.kind in VALUES:
                symbols[name] = symbol
                continue
            half = symbol.changed(kind=SECTION) if name in whole else symbol
            for side in (first, second):
                twice = tuple(f"{side}.{one}" for one in symbol.twice)
                symbols[f"{side}.{name}"] = half.changed(twice=twice) if twice else half
            if name in whole or symbol.kind in (POINT, UNKNOWN):
                symbols[name] = symbol
            elif self.part:
                symbols[name] = symbol.changed(perhaps=True)
            else:
                names = (f"{first}.{name}", f"{second}.{name}")
                symbols[name] = Symbol(UNKNOWN, symbol.span, "", None, None, names, symbol.perhaps)
        self.symbols = symbols
        inner = around[1:-1]
        self.outline = (
            *around[:1],
            *(f"{first}.{name}" for name in inner),
            *(around[-1:] if around[1:] else ()),
            *(f"{second}.{name}" for name in reversed(inner)),
        )
        self.halves = (*self.halves, (first, second))

    def halve(self, along: str, keeping: str) -> None:
        """One half stays, under its plain names, and the line becomes an edge."""
        pair = self.halves[-1] if self.halves else ("", "")
        if keeping not in pair:  # the way back from an unfolding before the last one
            self.loose = True
            self.symbols = {
                name: MISTAKEN if symbol.twice else symbol for name, symbol in self.symbols.items()
            }
            return
        gone = pair[1] if keeping == pair[0] else pair[0]
        kept: dict[str, Symbol] = {}
        for name, symbol in self.symbols.items():
            scope, _, plain = name.partition(".")
            if name in pair or scope == gone or symbol.twice[:1] == (f"{pair[0]}.{name}",):
                continue
            if scope == keeping and plain:
                whole = symbol.kind == SECTION and plain in self.outline
                kept[plain] = symbol.changed(kind=EDGE) if whole else symbol
            else:
                kept.setdefault(name, symbol)
        kept[along] = Symbol(EDGE, kept[along].span if along in kept else None)
        self.symbols = kept
        edges = [name for name in self.outline if name.partition(".")[0] != gone]
        self.outline = (*(name.removeprefix(f"{keeping}.") for name in edges), along)
        self.halves = self.halves[:-1]

    def divide(self, along: str) -> Names:
        """The names of a part after `divide`: which part has which of them is known when drawn,
        and whether what is there twice is so on a part too.
        """
        names = self.paper()
        for name, symbol in names.symbols.items():
            if symbol.twice:
                half = self.symbols.get(symbol.twice[0], MISTAKEN)
                names.symbols[name] = half.changed(perhaps=True)
            elif symbol.kind == HALF:
                names.symbols[name] = symbol.changed(perhaps=True)
        names.symbols[along] = Symbol(EDGE, self.symbols[along].span)
        names.outline, names.part = (*self.outline, along), True
        return names


def merge(first: Names, second: Names) -> Names:
    """What may be known after an `if`, whichever way it went."""
    merged = first.copy()
    for name, theirs in second.symbols.items():
        ours = merged.symbols.get(name)
        if ours is not None:
            merged.symbols[name] = either_symbol(ours, theirs)
        else:
            merged.symbols[name] = theirs.changed(perhaps=True)
    for name, ours in first.symbols.items():
        if name not in second.symbols:
            merged.symbols[name] = ours.changed(perhaps=True)
    merged.outline = max(first.outline, second.outline, key=len)
    merged.erased = first.erased | second.erased
    merged.halves = max(first.halves, second.halves, key=len)
    merged.divided = first.divided and second.divided
    merged.part = first.part or second.part
    merged.loose = first.loose or second.loose
    return merged


def either_symbol(first: Symbol, second: Symbol) -> Symbol:
    """One name for what may be either of two things."""
    if first is second:
        return first
    kind = first.kind
    if kind != second.kind:
        kind = NUMBER if {kind, second.kind} == {NUMBER, WHOLE} else UNKNOWN
    inside = first.inside
    if inside is not None and second.inside is not None:
        inside = merge(inside, second.inside)
    return first.changed(
        kind=kind,
        row=first.row if first.row == second.row else None,
        inside=inside if kind == PIECE else None,
        twice=() if first.twice != second.twice else first.twice,
        perhaps=first.perhaps or second.perhaps,
    )
