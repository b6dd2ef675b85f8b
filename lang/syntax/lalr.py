"""The parser: drives the tables that Lark made of grammar.lark over the words of one instruction.

Words are contextual: a word is taken as a keyword where that keyword can stand, else as a
direction, else as a name. What can stand is found exactly, by trying the reductions it would bring
about.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oaktag.lang.source import Span
from oaktag.lang.syntax.build import Builder
from oaktag.lang.words import NEVER_NAMES, WAYS

if TYPE_CHECKING:
    from collections.abc import Callable

    from oaktag.lang.source import Source
    from oaktag.lang.syntax.tables import Tables
    from oaktag.lang.syntax.tokens import Token

_TERMINALS = {"number": "NUMBER", "quantity": "QUANTITY", "text": "QUOTED", "end": "$END"}


class Stuck(Exception):  # noqa: N818  (a place where the parser cannot go on)
    """at: which word cannot stand where it does. wanted: the names of the terminals that could.
    earlier: those that could have stood before it, if the word before it was read as a name.
    """

    def __init__(self, at: int, wanted: frozenset[str], earlier: frozenset[str]) -> None:
        super().__init__(at)
        self.at = at
        self.wanted = wanted
        self.earlier = earlier


class Parser:
    """Drives the tables over the tokens of one instruction."""

    __slots__ = ("builder", "builders", "source", "tables")

    def __init__(self, tables: Tables, source: Source) -> None:
        self.tables = tables
        self.source = source
        self.builder = Builder(source)
        self.builders: dict[str, Callable[..., Any]] = {}

    def run(self, start: str, words: list[Token], *, naming: bool = False) -> Any:
        """The value of one instruction; raises Stuck, or a builder's Mistake.

        naming: the first word is a name, whatever the word.
        """
        tables, source = self.tables, self.source
        actions, gotos, rules = tables.actions, tables.gotos, tables.rules
        literals, accept = tables.literals, tables.ends[start]
        states = [tables.starts[start]]
        values: list[Any] = []
        places: list[tuple[int, int]] = []
        terminal, before = "", states[:]
        for at, token in enumerate(words):
            kind, last, earlier = token.kind, terminal, before
            if kind == "word":
                following = words[at + 1]
                if token.text in NEVER_NAMES:
                    terminal = literals.get(token.text, "")
                elif (naming and at == 0) or (following.kind == "sign" and following.text in ".["):
                    terminal = "NAME"
                else:
                    terminal = self._terminal(states, token.text)
            elif kind == "sign":
                terminal = literals.get(token.text, "")
            else:
                terminal = _TERMINALS[kind]
            before = states[:]
            while True:
                state = states[-1]
                if state == accept and kind == "end":
                    return values[0]
                action = actions[state].get(terminal)
                if action is None:
                    named = last == "NAME"
                    raise Stuck(
                        at,
                        self.expected(before),
                        self.expected(earlier) if named else frozenset(),
                    )
                if action >= 0:
                    states.append(action)
                    values.append(token)
                    places.append((token.start, token.end))
                    break
                name, length, build, kept = rules[~action]
                if length:
                    place = (places[-length][0], places[-1][1])
                    children = values[-length:]
                    del states[-length:], values[-length:], places[-length:]
                else:
                    place, children = (token.start, token.start), []
                if build == "":
                    value = children[kept[0] or 0]
                else:
                    taken: list[Any] = []
                    for one in kept:
                        if one is None:
                            taken.append(None)
                        elif one >= 0:
                            taken.append(children[one])
                        else:
                            taken.extend(children[~one])
                    if build == "[]":
                        value = taken
                    else:
                        make = self.builders.get(build)
                        if make is None:
                            make = self.builders[build] = self.builder.maker(build)
                        value = make(Span(source, *place), *taken)
                states.append(gotos[states[-1]][name])
                values.append(value)
                places.append(place)
        raise AssertionError("an instruction ends with its end")

    def _terminal(self, states: list[int], word: str) -> str:
        """As what a word is read here: keyword, direction or name, the first that can stand."""
        keyword = self.tables.literals.get(word)
        if keyword and self.can_stand(states, keyword):
            return keyword
        if word in WAYS and self.can_stand(states, "WAY"):
            return "WAY"
        return "NAME"

    def can_stand(self, states: list[int], terminal: str) -> bool:
        """Whether this terminal would be read after all reductions it brings about."""
        actions, gotos, rules = self.tables.actions, self.tables.gotos, self.tables.rules
        action = actions[states[-1]].get(terminal)
        if action is None or action >= 0:
            return action is not None
        trail = states[:]
        while action is not None and action < 0:
            name, length = rules[~action][:2]
            if length:
                del trail[-length:]
            trail.append(gotos[trail[-1]][name])
            if terminal == "$END" and trail[-1] in self.tables.ends.values():
                return True
            action = actions[trail[-1]].get(terminal)
        return action is not None

    def expected(self, states: list[int]) -> frozenset[str]:
        """The terminals that could stand here."""
        actions = self.tables.actions[states[-1]]
        return frozenset(name for name in actions if self.can_stand(states, name))
