"""The way out for a line of the settings file that cannot be read."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.lang.words import nearest

if TYPE_CHECKING:
    from collections.abc import Collection

_LINE = re.compile(r"\s*([\w-]+)\s*[=:]\s*(.*?)\s*(?:#.*)?")
_WORDS = re.compile(r"[\w.×/=-]+(?:[ ,]+[\w.×/=-]+)*")
_SAID = {"yes": "true", "on": "true", "true": "true", "no": "false", "off": "false",
         "false": "false"}  # fmt: skip
_OTHERWISE = 'a line is `[build]`, `[outputs.copyshop]`, or like `to = "svg"` with straight quotes'


def way_out(line: str, problem: str, flags: Collection[str]) -> str:
    """What to write instead. problem: as the reader of TOML told it. flags: names of settings that
    are said or not said.
    """
    bare = line.partition("#")[0].strip()
    if bare.startswith("[") and not bare.endswith("]"):
        return f"close the bracket: `{bare}]`"
    if problem.startswith(("Cannot overwrite", "Cannot declare")):
        said = bare.strip("[]").partition("=")[0].strip()
        return f"`{said}` stands here for the second time: keep one of the two"
    if nearest(bare, flags) or bare in flags:
        return f"write `{bare if bare in flags else nearest(bare, flags)} = true`"
    found = _LINE.fullmatch(line)
    if not found:
        return _OTHERWISE
    name, value = found[1], found[2]
    if value.lower() in _SAID:
        return f"write `{name} = {_SAID[value.lower()]}`"
    plain = value.strip("\"'“”„‟«»‘’‚ ")
    if name in flags and not plain:
        return f"write `{name} = true`"
    return f'write `{name} = "{plain}"`' if _WORDS.fullmatch(plain) else _OTHERWISE
