"""A report as one page for the browser and the printer: nothing but itself."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from oaktag.compiler.revise.story.ink import clean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oaktag.compiler.report.pictures import Pictures
    from oaktag.compiler.report.sections import Point, Report, Section, Table

# Every text is darker than 7 : 1 on white.
STYLE = """\
:root{color-scheme:light}
body{background:#fff;color:#000;font:11pt/1.45 Arial,'Liberation Sans',sans-serif;
 max-width:186mm;margin:8mm auto;padding:0 4mm;overflow-wrap:break-word}
h1{font-size:19pt;line-height:1.2;margin:0 0 1mm}
h2{font-size:13pt;margin:7mm 0 2mm;padding-bottom:.8mm;border-bottom:.3mm solid #000}
p{margin:0 0 1.5mm}
.about,.remark{color:#404040}
ul,ol{margin:1mm 0 2mm;padding-left:7mm}
li{margin:0 0 1.2mm}
.remark{display:block;font-size:10pt}
table{border-collapse:collapse;width:100%;font-size:10pt;margin:1mm 0 2mm}
th,td{text-align:left;vertical-align:top;padding:.8mm 3mm .8mm 0;border-bottom:.1mm solid #999}
thead th{border-bottom:.3mm solid #000;font-weight:bold}
tbody th{font-weight:normal}
.pieces{display:flex;flex-wrap:wrap;gap:5mm;align-items:flex-end}
figure{margin:0;max-width:100%;break-inside:avoid}
figure svg{display:block;max-width:100%;height:auto}
figcaption{font-size:10pt}
@media screen and (max-width:34em){
 thead{position:absolute;left:-9999px}
 tr{display:block;padding:1.5mm 0;border-bottom:.1mm solid #999}
 th,td{display:block;border:0;padding:0}
 td::before{content:attr(data-head) ": ";color:#404040}
 tbody th{font-weight:bold}
 td:empty{display:none}
}
@page{size:A4;margin:12mm}
@media print{body{margin:0;padding:0;max-width:none}h2{break-after:avoid}
 tr,li{break-inside:avoid}}
"""

_IN_NAME = re.compile(r"\.(?=[^\W\d])")  # the dot of `front.side`, not that of `4.5 cm`

_FIGURE = 12  # letters at most, with the unit


def as_page(report: Report, shown: Pictures) -> bytes:
    """The report with the pieces, as one HTML file, UTF-8."""
    lines = [
        "<!DOCTYPE html>",
        '<html lang="en"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{clean(report.title)}: report</title>",
        f"<style>\n{STYLE}</style></head><body>",
        f"<header><h1>{clean(report.title)}</h1>",
        f'<p class="about">{clean(", ".join(report.about))}</p></header><main>',
    ]
    lines += _pieces(shown)
    for section in report.sections:
        lines += _section(section)
    lines.append("</main></body></html>\n")
    return "\n".join(lines).encode()


def _pieces(shown: Pictures) -> Iterator[str]:
    if not shown.pictures:
        return
    yield f"<section><h2>Pieces</h2><p>With their allowances, {shown.scale}.</p>"
    yield '<div class="pieces">'
    for picture in shown.pictures:
        says = f", {clean(picture.says)}" if picture.says else ""
        yield f"<figure>{picture.svg}<figcaption>{clean(picture.name)}{says}</figcaption></figure>"
    yield "</div></section>"


def _section(section: Section) -> Iterator[str]:
    yield f"<section><h2>{clean(section.title)}</h2>"
    yield from (f"<p>{clean(words)}</p>" for words in section.words)
    if section.table is not None:
        yield from _table(section.table)
    if section.points:
        kind = "ol" if section.numbered else "ul"
        yield f"<{kind}>"
        yield from map(_point, section.points)
        yield f"</{kind}>"
    yield from (f"<p>{clean(words)}</p>" for words in section.closing)
    yield "</section>"


def _point(point: Point) -> str:
    remark = f'<span class="remark">{clean(point.remark)}</span>' if point.remark else ""
    return f"<li>{clean(point.words)}{remark}</li>"


def _table(table: Table) -> Iterator[str]:
    heads = "".join(f'<th scope="col">{clean(word)}</th>' for word in table.head)
    yield f"<table><thead><tr>{heads}</tr></thead><tbody>"
    for first, *rest in table.rows:
        cells = "".join(
            f'<td data-head="{clean(head)}">{_cell(cell)}</td>'
            for head, cell in zip(table.head[1:], rest, strict=True)
        )
        yield f'<tr><th scope="row">{_cell(first)}</th>{cells}</tr>'
    yield "</tbody></table>"


def _cell(words: str) -> str:
    """Long names may be broken behind their dots; a figure stays with its unit."""
    if len(words) <= _FIGURE and words[:1] in "+-0123456789":
        return clean(words).replace(" ", "&nbsp;")
    return _IN_NAME.sub(".<wbr>", clean(words))
