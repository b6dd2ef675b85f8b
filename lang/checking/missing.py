"""What is said of a name that leads nowhere, and which one was probably meant."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.lang import ast
from oaktag.lang.checking.dimensions import (
    FOLDS,
    HALF,
    LENGTH,
    LINES,
    PATTERN,
    PIECE,
    fits,
    with_article,
)
from oaktag.lang.checking.misfits import points_of
from oaktag.lang.checking.names import FOLD_PARTS
from oaktag.lang.diagnostics import Label, error
from oaktag.lang.source import Span
from oaktag.lang.words import nearest

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from oaktag.lang.checking.dimensions import Kind
    from oaktag.lang.checking.names import Names, Symbol
    from oaktag.lang.checking.scope import Found, Scope
    from oaktag.lang.diagnostics import Diagnostic

LISTED = 8
NEAREST = 3  # of a name that several pieces have


def here(
    scope: Scope, parts: Sequence[ast.Part], wanted: Sequence[Kind], *, search: bool
) -> Diagnostic:
    """A first name that nothing has. search: whether to look for what was meant."""
    part = parts[0]
    name = part.name
    if scope.drawing is not None and scope.drawing.target.name == name:
        text = part.span.source.text
        rest = text[parts[1].span.start : parts[-1].span.end] if parts[1:] else ""
        return error(
            "unfinished-piece",
            f"the piece `{name}` is still being drawn in these lines",
            part.span,
            help=f"write `{rest}`" if rest else "say it below the piece",
        )
    below = scope.below(name, part.span)
    if below is not None:
        return error(
            "named-below",
            f"`{name}` is named further down, on line {below.line}",
            part.span,
            label="used here already",
            labels=(Label(below, "named only here"),),
            help="move the line that names it above this one",
        )
    erased = scope.current.erased.get(name)
    if erased is not None:
        return error(
            "erased",
            f"`{name}` was erased on line {erased.line}",
            part.span,
            label="used here still",
            labels=(Label(erased, "taken off the paper here"),)
            if erased.source is part.span.source
            else (),
            help="erase it after the last line that uses it",
        )
    if name in scope.ended:
        if scope.ended[name] == "turn":
            message = f"`{name}` counts the turns of a `repeat` and means nothing outside it"
            return error("turn-ended", message, part.span, help="indent this line below it")
        return error(
            "turn-ended",
            f"`{name}` lasted one turn of its `repeat` and is gone",
            part.span,
            help=f"number it where it is named, like `{name}[i]`",
        )
    advice = "name it above this line"
    if search:
        dashed = _dashed(part.span, scope.visible())
        if dashed:
            return error(
                "dashed-name",
                f"`{dashed.text}` is no name: names have `_` in place of `-`",
                dashed,
                help=f"write `{dashed.text.replace('-', '_')}`",
            )
        holders = (PIECE, PATTERN, HALF, *FOLDS)
        advice = _advice(name, scope.visible(), holders if parts[1:] else wanted, advice)
    return error("unknown-name", f"nothing here is called `{name}`", part.span, help=advice)


def _dashed(span: Span, visible: Mapping[str, Symbol]) -> Span | None:
    """Where `hip-depth` is written and there is a name `hip_depth`; else nothing."""
    text, words = span.source.text, re.compile(r"[^\W\d]\w*(?:-\w+)+")
    line = text.rfind("\n", 0, span.start) + 1
    for found in words.finditer(text, line, min(len(text), span.end + 80)):
        if found.start() <= span.start < found.end():
            name = found[0].replace("-", "_")
            return Span(span.source, *found.span()) if name in visible else None
    return None


def within(
    holder: Symbol,
    parts: Sequence[ast.Part],
    found: Found,
    wanted: Sequence[Kind],
    *,
    search: bool,
) -> Diagnostic:
    """A name behind a dot that what stands before the dot does not have."""
    at = found.at
    part = parts[at]
    said = ".".join(part.name for part in parts[:at])
    symbols: Mapping[str, Symbol]
    if holder.kind == PATTERN or holder.kind == PIECE:
        owner = f"the {holder.kind} `{said}`"
        symbols = holder.inside.symbols if holder.inside is not None else {}
        otherwise = f"it has {_listed(symbols)}" if symbols else ""
    elif holder.kind == HALF:
        owner = f"the half `{said}`"
        prefix = ".".join(part.name for part in parts[found.since : at])
        symbols = _half(found.names, f"{prefix}.")
        otherwise = f"it has {_listed(symbols)}"
    elif holder.kind in FOLDS:
        owner = with_article(holder.kind)
        symbols = FOLD_PARTS
        otherwise = f"it has {_listed(symbols)}"
    else:
        return error(
            "no-parts",
            f"`{said}` is {with_article(holder.kind)}, which has no parts with names",
            part.span,
            help=points_of(said) if holder.kind in LINES else "",
        )
    if at + 1 < len(parts):
        # Something with names of its own is meant.
        symbols = {
            name: symbol
            for name, symbol in symbols.items()
            if symbol.inside is not None or symbol.kind in (*FOLDS, HALF)
        } or symbols
        wanted = ()
        otherwise = f"it has {_listed(symbols)}"
    advice = _advice(part.name, symbols, wanted, otherwise) if search else otherwise
    return error("unknown-name", f"{owner} has no `{part.name}`", part.span, help=advice)


def _half(names: Names | None, prefix: str) -> dict[str, Symbol]:
    symbols = names.symbols if names is not None else {}
    return {
        name.removeprefix(prefix): symbol
        for name, symbol in symbols.items()
        if name.startswith(prefix)
    }


def _listed(symbols: Mapping[str, Symbol]) -> str:
    names = [name for name, symbol in symbols.items() if not symbol.twice]
    more = ", …" if len(names) > LISTED else ""
    return ", ".join(f"`{name}`" for name in names[:LISTED]) + more


def _advice(
    name: str, visible: Mapping[str, Symbol], wanted: Sequence[Kind], otherwise: str
) -> str:
    """The way out: the nearest name, better of a kind that is wanted; else those there are."""
    fitting = [
        given
        for given, symbol in visible.items()
        if not symbol.twice and (not wanted or symbol.inside or fits(symbol.kind, wanted))
    ]
    holders = [
        given
        for given, symbol in visible.items()
        if symbol.inside is not None and name in symbol.inside.symbols
    ]
    inside = []
    for given in holders:
        inner = visible[given].inside
        assert inner is not None
        if visible[given].kind == PIECE and inner.symbols[name].role == "value":
            return f"it is a value inside `{given}`; to use it in both, name it at the margin above"
        inside.append(f"{given}.{name}")
    if inside:
        return f"write {_or([f'`{one}`' for one in inside[:NEAREST]])}"
    close = nearest(name, fitting) or nearest(name, visible)
    if close:
        return f"write `{close}`"
    exact = [given for given in fitting if given != "origin" and visible[given].kind in wanted]
    if exact and len(exact) <= LISTED and wanted[0] != LENGTH:
        return f"there is {', '.join(f'`{given}`' for given in exact)}"
    return otherwise


def _or(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]


def places(statements: Sequence[ast.Statement]) -> dict[str, list[Span]]:
    """Where statements give names, outside the pieces among them."""
    found: dict[str, list[Span]] = {}
    waiting = list(statements)
    while waiting:
        node = waiting.pop()
        targets: Sequence[ast.Target] = ()
        if isinstance(node, ast.Measure):
            targets = [item.target for item in node.items]
        elif isinstance(node, ast.Outline):
            targets = [edge.target for edge in node.edges]
        elif isinstance(node, ast.Use):
            targets = [node.alias]
        elif isinstance(node, ast.Unfold | ast.Divide):
            targets = [node.first, node.second]
        elif isinstance(node, ast.Trace):
            targets = node.edges
        elif isinstance(node, ast.Repeat):
            waiting += node.body
        elif isinstance(node, ast.If):
            waiting += (*node.body, *node.otherwise)
        elif isinstance(target := getattr(node, "target", None), ast.Target):
            targets = [target]
        for target in targets:
            found.setdefault(target.name, []).append(target.span)
    return found
