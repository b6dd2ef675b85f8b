"""What is wrong in a file, as data, and how it looks to a person."""

from __future__ import annotations

import unicodedata
from typing import TYPE_CHECKING

from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Iterable

    from oaktag.lang.source import Source, Span

WIDEST = 100  # columns of a source line that are shown
_COLOURS = {"error": "31", "warning": "33", "note": "36"}


class Label(Record):
    """A place with a few words that stand beneath it."""

    span: Span
    text: str


class Diagnostic(Record):
    """One thing to tell the writer of a file.

    severity: `error`, `warning` or `note`. code: a stable short name, like `unknown-name`.
    span: the place, or none for a whole file. file: the shown name of the file, if without span.
    labels: further places that explain it. help: the way out, after `try:`.
    """

    severity: str
    code: str
    message: str
    span: Span | None = None
    file: str = ""
    label: str = ""
    labels: tuple[Label, ...] = ()
    help: str = ""


class Mistake(Exception):  # noqa: N818  (it is the writer's mistake, not the program's error)
    """Carries diagnostics from where they are found to where they are collected."""

    def __init__(self, *diagnostics: Diagnostic) -> None:
        super().__init__("; ".join(item.message for item in diagnostics))
        self.diagnostics = diagnostics


def error(
    code: str,
    message: str,
    span: Span | None,
    *,
    label: str = "",
    help: str = "",
    labels: tuple[Label, ...] = (),
) -> Diagnostic:
    """An error at a place."""
    return Diagnostic("error", code, message, span, "", label, labels, help)


def mistake(
    code: str,
    message: str,
    span: Span | None,
    *,
    label: str = "",
    help: str = "",
    labels: tuple[Label, ...] = (),
) -> Mistake:
    """The same, ready to raise."""
    return Mistake(error(code, message, span, label=label, help=help, labels=labels))


def in_order(diagnostics: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """By file and place, what concerns a whole file first; the same thing at one place once."""
    out: dict[tuple[str, int, str, str], Diagnostic] = {}
    for one in diagnostics:
        name = one.span.source.name if one.span else one.file
        start = one.span.start if one.span else -1
        out.setdefault((name, start, one.code, one.message), one)
    return tuple(out[key] for key in sorted(out, key=lambda key: key[:2]))


def render(diagnostic: Diagnostic, colour: bool = False) -> str:
    """The message, the file and line, the lines it concerns with labels beneath, the way out.

    Ends without a line end. A label with words is marked by a dash where it begins, one without by
    dashes along the whole stretch.
    """

    def paint(code: str, text: str) -> str:
        return f"\x1b[{code}m{text}\x1b[0m" if colour else text

    tint = _COLOURS.get(diagnostic.severity, "36")
    span = diagnostic.span
    out = [
        paint(f"1;{tint}", f"{diagnostic.severity}:") + " " + paint("1", _plain(diagnostic.message))
    ]
    labels = list(diagnostic.labels)
    if span:
        labels.insert(0, Label(span, diagnostic.label))
    sources: dict[Source, list[Label]] = {}
    for label in labels:
        sources.setdefault(label.span.source, []).append(label)
    lines = [label.span.line for label in labels]
    width = max([2, *(len(str(line)) for line in lines)])
    edge = " " * (width + 1)
    if not span and diagnostic.file:
        out.append(edge + diagnostic.file)
    for source, those in sources.items():
        out.append(f"{edge}{source.name}:{those[0].span.line}")
        by_line: dict[int, list[Label]] = {}
        for label in sorted(those, key=lambda label: label.span.start):
            by_line.setdefault(label.span.line, []).append(label)
        before = 0
        for line, here in by_line.items():
            if before and line > before + 1:
                out.append(paint("2", "." * width))
            before = line
            text = source.line(line)
            first = here[0].span.column - 1
            shown, start = _window(text, first)
            out.append(paint("2", f"{line:>{width}} | ") + shown)
            for label in here:
                at = label.span.column - 1
                stop = min(len(text), at + max(1, label.span.end - label.span.start))
                lead = _columns(text[start:at]) + (1 if start else 0)
                if lead > WIDEST:
                    lead = WIDEST
                dashes = 1 if label.text else max(1, _columns(text[at:stop]))
                dashes = min(dashes, max(1, WIDEST - lead))
                mark = "-" * dashes + (f" {_plain(label.text)}" if label.text else "")
                out.append(paint("2", f"{edge}|") + " " * (lead + 1) + paint(tint, mark))
    if diagnostic.help:
        out.append(f"{edge}{paint('1', 'try:')} {_plain(diagnostic.help)}")
    return "\n".join(out)


def as_json(diagnostic: Diagnostic) -> dict[str, str | int]:
    """As `check --json` gives it; what concerns a whole file stands at its first line."""
    span = diagnostic.span
    return {
        "severity": diagnostic.severity,
        "code": diagnostic.code,
        "file": span.source.name if span else diagnostic.file,
        "line": span.line if span else 1,
        "column": span.column if span else 1,
        "message": diagnostic.message,
        "help": diagnostic.help,
    }


def as_line(diagnostic: Diagnostic) -> str:
    """In one line, as editors read it: `ferry.oak:31:17: error: message`."""
    plain = as_json(diagnostic)
    place = f"{plain['file']}:{plain['line']}:{plain['column']}"
    return _plain(f"{place}: {plain['severity']}: {plain['message']}")


def _plain(text: str) -> str:
    """Without anything a terminal might obey."""
    if text.isprintable():
        return text
    return "".join(
        letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text
    )


def _window(text: str, at: int) -> tuple[str, int]:
    """The part of a line that is shown, and where it begins: all, or what is around a place."""
    if len(text) <= WIDEST and text.isascii() and text.isprintable():
        return text, 0
    start = 0
    if _columns(text[:at]) > WIDEST * 2 // 3:
        start = max(0, at - WIDEST // 3)
        while start < at and unicodedata.combining(text[start]):
            start += 1
    out, columns = [], 0
    for letter in text[start:]:
        columns += _columns(letter)
        if columns > WIDEST:
            out.append("…")
            break
        out.append("    " if letter == "\t" else letter)
    return ("…" if start else "") + _plain("".join(out)), start


def _columns(text: str) -> int:
    """How many columns of a terminal a text takes."""
    if text.isascii():
        return len(text) + 3 * text.count("\t")
    total = 0
    for letter in text:
        if letter == "\t":
            total += 4
        elif unicodedata.east_asian_width(letter) in "WF":
            total += 2
        elif unicodedata.category(letter) not in ("Mn", "Me"):
            total += 1
    return total
