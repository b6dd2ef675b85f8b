"""The tables that drive the parser, made by Lark from grammar.lark and kept in the user's cache.

Importing Lark and making the tables takes a quarter of a second, reading them back a few
milliseconds. The file in the cache names the grammar it was made from, word for word, so an old one
is never used; one that cannot be read is made anew, and one that cannot be written is done without.
"""

from __future__ import annotations

import os
import zlib
from contextlib import suppress
from json import dumps, loads
from typing import Any

STARTS = ("file_line", "piece_line", "edge_line", "assign", "expr")
_FORMAT = 1
_HERE = os.path.dirname(os.path.abspath(__file__))


class Tables:
    """actions: for each state, what to do on a terminal: go to a state, or (below 0) reduce by the
    rule of that complement. gotos: for each state, where a finished rule leads. rules: name, how
    many symbols, builder, and which of them it keeps (see `_kept`). literals: the terminal of each
    fixed text. starts, ends: the first and the accepting state of each start symbol.
    """

    __slots__ = ("actions", "ends", "gotos", "literals", "rules", "starts")

    def __init__(self, plain: dict[str, Any]) -> None:
        actions, gotos = plain["actions"], plain["gotos"]
        self.actions: list[dict[str, int]] = [actions[first] for first, _ in plain["states"]]
        self.gotos: list[dict[str, int]] = [gotos[second] for _, second in plain["states"]]
        self.rules: list[tuple[str, int, str, list[int | None]]] = plain["rules"]
        self.literals: dict[str, str] = plain["literals"]
        self.starts: dict[str, int] = plain["starts"]
        self.ends: dict[str, int] = plain["ends"]

    def words(self, start: str) -> list[str]:
        """The words that can stand first in an instruction of this kind."""
        first = self.actions[self.starts[start]]
        return [word for word, name in self.literals.items() if name in first and word[0].isalpha()]


def load() -> Tables:
    """The tables, from the cache if they are there."""
    with open(os.path.join(_HERE, "grammar.lark"), encoding="utf-8") as file:
        grammar = file.read()
    path = cache_path(grammar)
    try:
        with open(path, "rb") as kept:
            check, _, content = kept.read().partition(b"\n")
        if int(check) == zlib.crc32(content):
            plain = loads(content)
            if plain["grammar"] == grammar and plain["format"] == _FORMAT:
                return Tables(plain)
    except (OSError, ValueError, LookupError, TypeError):
        pass
    plain = build(grammar)
    _keep(path, plain)
    return Tables(plain)


def cache_path(grammar: str) -> str:
    """Where the tables of this grammar are kept."""
    folder = os.environ.get("XDG_CACHE_HOME", "")
    if not os.path.isabs(folder):
        folder = os.path.join(os.path.expanduser("~"), ".cache")
    mark = zlib.crc32(f"{_FORMAT}\n{grammar}".encode())
    return os.path.join(folder, "oaktag", f"grammar-{mark:08x}.json")


def _keep(path: str, plain: dict[str, Any]) -> None:
    """Writes the tables whole or not at all; a cache that cannot be written is done without."""
    content = dumps(plain, separators=(",", ":")).encode()
    mine = f"{path}.{os.getpid()}"
    try:
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(mine, "wb") as file:
            file.write(b"%d\n" % zlib.crc32(content) + content)
        os.replace(mine, path)
    except OSError:
        with suppress(OSError):
            os.unlink(mine)


def build(grammar: str) -> dict[str, Any]:
    """Has Lark make the LALR tables, and keeps of them what the parser needs, as plain data."""
    import lark
    from lark.grammar import Rule
    from lark.lexer import TerminalDef

    parser = lark.Lark(grammar, parser="lalr", lexer="basic", start=list(STARTS))
    made, memo = parser.memo_serialize([TerminalDef, Rule])
    table = made["parser"]["parser"]
    rules = [rule["@"] for rule in made["rules"]]
    number = {mark: at for at, mark in enumerate(rules)}
    terminals = {
        name
        for rule in rules
        for name in (s["name"] for s in memo[rule]["expansion"] if s["__type__"] == "Terminal")
    } | {"$END"}
    order = _order(table)
    actions: dict[str, int] = {}
    gotos: dict[str, int] = {}
    states = []
    for state in order:
        doing: dict[str, int] = {}
        going: dict[str, int] = {}
        for name, reduces, what in _row(table, state):
            if reduces:
                doing[name] = ~number[what["@"]]
            elif name in terminals:
                doing[name] = order[what]
            else:
                going[name] = order[what]
        first = actions.setdefault(dumps(doing), len(actions))
        states.append([first, gotos.setdefault(dumps(going), len(gotos))])
    return {
        "format": _FORMAT,
        "lark": lark.__version__,
        "grammar": grammar,
        "literals": {
            entry["pattern"]["value"]: entry["name"]
            for entry in memo.values()
            if entry["__type__"] == "TerminalDef" and entry["pattern"]["__type__"] == "PatternStr"
        },
        "rules": [_rule(memo[mark]) for mark in rules],
        "actions": [loads(row) for row in actions],
        "gotos": [loads(row) for row in gotos],
        "states": states,
        "starts": {name: order[table["start_states"][name]] for name in STARTS},
        "ends": {name: order[table["end_states"][name]] for name in STARTS},
    }


def _row(table: dict[str, Any], state: int) -> list[tuple[str, int, Any]]:
    """What a state does on each symbol: its name, whether that reduces, and by or to what."""
    row = table["states"][state].items()
    return sorted((table["tokens"][symbol], *doing) for symbol, doing in row)


def _order(table: dict[str, Any]) -> dict[int, int]:
    """Numbers for the states that are the same in any process; Lark's are not."""
    states = [table["start_states"][start] for start in STARTS]
    order = {state: at for at, state in enumerate(states)}
    for state in states:  # which grows
        for _, reduces, to in _row(table, state):
            if not reduces and to not in order:
                order[to] = len(order)
                states.append(to)
    return order


def _rule(rule: dict[str, Any]) -> list[Any]:
    """Name, number of symbols, builder, what is kept.

    The builder is empty for a rule that only passes its one value on, and `[]` for one whose values
    are spliced into the rule that uses it.
    """
    kept = _kept(rule)
    name = rule["origin"]["name"]
    builder = rule["alias"] or name
    if name.startswith("_"):
        builder = "[]"
    elif not rule["alias"] and rule["options"]["expand1"] and len(kept) == 1:
        builder = ""
    return [name, len(rule["expansion"]), builder, kept]


def _kept(rule: dict[str, Any]) -> list[int | None]:
    """Which symbols' values go to the builder: a place, the complement of one whose values are
    spliced in, or nothing for a part in brackets that was left out. As Lark does it for its trees.
    """
    kept: list[int | None] = []
    left_out = list(rule["options"]["empty_indices"])
    for at, symbol in enumerate(rule["expansion"]):
        while left_out and left_out.pop(0):
            kept.append(None)
        if symbol["__type__"] == "NonTerminal":
            kept.append(~at if symbol["name"].startswith("_") else at)
        elif rule["options"]["keep_all_tokens"] or not symbol["filter_out"]:
            kept.append(at)
    kept.extend(None for missing in left_out if missing)
    return kept
