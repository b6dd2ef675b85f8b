"""The page as a document: for the server, which keeps it up to date, or as a copy to be sent."""

from __future__ import annotations

import base64
import hashlib
import os
from functools import cache
from typing import TYPE_CHECKING

from oaktag.compiler.page.contents import as_text, contents, steps_of
from oaktag.compiler.page.problems import problems
from oaktag.compiler.revise.story.drawing import patterns
from oaktag.compiler.revise.story.ink import clean

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.compiler.evaluate.pattern import Pattern
    from oaktag.lang.diagnostics import Diagnostic
    from oaktag.lang.project.program import Program


def html(
    program: Program,
    pattern: Pattern,
    made_for: str = "",
    diagnostics: Iterable[Diagnostic] = (),
) -> bytes:
    """A copy of the pattern as one file that stands by itself and needs nothing else.

    made_for: the body or size. diagnostics: what there is to say about it. Nothing in it can be run
    but the page's own script, whatever the names and words of the pattern are. Raises PaperError if
    an allowance cannot be drawn.
    """
    baked = {
        "pattern": contents(program, pattern, made_for, whole=True),
        "steps": {
            piece.name: steps_of(program, pattern, piece.name)
            for piece in pattern.made
            if piece.steps and piece.edges
        },
        "problems": problems(diagnostics, program.name),
    }
    script, style = part("page.js"), part("page.css")
    policy = (
        f"default-src 'none'; script-src '{_hash(script)}'; style-src '{_hash(style)}'; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )
    return _filled(
        title=clean(pattern.title or os.path.basename(program.name)),
        head=f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        f"<style>{style}</style>",
        foot=f'<script type="application/json" id="baked">{as_text(baked)}</script>\n'
        f"<script>{script}</script>",
    )


def served(title: str) -> bytes:
    """The page without a pattern: it asks its server for one. title: until it has an answer."""
    return _filled(
        title=clean(title),
        head='<link rel="stylesheet" href="page.css">',
        foot='<script src="page.js"></script>',
    )


@cache
def part(name: str) -> str:
    """A file that belongs to the page, as it lies beside this module."""
    path = os.path.join(os.path.dirname(__file__), name)
    with open(path, encoding="utf-8", newline="\n") as file:
        return file.read()


def _filled(title: str, head: str, foot: str) -> bytes:
    """The document with its gaps filled, each once, whatever is filled in."""
    filling = {"title": title, "head": head, "fills": patterns(), "foot": foot}
    before, *pieces = part("page.html").split("{{")
    found = [before]
    for piece in pieces:
        name, _, after = piece.partition("}}")
        found += [filling[name], after]
    return "".join(found).encode()


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return f"sha256-{base64.b64encode(digest).decode()}"
