"""From the bytes of a file to a text."""

from __future__ import annotations

from oaktag.lang.diagnostics import Diagnostic, Mistake
from oaktag.lang.source import Source
from oaktag.lang.syntax.layout import LONGEST


def decode(name: str, data: bytes) -> Source:
    """The text of an .oak file shown under `name`; raises Mistake for what is no text.

    A byte order mark is dropped, and line ends of any kind become one.
    """
    if len(data) > 4 * LONGEST + 3:
        raise _no_text(
            name,
            "too-big",
            f"the file has {len(data):,} bytes; at most {LONGEST:,} characters are read",
            "divide it into several patterns and `use` them",
        )
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise _no_text(
            name,
            "not-utf-8",
            "the file is written in UTF-16, not in UTF-8",
            "save it again with the encoding UTF-8",
        )
    if b"\0" in data:
        raise _no_text(
            name,
            "no-text",
            "this is not a text file",
            'a pattern is plain text that begins with `pattern "Title"`',
        )
    try:
        text = data.removeprefix(b"\xef\xbb\xbf").decode("utf-8")
    except UnicodeDecodeError as wrong:
        line = data.count(b"\n", 0, wrong.start) + 1
        raise _no_text(
            name,
            "not-utf-8",
            f"line {line} has a character that is not written in UTF-8",
            "save it again with the encoding UTF-8",
        ) from None
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return Source(name, text)


def _no_text(name: str, code: str, message: str, help: str) -> Mistake:
    return Mistake(Diagnostic("error", code, message, file=name, help=help))
