"""Lengths on the command line and in the settings file, written as in the language."""

from __future__ import annotations


def read_length(written: str) -> float:
    """`914mm`, `36 in` or `4 1/2 in` in millimetres; raises ValueError that says what is wrong."""
    from oaktag.lang.source import Source
    from oaktag.lang.syntax.tokens import UNITS_SAID, tokens
    from oaktag.lang.units import MILLIMETRES

    source = Source("", written)
    found, wrong = tokens(source, [(0, len(written))])
    if wrong:
        first = wrong[0]
        raise ValueError(f"{first.message} ({first.help})" if first.help else first.message)
    kinds = [token.kind for token in found]
    if kinds == ["number", "end"]:
        figure = written.strip()
        raise ValueError(f"`{figure}` has no unit: write `{figure}mm` or `{figure}in`")
    if kinds != ["quantity", "end"] or found[0].unit not in MILLIMETRES:
        raise ValueError(f"`{written.strip()}` is no length: {UNITS_SAID.partition(', angles')[0]}")
    return found[0].value
