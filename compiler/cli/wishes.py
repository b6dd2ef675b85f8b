"""What can be asked of `build`, on the command line and as keys of the settings file."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from oaktag.compiler.cli.lengths import read_length
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

FORMATS = ("svg", "dxf", "json", "pdf", "plt", "astm", "html")
ORIENTATIONS = ("portrait", "landscape")
PEN_KINDS = ("cut", "seam", "marks", "text")
MOST_PENS = 255
LARGEST = 100_000.0  # mm: no roll is longer


class Wish(Record):
    """read: from what was written to a value; raises ValueError with words. suits: the formats it
    has a meaning for, none if for all. flag: it is said or not said, without a value."""

    name: str
    read: Callable[[str], Any]
    suits: tuple[str, ...]
    flag: bool = False


def _formats(written: str) -> tuple[str, ...]:
    words = list(dict.fromkeys(word.strip().lower() for word in written.split(",")))
    unknown = [word for word in words if word not in FORMATS]
    if unknown:
        raise ValueError(f"there is no output `{unknown[0]}`; there are {', '.join(FORMATS)}")
    return tuple(words)


def _length(written: str) -> float:
    value = read_length(written)
    if not 0 <= value <= LARGEST:
        raise ValueError(f"`{written}` is more than any paper has")
    return value


def _width(written: str) -> float:
    value = _length(written)
    if value == 0:
        raise ValueError(f"`{written}` leaves no paper")
    return value


def _pens(written: str) -> dict[str, int]:
    """`cut=1,seam=2`: which pen draws which kind of line."""
    pens: dict[str, int] = {}
    for part in written.split(","):
        kind, equals, number = (word.strip() for word in part.partition("="))
        if kind not in PEN_KINDS or not equals:
            raise ValueError(
                f"`{part.strip()}` is no pen for a kind of line: write like `cut=1,seam=2`; the "
                f"kinds are {', '.join(PEN_KINDS)}"
            )
        if not re.fullmatch("[0-9]{1,3}", number) or not 1 <= int(number) <= MOST_PENS:
            raise ValueError(f"`{number}` is no pen: they are numbered from 1 to {MOST_PENS}")
        if kind in pens:
            raise ValueError(f"`{kind}` is given two pens")
        pens[kind] = int(number)
    return pens


def _paper(written: str) -> str:
    from oaktag.compiler.paging import paper_size

    paper_size(written)
    return written


def _one_of(*words: str) -> Callable[[str], str]:
    def read(written: str) -> str:
        word = written.strip().lower()
        if word not in words:
            raise ValueError(f"`{written}` is not one of {', '.join(words)}")
        return word

    return read


def _said(written: str) -> bool:
    return written == "yes"


WISHES = {
    wish.name: wish
    for wish in (
        Wish("to", _formats, ()),
        Wish("laser", _said, ("svg", "dxf"), flag=True),
        Wish("engrave", _said, ("svg", "dxf"), flag=True),
        Wish("curves", _one_of("polylines", "splines"), ("dxf",)),
        Wish("units", _one_of("metric", "english"), ("astm",)),
        Wish("paper", _paper, ("pdf",)),
        Wish("roll", _width, ("pdf", "plt")),
        Wish("projector", _said, ("pdf",), flag=True),
        Wish("dark", _said, ("pdf",), flag=True),
        Wish("margin", _length, ("pdf", "plt")),
        Wish("overlap", _length, ("pdf",)),
        *(Wish(name, _said, ("pdf",), flag=True) for name in ORIENTATIONS),
        Wish("one-page", _said, ("pdf",), flag=True),
        Wish("pens", _pens, ("plt",)),
        Wish("frame", _width, ("plt",)),
        Wish("turn", _said, ("pdf", "plt"), flag=True),
        Wish("old-hpgl", _said, ("plt",), flag=True),
    )
}
# Of these only one can be meant.
_EITHER = (("paper", "roll", "projector"), ORIENTATIONS)
# The first means something only together with the second.
_NEEDS = (("engrave", "laser"), ("dark", "projector"))
# Paper without sheets, and a picture without paper: what of sheets and paper is then not meant.
_SHEETS = ("overlap", *ORIENTATIONS)
_WITHOUT = {"roll": _SHEETS, "projector": (*_SHEETS, "margin", "turn")}


class Unfit(ValueError):  # noqa: N818  (nothing failed)
    """A wish that means nothing beside the others. name: which."""

    def __init__(self, name: str, words: str) -> None:
        super().__init__(words)
        self.name = name


def together(values: Mapping[str, Any], complete: bool = False) -> None:
    """Raises Unfit if among the wishes, with their formats, one means nothing.

    complete: nothing can be added to them, so that none that is needed may be missing.
    """
    formats = values["to"]
    for name in values:
        wish = WISHES[name]
        if wish.suits and not set(wish.suits) & set(formats):
            raise Unfit(
                name,
                f"`{name}` is for {' and '.join(wish.suits)}, and what is made is "
                f"{', '.join(formats)}: add `{wish.suits[0]}` to the outputs, or leave it out",
            )
    for names in _EITHER:
        both = [name for name in names if values.get(name)]
        if "plt" in formats:  # the roll is then the plotter's, and the pdf has its own paper
            both = [name for name in both if name != "roll"]
        if len(both) > 1:
            raise Unfit(both[1], f"`{both[0]}` and `{both[1]}` cannot both be meant; give one")
    for name, others in _WITHOUT.items():
        if values.get(name) and "plt" not in formats:
            for other in others:
                if values.get(other):
                    raise Unfit(other, f"`{other}` means nothing together with `{name}`")
    if complete and "plt" in formats and "roll" not in values:
        raise Unfit("to", "`plt` needs to know how wide the roll is: give `roll`, like 914mm")
    for name, other in _NEEDS:
        if values.get(name) and not values.get(other):
            raise Unfit(name, f"`{name}` goes with `{other}`, which is not asked for")


def settled(levels: list[Mapping[str, Any]], called: Mapping[str, Any]) -> dict[str, Any]:
    """All wishes, later levels over earlier ones, and the call over all.

    What a level wishes for a format that is not made now is left out; what the call itself wishes
    must fit, or Unfit is raised.
    """
    values: dict[str, Any] = {"to": ("svg",)}
    for level in (*levels, called):
        for names in _EITHER:
            if any(level.get(name) for name in names):
                values = {name: value for name, value in values.items() if name not in names}
        for name, others in _WITHOUT.items():
            if level.get(name):
                values = {word: value for word, value in values.items() if word not in others}
        values |= level
    formats = set(values["to"])
    kept = {
        name: value
        for name, value in values.items()
        if name in called or not WISHES[name].suits or set(WISHES[name].suits) & formats
    }
    together(kept, complete=True)
    return kept
