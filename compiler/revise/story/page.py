"""The whole story as one page for a browser: nothing but itself, to be read, printed and kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oaktag.compiler.revise.story.drawing import drawn, key_to, kinds, patterns
from oaktag.compiler.revise.story.ink import FINE, clean, figure, fitting
from oaktag.compiler.revise.story.words import areas, heading, how_many, lengths, names, number

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from oaktag.compiler.revise.story.ink import View
    from oaktag.compiler.revise.story.telling import Picture, Story
    from oaktag.compiler.revise.story.text import Quote

BESIDE = (105.0, 125.0)  # mm: the frame of a picture with its text beside it, on A4
ABOVE = (184.0, 110.0)  # mm: with its text below it
LOWEST = 25.0  # mm: even a narrow strip gets as much
WIDE = 1.6  # a piece so much wider than high has its text below

STYLE = """\
:root{color-scheme:light}
body{background:#fff;color:#000;font:11pt/1.4 Arial,'Liberation Sans',sans-serif;
 max-width:190mm;margin:8mm auto;padding:0 4mm}
h1{font-size:18pt;margin:0 0 2mm}
h2{font-size:15pt;margin:8mm 0 3mm;border-bottom:.4mm solid #000}
h3{font-size:11.5pt;margin:0 0 1mm}
p{margin:0 0 1.5mm}
nav ul{margin:1mm 0 0;padding:0;list-style:none}
nav a{color:#000}
.key{display:block;margin:3mm 0}
figure{margin:0 0 6mm;padding:0 0 4mm;border-bottom:.1mm solid #999;display:grid;
 grid-template-columns:107mm 1fr;gap:5mm;break-inside:avoid}
figure.wide{display:block}
figure>svg{max-width:100%;height:auto}
.place{color:#404040;font-size:9pt;margin:0}
pre{font:9.5pt/1.35 'DejaVu Sans Mono',Consolas,monospace;margin:0 0 2mm;white-space:pre-wrap;
 overflow-wrap:anywhere}
pre span{display:block;padding-left:9mm;text-indent:-9mm}
pre b{display:inline-block;width:9mm;text-indent:0;color:#606060;font-weight:normal}
table{border-collapse:collapse;font-size:9.5pt}
th,td{text-align:left;padding:.3mm 4mm .3mm 0;font-weight:normal;vertical-align:top}
thead th{border-bottom:.1mm solid #000}
@page{size:A4;margin:12mm}
@media print{body{margin:0;padding:0;max-width:none}
 section+section h2{break-before:page;margin-top:0}h2{break-after:avoid}}
"""


def page(stories: Sequence[Story], title: str, file: str, unit: str, about: str = "") -> bytes:
    """All pieces, step by step. file: the name of the one it is told of. about: its revision, and
    what was set.
    """
    name = title or file
    shown = kinds(picture for story in stories for picture in story.pictures)
    lines = [
        "<!DOCTYPE html>",
        '<html lang="en"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width">',
        f"<title>{clean(name)}: how it was made</title>",
        f"<style>\n{STYLE}</style></head><body>",
        f"<h1>{clean(name)}</h1>",
        f"<p>How it was made, step by step, from {clean(file)}.</p>",
        '<svg class="key" width="150mm" height="6mm" viewBox="0 0 150 6" role="img"'
        f' aria-label="what the lines and fills mean">{patterns()}',
        f"{key_to(shown, 4j, 3)}</svg>",
    ]
    if about:
        lines.insert(7, f"<p>{clean(about)}</p>")
    if len(stories) > 1:
        links = (
            f'<li><a href="#piece-{at}">{clean(story.name)}</a>, {clean(how_many(story))}</li>'
            for at, story in enumerate(stories, 1)
        )
        lines += ["<nav><ul>", *links, "</ul></nav>"]
    for at, story in enumerate(stories, 1):
        lines += _piece(story, f"piece-{at}", unit)
    lines.append("</body></html>\n")
    return "\n".join(lines).encode()


def _piece(story: Story, key: str, unit: str) -> Iterator[str]:
    yield f'<section id="{key}"><h2>{clean(story.name)}</h2>'
    if story.begins:
        yield f"<p>{clean(story.name)} {clean(story.begins)}.</p>"
    beside, above = fitting(story.box, *BESIDE, FINE), fitting(story.box, *ABOVE, FINE)
    wide = beside.width > WIDE * beside.height
    view = above if wide else beside
    for picture in story.pictures:
        yield from _figure(picture, _cropped(view, picture), wide, key, unit)
    yield "</section>"


def _cropped(view: View, picture: Picture) -> View:
    """Only as high as the picture is, on the same scale."""
    if picture.box is None:
        return view
    left, _, right, _ = view.box
    _, bottom, _, top = picture.box
    more = max(LOWEST * view.scale - (top - bottom), 0.0) / 2
    return view.changed(box=(left, bottom - more, right, top + more))


def _figure(picture: Picture, view: View, wide: bool, key: str, unit: str) -> Iterator[str]:
    name = f"{key}-step-{picture.first}"
    step = f"{number(picture)}. {heading(picture)}"
    width, height = figure(view.width), figure(view.height)
    yield (
        f'<figure id="{name}"{" class=wide" if wide else ""}>'
        f'<svg width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" role="img"'
        f' aria-label="{clean(step)}">'
    )
    yield drawn(picture, view, f"{name}-", 2.4)
    yield f"</svg><figcaption><h3>{clean(step)}</h3>"
    for quote in picture.quotes:
        yield _quote(quote)
    said = [", ".join(areas(picture, unit)), names(picture)]
    for words in said:
        if words:
            yield f"<p>{clean(words)}</p>"
    rows = lengths(picture, unit)
    if rows:
        yield from _table(rows)
    yield "</figcaption></figure>"


def _quote(quote: Quote) -> str:
    lines = "".join(
        f"<span><b>{quote.line + at}</b>{clean(line)}</span>" for at, line in enumerate(quote.text)
    )
    return f'<p class="place">{clean(quote.file)}, line {quote.line}</p><pre>{lines}</pre>'


def _table(rows: Sequence[tuple[str, str, str]]) -> Iterator[str]:
    sewn = any(row[2] for row in rows)
    head = ["edge", "as cut", *(["as sewn"] if sewn else [])]
    yield f"<table><thead><tr>{''.join(f'<th>{word}</th>' for word in head)}</tr></thead><tbody>"
    for row in rows:
        cells = row if sewn else row[:2]
        yield f"<tr>{''.join(f'<td>{clean(cell)}</td>' for cell in cells)}</tr>"
    yield "</tbody></table>"
